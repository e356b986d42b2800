"""Every command in one table: its module, what it does, its group, its page, its examples.

The program's help, each command's own, the man page and completion all come from here, and nothing
of a command is imported before it is called.
"""

from __future__ import annotations

from dataclasses import dataclass

EVENING, BEGINNING, WORK = "every evening", "to begin with", "the work"
PLAN, MIXING, HURT = "the plan", "mixing and buying", "what can hurt"
KNOWING, KEEPING = "knowing", "keeping"
GROUPS = (EVENING, BEGINNING, WORK, PLAN, MIXING, HURT, KNOWING, KEEPING)
"""By what a person wants, in the order of the program's help."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One command as the program's help has it."""

    module: str
    group: str
    summary: str
    topic: str = ""
    """The page of the handbook that tells more."""
    examples: tuple[str, ...] = ()
    """What to type after 'finishsched'."""


COMMANDS = {
    "bench": Entry("open_bench", EVENING,
        "Open the bench: every piece, every clock, what to do now.", "bench",
        ("bench", "bench --json")),
    "tablet": Entry("tablet.tablet", EVENING,
        "Serve the bench to the browsers of tablets and phones.", "tablet",
        ("tablet", "tablet --network")),
    "due": Entry("work.due", EVENING,
        "Say what can be done now, what is next, and every clock that runs.", "dry-checks",
        ("due", "due --json")),
    "log": Entry("work.log", EVENING,
        "Log an entry: start, done, ready, not ready, skipped, defect, note, undo.", "journal",
        ("log lid done", "log lid ready", "log lid done --at 'yesterday 21:30'",
         "log lid note 'a drip under the left edge'")),
    "air": Entry("air.air", EVENING,
        "Say what the air does to wood and film, or log a reading with --add.", "air",
        ("air --temperature '19 degC' --humidity '62 %' --add", "air")),
    "mix": Entry("mixing.mix", EVENING,
        "Say what to weigh and measure for a fresh batch of a cut.", "mixing",
        ("mix --cut '2 lb' --makes '250 ml'", "mix --cut '240 g/L' --flakes '30 g' --why")),
    "begin": Entry("begin.begin", BEGINNING,
        "Begin a piece: what it is, its faces, its wood, what is done.", "beginning",
        ("begin", "begin 'Lid of the tea box' --faces '220 x 140 mm' --wood walnut --sheen gloss",
         "begin Tray --done 'sanded to P220' --usual", "begin --undo")),
    "choose": Entry("begin.choose", BEGINNING,
        "Rank the schedules that fit a piece, each with its reasons.", "beginning",
        ("choose --wood walnut --sheen gloss --due 2026-12-18",
         "choose lid --without 'spray, varnish' --reversible")),
    "say": Entry("begin.say", BEGINNING,
        "Make a schedule of a notebook's lines, or write one as lines.", "lines",
        ("say notebook.txt --as 'My own way' --keep", "say - < notebook.txt",
         "say --of padded-shellac-open-pored")),
    "join": Entry("begin.join", BEGINNING,
        "Tell what was done on a piece before anybody logged it.", "joining",
        ("join lid 'sanded to P220'", "join lid 'sanded, sealed, 3 coats since yesterday 18:30'")),
    "change": Entry("begin.change", BEGINNING,
        "Change one thing of a piece, job, schedule or the shop.", "beginning",
        ("change lid due 2026-12-20", "change shop hours 'Mon-Thu 18:30-21:30; Sat 9:00-12:30'",
         "change my-own-way/body/pad coats 8", "change shop",
         "change my-own-way/body/pad --add 'wet sand 500, 3 h'",
         "change my-own-way/body/level --move 'after body/pad'")),
    "again": Entry("begin.again", BEGINNING,
        "Use a finished piece's schedule again as it was done, or a whole job.", "beginning",
        ("again lid --as 'My lid finish'", "again tea-box --as 'Second tea box'")),
    "settings": Entry("begin.settings", BEGINNING,
        "Show or set what you like: theme, bell, quiet, keys.", "settings",
        ("settings", "settings theme light", "settings quiet '22:00 to 7:00'")),
    "completion": Entry("begin.completion", BEGINNING,
        "Let the shell complete commands, pieces and schedules: bash, zsh, fish.", "settings",
        ("completion bash --install", "completion fish")),
    "new": Entry("keeping.new", BEGINNING,
        "Make a shop folder to start from.", "beginning", ("new my-shop",)),
    "demo": Entry("keeping.demo", BEGINNING,
        "Open an invented shop in the middle of its work, to look round in.", "",
        ("demo", "demo --out looked-at")),
    "defect": Entry("work.defect", WORK,
        "Say what likely made a defect, what to look at, and how to put it right.", "defects",
        ("defect lid blush", "defect lid 'orange peel' --json")),
    "film": Entry("work.film", WORK,
        "Say film, relief and veneer left, and how far to level now.", "film",
        ("film lid", "film lid --grade P800 --wet")),
    "cost": Entry("work.cost", WORK,
        "Say what pieces cost in hours and material, and quote a like one.", "costs",
        ("cost lid", "cost tea-box --like '0.2 m2'")),
    "condition": Entry("work.condition", WORK,
        "Write down what an old piece shows before anybody works on it.", "condition",
        ("condition lid", "condition lid --out lid-condition.html")),
    "compare": Entry("work.compare", WORK,
        "Set the strips of a sample board side by side, and choose one.", "boards",
        ("compare oak-board", "compare oak-board --choose strip-2 --for lid",
         "compare lid,back --out beside.html")),
    "sheet": Entry("work.sheet", WORK,
        "Print the schedule of a piece as a list to tick, for the wall.", "planning",
        ("sheet lid",)),
    "pace": Entry("air.pace", WORK,
        "Say what dry checks taught about each wait; overrule or forget it.", "drying",
        ("pace",)),
    "plan": Entry("plan.plan", PLAN,
        "Say who does what when, for every open piece, in the shop's hours.", "planning",
        ("plan", "plan --by 2026-12-18", "plan --until-better 30")),
    "reduce": Entry("mixing.reduce", MIXING,
        "Say what to add to a solution to thin or strengthen it.", "cuts",
        ("reduce --from '3 lb' --to '1.5 lb' --have '200 ml'",)),
    "blend": Entry("mixing.blend", MIXING,
        "Say what jars make together, or how to reach a cut from them.", "cuts",
        ("blend --have '2 lb: 100 ml' --have '1 lb: 50 ml'",)),
    "gauge": Entry("mixing.gauge", MIXING,
        "Say which cut a jar holds, by weight or by a dried sample.", "cuts",
        ("gauge --wet '5 g' --dry '1.02 g'",)),
    "parts": Entry("mixing.parts", MIXING,
        "Say how much of each part goes into glue, epoxy, stain, varnish.", "glue-safety",
        ("parts --ratio '2:1' --by volume --makes '60 ml'",
         "parts --thin '25 %' --makes '100 ml'")),
    "need": Entry("stock.need", MIXING,
        "Say what material a job takes, what to mix for it and what to buy.", "",
        ("need tea-box",)),
    "stock": Entry("stock.stock", MIXING,
        "List what is on the shelf, log what is bought or mixed, label jars.", "storage",
        ("stock", "stock --mixed 'jar 5' --cut '2 lb' --makes '250 ml'")),
    "vent": Entry("safety.vent", HURT,
        "Say what solvent does to the room's air, or follow today's vapour.", "vapour",
        ("vent", "vent --solvent ethanol --used '60 ml' --over '1 h' --room '40 m3'")),
    "rags": Entry("safety.rags", HURT,
        "Say which oily rags are still about, or log where they went.", "rags",
        ("rags", "rags 'flat on the fence'")),
    "cautions": Entry("safety.cautions", HURT,
        "Say what to mind at the steps in hand, or mark it as read.", "vapour",
        ("cautions", "cautions lid")),
    "store": Entry("safety.store", HURT,
        "Say what stands on the shelf that burns, against what may stand.", "storage",
        ("store",)),
    "help": Entry("knowing.help", KNOWING,
        "Read the handbook: the steps, materials, waits, dangers, defects.", "",
        ("help", "help pad", "help --man > finishsched.1")),
    "schedules": Entry("knowing.schedules", KNOWING,
        "List the schedules to choose from, or print one.", "",
        ("schedules", "schedules tung-oil")),
    "check": Entry("knowing.check", KNOWING,
        "Find the faults in schedules, products, jobs and shops.", "rules",
        ("check", "check schedules/my-own-way.yaml", "check --explain no-tack-off")),
    "record": Entry("keeping.record", KEEPING,
        "Write the finish record of a piece: the paper that goes with it.", "records",
        ("record lid --out lid.html",)),
    "backup": Entry("keeping.backup", KEEPING,
        "Keep the whole shop in one file.", "backups", ("backup shop.zip",)),
    "restore": Entry("keeping.restore", KEEPING,
        "Make a shop again from its backup.", "backups", ("restore shop.zip my-shop-again",)),
    "export": Entry("keeping.export", KEEPING,
        "Write the journal as JSON Lines, or everything as tables.", "backups",
        ("export --journal journal.jsonl", "export --tables tables")),
    "import": Entry("keeping.import_", KEEPING,
        "Bring in an exported journal, or a notebook kept before.", "backups",
        ("import --journal journal.jsonl", "import --notebook past.csv")),
}  # fmt: skip
"""In the order of the groups, and within a group of the day."""

TOPICS = {name: entry.topic for name, entry in COMMANDS.items() if entry.topic}
"""Where the handbook tells more of what a command is about; its own help says so."""


def more_about(name: str) -> str:
    """Return what stands below a command's own help: its examples, and where to read more."""
    entry = COMMANDS[name]
    lines = ["Examples:", *(f"  finishsched {example}" for example in entry.examples)]
    more = [f"To read more: finishsched help {entry.topic}"] if entry.topic else []
    blocks = ["\n".join(lines)] if entry.examples else []
    # The mark keeps the lines of a paragraph as they are.
    return "\n\n".join(f"\b\n{block}" for block in [*blocks, *more])

"""The program: its commands by name, each one's module imported only when it is called."""

from __future__ import annotations

import importlib
from dataclasses import dataclass

import click

from finishsched import __version__


@dataclass(frozen=True, slots=True)
class _Entry:
    module: str
    summary: str


COMMANDS = {
    "bench": _Entry("open_bench", "Open the bench: every piece, every clock, what to do now."),
    "due": _Entry("work.due", "Say what can be done now, what is next, and every clock that runs."),
    "plan": _Entry(
        "plan.plan", "Say who does what when, for every open piece, in the shop's hours."
    ),
    "log": _Entry(
        "work.log", "Log an entry: start, done, ready, not ready, skipped, defect, note, undo."
    ),
    "defect": _Entry(
        "work.defect", "Say what likely made a defect, what to look at, and how to put it right."
    ),
    "air": _Entry(
        "air.air", "Say what the air does to wood and film, or log a reading with --add."
    ),
    "pace": _Entry(
        "air.pace", "Say what dry checks taught about each wait; overrule or forget it."
    ),
    "mix": _Entry("mixing.mix", "Say what to weigh and measure for a fresh batch of a cut."),
    "reduce": _Entry("mixing.reduce", "Say what to add to a solution to thin or strengthen it."),
    "blend": _Entry(
        "mixing.blend", "Say what jars make together, or how to reach a cut from them."
    ),
    "gauge": _Entry("mixing.gauge", "Say which cut a jar holds, by weight or by a dried sample."),
    "parts": _Entry(
        "mixing.parts", "Say how much of each part goes into glue, epoxy, stain, varnish."
    ),
    "need": _Entry(
        "stock.need", "Say what material a job takes, what to mix for it and what to buy."
    ),
    "stock": _Entry(
        "stock.stock", "List what is on the shelf, log what is bought or mixed, label jars."
    ),
    "vent": _Entry(
        "safety.vent", "Say what solvent does to the room's air, or follow today's vapour."
    ),
    "rags": _Entry("safety.rags", "Say which oily rags are still about, or log where they went."),
    "cautions": _Entry(
        "safety.cautions", "Say what to mind at the steps in hand, or mark it as read."
    ),
    "store": _Entry(
        "safety.store", "Say what stands on the shelf that burns, against what may stand."
    ),
    "film": _Entry("work.film", "Say film, relief and veneer left, and how far to level now."),
    "schedules": _Entry("knowing.schedules", "List the schedules to choose from, or print one."),
    "check": _Entry("knowing.check", "Find the faults in schedules, products, jobs and shops."),
    "sheet": _Entry("work.sheet", "Print the schedule of a piece as a list to tick, for the wall."),
    "record": _Entry(
        "keeping.record", "Write the finish record of a piece: the paper that goes with it."
    ),
    "backup": _Entry("keeping.backup", "Keep the whole shop in one file."),
    "restore": _Entry("keeping.restore", "Make a shop again from its backup."),
    "export": _Entry("keeping.export", "Write the journal as JSON Lines, or everything as tables."),
    "import": _Entry("keeping.import_", "Bring in an exported journal, or a notebook kept before."),
    "help": _Entry(
        "knowing.help", "Read the handbook: the steps, materials, waits, dangers, defects."
    ),
    "begin": _Entry("begin.begin", "Begin a piece: what it is, its faces, its wood, what is done."),
    "choose": _Entry("begin.choose", "Rank the schedules that fit a piece, each with its reasons."),
    "say": _Entry("begin.say", "Make a schedule of a notebook's lines, or write one as lines."),
    "join": _Entry("begin.join", "Tell what was done on a piece before anybody logged it."),
    "new": _Entry("keeping.new", "Make a shop folder to start from."),
    "demo": _Entry(
        "keeping.demo", "Open an invented shop in the middle of its work, to look round in."
    ),
}


TOPICS = {
    "bench": "bench",
    "due": "dry-checks",
    "plan": "planning",
    "log": "journal",
    "defect": "defects",
    "air": "air",
    "pace": "drying",
    "mix": "mixing",
    "reduce": "cuts",
    "blend": "cuts",
    "gauge": "cuts",
    "parts": "glue-safety",
    "stock": "storage",
    "vent": "vapour",
    "rags": "rags",
    "cautions": "vapour",
    "store": "storage",
    "film": "film",
    "check": "rules",
    "sheet": "planning",
    "record": "records",
    "backup": "backups",
    "restore": "backups",
    "export": "backups",
    "import": "backups",
}
"""Where the handbook tells more of what a command is about; its own help says so."""


class LazyCommands(click.Group):
    """A group that knows its commands' names and summaries without importing them."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002  # click's signature
        """Return the names in the order of the day's work."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002
        """Import one command."""
        if cmd_name not in COMMANDS:
            return None
        module = importlib.import_module(f"finishsched.cli.{COMMANDS[cmd_name].module}")
        command = module.command
        assert isinstance(command, click.Command)  # noqa: S101
        if cmd_name in TOPICS:
            command.epilog = f"To read more: finishsched help {TOPICS[cmd_name]}"
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Find the command, or say which one was near."""
        if args[0] in COMMANDS or args[0].startswith("-"):
            return super().resolve_command(ctx, args)
        import difflib

        near = difflib.get_close_matches(args[0], COMMANDS, n=1)
        remedy = f"did you mean {near[0]!r}?" if near else "see finishsched --help"
        raise click.UsageError(f"no command {args[0]!r}; {remedy}", ctx)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:  # noqa: ARG002
        """List the commands from the table, so that help stays quick."""
        with formatter.section("Commands"):
            formatter.write_dl([(name, entry.summary) for name, entry in COMMANDS.items()])


@click.command(
    cls=LazyCommands,
    invoke_without_command=True,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
    epilog="Without a command it opens the bench on the shop found from here. "
    "finishsched help lists the pages of the handbook.",
)
@click.version_option(__version__, prog_name="finishsched", message="%(prog)s %(version)s")
@click.option("--shop", metavar="DIR", help="The shop folder to work in.")
@click.pass_context
def program(ctx: click.Context, shop: str | None) -> None:
    """Finish wooden objects by hand: schedules, mixing, cure clocks, and a record of every coat."""
    ctx.meta["finishsched.shop"] = shop
    if ctx.invoked_subcommand is None:
        from finishsched.cli.open_bench import command

        ctx.invoke(command, shop=shop, as_json=False)

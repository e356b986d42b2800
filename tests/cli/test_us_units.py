"""A shop in ounces, inches and degF reads no other units, whatever it asks.

What is left out: documents that are printed as they are written (``schedules NAME``, ``say --of``,
``change``, the examples of rules), since their figures stand there as somebody typed them.
"""

import re

import pytest

from finishsched.documents.library import shipped_schedules

US = "units: {volume: floz, mass: oz, cut: lb/gal, temperature: degF, length: in, area: sqft}"
TOOLS = "tools: {scale: 0.05 oz, measure: 1 tsp, trust: 5 %}"
PIECES = (
    "tea-chest/lid", "tea-chest/body", "tea-chest/tray", "letter-box/slope", "letter-box/box",
    "games-panel/frame", "games-panel/panel",
)  # fmt: skip
UNITS = (
    "um|µm|K|mm|cm|m|ml|l|L|g|kg|degC|m2|m3|cm2|g/l|g/L|g/ml|ml/m2|g/m2|m3/h|m/s|min/m2"
    "|metres?|millimetres?|litres?|millilitres?|grams?|kilograms?|degrees C"
)
FIGURE = re.compile(rf"\d ?(?:{UNITS})\b(?!/)")
WORD = re.compile(r"\b(?:um|mm|ml|degC|m2|m3|cm2|m/s)\b")
PUBLISHED = re.compile(
    r"\bOSHA limit [\d.]+ mg/m3|litres x 24\.45|\d g/mol|\d kJ/mol|mil \([\d.]+( to [\d.]+)? mm\)"
    r"|6 m \(20 ft\)"
)
"""Limits and laws as they are printed in the US too, and what says both."""


@pytest.fixture
def us(cli):
    """Return the demo's shop, in the middle of its work, of somebody who weighs in ounces."""
    cli("demo", "--out", "demo")
    cli.cwd /= "demo"
    path = cli.cwd / "shop.yaml"
    lines = path.read_text().splitlines()
    kept = [line for line in lines if not line.startswith(("units:", "tools:", "kitchen:"))]
    path.write_text("\n".join([*kept, US, TOOLS, ""]))
    return cli


def foreign(text):
    """Return the lines that tell a figure in a unit that this shop does not use."""
    lines = (PUBLISHED.sub("", line) for line in text.splitlines())
    return [line for line in lines if FIGURE.search(line) or WORD.search(line)]


def _asked(us, *commands):
    found = {}
    for command in commands:
        ran = us(*command.split())
        assert ran.status in (0, 1), (command, ran.err)
        if lines := foreign(ran.out + ran.err):
            found[command] = lines
    return found


def test_the_judge_knows_foreign_figures():
    """Each unit is found in a sentence, and words of a US shop are not."""
    for unit in ("16 um", "5 K", "0.1 m/s", "0.6 mm", "250 ml", "30 g", "19 degC", "15 ml/m2"):
        assert foreign(f"it takes {unit} of it"), unit
    assert not foreign("0.63 mil (0.36 to 0.83), 1.4 floz, 0.35 oz, 66 degF, 20 ft/min, K2, P400")


@pytest.mark.parametrize(("unit", "makes"), [("us", "0.44 floz"), ("metric", "13 ml")])
def test_the_scale_of_a_new_shop_weighs_a_jar_for_one_lid(cli, unit, makes):
    """What a new shop is said to weigh on weighs the jar that its first piece takes."""
    cli("new", "--units", unit, "shop")
    cli.cwd /= "shop"
    told = cli("mix", "--cut", "1 lb", "--makes", makes).out
    assert "flakes" in told
    assert "only roughly" not in told


def test_what_is_asked_every_evening(us):
    """Air, what is due, the plan, vapour, rags, cautions, the shelf, costs."""
    assert not _asked(
        us,
        "due", "due --why", "plan", "plan --why", "air", "air --why",
        "air --temperature 66degF --humidity 70% --how spray --why",
        "air --temperature 50degF --humidity 95% --how pad --why",
        "air tea-chest/body", "vent", "vent --why", "rags", "cautions", "store", "stock", "pace",
        "pace --why", "need tea-chest --why", "need letter-box --why", "need games-panel --why",
        "vent --solvent ethanol --used 2floz --over 1h --room 1400cuft --why",
        "cost tea-chest/lid", "cost tea-chest --like 2sqft", "schedules", "check",
    )  # fmt: skip


def test_film_and_defects_of_every_piece(us):
    """What lies there, how far paper may go, what made a defect, and what all of it rests on."""
    assert not _asked(us, *(f"film {piece} --why" for piece in PIECES))
    assert not _asked(us, "film tea-chest/lid --grade P800 --wet --why")
    defects = ("blush", "orange-peel", "runs", "sinking", "crazing", "sand-through")
    begun = [piece for piece in PIECES if piece not in ("tea-chest/tray", "games-panel/panel")]
    pairs = zip(begun, defects, strict=False)
    assert not _asked(us, *(f"defect {piece} {seen} --why" for piece, seen in pairs))


def test_what_schedules_are_for(us):
    """How thick the veneer may be is told in the shop's unit, and without a shop in millimetres."""
    assert not _asked(us, "schedules")
    us.cwd = us.cwd.parent
    assert "veneers of 0.6 to 0.9 mm" in us("schedules").out


def test_what_a_step_of_a_shipped_schedule_says():
    """No brush and no warmth is told in a figure; nozzles of guns are sold in mm everywhere."""
    texts = [
        text
        for schedule in shipped_schedules().values()
        for plan in schedule.step_plans()
        for text in (plan.how, plan.tool, plan.dry_check, *plan.cautions)
        if text and "gun" not in text
    ]
    assert len(texts) > 300
    assert not [text for text in texts if foreign(text)]


def test_a_piece_that_is_begun_has_remarks_in_its_own_units(us):
    """What stands in its document for a thickness that nobody told is a thickness in mil."""
    assert us("begin", "Dish", "--faces", "9 x 5 in", "--usual").status == 0
    text = (us.cwd / "jobs" / "dish.yaml").read_text("utf-8")
    assert "# veneer: 24 mil" in text
    assert not foreign(text)


def test_mixing(us):
    """Mixing, thinning, blending, gauging and parts, with what each rests on."""
    assert not _asked(
        us,
        "mix --cut 2lb --makes 8floz --why", "mix --cut 2lb --flakes 1oz",
        "reduce --from 3lb --to 1.5lb --have 6floz --why",
        "blend --have 2lb:3floz --have 1lb:2floz --to 1.5lb --makes 4floz --why",
        "gauge --wet 0.2oz --dry 0.04oz --why", "gauge --volume 4floz --weighs 3.6oz --why",
        "parts --ratio 2:1 --by volume --makes 2floz --why", "parts --thin 25% --makes 4floz --why",
        "parts --dissolve 1oz/gal --makes 4floz --why",
        "parts --pot-life 30min --pot-life-at 40degF --at 90degF --why",
    )  # fmt: skip


def test_entries_and_what_comes_of_them(us):
    """What is logged is told back in the shop's units, and stands so in the list of entries."""
    for entry in ("note 'x'", "defect blush --size 1x1in"):
        us("log", "letter-box/box", *entry.split())
    us("log", "tea-chest/lid", "--measured", "veneer 0.02 in at the top edge")
    assert not _asked(
        us,
        "log tea-chest/lid ready", "log tea-chest/lid done --used 0.05floz",
        "film tea-chest/lid --gauge 1mil", "film tea-chest/lid --weighed 18oz:17.5oz",
        "log tea-chest/lid entries", "log letter-box/box entries",
        "log letter-box/box ready", "choose --wood walnut --sheen gloss",
        "choose tea-chest/lid",
        "compare tea-chest/lid,tea-chest/body",
    )  # fmt: skip

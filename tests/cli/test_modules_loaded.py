"""What a plain command loads: nothing of the screen, no numpy, and no more than it uses."""

import json
import subprocess
import sys

import pytest

HEAVY = {"textual", "rich", "numpy", "jinja2", "icalendar", "ortools", "markdown_it"} | {
    "aiohttp",
    "segno",
    "cryptography",
}
PLAIN = {
    "help": (["--help"], HEAVY | {"pint", "yaml", "sqlite3", "dateutil"}),
    "version": (["--version"], HEAVY | {"pint", "yaml", "sqlite3", "dateutil"}),
    "mix": (["mix", "--cut", "2 lb", "--makes", "1 l"], HEAVY | {"yaml", "sqlite3", "dateutil"}),
    "reduce": (
        ["reduce", "--from", "3 lb", "--to", "1 lb", "--have", "1 l"],
        HEAVY | {"yaml", "sqlite3", "dateutil"},
    ),
    "air": (
        ["air", "--temperature", "20 degC", "--humidity", "50 %"],
        HEAVY | {"yaml", "sqlite3", "dateutil"},
    ),
    "blend": (
        ["blend", "--have", "2 lb: 100 ml", "--have", "1 lb: 100 ml"],
        HEAVY | {"yaml", "sqlite3"},
    ),
    "gauge": (["gauge", "--wet", "20 g", "--dry", "5 g"], HEAVY | {"yaml", "sqlite3"}),
    "parts": (
        ["parts", "--thin", "25 %", "--makes", "100 ml"],
        HEAVY | {"yaml", "sqlite3"},
    ),
    "need": (["need", "tea-chest", "--shop", "SHOP"], HEAVY),
    "film": (["film", "lid", "--shop", "SHOP"], HEAVY),
    "sheet": (["sheet", "lid", "--shop", "SHOP"], HEAVY),
    "a page of the handbook": (["help", "pad"], HEAVY | {"pint", "yaml", "sqlite3", "dateutil"}),
    "schedules": (["schedules"], HEAVY | {"sqlite3"}),
    "check": (["check", "SHOP/shop.yaml"], HEAVY | {"sqlite3"}),
    "due": (["due", "--shop", "SHOP"], HEAVY),
    "plan": (["plan", "--shop", "SHOP"], HEAVY),
    "pace": (["pace", "--shop", "SHOP"], HEAVY),
    "air of a shop": (["air", "--shop", "SHOP"], HEAVY),
    "stock": (["stock", "--shop", "SHOP"], HEAVY),
    "vent": (
        ["vent", "--solvent", "ethanol", "--used", "1 ml", "--over", "1 h", "--room", "9 m3"],
        HEAVY | {"yaml", "sqlite3"},
    ),
    "vapour of the day": (["vent", "--shop", "SHOP"], HEAVY),
    "rags": (["rags", "--shop", "SHOP"], HEAVY),
    "cautions": (["cautions", "--shop", "SHOP"], HEAVY),
    "store": (["store", "--shop", "SHOP"], HEAVY),
    "labels as text": (["stock", "--labels", "--shop", "SHOP"], HEAVY),
    "defect": (["defect", "slope", "sag", "--shop", "SHOP"], HEAVY),
    "log": (["log", "slope", "note", "so", "--shop", "SHOP"], HEAVY),
    "new": (["new", "NEW"], HEAVY | {"pint", "yaml"}),
    "demo": (["demo", "--json"], HEAVY),
}

RUN = """
import json, sys
from finishsched.cli.run import run
status = run(sys.argv[1:])
print(json.dumps({"status": int(status), "modules": sorted(sys.modules)}))
"""


def _loaded(arguments, cwd):
    ran = subprocess.run(
        [sys.executable, "-c", RUN, *arguments], cwd=cwd, capture_output=True, text=True, check=True
    )
    last = json.loads(ran.stdout.splitlines()[-1])
    assert last["status"] == 0, ran.stderr
    return {name.partition(".")[0] for name in last["modules"]}


@pytest.fixture(scope="module")
def shop(tmp_path_factory):
    """Return the demo shop."""
    place = tmp_path_factory.mktemp("modules") / "shop"
    command = [sys.executable, "-m", "finishsched", "demo", "--out", str(place)]
    subprocess.run(command, check=True, capture_output=True)
    return place


@pytest.mark.parametrize("name", PLAIN)
def test_a_plain_command_stays_light(name, shop, tmp_path):
    """In a clean interpreter the command loads none of the modules that it has no use for."""
    arguments, forbidden = PLAIN[name]
    places = {"NEW": str(tmp_path / "new"), "SHOP": str(shop)}
    filled = [a.replace("SHOP", places["SHOP"]).replace("NEW", places["NEW"]) for a in arguments]
    assert not _loaded(filled, tmp_path) & forbidden


def test_the_bench_does_load_textual():
    """The other half: the same check sees Textual where it is used."""
    code = "import finishsched.bench.app, sys; sys.exit('textual' not in sys.modules)"
    subprocess.run([sys.executable, "-c", code], check=True)


NOT_AT_FIRST = (
    "finishsched.workshop.log",
    "finishsched.workshop.stock",
    "finishsched.workshop.defects",
    "finishsched.workshop.plan",
    "finishsched.checking",
    "finishsched.film.zones",
    "finishsched.bench.screens.forms",
    "textual.widgets._text_area",
)
FIRST_LOOK = """
import sys
from datetime import UTC, datetime
from pathlib import Path
from finishsched.bench.at_terminal import at_terminal
from finishsched.bench.asking.door import ShopDoor
from finishsched.bench.app import BenchApp
from finishsched.model.settings import Settings
from finishsched.workshop.base.workshop import Workshop
now = datetime.now(UTC)
with Workshop.open(Path(sys.argv[1]), now) as workshop:
    door = ShopDoor(workshop)
    bench = BenchApp(door, now=lambda: now, settings=Settings(), surface=at_terminal)
    bench.get_default_screen()
print(*sys.modules)
"""


def test_the_bench_is_first_seen_without_what_takes_and_judges_entries(shop):
    """What only a key or the back room asks for is not waited for before the board shows."""
    ran = subprocess.run(
        [sys.executable, "-c", FIRST_LOOK, str(shop)], capture_output=True, text=True, check=True
    )
    loaded = ran.stdout.split()
    assert "finishsched.bench.screens.board" in loaded
    assert [name for name in loaded if name.startswith(NOT_AT_FIRST)] == []


def test_a_sheet_of_labels_does_load_its_templates(shop, tmp_path):
    """The other half for pages: only the one that is written to a file fills a template."""
    arguments = ["stock", "--labels", "--out", str(tmp_path / "l.html"), "--json"]
    assert "jinja2" in _loaded([*arguments, "--shop", str(shop)], tmp_path)

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


def test_a_sheet_of_labels_does_load_its_templates(shop, tmp_path):
    """The other half for pages: only the one that is written to a file fills a template."""
    arguments = ["stock", "--labels", "--out", str(tmp_path / "l.html"), "--json"]
    assert "jinja2" in _loaded([*arguments, "--shop", str(shop)], tmp_path)

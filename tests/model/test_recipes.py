"""Recipes of DEVELOPERS.md followed word for word in a copy of the program, where that is cheap."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import finishsched

PACKAGE = Path(finishsched.__file__).parent
TESTS = Path(__file__).parent
WOOD = "African walnut, dibetou"
SCHEDULE = """\
schedule: flooded
title: Flooded once
source: common practice
stages:
  - stage: body
    steps:
      - flood: let it drink, then wipe it off
        product: wiping-varnish
        amount: 300 ml/m2
"""


@pytest.fixture(scope="module")
def copy(tmp_path_factory):
    """Return a copy of the program in which a verb, its page and a wood are rows more."""
    place = tmp_path_factory.mktemp("recipes")
    shutil.copytree(PACKAGE, place / "finishsched", ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copytree(PACKAGE.parent / "schedules", place / "schedules")
    verbs = place / "finishsched/model/verbs.py"
    text = verbs.read_text("utf-8")
    (row,) = re.findall(r"        Verb\.WIPE: Doing\(.*?\n        \),\n", text, re.DOTALL)
    text = text.replace('    WIPE = "wipe"\n', '    WIPE = "wipe"\n    FLOOD = "flood"\n')
    verbs.write_text(text.replace(row, row + row.replace("WIPE", "FLOOD")), "utf-8")
    pages = place / "finishsched/workshop/papers/pages"
    shutil.copy(pages / "wipe.md", pages / "flood.md")
    woods = place / "finishsched/model/woods.txt"
    rows = woods.read_text("utf-8").splitlines(keepends=True)
    (like,) = (row for row in rows if row.startswith(WOOD))
    rows.append(like.replace(WOOD, "quandong".ljust(len(WOOD))))
    woods.write_text("".join(rows), "utf-8")
    _replaced(
        place / "finishsched/model/supplies.py",
        '        "tape": (TAPE, "m"),\n',
        '        "tape": (TAPE, "m"),\n        "glove": ("glove", "pair"),\n',
    )
    _replaced(
        place / "finishsched/mixing/consumables.py",
        "    if step.verb is Verb.MASK:",
        '    if step.verb.lays:\n        yield "glove", "pair", Range(0.1, 0.2, 0.4)\n'
        "    if step.verb is Verb.MASK:",
    )
    assert ran(place, "-m", "finishsched.documents.schemas").returncode == 0
    return place


def _replaced(path, old, new):
    """Write a file with something else in one place of it."""
    text = path.read_text("utf-8")
    assert text.count(old) == 1
    path.write_text(text.replace(old, new), "utf-8")


def ran(place, *words):
    """Run Python on the copy."""
    variables = {**os.environ, "PYTHONPATH": os.pathsep.join([str(place), *sys.path])}
    return subprocess.run(
        [sys.executable, *words], cwd=place, env=variables, capture_output=True, text=True,
        check=False,
    )  # fmt: skip


def test_a_verb_is_a_word_a_row_and_a_page(copy):
    """It is read in a schedule, its amount is judged, its page opens, and every room knows it."""
    (copy / "flooded.yaml").write_text(SCHEDULE, "utf-8")
    checked = ran(copy, "-m", "finishsched", "check", "flooded.yaml")
    told = "flooded.yaml:9:17: 300 ml/m2 is much for one coat by flood"
    assert told in checked.stdout, checked.stdout + checked.stderr
    assert ran(copy, "-m", "finishsched", "help", "flood").stdout.startswith("Wip")
    walked = ran(
        copy, "-m", "pytest", "-q", "-p", "no:cacheprovider", "--import-mode=importlib",
        str(TESTS / "test_verbs_everywhere.py"), "-c", os.devnull, "-k", "flood",
    )  # fmt: skip
    assert walked.returncode == 0, walked.stdout


def test_help_goes_on_without_the_page_of_a_new_verb(copy):
    """The list of topics is whole, and the topic says that nothing is written of it yet."""
    page = copy / "finishsched/workshop/papers/pages/flood.md"
    text = page.read_text("utf-8")
    page.unlink()
    try:
        listed, shown = (
            ran(copy, "-m", "finishsched", "help"),
            ran(copy, "-m", "finishsched", "help", "flood"),
        )
    finally:
        page.write_text(text, "utf-8")
    assert listed.returncode == 0
    assert "  flood" in listed.stdout
    assert "nothing is written of it here yet" in " ".join(shown.stdout.split())


def test_a_wood_is_a_row(copy):
    """Hardness, pores and cautions of the new row are those that the row states."""
    code = (
        "from finishsched.model.woods import by_name; import finishsched;"
        "wood = by_name()['quandong']; print(wood.janka_n, wood.name)"
    )
    assert ran(copy, "-c", code).stdout == "4100.0 quandong\n"


def test_a_supply_is_a_name_with_its_unit_and_what_a_step_takes(copy):
    """Of a unit that no other supply has: it is needed, bought by the pair, counted and said so."""
    shop = ("-m", "finishsched", "--shop", "a-shop")
    assert ran(copy, "-m", "finishsched", "demo", "--out", "a-shop").returncode == 0
    needed = ran(copy, *shop, "need")
    assert "pairs of glove" in needed.stdout, needed.stdout
    bought = ran(copy, *shop, "stock", "--bought", "glove: 10 pairs")
    assert "glove" in bought.stdout, bought.stdout + bought.stderr
    assert re.search(r"glove +10 pairs", ran(copy, *shop, "stock").stdout)

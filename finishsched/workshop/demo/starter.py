"""Make a shop folder to start from."""

from __future__ import annotations

import shutil
from collections.abc import Mapping
from importlib import resources
from pathlib import Path

from finishsched.journal.shelf_memo import SHELF_FILE
from finishsched.journal.store import Journal
from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.base.place import (
    CHANGES_FILE,
    FOLDERS,
    JOURNAL_FILE,
    PLAN_BEFORE_FILE,
    PLAN_FILE,
    PLAN_NOW_FILE,
    PUT_BY_FILE,
    SHOP_FILE,
    TOLD_FILE,
)
from finishsched.workshop.base.write_whole import beside, sweep

_IGNORED = f"""# What happened is kept in the journal, beside the documents and not among them.
{JOURNAL_FILE}
{JOURNAL_FILE}-wal
{JOURNAL_FILE}-shm
{PLAN_FILE}
{PLAN_NOW_FILE}
{PLAN_BEFORE_FILE}
{CHANGES_FILE}
{PUT_BY_FILE}
{PUT_BY_FILE}-journal
{SHELF_FILE}
{TOLD_FILE}
"""

_IN_US_UNITS = {
    "units: {volume: ml, mass: g, cut: lb/gal, temperature: degC, length: mm, area: m2}": (
        "units: {volume: floz, mass: oz, cut: lb/gal, temperature: degF, length: in, area: sqft}"
    ),
    "alcohol: {strength: 95 %vol, at: 20 degC}": "alcohol: {strength: 95 %vol, at: 68 degF}",
    "usual_air: {temperature: 20 degC, humidity: 50 %}": (
        "usual_air: {temperature: 68 degF, humidity: 50 %}"
    ),
    "reads 0.1 g or finer. A kitchen scale of 1 g weighs no jar for a single piece:": (
        "reads 0.001 oz (0.01 g). A kitchen scale of 0.05 oz weighs no jar for one piece:"
    ),
    "tools: {scale: 0.1 g, measure: 5 ml, trust: 5 %}": (
        "tools: {scale: 0.001 oz, measure: 1 tsp, trust: 5 %}"
    ),
    "# jars: [250 ml, 500 ml]": "# jars: [8 floz, 16 floz]",
    "#   - {product: shellac-dewaxed-blonde, size: 250 g, price: 18.50 EUR}": (
        "#   - {product: shellac-dewaxed-blonde, size: 8 oz, price: 18.50 USD}"
    ),
    "#   - {product: denatured-alcohol, size: 1 l, price: 9 EUR}": (
        "#   - {product: denatured-alcohol, size: 1 qt, price: 9 USD}"
    ),
    "#   - {room: shop, settle: 15 min, volume: 40 m3, air_flow: 60 m3/h, mixing: 4}": (
        "#   - {room: shop, settle: 15 min, volume: 1400 cuft, air_flow: 35 cfm, mixing: 4}"
    ),
    "#   - {place: steel cabinet, class: IB, most: 10 l}": (
        "#   - {place: steel cabinet, class: IB, most: 2.5 gal}"
    ),
}
"""Lines of a new shop, and what stands there for who measures in ounces and inches.

A kitchen scale that shows whole grams shows twentieths of an ounce (common practice, no source).
"""

_JOB_IN_US_UNITS = {
    "    # veneer: 0.6 mm": "    # veneer: 24 mil",
    "      - {face: top, length: 220 mm, width: 140 mm}": (
        "      - {face: top, length: 9 in, width: 5 1/2 in}"
    ),
    "      - {face: edges, area: 0.015 m2}": "      - {face: edges, area: 23 sqin}",
    "      - {face: long side, length: 220 mm, width: 80 mm, count: 2}": (
        "      - {face: long side, length: 9 in, width: 3 1/4 in, count: 2}"
    ),
    "      - {face: short side, length: 140 mm, width: 80 mm, count: 2}": (
        "      - {face: short side, length: 5 1/2 in, width: 3 1/4 in, count: 2}"
    ),
}
"""The same of its first job: a box of about that size."""

SCHEMA_FOLDER = ".schemas"
"""Beside the documents, for editors that complete and check YAML by a JSON Schema."""


def make_shop(
    folder: Path, papers: str = "starter", *, example: bool = True, units: str = "metric"
) -> None:
    """Make ``folder`` a shop with the documents of ``papers``, and an empty journal.

    ``papers`` is 'starter' or 'demo'; without ``example`` it has no job yet. ``units`` is one of
    UNIT_SETS, for the starter. Made whole beside its place and then moved there.

    Raises:
        RefusedError: when there is something in the folder already.
        OSError: when it cannot be written.

    """
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise RefusedError(f"{folder} is there already and not empty", "name a new folder")
    folder.parent.mkdir(parents=True, exist_ok=True)
    sweep(folder)
    made = beside(folder)
    try:
        _fill(made, papers, example=example)
        if units == "us":
            _in_us_units(made / SHOP_FILE, _IN_US_UNITS)
            for job in (made / "jobs").glob("*.yaml"):
                _in_us_units(job, _JOB_IN_US_UNITS)
        if not folder.exists():
            made.rename(folder)
            return
        # The folder itself stays: somebody may be standing in it. The shop's document comes last,
        # since a folder is a shop once it is there.
        for child in sorted(made.iterdir(), key=lambda child: child.name == SHOP_FILE):
            child.rename(folder / child.name)
    except shutil.Error as error:
        # Each reason names its file: what is wrong stands before the first of them.
        why = str(error.args[0][0][2]).partition(": ")[0].rpartition("] ")[2]
        raise RefusedError(
            f"{folder} cannot be made ({why})", "make room, or go elsewhere"
        ) from None
    finally:
        shutil.rmtree(made, ignore_errors=True)


def _in_us_units(file: Path, lines: Mapping[str, str]) -> None:
    text = file.read_text("utf-8")
    for line, instead in lines.items():
        text = text.replace(f"\n{line}\n", f"\n{instead}\n")
    file.write_text(text, "utf-8")


def _fill(made: Path, papers: str, *, example: bool) -> None:
    with resources.as_file(
        resources.files("finishsched") / "workshop/demo/shops" / papers
    ) as source:
        shutil.copytree(source, made, copy_function=shutil.copyfile)
    if not example:
        shutil.rmtree(made / "jobs")
    for name in FOLDERS:
        (made / name).mkdir(exist_ok=True)
        if not any((made / name).iterdir()):
            (made / name / ".gitkeep").touch()
    with resources.as_file(resources.files("finishsched") / "documents/schemas") as schemas:
        (made / SCHEMA_FOLDER).mkdir()
        for schema in schemas.glob("*.json"):
            shutil.copyfile(schema, made / SCHEMA_FOLDER / schema.name)
    (made / ".gitignore").write_text(_IGNORED, "utf-8")
    Journal.open(made / JOURNAL_FILE).close()

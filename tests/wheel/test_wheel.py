"""The wheel holds all that the program needs: nothing of the source tree is looked for."""

import json
import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from finishsched.documents.library import product_names, schedule_names

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def unpacked(tmp_path_factory):
    """Return a folder with the wheel's content, far from the source tree."""
    place = tmp_path_factory.mktemp("wheel")
    build = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(place)]
    subprocess.run(build, cwd=ROOT, check=True, capture_output=True)
    (wheel,) = place.glob("*.whl")
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(place / "site")
    return place / "site"


def _run(unpacked, *arguments):
    return subprocess.run(
        [sys.executable, *arguments],
        cwd=unpacked,
        env={**os.environ, "PYTHONPATH": str(unpacked)},
        capture_output=True,
        text=True,
        check=True,
    ).stdout


def test_the_wheel_is_what_runs(unpacked):
    """The check below is of the wheel, and not of the source tree."""
    where = _run(unpacked, "-c", "import finishsched; print(finishsched.__file__)")
    assert Path(where.strip()).is_relative_to(unpacked)


def test_shipped_documents_are_inside(unpacked):
    """Every shipped schedule is listed from the wheel, and the products are there."""
    listed = json.loads(_run(unpacked, "-m", "finishsched", "schedules", "--json"))["schedules"]
    assert {item["schedule"] for item in listed} == set(schedule_names())
    inside = {path.stem for path in (unpacked / "finishsched/shipped/products").glob("*.yaml")}
    assert inside == set(product_names())


def test_new_and_demo_work_from_the_wheel(unpacked, tmp_path):
    """The papers for a new shop and for the demo, the schemas and templates, are inside too."""
    _run(unpacked, "-m", "finishsched", "new", str(tmp_path / "bench"))
    assert (tmp_path / "bench/.schemas/schedule.json").is_file()
    _run(unpacked, "-m", "finishsched", "demo", "--out", str(tmp_path / "row"))
    due = json.loads(
        _run(unpacked, "-m", "finishsched", "due", "--shop", str(tmp_path / "row"), "--json")
    )
    assert due["clocks"]
    labels = tmp_path / "labels.html"
    _run(
        unpacked, "-m", "finishsched", "stock", "--labels", "--out", str(labels),
        "--shop", str(tmp_path / "row"),
    )  # fmt: skip
    assert "<article>" in labels.read_text("utf-8")


def test_the_bench_has_its_style_sheet(unpacked):
    """The style sheet that the bench is drawn by is inside."""
    assert list((unpacked / "finishsched/bench").glob("*.tcss"))


def test_the_handbook_and_the_bench_sheet_are_inside(unpacked, tmp_path):
    """A page of the handbook and the template of the bench sheet come from the wheel."""
    assert _run(unpacked, "-m", "finishsched", "help", "pad").startswith("Pad: ")
    _run(unpacked, "-m", "finishsched", "demo", "--out", str(tmp_path / "row"))
    page = tmp_path / "lid.html"
    _run(
        unpacked, "-m", "finishsched", "sheet", "lid", "--out", str(page),
        "--shop", str(tmp_path / "row"),
    )  # fmt: skip
    assert "Bench sheet" in page.read_text("utf-8")

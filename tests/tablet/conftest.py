"""A shop of the demo for the tests of the tablet, made once."""

import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from served import PATIENCE_S, serving, serving_here


@pytest.fixture(autouse=True, scope="session")
def _where_processes_can_be_counted():
    if not Path("/proc/self/cmdline").is_file():
        pytest.skip("which processes run is read where Linux tells it")


@pytest.fixture(scope="session")
def made(tmp_path_factory):
    """Return a demo shop that nobody works on, and that works at the hour of any test."""
    folder = tmp_path_factory.mktemp("tablet") / "shop"
    command = [sys.executable, "-m", "finishsched", "demo", "--out", str(folder)]
    subprocess.run(command, check=True, capture_output=True)
    _open_at_all_hours(folder / "shop.yaml")
    return folder


def _open_at_all_hours(shop_yaml):
    """Have hours day and night: a test that begins at their end is told that no work fits in."""
    text = shop_yaml.read_text("utf-8")
    always = re.sub(r"(?m)^hours:\n(  - .*\n)+", "hours: [Mon-Sun 0:00-24:00]\n", text)
    assert always != text
    shop_yaml.write_text(always, "utf-8")


@pytest.fixture
def shop(made, tmp_path):
    """Return a shop of one's own."""
    return shutil.copytree(made, tmp_path / "shop")


@pytest.fixture(scope="session")
def made_lid(tmp_path_factory):
    """Return a shop with one piece, which is sealed and waits for its fourth coat."""
    folder = tmp_path_factory.mktemp("lid") / "shop"
    ours = [sys.executable, "-m", "finishsched"]
    subprocess.run([*ours, "new", str(folder)], check=True, capture_output=True)
    (folder / "jobs/first-box.yaml").unlink()
    told = ["--faces", "220 x 140 mm", "--wood", "walnut", "--sheen", "gloss", "--usual"]
    done = ["--done", "sanded to P220, sealed, 3 coats since yesterday 18:30, dry"]
    command = [*ours, "--shop", str(folder), "begin", "Lid", *told, *done]
    subprocess.run(command, check=True, capture_output=True)
    return folder


@pytest.fixture
def lid(made_lid, tmp_path):
    """Return a shop with one piece, of one's own."""
    return shutil.copytree(made_lid, tmp_path / "lid")


@pytest.fixture
async def here(lid, tmp_path, monkeypatch):
    """Return the shop with one piece, served in this process, which waits for a busy machine."""
    monkeypatch.setattr("finishsched.tablet.bench_process.START_S", PATIENCE_S)
    async with serving_here(lid, tmp_path) as one:
        yield one


@pytest.fixture
def served(shop, tmp_path):
    """Return the shop, served."""
    with serving(shop, tmp_path) as one:
        yield one

"""A shop of the demo for the tests of the tablet, made once."""

import shutil
import subprocess
import sys

import pytest
from served import serving


@pytest.fixture(scope="session")
def made(tmp_path_factory):
    """Return a demo shop that nobody works on."""
    folder = tmp_path_factory.mktemp("tablet") / "shop"
    command = [sys.executable, "-m", "finishsched", "demo", "--out", str(folder)]
    subprocess.run(command, check=True, capture_output=True)
    return folder


@pytest.fixture
def shop(made, tmp_path):
    """Return a shop of one's own."""
    return shutil.copytree(made, tmp_path / "shop")


@pytest.fixture
def served(shop, tmp_path):
    """Return the shop, served."""
    with serving(shop, tmp_path) as one:
        yield one

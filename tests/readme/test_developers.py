"""The map for those who change the program: what it names is there."""

from __future__ import annotations

import re
from pathlib import Path

ROOT = Path(__file__).parents[2]
TEXT = (ROOT / "DEVELOPERS.md").read_text("utf-8")
NAMED = sorted(set(re.findall(r"`([^`\n]+)`", TEXT)))
BESIDE = ("", "finishsched", "finishsched/workshop", "tests")
"""Where a path may begin."""
MADE_OUT = {"finishsched/shipped/"}
"""Paths that only a wheel has."""


def is_there(name):
    """Tell whether a path that is named leads to a file or a folder."""
    name = name.rstrip("/")
    return any((ROOT / base / name).exists() for base in BESIDE) or any(
        ROOT.glob(f"finishsched/**/{name}")
    )


def test_every_path_that_is_named_is_there():
    """A folder, a module, a table, a test: each is where the map says; NAME stands for any."""
    paths = [
        name
        for name in NAMED
        if re.fullmatch(r"[\w./-]+", name)
        and ("/" in name or name.endswith((".py", ".md", ".txt")))
        and "NAME" not in name
        and name not in MADE_OUT
    ]
    assert len(paths) > 40
    assert [name for name in paths if not is_there(name)] == []


def test_every_table_and_class_that_is_named_is_there():
    """A name such as ``VERBS`` or ``DryingSums`` stands in the sources or the tests."""
    names = [name for name in NAMED if re.fullmatch(r"_?[A-Z]\w+", name) and name != "NAME"]
    folders = (ROOT / "finishsched", ROOT / "tests")
    sources = "\n".join(path.read_text("utf-8") for at in folders for path in at.rglob("*.py"))
    words = set(re.findall(r"\w+", sources))
    assert len(names) > 12
    assert [name for name in names if name not in words] == []


def test_every_command_of_python_that_is_named_runs_a_file_that_is_there():
    """Scripts and modules in the first block and in the recipes are found."""
    scripts = re.findall(r"python3? (tests/[\w/]+\.py)", TEXT)
    modules = re.findall(r"python -m (finishsched[\w.]+)", TEXT)
    assert scripts
    assert modules
    for script in scripts:
        assert (ROOT / script).is_file(), script
    for module in modules:
        place = ROOT / module.replace(".", "/")
        assert place.with_suffix(".py").is_file() or (place / "__main__.py").is_file(), module

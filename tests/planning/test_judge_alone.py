"""The judge of plans shares no code with those who make them: its imports say so."""

import ast
from collections.abc import Iterator
from pathlib import Path

from finishsched.planning import judging

JUDGE = Path(judging.__file__).parent
WHAT_IS_ASKED = {"problem", "window", "lags_around"}
"""What a plan is of, and which of its waits hang together: nothing of how one is made."""


def brought_in(module: Path) -> Iterator[str]:
    """Name all of the house that a module imports, wherever in it."""
    for node in ast.walk(ast.parse(module.read_text())):
        if isinstance(node, ast.ImportFrom):
            yield from (f"{node.module}.{name.name}" for name in node.names)
        elif isinstance(node, ast.Import):
            yield from (name.name for name in node.names)


def test_the_judge_knows_what_is_asked_and_none_of_the_planners():
    """Of the house the judge imports itself, the problem, a stretch of time, and its waits."""
    allowed = {f"finishsched.planning.{name}" for name in WHAT_IS_ASKED | {"judging"}}
    modules = list(JUDGE.glob("*.py"))
    of_the_house = {
        name for module in modules for name in brought_in(module) if name.startswith("finishsched")
    }
    strangers = {
        name for name in of_the_house if not any(name.startswith(f"{one}.") for one in allowed)
    }
    assert (JUDGE / "checker.py") in modules
    assert of_the_house
    assert strangers == set()

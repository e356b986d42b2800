"""What every test has in common."""

from __future__ import annotations

import gc
import os
import shutil
import sys
from collections.abc import Callable, Iterator
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import HealthCheck, settings

from finishsched.__main__ import OBJECTS_BEFORE_A_LOOK

if TYPE_CHECKING:
    from finishsched.planning.problem import Plan, Problem

# A busy machine is no fault of the code, and a run is no lottery: a law is asked about the same
# cases each time, and about new ones by ``--hypothesis-profile=anew``.
settings.register_profile(
    "finishsched",
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.register_profile("anew", settings.get_profile("finishsched"), derandomize=False)
settings.load_profile("finishsched")

# Thousands of journals are flushed to the disk entry by entry: memory spares waiting for it.
IN_MEMORY = Path("/dev/shm")  # noqa: S108  # the tests keep no secrets
ENOUGH_BYTES = 4 * 10**9
if os.access(IN_MEMORY, os.W_OK) and shutil.disk_usage(IN_MEMORY).free > ENOUGH_BYTES:
    os.environ.setdefault("PYTEST_DEBUG_TEMPROOT", str(IN_MEMORY))

# The programs that the tests begin, workers too, find this one's modules compiled.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
sys.dont_write_bytecode = False

# Thousands of tests are collected before the first one runs: Python looks through them as seldom
# as it does for a command.
gc.set_threshold(OBJECTS_BEFORE_A_LOOK)


def pytest_collection_finish() -> None:
    """Let what was collected be: it stays till the end, and need not be looked through again."""
    gc.freeze()


def pytest_sessionfinish() -> None:
    """Look once through what is left, and let it be: at its end pytest would look five times."""
    gc.collect()
    gc.freeze()


def pytest_xdist_auto_num_workers() -> int:
    """Work with a process more than there are cores: a bench at rest, a browser is waited for."""
    return (os.cpu_count() or 1) + 1


@pytest.fixture(scope="session", autouse=True)
def _no_readings_of_this_person(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Keep what documents were read as in a folder of the tests', not in the person's own."""
    with pytest.MonkeyPatch.context() as patched:
        patched.setenv("FINISHSCHED_CACHE", str(tmp_path_factory.mktemp("readings")))
        yield


@pytest.fixture
def calls_of() -> Callable[[Callable[[], object]], int]:
    """Return what counts the calls that a piece of work makes: how much it is on any machine."""

    def counted(work: Callable[[], object]) -> int:
        calls = 0

        def count(_frame: object, event: str, _argument: object) -> None:
            nonlocal calls
            calls += event in ("call", "c_call")

        before = sys.getprofile()
        sys.setprofile(count)
        try:
            work()
        finally:
            sys.setprofile(before)
        return calls

    return counted


@pytest.fixture(scope="session", autouse=True)
def _one_first_plan_for_each_problem() -> Iterator[None]:
    """Share the first plan of a shop among all tests that ask for it at the same instant.

    The quick planner gives the same plan for the same problem, seed and rounds, which its own
    tests hold; they call it directly and share nothing.
    """
    from finishsched.planning import replan
    from finishsched.planning.quick import quick_plan

    known = lru_cache(maxsize=128)(quick_plan)

    def shared(problem: Problem, **more: Any) -> Plan:
        return quick_plan(problem, **more) if more.get("stop") else known(problem, **more)

    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(replan, "quick_plan", shared)
        yield


@pytest.fixture
def little_search(monkeypatch: pytest.MonkeyPatch) -> None:
    """Look for plans a little only, and draw few courses: for tests of what is made of them.

    Rounds and courses are counted, never timed, so that the same plans come out on any machine.
    """
    from finishsched.planning import replan
    from finishsched.workshop.plan import odds

    monkeypatch.setattr(replan, "MOST_ROUNDS", 8)
    monkeypatch.setattr(odds, "MOST_DRAWS", odds.FEWEST_DRAWS)

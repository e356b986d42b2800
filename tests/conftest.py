"""What every test has in common."""

import os
import sys
from collections.abc import Callable

import pytest
from hypothesis import HealthCheck, settings

# A busy machine is no fault of the code, and a landing is no lottery: locally the search is new
# each time, where CI is set it is always the same.
settings.register_profile(
    "finishsched",
    deadline=None,
    derandomize="CI" in os.environ,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("finishsched")


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

"""What every test has in common."""

import os

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

"""The quick planner: plain Python, always there, the same plan for the same seed and rounds."""

from finishsched.planning.quick.planner import (
    Enough,
    first_plan,
    in_turn,
    orderly_plan,
    quick_plan,
    re_decode,
)

__all__ = ["Enough", "first_plan", "in_turn", "orderly_plan", "quick_plan", "re_decode"]

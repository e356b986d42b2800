"""The quick planner: plain Python, always there, the same plan for the same seed and rounds."""

from finishsched.planning.quick.not_found import not_found
from finishsched.planning.quick.planner import (
    Enough,
    first_plan,
    in_turn,
    orderly_plan,
    quick_plan,
    re_decode,
)

__all__ = [
    "Enough",
    "first_plan",
    "in_turn",
    "not_found",
    "orderly_plan",
    "quick_plan",
    "re_decode",
]

"""What can be wrong with a plan, and a plan looked up for the rules that judge it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TypeAlias

from finishsched.planning.problem import Done, Placed, Plan, Problem

There: TypeAlias = Placed | Done
"""Something that lies somewhere in time: planned, or done."""


class Broken(StrEnum):
    """Which rule a plan breaks."""

    UNKNOWN = "unknown"
    """It speaks of an activity that there is not."""
    TWICE = "twice"
    PAST = "past moved"
    """It places what is done."""
    UNPLACED = "unplaced"
    """It neither places an activity nor says that it is left out."""
    ORDER = "order"
    """It is not in the order of starts and then of keys."""
    LENGTH = "length"
    """An activity is not as long as it and its remedies are."""
    NOW = "before now"
    RELEASE = "before release"
    HANDS = "wrong hands"
    HOURS = "outside hours"
    OVERLAP = "hands in two places"
    SET_UP = "set-up"
    EARLY = "too early"
    """Less than the least lag."""
    AFTER_NOTHING = "after nothing"
    """It follows something that is left out."""
    MISS = "miss not told"
    """A window is missed and the plan does not say so, or not by how much; or the reverse."""
    STORE = "store"
    ROOM = "room"
    POT = "pot"
    """What is said to be done from one mix is not, or not within its life."""


@dataclass(frozen=True, slots=True)
class Violation:
    """One rule broken by one or two activities."""

    kind: Broken
    keys: tuple[str, ...]
    minutes: int
    """By how much, where that can be said; else 0."""
    sentence: str


class Scene:
    """A problem and a plan, looked up."""

    def __init__(self, problem: Problem, plan: Plan) -> None:
        """Look up what lies where.

        Args:
            problem: what was to be planned.
            plan: one that names nothing twice, and nothing that there is not.

        """
        self.problem = problem
        self.plan = plan
        self.activities = {activity.key: activity for activity in problem.activities}
        self.placed = {placed.key: placed for placed in plan.placed}
        self.set_ups = {each.kind: each for each in problem.set_ups}
        """By kind of work, what it takes to get ready for it and to clear up."""
        self.there: dict[str, There] = {done.key: done for done in problem.done}
        """What is done or placed, by key."""
        self.there.update(self.placed)

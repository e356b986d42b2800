"""What the workshop answers about its plan: frozen, ready to be shown."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, tzinfo
from typing import TYPE_CHECKING

from finishsched.model.step import Step
from finishsched.planning.plan_fault import PlanFault
from finishsched.planning.problem import HeldBy, Plan, Problem, Score
from finishsched.planning.replan import Change
from finishsched.workshop.base.spans import between

if TYPE_CHECKING:
    from finishsched.planning.looking import Looked
    from finishsched.workshop.plan.pots import PlannedMix


@dataclass(frozen=True, slots=True)
class PlannedStep:
    """One step in the plan."""

    key: str
    ref: str
    title: str
    step: Step
    person: str
    """Empty for what takes no hands."""
    start: datetime
    end: datetime
    ready_earliest: datetime
    """When its wait is over; the end of the work where it has none."""
    ready_likely: datetime
    ready_latest: datetime
    held_by: HeldBy
    held_back_by: str
    """What held it back, in words; empty for nothing."""
    mend_min: int = 0
    """Minutes of its work that mend a window that was missed."""
    late_min: int = 0
    """By how much it misses a window."""
    hard: bool = False
    """True where there is no mending that: what was mixed or glued has to be done again."""
    under_way: bool = False
    broken_off: bool = False
    """True where a sitting is broken off before it, so that the work is begun again."""
    next_late_min: int = 0
    """By how much what follows it on the piece misses the window that it opens."""
    refs: tuple[str, ...] = ()
    """The pieces that it is about: of a block all of them."""
    clear_up_min: int = 0
    """Minutes of clearing up after it: before other work, or before the hours end."""

    @property
    def clear_up_words(self) -> str:
        """Say what is cleared up after it, how long that takes; nothing where nothing is."""
        if not self.clear_up_min:
            return ""
        return f"{self.clear_up_min} min are left to {self.step.verb.does.clear_up}"

    @property
    def first_ready(self) -> datetime:
        """When the first of pieces that are worked one after another is likely ready.

        The last of them is at ``ready_likely``; the next step begins with the first.
        """
        pieces = max(1, len(self.refs))
        each = (self.end - self.start) / pieces
        return self.ready_likely - each * (pieces - 1)

    def ready_words(self, zone: tzinfo) -> str:
        """Say when it is likely ready, of several pieces the first and the last; or nothing."""
        if self.ready_likely <= self.end:
            return ""
        return between(self.first_ready, self.ready_likely, self.start, zone)


@dataclass(frozen=True, slots=True)
class PlannedPiece:
    """When one piece is finished, or those that are worked as one block."""

    ref: str
    title: str
    due: date | None
    due_at: datetime | None
    """The end of the last hours that begin on that day, else of the day itself."""
    finish: datetime | None
    """None where some of it cannot be planned."""
    finish_latest: datetime | None = None
    """If every wait takes as long as it may."""
    late_min: int = 0
    late_latest_min: int = 0
    late_odds: float | None = None
    """In how many of the drawn cases it is late, 0 to 1; None for what is not due."""
    late_draws: int = 100
    """Of how many drawn cases that is."""
    slack_min: int | None = None
    """By how much it could finish later and be in time, or not the last."""
    refs: tuple[str, ...] = ()
    """The pieces that it is about: of a block all of them."""


@dataclass(frozen=True, slots=True)
class Help:
    """What would help, and how much."""

    what: str
    saves_min: int
    less_late_min: int


@dataclass(frozen=True, slots=True)
class Better:
    """A better plan that was found: offered, not taken."""

    plan: Plan
    score: Score
    saves_min: int
    less_late_min: int


@dataclass(frozen=True, slots=True)
class MadeAnew:
    """What moved of a plan that was made anew, since keeping to it would have cost too much."""

    near_moved: int
    near: int
    """Of so many starts of work that were shown for the next seven days."""
    saves_min: int
    less_late_min: int


@dataclass(frozen=True, slots=True)
class PlanAnswer:
    """The plan, and what a person wants to know about it."""

    now: datetime
    zone: tzinfo
    people: tuple[str, ...]
    problem: Problem
    plan: Plan
    score: Score
    steps: tuple[PlannedStep, ...]
    """In the order of their starts."""
    pieces: tuple[PlannedPiece, ...]
    finish: datetime
    lower_bound: datetime
    proven: bool
    faults: tuple[PlanFault, ...]
    changes: tuple[Change, ...]
    """From the plan that was shown last."""
    decides: tuple[str, ...]
    """What decides the end, from the last step back, in words."""
    helps: tuple[Help, ...]
    better: Better | None
    notes: tuple[str, ...]
    made_anew: MadeAnew | None = None
    """Where more of the plan shown could have been kept, at a cost."""
    mixes: tuple[PlannedMix, ...] = ()
    """The mixes of what does not keep, in the order of time."""
    looked: Looked | None = None
    """What was done to find a better plan, where time was given for it."""
    taken: bool = False
    """True where a better plan was taken: it is this one."""

    @property
    def late_min(self) -> int:
        """Minutes by which pieces are late, together."""
        return self.score.late_min

    @property
    def promised(self) -> bool:
        """True when everything is planned and nothing that is due is late."""
        return not self.late_min and not any(fault.left_out for fault in self.faults)

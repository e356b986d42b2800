"""Schedules as they are written: stages, steps, waits and rounds."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from finishsched.model.accepted import Accepted
from finishsched.model.film import Reach
from finishsched.model.kinds import ProductKind
from finishsched.model.stages import StageName as StageName  # noqa: PLC0414  # also asked for here
from finishsched.model.verbs import Verb as Verb  # noqa: PLC0414  # also asked for here


@dataclass(frozen=True, slots=True)
class Wait:
    """The interval after a step, in seconds of elapsed time.

    ``latest_s`` is the slow end of the range: later than that and something is wrong.
    ``next_by_s`` is where the window for the next step closes, after which a remedy is due first.
    """

    earliest_s: float
    likely_s: float
    latest_s: float | None = None
    next_by_s: float | None = None


@dataclass(frozen=True, slots=True)
class Waits:
    """The waits of a step that lays several coats; one that lays a single coat uses ``after``."""

    after: Wait
    first: Wait | None = None
    between: Wait | None = None

    def for_coat(self, coat: int, coats: int) -> Wait:
        """Return the wait after coat number ``coat`` (from 1) of ``coats``."""
        if coat >= coats:
            return self.after
        if coat == 1 and self.first is not None:
            return self.first
        return self.between or self.after


@dataclass(frozen=True, slots=True)
class HandsOn:
    """Minutes of hands-on work: a fixed part and a part that grows with the area."""

    fixed_min: float = 0.0
    per_m2_min: float = 0.0

    def minutes(self, area_m2: float) -> float:
        """Return the hands-on minutes for ``area_m2``."""
        return self.fixed_min + self.per_m2_min * area_m2


@dataclass(frozen=True, slots=True)
class Spread:
    """How much material one coat takes for each square metre: by volume or by mass."""

    ml_per_m2: float | None = None
    g_per_m2: float | None = None


@dataclass(frozen=True, slots=True)
class StepPlan:
    """One step as written: a verb, how, what it needs, and the wait that follows.

    ``cut_g_per_l``, ``grade``, ``reach`` and ``thinned_percent`` hold one value, or one for each
    round (in a group of rounds) or for each coat (elsewhere).
    """

    id: str
    verb: Verb
    how: str
    product: str | None = None
    tool: str = ""
    """What is in the hand."""
    lubricant: str | None = None
    cut_g_per_l: tuple[float, ...] = ()
    thin_to_g_per_l: float | None = None
    """The cut of the last coat; the coats between step down evenly."""
    thinned_percent: tuple[float, ...] = ()
    """Share of thinner in what is applied, by volume."""
    grade: tuple[str, ...] = ()
    coats: tuple[int, ...] = (1,)
    """One value, or one for each round."""
    spread: Spread | None = None
    hands_on: HandsOn = HandsOn()
    waits: Waits | None = None
    dry_check: str = ""
    cautions: tuple[str, ...] = ()
    reach: tuple[Reach, ...] = ()
    """How far a levelling goes; none where the stage and the grade tell."""


@dataclass(frozen=True, slots=True)
class Rounds:
    """A group of steps done over again."""

    rounds: int
    steps: tuple[StepPlan, ...]


@dataclass(frozen=True, slots=True)
class Stage:
    """A named group of steps."""

    name: StageName
    steps: tuple[StepPlan | Rounds, ...]

    def step_plans(self) -> Iterator[StepPlan]:
        """Give each step as written, those in rounds once."""
        for item in self.steps:
            if isinstance(item, Rounds):
                yield from item.steps
            else:
                yield item


@dataclass(frozen=True, slots=True)
class Schedule:
    """The ordered steps that finish a kind of piece."""

    id: str
    title: str
    stages: tuple[Stage, ...]
    suits: str = ""
    look: str = ""
    source: str = ""
    notes: str = ""
    over: ProductKind | None = None
    """The kind of finish that is there already; None where the work begins on bare wood."""
    accepted: tuple[Accepted, ...] = ()
    """Rules of the checker that are silent here."""

    def step_plans(self) -> Iterator[StepPlan]:
        """Give each step as written, those in rounds once."""
        for stage in self.stages:
            yield from stage.step_plans()

    def goes_on_from(self, other: Schedule) -> bool:
        """Tell whether this is ``other`` with more schedules after it, in the same life."""
        return self.id.startswith(f"{other.id}+")


def schedule_of(names: Sequence[str], schedules: Mapping[str, Schedule]) -> Schedule | None:
    """Return the schedule that ``names`` make one after another; None where one is not there."""
    found = [schedules.get(name) for name in names]
    there = [schedule for schedule in found if schedule is not None]
    return one_after_another(there) if there and len(there) == len(found) else None


def one_after_another(schedules: Sequence[Schedule]) -> Schedule:
    """Return the one schedule of a piece that runs through several.

    The first keeps the ids of its steps, so that a piece begun on it alone goes on where it is
    once others are added; those of a later one have its own id before them, with a number where
    it comes again.
    """
    if len(schedules) == 1:
        return schedules[0]
    came: Counter[str] = Counter()
    stages: list[Stage] = []
    for schedule in schedules:
        again = came[schedule.id]
        came[schedule.id] += 1
        before = f"{schedule.id}-{again + 1}." if again else f"{schedule.id}."
        stages += schedule.stages if not stages else _renamed(schedule.stages, before)
    accepted = [one for schedule in schedules for one in schedule.accepted]
    return Schedule(
        id="+".join(schedule.id for schedule in schedules),
        title=", then ".join(schedule.title for schedule in schedules),
        stages=tuple(stages),
        suits=schedules[0].suits,
        look=schedules[-1].look,
        over=schedules[0].over,
        source="; ".join(dict.fromkeys(s.source for s in schedules if s.source)),
        notes=" ".join(dict.fromkeys(s.notes for s in schedules if s.notes)),
        accepted=tuple({one.rule: one for one in accepted}.values()),
    )


def _renamed(stages: Sequence[Stage], before: str) -> Iterator[Stage]:
    for stage in stages:
        yield replace(stage, steps=tuple(_renamed_item(item, before) for item in stage.steps))


def _renamed_item(item: StepPlan | Rounds, before: str) -> StepPlan | Rounds:
    if isinstance(item, Rounds):
        return replace(item, steps=tuple(replace(s, id=before + s.id) for s in item.steps))
    return replace(item, id=before + item.id)

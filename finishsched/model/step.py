"""Steps as they are done: one action on a piece, then one wait, in order from first to last."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import TypeVar

from finishsched.model.doing import Care, Lays
from finishsched.model.film import Reach
from finishsched.model.how import BY_GUN, tells
from finishsched.model.schedule import (
    HandsOn,
    Rounds,
    Schedule,
    Spread,
    StageName,
    StepPlan,
    Verb,
    Wait,
)

Value = TypeVar("Value")

REWORK = "rework-"
"""How the key of a step begins that puts a defect right: ``rework-2/pad:1.1``."""
SPOT, STRIP = "spot-", "strip"
"""How the name of such a step begins that touches one spot only, or takes the film off."""


@dataclass(frozen=True, slots=True)
class Step:
    """One action on a piece: for a step of several coats, one coat of it."""

    number: int
    """From 1, in the order of the work."""
    key: str
    """The same for as long as the schedule's text is, such as ``body/pad:2.3``."""
    stage: StageName
    verb: Verb
    how: str
    coat: int
    coats: int
    round: int
    rounds: int
    product: str | None = None
    tool: str = ""
    lubricant: str | None = None
    cut_g_per_l: float | None = None
    thinned_percent: float | None = None
    grade: str | None = None
    spread: Spread | None = None
    hands_on: HandsOn = HandsOn()
    wait: Wait | None = None
    dry_check: str = ""
    cautions: tuple[str, ...] = ()
    reach: Reach | None = None
    """How far a levelling goes; None where the schedule does not say."""

    @property
    def title(self) -> str:
        """The step in a few words: ``pad coat 3 of 6``, ``level P400``."""
        words = [self.verb.value]
        if self.coats > 1:
            words.append(f"coat {self.coat} of {self.coats}")
        if self.grade:
            words.append(self.grade)
        return " ".join(words)

    @property
    def in_hand(self) -> str:
        """What is in the hand: the schedule's tool, else the verb's own.

        Nothing where a grade tells it, and where dust is taken off as the step says.
        """
        graded = self.verb.abrades and self.verb.does.graded
        said = graded or self.verb is Verb.TACK_OFF
        return self.tool or ("" if said else self.verb.does.tool)

    @property
    def is_rework(self) -> bool:
        """True for a step that no schedule has, put in to make a defect good."""
        return self.key.startswith(REWORK)

    @property
    def leaves_film_wet(self) -> bool:
        """True where the film itself is wet afterwards: a rest after it runs from that moment."""
        return self.verb.lays_coats or self.verb is Verb.SPIRIT_OFF

    @property
    def by_gun(self) -> bool:
        """True for a mist: laid so by its verb, or colour by the gun that its words name."""
        does = self.verb.does
        colours = does.lays is Lays.COLOUR and tells(f"{self.tool}. {self.how}", BY_GUN)
        return Care.MIST in does.care or colours

    @property
    def on_a_spot(self) -> bool:
        """True for a rework that lays something on one spot only: no film of the whole face."""
        return self.is_rework and self.key.partition("/")[2].startswith(SPOT)

    @property
    def strips(self) -> bool:
        """True for a rework that takes the film off again."""
        return self.is_rework and self.key.partition("/")[2].startswith(STRIP)

    @property
    def place(self) -> str:
        """Where in the work: ``body``, ``body, round 2 of 3`` or ``rework``."""
        if self.is_rework:
            return "rework"
        if self.rounds > 1:
            return f"{self.stage.value}, round {self.round} of {self.rounds}"
        return self.stage.value

    def line_of(self, in_all: int) -> str:
        """Return it in a line, one of so many steps: ``29/69 body, round 2 of 4: pad coat 4``."""
        return f"{self.number}/{in_all} {self.place}: {self.title}"


@lru_cache(maxsize=256)
def steps_of(schedule: Schedule) -> tuple[Step, ...]:
    """Return every step of ``schedule`` in the order of the work, rounds and coats laid out.

    Kept, since every piece of a shop asks for the same ones again at every entry.
    """
    return tuple(_step(number, *turn) for number, turn in enumerate(_turns(schedule), start=1))


def _turns(schedule: Schedule) -> Iterator[tuple[StageName, StepPlan, int, int, int, int]]:
    for stage in schedule.stages:
        for item in stage.steps:
            rounds = item.rounds if isinstance(item, Rounds) else 1
            plans = item.steps if isinstance(item, Rounds) else (item,)
            for round_ in range(1, rounds + 1):
                for plan in plans:
                    coats = _pick(plan.coats, round_) or 1
                    for coat in range(1, coats + 1):
                        yield stage.name, plan, coat, coats, round_, rounds


def _step(
    number: int, stage: StageName, plan: StepPlan, coat: int, coats: int, round_: int, rounds: int
) -> Step:
    turn = round_ if rounds > 1 else coat
    return Step(
        number=number,
        key=f"{stage.value}/{plan.id}:{round_}.{coat}",
        stage=stage,
        verb=plan.verb,
        how=plan.how,
        coat=coat,
        coats=coats,
        round=round_,
        rounds=rounds,
        product=plan.product,
        tool=plan.tool,
        lubricant=plan.lubricant,
        cut_g_per_l=_cut(plan, turn, coat, coats),
        thinned_percent=_pick(plan.thinned_percent, turn),
        grade=_pick(plan.grade, turn),
        spread=plan.spread,
        hands_on=plan.hands_on,
        wait=plan.waits.for_coat(coat, coats) if plan.waits else None,
        dry_check=plan.dry_check,
        cautions=plan.cautions,
        reach=_pick(plan.reach, turn),
    )


def _pick(values: tuple[Value, ...], turn: int) -> Value | None:
    """Return the value for turn number ``turn`` (from 1); a single value serves every turn."""
    if not values:
        return None
    return values[min(turn, len(values)) - 1]


def _cut(plan: StepPlan, turn: int, coat: int, coats: int) -> float | None:
    start = _pick(plan.cut_g_per_l, turn)
    if start is None or plan.thin_to_g_per_l is None or coats < 2:
        return start
    return start + (plan.thin_to_g_per_l - start) * (coat - 1) / (coats - 1)

"""Whether what is offered is borne: every defect, at every place of every shipped schedule.

    python tests/checking/all_reworks.py [SCHEDULE ...]

prints what is not, and how many were tried; some ten minutes. The suite tries a part of it. With
--causes before the schedules it prints which causes nothing takes away, each taken for the only
one.
"""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from finishsched.checking.cases import ScheduleCase
from finishsched.checking.defects.catalogue import CATALOGUE
from finishsched.checking.defects.causes import Cause, Defect
from finishsched.checking.defects.evidence import Evidence
from finishsched.checking.defects.options import offered, undoes
from finishsched.checking.defects.ranking import Diagnosis, Ranked, diagnose
from finishsched.checking.defects.repairs import repairs_of
from finishsched.checking.defects.rework import Rework, entered, joined_at, rework_steps
from finishsched.checking.defects.seen import Seen
from finishsched.checking.defects.spot_state import spot_state
from finishsched.checking.defects.worked_with import worked_with
from finishsched.checking.findings import schedule_findings
from finishsched.checking.rule import Severity
from finishsched.documents.library import shipped_products, shipped_schedules
from finishsched.model.schedule import Schedule
from finishsched.model.shop import Shop
from finishsched.model.step import Step, steps_of

PRODUCTS, SHOP = shipped_products(), Shop("")
SPOT_M2 = 1e-4
ERROR = "an error of the checker"
MOST_FILM_UM = 150.0
"""What a clear finish bears in all (furniture finishing texts)."""


def places_of(steps: Sequence[Step]) -> list[int]:
    """Return where the work changes: so many steps are done then; the last is the finished one."""
    marks = [(step.stage, step.verb, step.round) for step in steps]
    turns = [at for at in range(1, len(steps)) if marks[at] != marks[at - 1]]
    return [*turns, len(steps)]


def only(cause: Cause, defect: Defect) -> Diagnosis:
    """Return a defect with one cause and no other."""
    return Diagnosis(defect, (Ranked(cause, 1.0, (), ()),))


class Told(NamedTuple):
    """What the checker and the ledger say of some steps."""

    errors: Counter[str]
    sheens: int
    film_um: float


class Work:
    """One schedule's work at one place, and what it bears."""

    def __init__(self, schedule: Schedule, at: int) -> None:
        self.schedule, self.steps = schedule, steps_of(schedule)
        self.done, self.left = self.steps[:at], self.steps[at:]
        self.used = worked_with(self.steps, self.left[0] if self.left else None, PRODUCTS)
        self.there = spot_state(self.done, self.left, PRODUCTS)
        self._told: dict[tuple[Step, ...], Told] = {}
        self._known: dict[Rework, list[str]] = {}

    def offered(self, seen: Seen) -> list[Rework]:
        """Return what is offered for a defect, on all of the piece and on a spot of it."""
        return self.offered_for(diagnose(seen, Evidence()))

    def offered_for(self, diagnosis: Diagnosis) -> list[Rework]:
        """Return the same where its causes are known."""
        seen = diagnosis.defect.seen
        spots = filter(self.bears, repairs_of(seen, self.used, self.there, SPOT_M2))
        return [*offered(diagnosis, self.used, self.bears), *spots]

    def faults(self, rework: Rework) -> list[str]:
        """Return what is wrong with the work that is left, with a rework in it."""
        if rework not in self._known:
            self._known[rework] = list(self._faults(rework))
        return self._known[rework]

    def bears(self, rework: Rework) -> bool:
        """Tell whether the checker finds no error more with a rework in the work."""
        return ERROR not in self.faults(rework)

    def _faults(self, rework: Rework) -> Iterator[str]:
        steps, passed = self._among(rework)
        before = self._tell(steps)
        after = self._tell(entered(steps, rework_steps(rework, 1), passed))
        if any(count > before.errors[code] for code, count in after.errors.items()):
            yield ERROR
        if after.sheens > before.sheens and rework.option != "rub-down":  # there it is meant
            yield "a sheen that is not reached"
        if after.film_um > max(MOST_FILM_UM, self._tell(self.steps).film_um):
            yield "more film than it bears"

    def _among(self, rework: Rework) -> tuple[tuple[Step, ...], set[str]]:
        held = joined_at(self.left, rework.holds)
        passed = {step.key for step in self.done}
        if rework.beside:
            passed = {s.key for s in self.steps if held is None or s.number < held.number}
        if rework.bare:
            return tuple(s for s in self.steps if s.key not in passed), set()
        return self.steps, passed

    def _tell(self, steps: tuple[Step, ...]) -> Told:
        if steps not in self._told:
            case = ScheduleCase(self.schedule, PRODUCTS, SHOP, steps)
            found = list(schedule_findings(case))
            self._told[steps] = Told(
                Counter(one.code for one in found if one.severity is Severity.ERROR),
                sum(one.code == "sheen-not-reached" for one in found),
                case.ledger[-1][1].after.film_um.likely if case.ledger else 0.0,
            )
        return self._told[steps]


def faults_of(name: str, places: Sequence[int] | None = None) -> Iterator[tuple[str, int]]:
    """Give every fault at some places of a schedule, all where none are named; and what was tried.

    Each comes with how many ways were tried up to it; the last is empty and has them all.
    """
    schedule = shipped_schedules()[name]
    tried = 0
    for at in places or places_of(steps_of(schedule)):
        work = Work(schedule, at)
        for seen in Seen:
            found = work.offered(seen)
            if not found:
                yield f"{name} at {at}: nothing for {seen.value}", tried
            for rework in found:
                tried += 1
                for fault in work.faults(rework):
                    yield f"{name} at {at}: {seen.value}, {rework.option}: {fault}", tried
    yield "", tried


def left_over(name: str) -> Iterator[str]:
    """Give every cause at every place that no way takes away; it is said to be for a restorer."""
    schedule = shipped_schedules()[name]
    for at in places_of(steps_of(schedule)):
        work = Work(schedule, at)
        kind = PRODUCTS[work.used.coat.product or ""].kind if work.used.coat else None
        for seen, defect in CATALOGUE.items():
            for cause in defect.causes:
                if kind is not None and cause.of and kind not in cause.of:
                    continue
                found = only(cause, defect)
                undone = any(undoes(found, one) for one in work.offered_for(found))
                yield "" if undone else f"{name} at {at}: {seen.value}, {cause.id}"


def _tell_left_over(names: Sequence[str]) -> None:
    tried = [one for name in names for one in left_over(name)]
    sys.stdout.writelines(f"{one}\n" for one in tried if one)
    sys.stdout.write(f"{sum(map(bool, tried))} of {len(tried)} causes are for a restorer\n")


if __name__ == "__main__" and sys.argv[1:2] == ["--causes"]:
    _tell_left_over(sys.argv[2:] or sorted(shipped_schedules()))
elif __name__ == "__main__":
    whole = 0
    for each in sys.argv[1:] or sorted(shipped_schedules()):
        for words, number in faults_of(each):
            if words:
                sys.stdout.write(f"{words}\n")
            else:
                whole += number
                sys.stdout.write(f"{each}: {number} tried\n")
                sys.stdout.flush()
    sys.stdout.write(f"{whole} ways in all\n")

"""How the shipped schedules do a step: what stands in for what a notebook leaves out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib import resources

from finishsched.documents.decode import read
from finishsched.documents.formats.steps import STEP_IN_ROUNDS
from finishsched.documents.nodes import Fields, Node
from finishsched.model.product import Product
from finishsched.model.schedule import Schedule, StageName, StepPlan, Verb


@dataclass(frozen=True, slots=True)
class Sought:
    """The step that something is wanted for."""

    verb: Verb
    stage: StageName
    product: str | None
    coats: int
    lubricant: str | None


@dataclass(frozen=True, slots=True)
class _Example:
    schedule: str
    stage: StageName
    step: StepPlan


@dataclass(frozen=True, slots=True)
class Borrowed:
    """A value, and the schedule that it was taken from."""

    node: Node
    schedule: str


@lru_cache(maxsize=1)
def _usual_steps() -> Schedule:
    """Return steps that no shipped schedule shows, as they are usually done."""
    data = (resources.files(__package__) / "usual.yaml").read_bytes()
    model = read(data, "usual.yaml", "schedule").model
    assert isinstance(model, Schedule)  # noqa: S101
    return model


class Examples:
    """Steps to borrow from, those most like the one in hand first."""

    def __init__(self, schedules: Iterable[Schedule], products: Mapping[str, Product]) -> None:
        # First, so that of two alike the usual one stands in.
        self._all = tuple(_examples([_usual_steps(), *schedules]))
        self._products = products

    def borrow(self, key: str, sought: Sought) -> Borrowed | None:
        """Return the value of ``key`` from the step that is most like the one sought."""
        alike = [each for each in self._all if each.step.verb is sought.verb]
        for example in sorted(alike, key=lambda each: -self._likeness(each, sought)):
            if key == "wait" and (max(example.step.coats) > 1) != (sought.coats > 1):
                continue
            written = STEP_IN_ROUNDS.write(example.step)
            node = written.get(key) if isinstance(written, Fields) else None
            if node is not None:
                return Borrowed(node, example.schedule)
        return None

    def _likeness(self, example: _Example, sought: Sought) -> int:
        step = example.step
        likeness = 2 * (example.stage is sought.stage) + 8 * (step.product == sought.product)
        likeness += 4 * (self._kind(step.product) == self._kind(sought.product))
        likeness += 2 * (_is_wet(step.lubricant) == _is_wet(sought.lubricant))
        return likeness + (step.lubricant == sought.lubricant)

    def _kind(self, product: str | None) -> str:
        found = self._products.get(product or "")
        return found.kind.value if found else ""


def _is_wet(lubricant: str | None) -> bool:
    return lubricant not in (None, "dry")


def _examples(schedules: Iterable[Schedule]) -> Iterator[_Example]:
    # What renews an old finish is no example for bare wood.
    for schedule in (one for one in schedules if one.over is None):
        for stage in schedule.stages:
            for step in stage.step_plans():
                yield _Example(schedule.id, stage.name, step)

"""Where the steps of a schedule stand in its document."""

from __future__ import annotations

from collections.abc import Iterator

from finishsched.model.schedule import Rounds, Schedule, StepPlan
from finishsched.model.step import Step


def paths_of(
    schedule: Schedule,
) -> Iterator[tuple[tuple[str, str], tuple[str | int, ...]]]:
    """Give each step as written, by its stage and id, with its path in the document."""
    for stage_at, stage in enumerate(schedule.stages):
        for item_at, item in enumerate(stage.steps):
            path: tuple[str | int, ...] = ("stages", stage_at, "steps", item_at)
            plans: tuple[StepPlan, ...] = item.steps if isinstance(item, Rounds) else (item,)
            for step_at, plan in enumerate(plans):
                inner = ("steps", step_at) if isinstance(item, Rounds) else ()
                yield (stage.name, plan.id), (*path, *inner)


def id_of(step: Step) -> str:
    """Return by which id a step is written in its stage."""
    return step.key.partition("/")[2].rpartition(":")[0]

"""What the work on a piece gave off, solvent by solvent, the spots that were mended among it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable

from finishsched.journal.events import StepDone
from finishsched.workshop.safety.vapour_sources import Sources, coat_of
from finishsched.workshop.standing.standing import Standing


def solvents_of(works: Iterable[Standing], sources: Sources) -> dict[str, float]:
    """Return the grams of each solvent, by its name, that the coats of ``works`` gave off."""
    found: dict[str, float] = defaultdict(float)
    for work in works:
        for step, event in work.progress.done if work.progress else ():
            assert isinstance(event.what, StepDone)  # noqa: S101
            for release in sources.of_coat(coat_of(work, step, event.at, event.what)):
                found[release.solvent.title] += release.grams
    return dict(found)

"""The taking out of scratches by the grades that were passed over (common practice, no source)."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from finishsched.checking.defects import recipes as r
from finishsched.checking.defects.rework import Plans
from finishsched.checking.defects.worked_with import WorkedWith
from finishsched.film.grade_steps import WIDEST_RATIO, WIDEST_TO_POWDER, between
from finishsched.model.film import Reach
from finishsched.model.grades import grade_of, powder_in


def finer_level(used: WorkedWith) -> Plans | None:
    """Return the papers that were passed over, down to what gives the sheen; None for none yet."""
    if not used.levelled:
        # The scratches are in the wood: the film was never cut.
        return None
    how = "off the edges, straight strokes, until only its own scratch is left"
    passed = _passed_over(used) or ((used.level.grade if used.level else None) or "P600",)
    papers = tuple(replace(r.level(used, how, reach=Reach.SCUFF), grade=(g,)) for g in passed)
    return *papers, r.wiped(used)


def _passed_over(used: WorkedWith) -> tuple[str, ...]:
    """Return the grades that lead from the papers of the last coat to what gives the sheen.

    They begin where a step was too wide; from the first paper on where none was.
    """
    sheen = used.sheen
    by_powder = sheen is not None and powder_in(sheen.grade or sheen.product or "")
    fine = by_powder or (grade_of(sheen.grade) if sheen is not None and sheen.grade else None)
    rungs = [grade_of(step.grade) for step in used.papers if step.grade]
    steps = [*pairwise(rungs), *(((rungs[-1], fine),) if rungs and fine else ())]
    for coarse, finer in steps:
        widest = WIDEST_TO_POWDER if finer is by_powder else WIDEST_RATIO
        found = between(coarse.grain_um, finer.grain_um, widest)
        if found:
            after = [one.name for one in rungs if one.grain_um <= finer.grain_um]
            return *found, *after
    return tuple(one.name for one in rungs)

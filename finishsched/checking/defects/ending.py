"""What every way begins and ends with: wax off, a rest while it is soft, the sheen as it was."""

from __future__ import annotations

import math
from collections.abc import Sequence

from finishsched.checking.defects import recipes as r
from finishsched.checking.defects.rework import Plans, named_apart
from finishsched.checking.defects.worked_with import WorkedWith
from finishsched.checking.rules.ready import BEFORE_SPIRIT_S
from finishsched.model.grades import grade_of
from finishsched.model.schedule import Verb
from finishsched.model.step import SPOT, Step

WIPE_WET = "wipe-wet"
"""The way, and its first step, that there is only while the last coat is wet."""


def unwaxed(plans: Plans, used: WorkedWith) -> Plans:
    """Return ``plans`` on a waxed or oily face: washed first, where anything holds or cuts."""
    clings = any(plan.verb.lays_coats or plan.verb.abrades for plan in plans)
    washed = plans[0].id == "clean"
    if not (used.waxed or used.greased) or used.spirits is None or washed or not clings:
        return plans
    return r.clean(used), *plans


def ended(plans: Plans, used: WorkedWith) -> Plans:
    """Return ``plans`` with what ended the work done again, as far as they undo it.

    A new coat cures as the whole did, and is brought to its sheen; what only rubs or washes has the
    sheen and the wax to make good.
    """
    if any(plan.verb is Verb.RUB_OUT for plan in plans):
        return plans
    verbs = [plan.verb for plan in plans if not plan.id.startswith(SPOT) or plan.verb.abrades]
    papers = [plan for plan in plans if plan.verb.cuts and plan.grade]
    least_um = grade_of(papers[-1].grade[0]).grain_um if papers else math.inf
    coated = any(verb.lays_coats or verb is Verb.SPIRIT_OFF for verb in verbs)
    rubbed = coated or any(verb.abrades for verb in verbs)
    washed = used.waxed and any(verb.does.cleans for verb in verbs)
    if Verb.WAX in verbs:
        return plans
    # Paper as coarse as what was just taken would scratch it again.
    sheens = [at for at, step in enumerate(used.ended) if _shines(step, least_um)]
    waxes = [at for at, step in enumerate(used.ended) if step.verb is Verb.WAX]
    starts = ((coated, [0]), (rubbed, sheens), (washed or rubbed, waxes))
    start = next((found[0] for does, found in starts if does and found), len(used.ended))
    # A pass of alcohol leaves nothing to level.
    level = any(verb.lays_coats or verb.abrades for verb in verbs)
    again = [step for step in used.ended[start:] if level or step.verb is not Verb.LEVEL]
    return *plans, *(_rested(again, used) if coated else ()), *(r.again(step) for step in again)


def _rested(again: Sequence[Step], used: WorkedWith) -> Plans:
    """Return the rest that new coats want before alcohol or a rubbing, where the work has none."""
    if any(step.verb.does.rests for step in again):
        return ()
    if any(step.verb is Verb.RUB_OUT for step in again):
        return (r.rest(used, "let it cure before it is rubbed", 1.0, used.to_gloss_s),)
    if any(step.verb is Verb.SPIRIT_OFF for step in again[:1]):
        return (r.rest(used, "overnight: alcohol tears what is soft", 1.0, BEFORE_SPIRIT_S),)
    return ()


def _shines(step: Step, least_um: float) -> bool:
    """Tell whether a step rubs the sheen on over paper whose grain is ``least_um``."""
    if not step.verb.abrades:
        return False
    return step.verb is Verb.RUB_OUT or not step.grade or grade_of(step.grade).grain_um < least_um


def shone(plans: Plans, used: WorkedWith) -> Plans:
    """Return ``plans`` with thin coats where they end dull from paper and nothing more is to come.

    The piece's own rubbing out stands among them already, where it has one.
    """
    last = next((p.verb for p in reversed(plans) if p.verb.lays_coats or p.verb.rubs_film), None)
    if last is not Verb.LEVEL or used.sheen_ahead or used.coat is None or used.fills_ahead:
        return plans
    usual = used.coat.verb.does.coat
    few = max(1, (usual.make_good if usual else 2) // 2)
    return *plans, r.coats(used, few, "thin, over the whole face: it brings the shine back")


def hardened(plans: Plans, used: WorkedWith, *, dabs: bool = False) -> Plans:
    """Return ``plans`` with a rest before them, where the last coat is too soft for the first.

    With ``dabs`` it is too soft for a coat as well: what lies thick on a spot shuts it in.
    """
    first = plans[0].verb
    # What stands wet is wiped off before it sets, and oil before it is gum.
    wet = plans[0].id == WIPE_WET or (used.oiled and first.does.cleans)
    if wet or not used.fresh or not (_wants_hard(first) or (dabs and first.lays_coats)):
        return named_apart(plans)
    what = "let the colour dry through" if used.bare else "let the last coat harden first"
    rested = r.rest(used, f"{what}; count from when it was laid", 0.5)
    return named_apart((rested, *plans))


def _wants_hard(verb: Verb) -> bool:
    """Tell whether a verb is more than a coat still soft bears: it tears, melts or is bitten."""
    return verb.abrades or verb.does.cleans or verb is Verb.BURN_IN

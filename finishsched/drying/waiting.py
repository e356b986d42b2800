"""What a step of a schedule waits for: which product dries there, to which phase, by which law."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from finishsched.drying.figures import Phase, mechanism_of
from finishsched.drying.laws import SCHEDULE_AIR, Law, law_for, law_of
from finishsched.model.doing import Wets
from finishsched.model.lubricants import WATERS
from finishsched.model.product import Mechanism, Product
from finishsched.model.schedule import StageName, Verb
from finishsched.model.step import Step


def wets(step: Step, products: Mapping[str, Product]) -> bool:
    """Tell whether a step brings water to the wood."""
    if step.verb.does.wets is Wets.WATER or step.lubricant in WATERS:
        return True
    product = products.get(step.product or "")
    return (
        product is not None
        and product.kind.row.brings_water
        and mechanism_of(product) is Mechanism.WATER
    )


def drying_product(
    step: Step, steps: Sequence[Step], products: Mapping[str, Product]
) -> Product | None:
    """Return the product whose drying a step waits for: its own, else the last one laid."""
    for earlier in reversed(steps[: step.number]):
        product = products.get(earlier.product or "")
        if product is not None and mechanism_of(product) is not None:
            return product
    return None


def phase_of(step: Step, steps: Sequence[Step]) -> Phase:
    """Return what a step waits for."""
    if step.verb is Verb.GLUE_UP:
        return Phase.CLAMP
    if step.verb.does.rests and step.stage is StageName.CURE:
        return Phase.CURE
    following = steps[step.number] if step.number < len(steps) else None
    abrades = following is not None and following.verb.abrades
    return Phase.SAND if abrades else Phase.RECOAT


def law_of_wait(step: Step, steps: Sequence[Step], products: Mapping[str, Product]) -> Law | None:
    """Return the law that a step's wait goes by, in the air that schedules are written for.

    None where nothing is known to dry. Source: the laws and their figures.
    """
    if wets(step, products) and step.verb is not Verb.GLUE_UP:
        return law_for(Mechanism.WATER, Phase.RECOAT, SCHEDULE_AIR)
    product = drying_product(step, steps, products)
    return law_of(product, phase_of(step, steps), SCHEDULE_AIR) if product else None

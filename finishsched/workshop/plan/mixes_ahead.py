"""The mixes that the plan wants as it stands, for papers that tell what to mix."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from finishsched.model.names import in_words
from finishsched.model.step import Step
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.plan.pots import PlannedMix, planned_mixes
from finishsched.workshop.plan.step_in_shop import activity_key


def mixes_as_planned(
    workshop: Workshop, products: Iterable[str], names: Iterable[str], now: datetime
) -> tuple[PlannedMix, ...]:
    """Return the mixes of what does not keep that the plan wants as it stands, for some pieces.

    Nothing is planned where none of the products is such.

    Args:
        workshop: the open shop.
        products: the ids of what is used.
        names: the pieces, or several as one by the name that they have together.
        now: the instant.

    """
    known = workshop.papers.products
    used = [known[product] for product in products if product in known]
    if all(product.pot_life_s is None for product in used):
        return ()
    # The planners are dear to load, and seldom wanted here.
    from finishsched.workshop.plan.as_it_stands import plan_as_it_stands  # noqa: PLC0415
    from finishsched.workshop.plan.plans import shop_sound  # noqa: PLC0415

    placed = plan_as_it_stands(workshop, now)
    shop, _ = shop_sound(workshop, now)
    done = {each.key for each in shop.problem.done}
    open_keys = shop.steps.keys() - done
    still_open = [each for key, each in placed.items() if key in open_keys]
    wanted = frozenset(names)
    mixes = planned_mixes(workshop, shop, still_open)
    return tuple(mix for mix in mixes if not wanted.isdisjoint(_names_of(mix)))


def shared_mix(
    workshop: Workshop, step: Step, refs: Iterable[str], now: datetime
) -> PlannedMix | None:
    """Return the one mix that the plan has for a step of some pieces and for others too, or None.

    Args:
        workshop: the open shop.
        step: what is to be done.
        refs: the pieces, or the block of them.
        now: the instant.

    """
    if step.product is None:
        return None
    those = tuple(refs)
    keys = {activity_key(ref, step) for ref in (*those, in_words(those))}
    planned = mixes_as_planned(workshop, [step.product], those, now)
    serving = (mix for mix in planned if mix.is_shared and keys.intersection(mix.keys))
    return next(serving, None)


def _names_of(mix: PlannedMix) -> set[str]:
    """Return every name by which somebody may ask for a piece that a mix is for."""
    return {*mix.refs, *mix.pieces, in_words(mix.pieces)}

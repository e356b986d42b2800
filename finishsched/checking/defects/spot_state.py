"""What lies at a place of a piece now, and what its own work still brings there."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from finishsched.checking.defects.rework import Holds
from finishsched.checking.defects.worked_with import is_wax
from finishsched.model.doing import Abrades, Lays
from finishsched.model.product import Product, ProductKind
from finishsched.model.schedule import Verb
from finishsched.model.step import Step


@dataclass(frozen=True, slots=True)
class SpotState:
    """What was laid and is to come, as far as mending one spot asks."""

    coats: int = 0
    """Coats of finish laid since the film was last taken off."""
    film_um: float | None = None
    """Film round the place, likely; None where nobody reckoned it."""
    stained: bool = False
    filled: bool = False
    waxed: bool = False
    """True where wax lies on the film, which neither coat nor stick holds on."""
    coats_ahead: int = 0
    fills_ahead: bool = False
    stains_ahead: bool = False
    levels_ahead: bool = False
    """True where paper still comes to the film, or the film is cut back."""
    touched_ahead: bool = False
    """True where more than coats and rests is still to come."""
    sheen_ahead: bool = False
    """True where the step that gives the finish its sheen is still to come."""

    @property
    def bare(self) -> bool:
        """True while there is no film: a seal under a filler to come is none."""
        return self.coats == 0 or self.fills_ahead


def spot_state(
    done: Sequence[Step],
    left: Iterable[Step],
    products: Mapping[str, Product],
    film_um: float | None = None,
) -> SpotState:
    """Return what lies there after the steps ``done``, with those that are ``left`` to come.

    What was done on another spot alone is none of it. ``film_um`` is the film round the place,
    where it was reckoned.
    """
    strips = [at for at, step in enumerate(done) if step.strips]
    since = done[strips[-1] + 1 :] if strips else done
    ahead = [step for step in left if not step.on_a_spot]
    return SpotState(
        coats=sum(_is_film(step, products) for step in since if not step.on_a_spot),
        film_um=film_um,
        stained=any(step.verb.does.lays is Lays.COLOUR for step in done),
        filled=any(step.verb is Verb.FILL for step in done if not step.on_a_spot),
        waxed=any(is_wax(step, products) for step in since if not step.on_a_spot),
        coats_ahead=sum(_is_film(step, products) for step in ahead),
        fills_ahead=any(step.verb is Verb.FILL for step in ahead),
        stains_ahead=any(step.verb.does.lays is Lays.COLOUR for step in ahead),
        levels_ahead=any(step.verb.does.abrades is Abrades.FILM for step in ahead),
        touched_ahead=any(Holds.PAPER.is_held(step) for step in ahead),
        sheen_ahead=any(step.verb is Verb.RUB_OUT for step in ahead),
    )


def _is_film(step: Step, products: Mapping[str, Product]) -> bool:
    product = products.get(step.product or "")
    return step.verb.lays_coats and not (product and product.kind is ProductKind.STAIN)

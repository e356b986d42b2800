"""What lies under the paper at each step of a schedule, and what counts as a loss there.

Clear film over clear wood is none as long as enough film is still to come: a spot cut through is
filled by the next round, and the levelling is a cutting back there. Colour, the seal of an oily
wood, filler, veneer and inlay always are; the film itself is where little or none follows.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from finishsched.film.face import FaceWork
from finishsched.film.ledger import SEAL_UM, Laid
from finishsched.film.odds import GROUND, Stake, Stakes
from finishsched.model.doing import Lays
from finishsched.model.job import Piece
from finishsched.model.kinds import CHEMICALS, COLOURS
from finishsched.model.product import Product, ProductKind
from finishsched.model.recipe import is_tinted
from finishsched.model.step import Step
from finishsched.model.verbs import Verb
from finishsched.model.woods import woods_of

WANT_A_SEAL = (ProductKind.VARNISH, ProductKind.WATERBORNE)
"""What an oily wood would keep from drying, or from holding."""
FOLLOWS_UM = SEAL_UM
"""So much film still to come, likely, fills a spot that was cut through (our assumption)."""


def stakes_of(
    works: Sequence[FaceWork],
    steps: Sequence[Step | None],
    products: Mapping[str, Product],
    piece: Piece,
) -> tuple[Stakes, ...]:
    """Return what may be lost at each of ``works``, which ``steps`` make; None for a reading."""
    under = _under_of(steps, products, piece)
    return tuple(map(Stakes, under, _lost_of(works, under)))


def _under_of(
    steps: Sequence[Step | None], products: Mapping[str, Product], piece: Piece
) -> tuple[frozenset[Stake], ...]:
    """Return for each step which of colour, seal and filler lie on the wood when it begins.

    The first coat on an oily wood seals it where the finish over it is not shellac.
    """
    kinds = [_kind(step, products) for step in steps]
    oily = any(wood.oily for wood in woods_of(piece.made_of))
    seals = oily and any(kind in WANT_A_SEAL for kind in kinds)
    here: set[Stake] = set()
    found = []
    for step, kind in zip(steps, kinds, strict=True):
        found.append(frozenset(here))
        if step is None:
            continue
        if step.strips:
            here.discard(Stake.SEAL)
        if _colours(step, kind, products):
            here.add(Stake.COLOUR)
        if step.verb.does.lays is Lays.FILLER and kind in (None, ProductKind.FILLER):
            here.add(Stake.FILLER)
        if seals and step.verb.lays_coats and kind is not None and kind.is_shellac:
            here.add(Stake.SEAL)
    return tuple(found)


def _lost_of(
    works: Sequence[FaceWork], under: Sequence[frozenset[Stake]]
) -> tuple[frozenset[Stake], ...]:
    """Return for each step what counts as a loss there."""
    to_come_um = 0.0
    found: list[frozenset[Stake]] = []
    for work, here in zip(reversed(works), reversed(under), strict=True):
        lost = here | GROUND
        found.append(lost if to_come_um >= FOLLOWS_UM else lost | {Stake.FILM})
        if isinstance(work, Laid):
            to_come_um += work.wet_um.likely * work.solids.likely
    return tuple(reversed(found))


def _colours(step: Step, kind: ProductKind | None, products: Mapping[str, Product]) -> bool:
    """Tell whether a step leaves colour on the wood: a stain, a glaze, a toner however laid."""
    if kind in CHEMICALS:
        return False  # what alkali turned brown is as deep as the alkali went
    if kind in COLOURS or step.verb is Verb.TONE or step.verb.does.lays is Lays.COLOUR:
        return True
    product = products.get(step.product or "")
    return product is not None and step.verb.lays_coats and is_tinted(product, products)


def _kind(step: Step | None, products: Mapping[str, Product]) -> ProductKind | None:
    product = products.get(step.product or "") if step else None
    return product.kind if product else None

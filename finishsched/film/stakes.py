"""What lies under the paper at each step of a schedule, and what counts as a loss there.

Clear film over clear wood is none as long as enough film is still to come: a spot cut through is
filled by the next round, and the levelling is a cutting back there. Colour, the seal of an oily
wood, filler, veneer and inlay always are, but for colour that lies open on the wood and is laid
once more before a film, and filler that is filled again; the film itself is where little or none
follows.
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

MOST_WASH_COATS = 1
"""Coats between wood and its colour that only even the suction (common practice)."""


def stakes_of(
    works: Sequence[FaceWork],
    steps: Sequence[Step | None],
    products: Mapping[str, Product],
    piece: Piece,
) -> tuple[Stakes, ...]:
    """Return what may be lost at each of ``works``, which ``steps`` make; None for a reading."""
    under, anew = _under_of(steps, products, piece), _laid_anew(steps, products)
    return tuple(map(Stakes, under, _lost_of(works, under, anew)))


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
        if _fills(step, kind):
            here.add(Stake.FILLER)
        if seals and step.verb.lays_coats and kind is not None and kind.is_shellac:
            here.add(Stake.SEAL)
    return tuple(found)


def _laid_anew(
    steps: Sequence[Step | None], products: Mapping[str, Product]
) -> tuple[frozenset[Stake], ...]:
    """Return for each step what is laid once more after it, so that it is no loss there."""
    fills = [step is not None and _fills(step, _kind(step, products)) for step in steps]
    last_fill = max((at for at, is_fill in enumerate(fills) if is_fill), default=-1)
    return tuple(
        frozenset({Stake.COLOUR} if coloured else ())
        | ({Stake.FILLER} if at < last_fill else set())
        for at, coloured in enumerate(_coloured_anew(steps, products))
    )


def _coloured_anew(
    steps: Sequence[Step | None], products: Mapping[str, Product]
) -> tuple[bool, ...]:
    """Tell for each step whether no film lies there, and colour is laid again before one does.

    A wash coat under the colour is no film yet: it only makes the wood drink evenly.
    """
    covers = [_covers(step, products) for step in steps]
    colours = [
        step is not None and _colours(step, _kind(step, products), products) for step in steps
    ]
    lies, bare = False, []
    for step, film in zip(steps, covers, strict=True):
        lies = (lies or film) and not (step is not None and step.strips)
        bare.append(not lies)
    films, found = MOST_WASH_COATS + 1, []
    for film, colour in zip(reversed(covers), reversed(colours), strict=True):
        found.append(films <= MOST_WASH_COATS)
        films = 0 if colour else films + film
    return tuple(open_ and anew for open_, anew in zip(bare, reversed(found), strict=True))


def _covers(step: Step | None, products: Mapping[str, Product]) -> bool:
    kind = _kind(step, products)
    return step is not None and step.verb.lays_coats and kind is not None and kind not in COLOURS


def _lost_of(
    works: Sequence[FaceWork], under: Sequence[frozenset[Stake]], anew: Sequence[frozenset[Stake]]
) -> tuple[frozenset[Stake], ...]:
    """Return for each step what counts as a loss there."""
    to_come_um = 0.0
    found: list[frozenset[Stake]] = []
    backwards = zip(reversed(works), reversed(under), reversed(anew), strict=True)
    for work, here, again in backwards:
        lost = (here - again) | GROUND
        found.append(lost if to_come_um >= FOLLOWS_UM else lost | {Stake.FILM})
        if isinstance(work, Laid):
            to_come_um += work.wet_um.likely * work.solids.likely
    return tuple(reversed(found))


def _fills(step: Step, kind: ProductKind | None) -> bool:
    return step.verb.does.lays is Lays.FILLER and kind in (None, ProductKind.FILLER)


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

"""How a finish is kept, mended and taken off later, in our own words.

Common practice of furniture care and repair, no single source; the solvents that lift each film
follow from what it dries by. Whoever repairs an object tries everything where it does not show.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from finishsched.model.product import Mechanism, Product, ProductKind
from finishsched.model.step import Step

DUST = (
    "Dust with a soft dry cloth. A barely damp cloth takes finger marks; dry at once. No sprays "
    "with silicone, no feather dusters, no standing water."
)
KEEP = (
    "Keep it at 40 to 60 % relative humidity, out of the sun and away from radiators: wood and "
    "film move with the air."
)
EVERY_DAY = (DUST, KEEP)
FOOD = (
    "Cured is not by itself fit for food or for a child's mouth: that is for the maker to show "
    "under the rules of the place."
)
TRY_FIRST = "Try everything first where it does not show."


@dataclass(frozen=True, slots=True)
class Keeping:
    """What the next owner and the next restorer should know of one finish on an object."""

    finish: str
    avoid: str
    """What harms it: never clean with these."""
    mend: str
    remove: str


_SHELLAC = Keeping(
    "shellac",
    "Alcohol in any form (spirits, perfume, glass and hand cleaners), ammonia and other alkalis, "
    "hot cups, long contact with water.",
    "Fresh shellac of the same kind bonds into the old film: clean with white spirit, scuff with "
    "P400 to P600, and pad on a thin cut. White rings, scratches and all that needs alcohol on the "
    "film are a restorer's work: one pass too wet takes the polish off.",
    "Alcohol softens and lifts it completely; wipe off with rags and fine wool, several times. No "
    "stripper is needed.",
)
_KEEPING: Mapping[ProductKind, Keeping] = {
    ProductKind.FLAKES: _SHELLAC,
    ProductKind.SHELLAC: _SHELLAC,
    ProductKind.OIL: Keeping(
        "oil",
        "Strong soap, alkalis and solvents that draw the oil out; standing water.",
        "Rub with fine paper and a little of the same oil, wipe off all that stays on top, and "
        "let it harden. Rags wet with oil can catch fire by themselves: spread them flat outdoors.",
        "It is in the wood: only sanding or scraping takes it out; white spirit takes what is "
        "still soft.",
    ),
    ProductKind.VARNISH: Keeping(
        "varnish",
        "Alkalis, paint stripper, acetone and lacquer thinner; sanding without a new coat.",
        "New varnish only sticks to a scuffed film: P320 to P400, clean, and a thin coat of the "
        "same kind. It does not melt into the old one.",
        "A stripper by its data sheet, or a scraper and paper; alcohol and white spirit do not "
        "lift it.",
    ),
    ProductKind.LACQUER: Keeping(
        "lacquer",
        "Acetone, lacquer thinner, nail varnish and its remover, perfume, soft plastics laid on it "
        "for long.",
        "Fresh lacquer of the same kind melts into the old film: scuff, clean, thin coats. On a "
        "catalysed lacquer it does not; scuff well, and do not build it thick.",
        "Lacquer thinner or acetone with much fresh air; a catalysed one needs a stripper.",
    ),
    ProductKind.WATERBORNE: Keeping(
        "waterborne finish",
        "Alcohol, ammonia, acetone and strong cleaners.",
        "Scuff with P400, clean, and a thin coat of the same kind; it does not melt into the old "
        "film.",
        "A stripper by its data sheet; alcohol and acetone soften most of them.",
    ),
    ProductKind.WAX: Keeping(
        "wax",
        "Heat, white spirit and silicone sprays.",
        "Buff, and renew thinly once or twice a year. Take old wax off before any other finish is "
        "mended: nothing sticks to it.",
        "White spirit or naphtha on a cloth, with fresh air and no flame near.",
    ),
}
_UNDER = {ProductKind.FILLER: "filler", ProductKind.STAIN: "stain", ProductKind.GLUE: "glue"}


def keeping_of(steps: Iterable[Step], products: Mapping[str, Product]) -> tuple[Keeping, ...]:
    """Return how to keep each finish that ``steps`` laid, the outermost first."""
    laid = [product for step in steps if (product := products.get(step.product or ""))]
    kinds = dict.fromkeys(product.kind for product in reversed(laid))
    return tuple(dict.fromkeys(_KEEPING[kind] for kind in kinds if kind in _KEEPING))


def beneath(steps: Iterable[Step], products: Mapping[str, Product]) -> tuple[str, ...]:
    """Name what lies under the film: fillers, stains, glues, with what loosens a glue."""
    found = {p.id: p for step in steps if (p := products.get(step.product or ""))}
    return tuple(
        f"{product.title} ({_UNDER[product.kind]}{_loosens(product)})"
        for product in found.values()
        if product.kind in _UNDER
    )


def _loosens(product: Product) -> str:
    if product.kind is not ProductKind.GLUE:
        return ""
    if product.mechanism is Mechanism.TWO_PART:
        return "; only heat softens it"
    return "; damp and heat loosen it"

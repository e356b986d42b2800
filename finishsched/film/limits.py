"""How thick a film a finish bears before it cracks, and whether one is within it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from finishsched.model.product import Product
from finishsched.model.ranges import Range


@dataclass(frozen=True, slots=True)
class FilmLimit:
    """The thickest dry film that a kind of finish bears, in um."""

    film_um: float
    what: str
    source: str


NITROCELLULOSE = FilmLimit(
    76.0, "nitrocellulose lacquer", "makers' data sheets: 76 um (3 mil) in all"
)
CATALYSED = FilmLimit(
    150.0,
    "catalysed finish",
    "makers' data sheets: at most 150 um; films of 150 to 300 um cracked within months",
)
IN_ALL = FilmLimit(
    150.0, "clear wood finish", "furniture finishing texts: about 150 um (6 mil) in all"
)


class Bears(StrEnum):
    """Whether a film is within what its finish bears."""

    WITHIN = "within"
    NEAR = "may pass"
    """Likely within, and at its thickest not."""
    BEYOND = "beyond"


def limit_of(products: tuple[Product, ...]) -> FilmLimit:
    """Return the limit of a film made of ``products``: the lowest of their own."""
    return min((_limit(product) for product in products), key=_film_um, default=IN_ALL)


def bears(film_um: Range, limit: FilmLimit) -> Bears:
    """Judge a film against a limit."""
    if film_um.likely > limit.film_um:
        return Bears.BEYOND
    return Bears.NEAR if film_um.high > limit.film_um else Bears.WITHIN


def _limit(product: Product) -> FilmLimit:
    name = f"{product.id} {product.title}".lower()
    if "nitrocellulose" in name:
        return NITROCELLULOSE
    return CATALYSED if product.is_two_part_film or "catalysed" in name else IN_ALL


def _film_um(limit: FilmLimit) -> float:
    return limit.film_um

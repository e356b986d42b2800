"""What products are called in a notebook."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from finishsched.documents.lines.product_words import FAMILIES, OTHER_NAMES
from finishsched.model.product import Product, ProductKind

WETS = (ProductKind.THINNER, ProductKind.LUBRICANT, ProductKind.ALCOHOL)
"""What thins, wets a paper or cleans, and is no coat of its own."""


@dataclass(frozen=True, slots=True)
class Names:
    """Every name that a line may use for a product."""

    ids: Mapping[str, str]
    """In small letters, with the product's id, or with the family that one is to be chosen from."""
    wets: frozenset[str]
    """Ids and families of what thins, wets or cleans."""


def names_of_products(products: Mapping[str, Product]) -> Names:
    """Return every name of a product that a line may use."""
    ids = {family: family for family in FAMILIES}
    for family, kinds in FAMILIES.items():
        ids |= _by_one_word(family, [p for p in products.values() if p.kind in kinds])
    ids |= {name: id_ for name, id_ in OTHER_NAMES.items() if id_ in products}
    for product in products.values():
        for name in (product.title.lower(), product.id.replace("-", " "), product.id):
            ids[name] = product.id
    wets = {p.id for p in products.values() if p.kind in WETS}
    wets |= {family for family, kinds in FAMILIES.items() if set(kinds) <= set(WETS)}
    return Names(MappingProxyType(ids), frozenset(wets))


def kinds_of(name: str | None, products: Mapping[str, Product]) -> tuple[ProductKind, ...]:
    """Return the kinds that a product's id, or a family's name, stands for."""
    product = products.get(name or "")
    return (product.kind,) if product is not None else FAMILIES.get(name or "", ())


def _by_one_word(family: str, products: Sequence[Product]) -> dict[str, str]:
    """Return names such as 'blonde shellac', where one product only has that word in its id."""
    names: dict[str, str] = {}
    words = Counter(word for product in products for word in set(product.id.split("-")))
    for product in products:
        for word in product.id.split("-"):
            if words[word] == 1 and not word.isdigit() and word not in family.split():
                names[f"{word} {family}"] = product.id
    return names

"""Of what matter a product is, as the table of layers names it."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from types import MappingProxyType

from finishsched.checking.moves import Move
from finishsched.model.product import Mechanism, Product, ProductKind

_PAINT = r"\b(?:milk|casein|lime|chalk) paint|\bdistemper"
_IRON = r"\biron (?:liquor|acetate|sul(?:f|ph)ate|water|in vinegar)|\bferrous|\bvinegar iron"
_TANNIN = r"\btann(?:in|ic)|\b(?:bark|black|strong) tea\b|\boak gall|\bquebracho"
"""What turns wood black, and what wood has to hold for that; neither is dissolved again."""
_TREE_LACQUER = r"\b(?:tree lacquer|lacquer tree|sap lacquer|urushi)\b"
HARDENS_IN_DAMP = "varnish.tree"
"""The sap of a tree, which hardens by the water of the air and not without it."""
FILMS = ("shellac", "spirit", "lacquer", "varnish", "waterborne")
"""What ``film`` means in the table; two-part films are named by themselves."""


def matter_of(product: Product) -> str:
    """Return the matter of ``product``: by its kind, how it dries, and the words of its title."""
    words = f"{product.id} {product.title}".lower().replace("-", " ")
    two_part = product.mechanism is Mechanism.TWO_PART
    found = _BY_KIND[product.kind](product, words)
    if two_part and found.partition(".")[0] in FILMS:
        return f"two-part.{found.partition('.')[0]}"
    return found


def matter_at(move: Move) -> str:
    """Return of what matter the product of a step is; empty for none, and for one not known."""
    return matter_of(move.product) if move.product is not None else ""


def is_a(matter: str, pattern: str) -> bool:
    """Tell whether ``matter`` is what one word of the table means."""
    if pattern == "any":
        return not matter.startswith("work.")
    if pattern == "film":
        return matter.partition(".")[0] in FILMS
    return matter == pattern or matter.startswith(f"{pattern}.")


def _shellac(product: Product, _: str) -> str:
    return "shellac.waxy" if product.waxy else "shellac.dewaxed"


def _varnish(product: Product, words: str) -> str:
    if product.mechanism is Mechanism.SOLVENT:
        return "spirit"
    if re.search(_TREE_LACQUER, words):
        return HARDENS_IN_DAMP
    if "urethane" not in words and re.search(r"\b(?:wiping|gel)\b", words):
        return "varnish.alkyd.wiping"
    return "varnish.urethane" if "urethane" in words else "varnish.alkyd"


def _oil(product: Product, words: str) -> str:
    if "mineral oil" in words or "paraffin" in words:
        return "oil.mineral"
    for name in ("raw", "tung"):
        if name in f"{product.id} {product.title}".lower().split("(")[0]:
            return f"oil.{name}"
    return "oil.blend" if "danish" in words or "blend" in words else "oil.boiled"


def _filler(product: Product, _: str) -> str:
    if product.mechanism is Mechanism.TWO_PART:
        return "filler.epoxy"
    return "filler.oil" if product.mechanism is Mechanism.OXIDISING else "filler.water"


def _waterborne(_: Product, words: str) -> str:
    # It dries to an open chalk that drinks oil and wax: no film in the table's sense.
    return "paint" if re.search(_PAINT, words) else "waterborne"


def _thinner(_: Product, words: str) -> str:
    if re.search(r"\b(?:water|vinegar)\b", words):
        return "water"
    return "stripper" if re.search(r"\bstripper|\b(?:paint|finish) remover", words) else "thinner"


def _wax(_: Product, words: str) -> str:
    if "silicone" in words:
        return "silicone"
    return "soap" if re.search(r"\bsoap", words) else "wax"


def _lacquer(_: Product, words: str) -> str:
    if re.search(_TREE_LACQUER, words):
        return HARDENS_IN_DAMP
    if "vinyl" in words:
        return "lacquer.vinyl"
    soaped = "sanding sealer" in words
    return "lacquer.sealer" if soaped else "lacquer"


def _stain(product: Product, words: str) -> str:
    if "glaze" in words or re.search(r"\bgel\b", words):  # a gel stays on the face as a glaze does
        return "glaze"
    for matter, said in (("paint", _PAINT), ("mordant.iron", _IRON), ("mordant.tannin", _TANNIN)):
        if re.search(said, words):
            return matter
    if product.mechanism is Mechanism.OXIDISING:
        return "stain.oil"
    return "dye.spirit" if product.mechanism is Mechanism.SOLVENT else "dye.water"


def _pigment(_: Product, words: str) -> str:
    return "paint" if re.search(_PAINT, words) else "pigment"


def _glue(product: Product, words: str) -> str:
    for name in ("hide", "contact", "urea"):
        if name in words:
            return f"glue.{name}"
    return "glue.epoxy" if product.mechanism is Mechanism.TWO_PART else "glue.pva"


def _bleach(_: Product, words: str) -> str:
    for name in ("oxalic", "chlorine"):
        if name in words:
            return f"bleach.{name}"
    return "bleach.peroxide"


def _lubricant(_: Product, words: str) -> str:
    return "silicone" if "silicone" in words else "oil.mineral"


def _always(matter: str) -> Callable[[Product, str], str]:
    return lambda _product, _words: matter


_BY_KIND: Mapping[ProductKind, Callable[[Product, str], str]] = MappingProxyType(
    {
        ProductKind.FLAKES: _shellac,
        ProductKind.SHELLAC: _shellac,
        ProductKind.LACQUER: _lacquer,
        ProductKind.VARNISH: _varnish,
        ProductKind.WATERBORNE: _waterborne,
        ProductKind.OIL: _oil,
        ProductKind.FILLER: _filler,
        ProductKind.STAIN: _stain,
        ProductKind.DYE: _stain,
        ProductKind.PIGMENT: _pigment,
        ProductKind.GLUE: _glue,
        ProductKind.WAX: _wax,
        ProductKind.BLEACH: _bleach,
        ProductKind.ALKALI: _always("alkali"),
        ProductKind.ALCOHOL: _always("alcohol"),
        ProductKind.THINNER: _thinner,
        ProductKind.LUBRICANT: _lubricant,
        ProductKind.POWDER: _always("powder"),
    }
)

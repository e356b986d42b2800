"""What a notebook calls products and kinds of products, a row each (common practice, no source)."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from finishsched.model.kinds import SHELLACS
from finishsched.model.product import ProductKind
from finishsched.model.schedule import Verb

FAMILIES: Mapping[str, tuple[ProductKind, ...]] = MappingProxyType(
    {
        "shellac": SHELLACS,
        "oil": (ProductKind.OIL,),
        "varnish": (ProductKind.VARNISH,),
        "lacquer": (ProductKind.LACQUER,),
        "waterborne": (ProductKind.WATERBORNE,),
        **dict.fromkeys(
            (
                "wb",
                "wb poly",
                "wb lacquer",
                "wb varnish",
                "water based lacquer",
                "water-based lacquer",
                "waterborne lacquer",
                "waterborne varnish",
                "water based poly",
                "water-based poly",
                "waterborne poly",
                "acrylic",
            ),
            (ProductKind.WATERBORNE,),
        ),
        **dict.fromkeys(("poly", "polyurethane"), (ProductKind.VARNISH,)),
        **dict.fromkeys(
            ("danish oil", "teak oil", "oil-varnish blend"), (ProductKind.OIL, ProductKind.VARNISH)
        ),
        **dict.fromkeys(("linseed oil", "linseed"), (ProductKind.OIL,)),
        **dict.fromkeys(("gel stain", "pigment stain", "oil stain"), (ProductKind.STAIN,)),
        **dict.fromkeys(("alcohol", "spirit"), (ProductKind.ALCOHOL,)),
        **dict.fromkeys(("thinner", "thinners", "spirits"), (ProductKind.THINNER,)),
        **dict.fromkeys(
            ("grain filler", "pore filler", "paste filler", "wood filler", "woodfiller"),
            (ProductKind.FILLER,),
        ),
        "glue": (ProductKind.GLUE,),
        **dict.fromkeys(("beeswax", "wax polish", "beeswax polish"), (ProductKind.WAX,)),
        "filler": (ProductKind.FILLER,),
        "paste wax": (ProductKind.WAX,),
        "hide glue": (ProductKind.GLUE,),
    }
)
"""What a kind of product is called where it does not matter which: the one there is, or asked."""

OTHER_NAMES: Mapping[str, str] = MappingProxyType(
    {
        **dict.fromkeys(("white spirit", "mineral spirit"), "mineral-spirits"),
        **dict.fromkeys(("meths", "methylated spirit", "methylated spirits"), "denatured-alcohol"),
        **dict.fromkeys(("dewaxed", "dewaxed shellac", "blonde"), "shellac-dewaxed-blonde"),
        **dict.fromkeys(
            ("orange shellac", "amber shellac", "button polish"), "shellac-waxy-orange"
        ),
        "garnet": "shellac-garnet",
        **dict.fromkeys(("blo", "boiled linseed"), "boiled-linseed-oil"),
        **dict.fromkeys(("epoxy", "epoxy resin"), "two-part-epoxy"),
        **dict.fromkeys(("white glue", "yellow glue", "pva"), "pva-glue"),
        **dict.fromkeys(("nitro", "nitro lacquer"), "nitrocellulose-lacquer"),
        **dict.fromkeys(("spirit stain", "alcohol dye"), "spirit-dye"),
    }
)
"""Other names of products, where a shop has them (common practice, no source)."""

USUAL_WAYS: Mapping[ProductKind | None, Verb] = MappingProxyType(
    {
        ProductKind.OIL: Verb.WIPE,
        ProductKind.VARNISH: Verb.BRUSH,
        ProductKind.LACQUER: Verb.SPRAY,
        ProductKind.WATERBORNE: Verb.BRUSH,
    }
)
"""How coats of a kind are mostly laid on; the others are padded (common practice, no source)."""

USUAL_PRODUCTS = (
    "shellac-dewaxed-blonde", "denatured-alcohol", "mineral-spirits", "mineral-oil",
    "hot-hide-glue",
    "oil-paste-filler",
    "water-dye",
)  # fmt: skip
"""Of the products that one word stands for, the likely one (our assumption): it is asked."""

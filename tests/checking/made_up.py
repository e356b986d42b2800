"""Products that no shop has, for the classic mistakes and the sound schedules."""

from __future__ import annotations

from finishsched.model.product import Mechanism, Product, ProductKind

_NAMED = """
alkyd | Long-oil varnish | varnish | oxidising
danish | Danish oil | oil | oxidising
oil-stain | Oil stain | stain | oxidising
water-dye | Water dye | dye | water
spirit-dye | Spirit dye | dye | solvent
glaze | Glaze | stain | oxidising
two-clear | Two-part clear | varnish | two-part
peroxide | Two-part wood bleach | bleach | water
oxalic | Oxalic acid | bleach | water
chlorine | Chlorine bleach | bleach | water
lye | Lye | alkali | water
contact | Contact cement | glue | solvent
acetone | Acetone | thinner | solvent
ammonia | Strong ammonia water | alkali | water
baking-soda | Baking soda in water | alkali | water
beeswax-turps | Beeswax in turpentine | wax | solvent
catalysed-varnish | Two-part catalysed varnish | varnish | two-part
chlorine-bleach | Chlorine bleach, from the laundry shelf | bleach | water
friction-polish | Turner's friction polish, shellac with a little wax | shellac | solvent
gel-varnish | Gel varnish | varnish | oxidising
hardwax-oil | Hard wax oil | oil | oxidising
iron-liquor | Iron in vinegar, strained | stain | water
liming-wax | Liming wax, white pigment in soft wax | wax | solvent
milk-paint | Milk paint, casein and lime, from powder | pigment | water
naphtha | Naphtha | thinner | solvent
nr-dye | Solvent dye, ready to spray, dissolved in acetone | dye | solvent
oil-varnish-blend | Oil and varnish blend for wiping | oil | oxidising
oil-varnish-mix | Oil and varnish, a third each with spirits | oil | oxidising
paint-stripper | Paint stripper, thick, with paraffin in it | thinner | solvent
peroxide-bleach | Two-part wood bleach, lye and strong peroxide | bleach | water
plaster | Fine plaster, tinted, in water | filler | water
sanding-sealer | Lacquer sanding sealer, with zinc stearate | lacquer | solvent
sap-lacquer | Raw lacquer, the sap of the lacquer tree | lacquer | oxidising
satin-varnish | Oil varnish, satin, with matting silica | varnish | oxidising
soap-flakes | Soap flakes in hot water | wax | water
tannin-tea | Tannin, strong brew of bark powder | stain | water
tree-lacquer | Raw tree lacquer, strained | varnish | oxidising
turpentine-wax | Beeswax in turpentine | wax | solvent
two-part-bleach | Two-part wood bleach, lye and peroxide | bleach | water
two-part-polyurethane | Two-part clear polyurethane, with its hardener | lacquer | two-part
vinegar | White vinegar, 5 % acetic acid | thinner | water
vinyl-sealer | Vinyl sanding sealer | lacquer | solvent
washing-soda | Washing soda in hot water | alkali | water
white-vinegar | White vinegar | thinner | water
white-waterborne | White waterborne lacquer, pigmented | waterborne | coalescing
"""
"""Id, title, kind, and how it dries, one each."""


def _made(line: str) -> Product:
    name, title, kind, dries = (cell.strip() for cell in line.split("|"))
    return Product(name, title, ProductKind(kind), Mechanism(dries))


MADE_UP = {product.id: product for product in map(_made, _NAMED.strip().splitlines())}

"""What a gram or a millilitre costs, by the packs that the shop lists."""

from __future__ import annotations

from finishsched.mixing.materials import as_bought_g_per_ml
from finishsched.workshop.base.documents import Papers


def unit_price(product: str, papers: Papers, *, by_mass: bool) -> float | None:
    """Return what one g, or one ml, of a product costs: by its cheapest pack.

    None where no pack of it has a price, or where a pack is sold by the other unit and no density
    is known.
    """
    density = as_bought_g_per_ml(product, papers.products, papers.shop.alcohol)
    prices = []
    for pack in papers.shop.packs:
        if pack.product != product or pack.price is None:
            continue
        size = pack.size_g if by_mass else pack.size_ml
        if size is None and density:
            size = (pack.size_ml or 0.0) * density if by_mass else (pack.size_g or 0.0) / density
        if size:
            prices.append(pack.price.amount / size)
    return min(prices, default=None)

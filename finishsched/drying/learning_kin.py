"""What one kind of wait says about another: of the same product more, of other products little.

A log factor is taken as a sum of three: the shop's own, the product's beside the shop, and that of
the product's kind of wait beside the product. What a kind of wait has shown goes up that tree and
down again in closed form, each level blurred by its share of the variance.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping

from finishsched.drying.dry_checks import Group
from finishsched.drying.learning_bank import Bell

SHOP_SHARE, PRODUCT_SHARE, KIND_SHARE = 0.12, 0.18, 0.70
"""Of the variance between shops (our assumption): two kinds of wait of one product go together by
0.30, two products by 0.12. Minutes between coats say little of the days before a cure."""


def prior_from_kin(
    group: Group, seen: Mapping[Group, Bell], variances: Mapping[str, float]
) -> Bell:
    """Return what all other waits make of the log factor of ``group`` before any check of its own.

    Source: a tree of normal variables in closed form (textbook); how the variance is shared out is
    our assumption.

    Args:
        group: the kind of wait that is asked about.
        seen: what each wait's own checks left of a prior about nought with the variance of its
            product.
        variances: of the log factor by product, no unit, above 0; that of the group's product among
            them.

    """
    by_product: dict[str, list[Bell]] = defaultdict(list)
    for each, bell in sorted(seen.items()):
        shown = _shown(bell, variances[each.product])
        if each != group and shown is not None:
            kind = KIND_SHARE * variances[each.product]
            by_product[each.product].append(_blurred(shown, kind))
    variance = variances[group.product]
    siblings = by_product.pop(group.product, [])
    others = [
        _blurred(_together(bells), PRODUCT_SHARE * variances[product])
        for product, bells in by_product.items()
    ]
    shop = _together([Bell(0.0, SHOP_SHARE * variance), *others])
    product = _together([_blurred(shop, PRODUCT_SHARE * variance), *siblings])
    return _blurred(product, KIND_SHARE * variance)


def _shown(bell: Bell, prior_variance: float) -> Bell | None:
    """Return what checks showed by themselves: the prior about nought divided out again."""
    precision = 1 / bell.variance - 1 / prior_variance
    if precision <= 1e-9:
        return None
    return Bell(bell.mean / bell.variance / precision, 1 / precision)


def _blurred(bell: Bell, variance: float) -> Bell:
    return Bell(bell.mean, bell.variance + variance)


def _together(bells: Iterable[Bell]) -> Bell:
    """Return what several findings of one figure say together."""
    found = list(bells)
    precision = sum(1 / bell.variance for bell in found)
    return Bell(sum(bell.mean / bell.variance for bell in found) / precision, 1 / precision)

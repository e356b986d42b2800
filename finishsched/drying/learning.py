"""What dry checks teach: how long a wait really takes in this shop, beside what the book says.

A need is measured in book seconds: progress already corrected for the air. It is taken to be the
book's time times a factor, times exp(sigma * Z) from one wait to the next, Z normal. A dry check
seldom sees the moment itself: 'not yet' at one progress and 'ready' at a later one say that the
need lies between, and that is all that is used (interval-censored evidence).

Factors are shared from wait to wait in three levels, as sums of logs: the shop's own, the
product's beside the shop, and that of the product's kind of wait beside the product, with a third
of the prior variance each (assumed). The levels form a tree, so the pooling is exact on the grid:
each wait's likelihood is smoothed into its product, each product's into the shop, and what all
others say comes down the same way as the prior of the wait that is asked for. A wait with many
checks so speaks for itself, one with few leans on its kin. Sigma is learnt for each wait apart.
One entry in twenty may be wild, so that a single slip of the pen hardly counts.
"""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from finishsched.drying import learning_grid as grid
from finishsched.drying.dry_checks import Check, Group
from finishsched.model.product import Mechanism
from finishsched.model.reason import Reason

LEVELS = 3
"""Shop, product, and the product's kind of wait."""

TENTH_Z = 1.28155
"""Standard deviations from the middle of a normal spread to its outer tenth (any normal table)."""


@dataclass(frozen=True, slots=True)
class Prior:
    """What is taken to be so before any check; spreads are times-or-over, one standard deviation.

    All figures are our assumption: no published spread of drying times between shops was found.

    Raises:
        ValueError: when a spread is not above 1.

    """

    factor_spread: float = 1.35
    """Of the factor about 1."""
    wait_spread: float = 1.27
    """From one wait to the next, exp(sigma), at its likeliest."""
    sigma_spread: float = 1.4
    """Of sigma itself."""

    def __post_init__(self) -> None:
        if not min(self.factor_spread, self.wait_spread, self.sigma_spread) > 1:
            raise ValueError(f"a spread is times-or-over, so above 1, such as 1.35; here: {self}")


PRIORS: Mapping[Mechanism, Prior] = {
    Mechanism.SOLVENT: Prior(wait_spread=1.25),
    Mechanism.OXIDISING: Prior(wait_spread=1.30),
    Mechanism.COALESCING: Prior(wait_spread=1.25),
    Mechanism.WATER: Prior(wait_spread=1.30),
    Mechanism.TWO_PART: Prior(wait_spread=1.22),
}
"""Thick oil and wetted wood vary most, a measured reaction least (assumed)."""

DEFAULT_PRIOR = Prior()


@dataclass(frozen=True, slots=True)
class Learnt:
    """How long a wait takes here, in times the book; ranges hold 80 %.

    Guarantees low <= factor <= high and earliest <= likely <= latest.
    """

    factor: float
    """The median: as likely more as less."""
    low: float
    high: float
    sigma: float
    """How far one wait strays from the next, as a log; the mean of what is credible."""
    earliest: float
    """One next wait in ten needs less."""
    latest: float
    """One next wait in ten needs more."""
    checks: int
    """Checks of this very wait."""
    others: int
    """Checks of the shop's other waits, which count for less."""
    overruled: bool = False
    """True when the factor was set by hand."""

    @property
    def likely(self) -> float:
        """The multiplier of the book's likely time."""
        return self.factor

    @property
    def words(self) -> str:
        """The finding in a line for a person."""
        if self.overruled:
            return f"here it takes {_times(self.factor)}, as you have set it"
        if self.checks:
            return f"here it takes {_times(self.factor)}, from {_counted(self.checks)}"
        if self.others:
            return (
                f"no check of this wait yet; {_counted(self.others)} of other waits here "
                f"suggest {_times(self.factor)}"
            )
        return f"no check yet: {_times(1.0)}"

    @property
    def reason(self) -> Reason:
        """By which rule, from which inputs and from which source the factor came."""
        ranges = (
            f"factor {self.low:.2f} to {self.high:.2f}, next wait {self.earliest:.2f} to "
            f"{self.latest:.2f} times the book (80 %)"
        )
        return Reason(
            rule="the book's time by the factor that the shop's dry checks show; a need lies "
            "between the last 'not yet' and 'ready'; waits with few checks lean on the others",
            inputs=(f"{_counted(self.checks)} of this wait, {self.others} of others", ranges),
            source="set by hand"
            if self.overruled
            else "own dry checks; the spreads before any check are our assumption",
        )


def learn(
    checks: Iterable[Check],
    group: Group,
    *,
    priors: Mapping[str, Prior] | None = None,
    overrule: float | None = None,
) -> Learnt:
    """Return what the shop's checks say about the waits of ``group``.

    ``checks`` are all of the shop's, in any order. ``priors`` gives a product's own (``PRIORS`` has
    one for each mechanism). ``overrule`` sets the factor; the checks then only say how wide the
    range about it is. Until a wait has a check of its own,
    its range keeps the assumed spread, x/1.47 to x1.47, about whatever its kin suggest.

    Raises:
        ValueError: when ``overrule`` is not a finite figure above 0.

    """
    counted = [check for check in checks if check.tells]
    learnt = _from_checks(counted, group, priors or {})
    return learnt if overrule is None else _overruled(learnt, overrule)


def _from_checks(counted: Sequence[Check], group: Group, priors: Mapping[str, Prior]) -> Learnt:
    prior = priors.get(group.product, DEFAULT_PRIOR)
    likelihoods = _likelihoods(counted, group, priors)
    joint = grid.posterior(likelihoods[group], _from_kin(likelihoods, group, priors))
    factors = grid.over_sigmas(joint)
    low, factor, high = (math.exp(grid.log_factor_at(share, factors)) for share in (0.1, 0.5, 0.9))
    own = sum(check.n for check in counted if check.group == group)
    earliest, latest = _next_wait(joint) if own else _assumed_range(factor, prior)
    return Learnt(
        factor=factor,
        low=low,
        high=high,
        sigma=grid.mean_sigma(joint),
        earliest=earliest,
        latest=latest,
        checks=own,
        others=sum(check.n for check in counted) - own,
    )


def _likelihoods(
    counted: Sequence[Check], group: Group, priors: Mapping[str, Prior]
) -> dict[Group, list[grid.Row]]:
    """Return each group's likelihood by sigma and factor, that of ``group`` even when flat."""
    looks: dict[Group, Counter[tuple[int, int]]] = defaultdict(Counter, {group: Counter()})
    for check in counted:
        marks = grid.look_between(check.not_yet_s / check.book_s, check.ready_s / check.book_s)
        looks[check.group][marks] += check.n
    return {
        each: _weighed(seen, priors.get(each.product, DEFAULT_PRIOR))
        for each, seen in sorted(looks.items())
    }


def _weighed(seen: Counter[tuple[int, int]], prior: Prior) -> list[grid.Row]:
    looks = tuple(sorted((below, above, n) for (below, above), n in seen.items()))
    return grid.weigh(
        grid.evidence(looks), math.log(prior.wait_spread), math.log(prior.sigma_spread)
    )


def _from_kin(
    likelihoods: Mapping[Group, Sequence[grid.Row]], group: Group, priors: Mapping[str, Prior]
) -> grid.Row:
    """Return the prior of the group's factor: what all other waits say, come down the tree."""
    kin: dict[str, list[grid.Row]] = defaultdict(list)
    for each, rows in likelihoods.items():
        if each != group:
            level = _level_spread(priors, each.product)
            kin[each.product].append(grid.smooth(grid.over_sigmas(rows), level))
    level = _level_spread(priors, group.product)
    siblings = kin.pop(group.product, [])
    others = [
        grid.smooth(grid.product(rows), _level_spread(priors, product))
        for product, rows in kin.items()
    ]
    shop = grid.product([grid.bell(level), *others])
    return grid.smooth(grid.product([grid.smooth(shop, level), *siblings]), level)


def _level_spread(priors: Mapping[str, Prior], product: str) -> float:
    spread = priors.get(product, DEFAULT_PRIOR).factor_spread
    return math.log(spread) / math.sqrt(LEVELS)


def _next_wait(joint: Sequence[grid.Row]) -> tuple[float, float]:
    return math.exp(grid.log_need_at(0.1, joint)), math.exp(grid.log_need_at(0.9, joint))


def _assumed_range(factor: float, prior: Prior) -> tuple[float, float]:
    slow: float = prior.factor_spread**TENTH_Z
    return factor / slow, factor * slow


def _overruled(learnt: Learnt, factor: float) -> Learnt:
    """Move the whole range to a factor that was set by hand."""
    if not 0 < factor < math.inf:
        raise ValueError(f"a factor is above 0 and finite, such as 1.3; it is {factor!r}")
    moved = factor / learnt.factor
    return replace(
        learnt,
        factor=factor,
        low=factor,
        high=factor,
        earliest=learnt.earliest * moved,
        latest=learnt.latest * moved,
        overruled=True,
    )


def _times(factor: float) -> str:
    shown = f"{factor:.2g}" if factor < 10 else f"{factor:.0f}"
    return "as long as the book says" if shown == "1" else f"{shown} times the book"


def _counted(checks: int) -> str:
    return "1 check" if checks == 1 else f"{checks} checks"

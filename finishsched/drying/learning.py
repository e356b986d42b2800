"""What dry checks teach: how long a wait really takes in this shop, beside what the book says.

A need is measured in book seconds: progress already corrected for the air. It is taken to be the
book's time times a factor, times exp(sigma * Z) from one wait to the next, Z normal. A dry check
seldom sees the moment itself: 'not yet' at one progress and 'ready' at a later one say that the
need lies between, and that is all that is used (interval-censored evidence).

A bank of filters follows the factor from check to check (``learning_bank``); what other waits have
shown is where it begins (``learning_kin``). What was learnt fades with time, since shops change
with the season, and the waits of one evening may have a cause in common, so that twelve coats of
one evening are not twelve witnesses.

A look that found it ready says only that it was not later. Where the looks of late were all, or
nearly all, of that sort, they are no evidence of how quick the shop is: the likely time then stays
near the book's, the slow end does not come down, and other waits are told nothing.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import lru_cache
from typing import NamedTuple

from finishsched.drying.dry_checks import Check, Group
from finishsched.drying.learning_bank import Bank, Bell, Look
from finishsched.drying.learning_kin import prior_from_kin
from finishsched.model.product import Mechanism
from finishsched.model.reason import Reason
from finishsched.numerals import counted

MOST_CHECKS = 60
"""Of one kind of wait, the last; what lies before has faded (it bounds the cost)."""
SAME_EVENING = timedelta(hours=6)
"""Looks that follow each other by less than this are of one evening (our assumption)."""
EVENING_AGE, NIGHT_AGE, AGE_DAYS = 0.25, 1.0, 7.0
"""What was learnt ages by a quarter from coat to coat of one evening, by one from evening to
evening, and by one more each week (our assumption, tried on shops that change with the season)."""

LATE_LOOKS, NOT_YETS_WANTED = 12, 6
"""Evidence is one-sided while fewer than one in six of the last twelve looks was a 'not yet'."""
LEAST_SHARE_UNSEEN = 0.75
"""One-sided evidence brings the likely time no lower than to this share of book and kin."""
EARLY_UNSEEN = 0.03
"""The early end reaches further down while nobody has looked before it."""
FAR_LOG = 14.0
"""Beyond a million times the book none is told apart."""
LEAST_SPAN = 0.01
"""Nobody sees a need closer than to a hundredth."""

LOOK_EARLIER = (
    "always ready when you looked: look earlier once, and it can learn more; "
    "one 'not yet' teaches more than ten passes"
)


@dataclass(frozen=True, slots=True)
class Prior:
    """What is taken to be so before any check; spreads are times-or-over, one standard deviation.

    All figures are our assumption: no published spread of drying times between shops was found.

    Raises:
        ValueError: when a spread is not above 1.

    """

    factor_spread: float = 1.35
    """Of the factor about 1."""
    wait_spread: float = 1.28
    """From one wait to the next, exp(sigma), at its likeliest."""
    sigma_spread: float = 2.46
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


class Learnt(NamedTuple):
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
    not_yet: int = 0
    """How many of the last checks of this wait held a 'not yet'."""
    of_late: int = 0
    """How many checks of this wait those are counted among."""
    kin: float = 1.0
    """What book and other waits make of the factor, before any check of this one."""

    @property
    def likely(self) -> float:
        """The multiplier of the book's likely time."""
        return self.factor

    @property
    def one_sided(self) -> bool:
        """True while the looks of late were ready so often that they teach next to nothing."""
        return _one_sided(self.not_yet, self.of_late)

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
    def advice(self) -> str:
        """What would teach more; empty where there is nothing to say."""
        return LOOK_EARLIER if self.one_sided and not self.not_yet and self.of_late >= 2 else ""

    @property
    def evidence(self) -> str:
        """Which checks are behind the factor, in a line."""
        if not self.of_late:
            return "no check of this wait is behind it"
        seen = f"of the last {_counted(self.of_late)} {self.not_yet} held a 'not yet'"
        if self.one_sided:
            return f"{seen}: one-sided, so book and other waits keep the slow end"
        return f"{seen}: enough for the range to follow the checks themselves"

    @property
    def reason(self) -> Reason:
        """By which rule, from which inputs and from which source the factor came."""
        ranges = (
            f"factor {self.low:.2f} to {self.high:.2f}, next wait {self.earliest:.2f} to "
            f"{self.latest:.2f} times the book (80 %)"
        )
        return Reason(
            rule="the book's time by the factor that the shop's dry checks show; a need lies "
            "between the last 'not yet' and 'ready'; what was learnt fades with time; waits with "
            "few checks lean on the others; passes alone bring the likely time no lower than "
            f"{LEAST_SHARE_UNSEEN:g} of what book and other waits say",
            inputs=(
                f"{_counted(self.checks)} of this wait, {self.others} of others",
                self.evidence,
                f"book and other waits alone: {self.kin:.2f} times the book",
                ranges,
            ),
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
    at: datetime | None = None,
) -> Learnt:
    """Return what the shop's checks say about the waits of ``group``.

    Source: censored log-normal needs by Bayes on a grid (textbook); the priors are our assumption.

    Args:
        checks: all of the shop's, taken in the order of their instants, those without one first, as
            given.
        group: the kind of wait that is asked about.
        priors: a product's own, by its id (``PRIORS`` has one for each mechanism).
        overrule: times the book that a person has set, no unit, above 0; the checks then only say
            how wide the range about it is.
        at: when the next wait begins, aware UTC; None is the evening after the last check.

    Raises:
        ValueError: when ``overrule`` is not a finite figure above 0.

    """
    counted = [check for check in checks if check.tells]
    learnt = _from_checks(counted, group, priors or {}, at)
    return learnt if overrule is None else _overruled(learnt, overrule)


def _from_checks(
    counted: Sequence[Check], group: Group, priors: Mapping[str, Prior], at: datetime | None
) -> Learnt:
    by_group: dict[Group, list[Check]] = defaultdict(list)
    for check in counted:
        by_group[check.group].append(check)
    own = _last(by_group.pop(group, []))
    prior = priors.get(group.product, DEFAULT_PRIOR)
    kin = _from_kin(by_group, group, priors, at)
    bank, last_at = _followed(own, kin, prior)
    age, new_evening = _age(last_at, at)
    needs, factors = bank.next_wait(age, new_evening=new_evening), bank.factors(age)
    low, high = factors.at(0.1), factors.at(0.9)
    earliest, likely, latest = (needs.at(share) for share in (0.1, 0.5, 0.9))
    of_late = own[-LATE_LOOKS:]
    not_yet = sum(check.not_yet_s > 0 for check in of_late)
    if _one_sided(not_yet, len(of_late)):
        before = _followed((), kin, prior)[0].next_wait(age)
        earliest, latest = needs.at(EARLY_UNSEEN), max(latest, before.at(0.9))
        likely = max(likely, kin.mean + math.log(LEAST_SHARE_UNSEEN))
        low, high = min(low, likely), max(high, likely)
    own_count = sum(check.n for check in counted if check.group == group)
    return Learnt(
        factor=math.exp(likely),
        low=math.exp(min(low, likely)),
        high=math.exp(max(high, likely)),
        sigma=bank.mean_sigma(),
        earliest=math.exp(min(earliest, likely)),
        latest=math.exp(max(latest, likely)),
        checks=own_count,
        others=sum(check.n for check in counted) - own_count,
        not_yet=not_yet,
        of_late=len(of_late),
        kin=math.exp(kin.mean),
    )


def _one_sided(not_yet: int, of_late: int) -> bool:
    return of_late > 0 and not_yet * NOT_YETS_WANTED < of_late


def _last(checks: Iterable[Check]) -> tuple[Check, ...]:
    """Return the last checks that count, one for each wait, in the order of time."""
    each = [check for check in checks for _ in range(min(check.n, MOST_CHECKS))]
    dated = sorted((check for check in each if check.at is not None), key=_when)
    return (*(check for check in each if check.at is None), *dated)[-MOST_CHECKS:]


def _when(check: Check) -> tuple[float, float, float, float]:
    at_s = check.at.timestamp() if check.at else 0.0
    return at_s, check.book_s, check.not_yet_s, check.ready_s


def _from_kin(
    others: Mapping[Group, Sequence[Check]],
    group: Group,
    priors: Mapping[str, Prior],
    at: datetime | None,
) -> Bell:
    """Return the prior of the group's factor: what all other waits say, come down the tree."""
    seen: dict[Group, Bell] = {}
    products = {group.product, *(each.product for each in others)}
    variances = {
        product: math.log(priors.get(product, DEFAULT_PRIOR).factor_spread) ** 2
        for product in products
    }
    for each, checks in others.items():
        ordered = _last(checks)
        of_late = ordered[-LATE_LOOKS:]
        if _one_sided(sum(check.not_yet_s > 0 for check in of_late), len(of_late)):
            continue
        base = Bell(0.0, variances[each.product])
        bank, last_at = _followed(ordered, base, priors.get(each.product, DEFAULT_PRIOR))
        seen[each] = bank.factor(_age(last_at, at)[0])
    return prior_from_kin(group, seen, variances)


@lru_cache(maxsize=256)
def _followed(
    checks: tuple[Check, ...], prior: Bell, spreads: Prior
) -> tuple[Bank, datetime | None]:
    """Return a bank that has seen these checks, and when the last of them was.

    It is kept, since most entries of a shop bring no check: whoever gets it only reads it.
    """
    ages: list[tuple[float, bool]] = []
    before: datetime | None = None
    for check in checks:
        ages.append(_age(before, check.at))
        before = check.at or before
    bank = Bank(
        prior,
        math.log(spreads.wait_spread),
        math.log(spreads.sigma_spread),
        evenings=not all(new_evening for _, new_evening in ages),
    )
    for check, (age, new_evening) in zip(checks, ages, strict=True):
        above, upto = _seen(check)
        bank.see(Look(above, upto, age, new_evening))
    return bank, before


def _age(before: datetime | None, at: datetime | None) -> tuple[float, bool]:
    """Return by how many ages what was learnt fades between two instants, and if a night does."""
    if before is None or at is None:
        return NIGHT_AGE, True
    gone = max(timedelta(0), at - before)
    if gone < SAME_EVENING:
        return EVENING_AGE, False
    return NIGHT_AGE + gone / timedelta(days=AGE_DAYS), True


def _seen(check: Check) -> tuple[float, float]:
    """Return the logs between which the need lies; a contradiction lies between the two."""
    low, high = sorted((check.not_yet_s, check.ready_s))
    above = _log(low / check.book_s) if low > 0 else -math.inf
    upto = _log(high / check.book_s) if high < math.inf else math.inf
    return above, max(upto, above + LEAST_SPAN)


def _log(times_book: float) -> float:
    least = math.exp(-FAR_LOG)
    return math.log(min(1 / least, max(least, times_book)))


def _overruled(learnt: Learnt, factor: float) -> Learnt:
    """Move the whole range to a factor that was set by hand."""
    if not 0 < factor < math.inf:
        raise ValueError(f"a factor is above 0 and finite, such as 1.3; it is {factor!r}")
    moved = factor / learnt.factor
    return learnt._replace(
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
    return counted(checks, "check")

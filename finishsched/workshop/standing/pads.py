"""The pads and cloths of the shop: which have their charge, and when each was used last.

Nothing is stored of them: a pad of one product and one way of laying it is as the coats left it
that were logged, on any piece. In its closed box it stays charged for a week; where rags heat by
themselves it goes out with them, and is charged anew another day.
"""

from __future__ import annotations

import sys
from bisect import bisect_left
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from datetime import datetime
from types import MappingProxyType
from typing import TYPE_CHECKING, NamedTuple

from finishsched.mixing.account import charges_a_pad
from finishsched.mixing.amount import holder, pad_charge_ml
from finishsched.mixing.learnt_use import MethodKey
from finishsched.model.product import Product, RagHabit
from finishsched.model.step import Step
from finishsched.workshop.base.shown import Shown
from finishsched.workshop.base.spans import span

if TYPE_CHECKING:
    from finishsched.workshop.standing.standing import Standing

NOT_WRITTEN = sys.maxsize
"""An entry not yet written comes after all that are."""


class Pads(NamedTuple):
    """When each pad was used, in order: the instants, and the entries' numbers beside them."""

    uses: Mapping[MethodKey, tuple[tuple[datetime, int], ...]]
    products: Mapping[str, Product] = MappingProxyType({})
    """By id: they tell how long a pad keeps."""

    def last_use(self, step: Step, at: datetime, seq: int | None = None) -> datetime | None:
        """Return when the pad of ``step`` was used last before ``at``; None for a fresh one.

        ``seq`` is the number of the entry that is asked about; None for one not yet written.
        """
        uses = self.uses.get(key_of(step), ())
        before = bisect_left(uses, (at, NOT_WRITTEN if seq is None else seq))
        return uses[before - 1][0] if before else None

    def is_charged(self, step: Step, at: datetime, seq: int | None = None) -> bool:
        """Tell whether the pad of ``step`` has its charge at ``at``."""
        last = self.last_use(step, at, seq)
        gone_s = (at - last).total_seconds() if last is not None else None
        return not charges_a_pad(gone_s, self.products.get(step.product or ""))

    def since_s(self, at: datetime) -> dict[MethodKey, float]:
        """Return how long before ``at`` each pad was used last, in seconds."""
        found: dict[MethodKey, float] = {}
        for pad, uses in self.uses.items():
            before = [use for use, _ in uses if use <= at]
            if before:
                found[pad] = (at - before[-1]).total_seconds()
        return found

    def holds(self, step: Step) -> bool:
        """Tell whether a step lays its product with what holds some of it: a pad or a cloth."""
        return step.product is not None and pad_charge_ml(step.verb) > 0

    def words(self, step: Step, at: datetime, shown: Shown, elsewhere: str = "") -> str:
        """Say how the pad of ``step`` is at ``at``; empty for a step that has none.

        ``elsewhere`` is the piece with whose coat a dry one is charged before, where there is one.
        """
        if not self.holds(step):
            return ""
        last, held = self.last_use(step, at), shown.volume(pad_charge_ml(step.verb))
        what = holder(step.verb)
        if elsewhere:
            return f"{what}: dry; the {held} that go into it are counted once, with {elsewhere}"
        if last is None:
            return f"{what}: none has been charged with this yet; a dry one takes {held} first"
        ago = span((at - last).total_seconds())
        if self.is_charged(step, at):
            return f"{what}: charged, last used {ago} ago; {self._keeps(step)}"
        return f"{what}: last used {ago} ago, so taken to be dry: {held} go into it first"

    def _keeps(self, step: Step) -> str:
        """Say how long a charged pad keeps, and how."""
        product = self.products.get(step.product or "")
        if product is not None and product.rags is RagHabit.SELF_HEATING:
            return "it goes out with the rags this evening, and another day a fresh one is taken"
        return "it keeps for a week in a closed box"


NO_PADS = Pads(MappingProxyType({}))


def key_of(step: Step) -> MethodKey:
    """Return by what the pad of a step is known."""
    return step.product or "", step.verb


def pads_of(found: Iterable[Standing], products: Mapping[str, Product]) -> Pads:
    """Return the pads as all coats of the pieces ``found`` have left them."""
    uses: dict[MethodKey, list[tuple[datetime, int]]] = defaultdict(list)
    for standing in found:
        for step, at, seq in _laid(standing):
            uses[key_of(step)].append((at, seq))
    used = {pad: tuple(sorted(each)) for pad, each in uses.items()}
    return Pads(MappingProxyType(used), products)


def _laid(standing: Standing) -> Iterator[tuple[Step, datetime, int]]:
    """Give every coat of a piece that was laid with a pad or cloth."""
    done = standing.progress.done if standing.progress is not None else ()
    for step, event in done:
        if step.product is not None and pad_charge_ml(step.verb):
            yield step, event.at, event.seq

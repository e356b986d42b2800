"""What the bench asks of the workshop, and nothing more."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, field
from datetime import datetime
from typing import TYPE_CHECKING, Protocol

from finishsched.model.shop import Air
from finishsched.workshop.base.answers import BenchView, PieceView
from finishsched.workshop.base.entries import Entry
from finishsched.workshop.standing.together import Row
from finishsched.workshop.views.row_views import RowView, row_views
from finishsched.workshop.views.views import bench_view

if TYPE_CHECKING:
    from finishsched.bench.typed.seeing import SurfaceSeen
    from finishsched.workshop.base.workshop import Workshop
    from finishsched.workshop.stock.shelf_entries import Mixed
    from finishsched.workshop.stock.stock import StockAnswer


@dataclass(frozen=True, slots=True)
class Reach:
    """How far a charged pad and a jar go, in millilitres; None for what is not known."""

    pad_holds_ml: float = 0.0
    """What a charged pad lays; 0 where the way of applying has none."""
    holder: str = "pad"
    """What is charged: a pad or a cloth."""
    coat_ml: Mapping[str, float] = field(default_factory=dict)
    """What one coat on each piece takes."""
    pieces: int = 0
    """How many pieces that is, where several stand as one."""
    jar_left_ml: float | None = None
    let_down_share: float = 0.0
    """Of a coat, what is alcohol and does not come out of the jar."""
    charge_ml: float = 0.0
    """What the pad takes up first, where it is dry."""

    def taken_ml(self, laid: Sequence[str]) -> float:
        """Return what coats on the pieces named have taken out of the jar."""
        used_ml = sum(self.coat_ml.get(ref, 0.0) for ref in laid) + (self.charge_ml if laid else 0)
        return used_ml * (1 - self.let_down_share)


class Door(Protocol):
    """Answers and takes entries for one shop."""

    @property
    def workshop(self) -> Workshop | None:
        """The open shop, for what only a shop can answer; None where nothing stands behind."""

    def bench_view(self, now: datetime) -> BenchView:
        """Return the shop as it stands at ``now``."""

    def changed(self) -> bool:
        """Return True when another process wrote, or a document was edited, since last asked."""

    def log(self, entry: Entry, now: datetime) -> object:
        """Take an entry about one piece, or about several with commas between them.

        Raises:
            RefusedError: when it cannot be true.
            JournalFaultError: when it cannot be written.

        """

    def rows(
        self, pieces: Sequence[PieceView], apart: AbstractSet[str], now: datetime
    ) -> tuple[RowView, ...]:
        """Return ``pieces`` as they are worked; those of ``apart`` stand by themselves."""

    def reach(self, refs: Sequence[str], jar: str, now: datetime) -> Reach:
        """Return how far the pad, and the jar with this name, go on pieces at their step."""

    def add_air(self, air: Air, now: datetime) -> object:
        """Take a reading of the air."""

    def stock(self, now: datetime) -> StockAnswer:
        """Return what stands on the shelf."""

    def log_stock(self, entry: Mixed, now: datetime) -> object:
        """Take an entry about stock, or refuse it as ``log`` does."""

    def log_readings(self, seen: SurfaceSeen, now: datetime) -> object:
        """Take what was read of a surface, or refuse it as ``log`` does."""

    def mark_looked(self, now: datetime) -> None:
        """Note that somebody had the bench open at ``now``."""


class ShopDoor:
    """The door of a workshop that is open."""

    def __init__(self, workshop: Workshop) -> None:
        self.workshop = workshop

    def bench_view(self, now: datetime) -> BenchView:
        """Return the shop as it stands at ``now``."""
        return bench_view(self.workshop, now)

    def changed(self) -> bool:
        """Tell whether anything was written elsewhere, or edited, since last asked."""
        return self.workshop.changed()

    def log(self, entry: Entry, now: datetime) -> object:
        """Take an entry, or refuse it."""
        from finishsched.workshop.log.log import log_entries  # noqa: PLC0415  # after the first look

        return log_entries(self.workshop, entry, now)

    def rows(
        self, pieces: Sequence[PieceView], apart: AbstractSet[str], now: datetime
    ) -> tuple[RowView, ...]:
        """Return the pieces as they are worked, in their order."""
        together = [piece for piece in pieces if piece.ref not in apart]
        alone = [_alone(piece) for piece in pieces if piece.ref in apart]
        found = [*row_views(self.workshop, together, now), *alone]
        place = {piece.ref: at for at, piece in enumerate(pieces)}

        def first_place(row: RowView) -> int:
            return min(place[one.ref] for one in row.each)

        return tuple(sorted(found, key=first_place))

    def reach(self, refs: Sequence[str], jar: str, now: datetime) -> Reach:
        """Return how far the pad and the jar go."""
        from finishsched.bench.at_hand.reach import reach_of  # noqa: PLC0415  # only for a sitting

        return reach_of(self.workshop, refs, jar, now)

    def add_air(self, air: Air, now: datetime) -> object:
        """Take a reading of the air."""
        from finishsched.workshop.air.reading_entries import add_air  # noqa: PLC0415

        return add_air(self.workshop, air, now)

    def stock(self, now: datetime) -> StockAnswer:
        """Return what stands on the shelf."""
        from finishsched.workshop.stock.shop_stock import shop_stock  # noqa: PLC0415

        return shop_stock(self.workshop, now)

    def log_stock(self, entry: Mixed, now: datetime) -> object:
        """Take an entry about stock, or refuse it."""
        from finishsched.workshop.stock.shop_stock import log_stock  # noqa: PLC0415

        return log_stock(self.workshop, entry, now)

    def log_readings(self, seen: SurfaceSeen, now: datetime) -> object:
        """Take what was read of a surface, or refuse it."""
        from finishsched.workshop.film.gauge_entries import log_film  # noqa: PLC0415

        return tuple(
            log_film(self.workshop, seen.piece, reading, now, at=seen.at, by=seen.by)
            for reading in seen.readings
        )

    def mark_looked(self, now: datetime) -> None:
        """Note that somebody had the bench open at ``now``."""
        self.workshop.mark_looked(now)


def _alone(piece: PieceView) -> RowView:
    """Return the row of a piece that stands by itself."""
    return RowView(Row((piece.ref,), piece.ref, piece.title), piece, (piece,))

"""Windows that close: the limit for the next coat, a glue's open time, a mixed batch's pot life.

They run over the room's air like every wait, and close the sooner the warmer it is.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import datetime, timedelta

from finishsched.drying.figures import Phase
from finishsched.drying.laws import Law, law_for
from finishsched.journal.shelf import Shelf
from finishsched.model.product import Mechanism, Product
from finishsched.model.schedule import Verb
from finishsched.model.shop import Air
from finishsched.model.stock import Batch
from finishsched.workshop.base.answers import PieceView, State, Window, WindowKind
from finishsched.workshop.base.spans import span, up_to_the_minute
from finishsched.workshop.standing.cure import CureRoom
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.standing.waits import Laid

POT_LIFE_C = 22.0
"""What a pot life without an air is taken to hold for (our assumption)."""
OPEN_TIME_C = 20.0
SHOWN_AFTER = timedelta(hours=1)
"""How long an open time or a pot life that is over stays in sight."""
TURN = timedelta(minutes=15)
"""To put one piece down and take up another (our assumption)."""
EMPTY_ML = 0.05


def windows(
    standings: Iterable[Standing],
    shelf: Shelf,
    room: CureRoom,
    products: Mapping[str, Product],
    now: datetime,
) -> tuple[Window, ...]:
    """Return every window that runs at ``now``, the first to close first."""
    found = [
        *(window for standing in standings for window in _of_piece(standing, room, products, now)),
        *(
            window
            for batch in shelf.batches
            if batch.left_ml >= EMPTY_ML
            and (window := _pot_life(batch, room, products.get(batch.product), now))
        ),
    ]
    return tuple(sorted(found, key=lambda window: (window.closes_at, window.name)))


def beside(views: Sequence[PieceView], running: Sequence[Window]) -> tuple[PieceView, ...]:
    """Return the views, those to be worked on warned of another's window that closes meanwhile."""
    return tuple(
        view._replace(warnings=(*view.warnings, *_crossed(view, running)))
        if view.state is State.TO_DO
        else view
        for view in views
    )


def _crossed(view: PieceView, running: Sequence[Window]) -> Iterator[str]:
    minutes = view.sheet.hands_on_min if view.sheet else 0.0
    for window in running:
        done_at = window.now + timedelta(minutes=minutes) + TURN
        if window.name != view.ref and window.now < window.closes_at <= done_at:
            yield (
                f"{window.kind.value.capitalize()} of {window.name} closes in "
                f"{span(window.left_s)}, and this takes {span(minutes * 60, up=True)}: see to that "
                "one first."
            )


def _of_piece(
    standing: Standing, room: CureRoom, products: Mapping[str, Product], now: datetime
) -> Iterator[Window]:
    laid = standing.laid or standing.before
    if laid is None:
        return
    closes_at = room.closes_at(laid)
    if closes_at is not None:
        yield Window(
            WindowKind.RECOAT,
            standing.ref,
            laid.step.title,
            laid.at,
            closes_at,
            now,
            tuple(_limit_reasons(laid)),
        )
    product = products.get(laid.step.product or "")
    if standing.laid is not None and laid.step.verb is Verb.GLUE_UP and product is not None:
        open_time = _open_time(standing.ref, laid, product, room, now)
        yield from [open_time] if open_time else []


def _limit_reasons(laid: Laid) -> Iterator[str]:
    wait = laid.step.wait
    if wait is not None and wait.next_by_s is not None:
        yield f"the schedule lets the next step come within {span(wait.next_by_s)}"
    yield "run over the room's air by the law of what dries (our reading: guides print tables)"
    yield "later than that the film is rubbed dull before the next coat (common practice)"


def _open_time(
    ref: str, laid: Laid, product: Product, room: CureRoom, now: datetime
) -> Window | None:
    if product.open_s is None:
        return None
    law = law_for(Mechanism.WATER, Phase.CLAMP, Air(OPEN_TIME_C, 50.0))
    warmth = room.tell(OPEN_TIME_C, "degC")
    reasons = (
        (
            f"{product.title}: open time {span(product.open_s)} at {warmth} "
            f"({product.sources.get('open_time', 'its document')})"
        ),
        "after it the joint is left alone, or the glue scraped off and spread anew",
    )
    return _unless_long_over(
        WindowKind.OPEN, (ref, product.title), laid.at, (law, product.open_s), room, now, reasons
    )


def _pot_life_c(product: Product) -> float:
    """Return the temperature that a product's pot life holds for, in degC."""
    return product.dries.at_c if product.dries else POT_LIFE_C


def pot_law(product: Product) -> Law:
    """Return the law by which what is mixed of a product sets in its pot."""
    return law_for(Mechanism.TWO_PART, Phase.RECOAT, Air(_pot_life_c(product), 50.0))


def _pot_life(
    batch: Batch, room: CureRoom, product: Product | None, now: datetime
) -> Window | None:
    if product is None or product.pot_life_s is None or batch.left_ml < EMPTY_ML:
        return None
    at_c = _pot_life_c(product)
    law = pot_law(product)
    reasons = (
        (
            f"{product.title}: pot life {span(product.pot_life_s)} at {room.tell(at_c, 'degC')} "
            f"({product.sources.get('pot_life', 'its document')})"
        ),
        f"it about halves for each {room.tell(10, 'K')} more (UFGS 09971); a deep pot goes sooner",
        "a pot that grows hot is set outside on bare ground: the data sheet comes first",
    )
    return _unless_long_over(
        WindowKind.POT,
        (batch.name, product.title),
        batch.mixed_at,
        (law, product.pot_life_s),
        room,
        now,
        reasons,
    )


def _unless_long_over(
    kind: WindowKind,
    named: tuple[str, str],
    opened_at: datetime,
    needs: tuple[Law, float],
    room: CureRoom,
    now: datetime,
    why: tuple[str, ...],
) -> Window | None:
    closes_at = up_to_the_minute(room.when(needs[0], opened_at, needs[1]))
    if now > closes_at + SHOWN_AFTER:
        return None
    return Window(kind, *named, opened_at, closes_at, now, why)

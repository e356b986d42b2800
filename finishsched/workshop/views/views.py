"""What is due now and next, what the bench shows, and one piece: the open shop at an instant."""

from __future__ import annotations

from datetime import datetime

from finishsched.journal.shelf import shelf
from finishsched.workshop.amounts.amounts import Amounts, amounts_of
from finishsched.workshop.base.answers import (
    AirView,
    BenchView,
    DueAnswer,
    PieceView,
    State,
    Window,
)
from finishsched.workshop.base.notice import Notice
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.standing.air_view import air_view
from finishsched.workshop.standing.cure import CureRoom
from finishsched.workshop.standing.sitting import coats_ahead
from finishsched.workshop.standing.standing import Standing, urgency, view_of
from finishsched.workshop.standing.where import cure_room, find, standings
from finishsched.workshop.standing.windows import beside, windows
from finishsched.workshop.views.notices import journal_damage, nobody_looked, notices


def bench_view(workshop: Workshop, now: datetime) -> BenchView:
    """Return everything that the bench shows, as it stands at ``now``."""
    shop, running = workshop.papers.shop, _windows(workshop, now)
    return BenchView(
        shop=shop.name,
        now=now,
        zone=workshop.zone,
        units=shop.units,
        people=shop.people,
        air=_air(workshop, now),
        pieces=_views(workshop, running, now),
        alcohol=shop.alcohol,
        tools=shop.tools,
        notices=shop_notices(workshop, now),
        windows=running,
    )


def due_answer(workshop: Workshop, now: datetime) -> DueAnswer:
    """Return what can be done now, what is next, and every running clock."""
    running = _windows(workshop, now)
    views = _views(workshop, running, now)
    return DueAnswer(
        now=now,
        zone=workshop.zone,
        at_hand=tuple(
            v
            for v in views
            if (v.state.wants_hands or v.state is State.NOT_BEGUN) and not v.waits_for
        ),
        coming=tuple(v for v in views if v.state.dries or v.waits_for),
        clocks=tuple(v for v in views if v.clock is not None),
        notices=shop_notices(workshop, now),
        windows=running,
    )


def piece_view(workshop: Workshop, name: str, now: datetime) -> PieceView:
    """Return one piece by ``job/piece``, or by its own name where only one has it.

    Raises:
        RefusedError: when there is none, or more than one.

    """
    return _view(find(workshop, name), cure_room(workshop), amounts_of(workshop, now), now)


def shop_notices(workshop: Workshop, now: datetime) -> tuple[Notice, ...]:
    """Return what somebody should know who looks at the shop, and would not see on any piece."""
    last = workshop.book().last_logged_at
    return (
        *workshop.began,
        *nobody_looked(workshop.last_look, workshop.opened_at),
        *journal_damage(workshop.lost, workshop.folder),
        *notices(last, workshop.papers.faults, standings(workshop), now, workshop.zone),
    )


def _views(workshop: Workshop, running: tuple[Window, ...], now: datetime) -> tuple[PieceView, ...]:
    room = cure_room(workshop)
    amounts = amounts_of(workshop, now)
    listed = filter(_shown, standings(workshop))
    views = (_view(standing, room, amounts, now) for standing in listed)
    return beside(sorted(views, key=urgency), running)


def _shown(standing: Standing) -> bool:
    """Tell whether a piece is listed: what was worked beside one is, until it is over."""
    over = standing.progress is not None and standing.progress.finished
    return not (standing.of and over)


def _view(standing: Standing, room: CureRoom, amounts: Amounts, now: datetime) -> PieceView:
    """Return the piece as it stands, its sheets with what their coats take."""
    view = view_of(standing, room, now)
    likely_at = view.clock.likely_at if view.clock is not None else None
    sheet, next_sheet = view.sheet, view.next_sheet
    how_much: tuple[str, ...] = ()
    if sheet is not None:
        sheet = amounts.told(sheet, [standing])
        how_much = amounts.reasons(sheet, [standing]) if view.clock is None else ()
    if next_sheet is not None:
        next_sheet = amounts.told(next_sheet, [standing], likely_at)
    return view._replace(
        sheet=sheet,
        next_sheet=next_sheet,
        how_much=how_much,
        coats_ahead=len(coats_ahead(standing)),
    )


def _air(workshop: Workshop, now: datetime) -> AirView:
    usual = workshop.papers.shop.usual_air
    return air_view(workshop.book(), cure_room(workshop).course, usual, now)


def _windows(workshop: Workshop, now: datetime) -> tuple[Window, ...]:
    products = workshop.papers.products
    shelved = shelf(workshop.book())
    return windows(standings(workshop), shelved, cure_room(workshop), products, now)

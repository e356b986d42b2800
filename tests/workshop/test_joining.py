"""What is told of a piece that was begun before: the same state as if it had been logged."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from finishsched.journal import events
from finishsched.workshop.base.entries import Entry, RefusedError, What
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.begin.joining import tell_done
from finishsched.workshop.begin.piece import draft_piece
from finishsched.workshop.begin.telling import telling_fault
from finishsched.workshop.begin.written import put
from finishsched.workshop.demo.starter import make_shop
from finishsched.workshop.film.films import film_answer
from finishsched.workshop.log.log import log_entry
from finishsched.workshop.standing.where import find
from finishsched.workshop.views.views import piece_view

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)


@pytest.fixture
def shop(tmp_path):
    """Return an open shop without a piece."""
    make_shop(tmp_path / "shop", example=False)
    with Workshop.open(tmp_path / "shop", NOW) as workshop:
        yield workshop


def begun(shop: Workshop, title: str, schedule: str) -> str:
    """Begin a piece, and return its name."""
    answers = {"title": title, "schedule": schedule, "wood": "walnut", "faces": "300 x 200 mm"}
    draft = draft_piece(shop.papers, shop.folder, answers, NOW.date())
    assert draft.written is not None, draft.faults
    put(shop.folder, draft.written, NOW)
    shop.changed()
    return draft.refs[0]


def log_up_to(shop: Workshop, ref: str, last: str) -> None:
    """Log every step in its turn, as somebody who logs each does."""
    at = NOW - timedelta(days=60)
    log_entry(shop, Entry(What.START, ref, at=at), NOW)
    while True:
        standing = find(shop, ref)
        step = standing.step
        clock = standing.progress.waiting if standing.progress else False
        at += timedelta(days=1)
        if clock:
            log_entry(shop, Entry(What.READY, ref, at=at), NOW)
            continue
        assert step is not None
        log_entry(shop, Entry(What.DONE, ref, at=at), NOW)
        if step.key == last:
            return


@pytest.mark.parametrize(
    ("said", "at"),
    [
        ("sealed yesterday", datetime(2026, 11, 24, 18, 0, tzinfo=UTC)),
        ("sanded to 220, sealed yesterday 17:30", datetime(2026, 11, 24, 17, 30, tzinfo=UTC)),
        ("sealed last night", datetime(2026, 11, 24, 20, 0, tzinfo=UTC)),
        ("sealed this morning", datetime(2026, 11, 25, 9, 0, tzinfo=UTC)),
        ("sealed 11/23", datetime(2026, 11, 23, 18, 0, tzinfo=UTC)),
        ("sealed three days ago", datetime(2026, 11, 22, 18, 0, tzinfo=UTC)),
        ("sealed on Monday", datetime(2026, 11, 23, 18, 0, tzinfo=UTC)),
    ],
)
def test_when_it_was_is_read_with_a_word_before_it_and_without(shop, said, at):
    """A maker says 'sealed yesterday': it was refused for want of a 'since'."""
    ref = begun(shop, "Lid", "padded-shellac-closed-pored")
    assert shop.papers.shop.time_zone is None
    tell_done(shop, ref, said, NOW)
    assert find(shop, ref).laid.at == at


@pytest.mark.parametrize(
    ("schedule", "telling"),
    [
        ("french-polish-with-oil", "sanded to P240"),
        ("french-polish-with-oil", "sanded, sealed"),
        ("french-polish-with-oil", "filled and levelled"),
        ("french-polish-with-oil", "filled, 3 coats of shellac since yesterday"),
        ("padded-shellac-closed-pored", "sealed since Monday, three coats since yesterday 17:00"),
        ("padded-shellac-closed-pored", "step 9"),
        ("dyed-and-varnished", "sanded, dyed"),
        ("tung-oil", "2 coats of tung oil since yesterday"),
    ],
)
def test_telling_gives_the_state_that_logging_gives(shop, schedule, telling):
    """The same step in hand, the same state, the same film; each entry says that it was told."""
    told, logged = begun(shop, "Told", schedule), begun(shop, "Logged", schedule)
    entries = tell_done(shop, told, telling, NOW)
    done = [entry.what for entry in entries if isinstance(entry.what, events.StepDone)]
    assert done
    assert all(what.told for what in done)
    log_up_to(shop, logged, done[-1].step)
    one, other = find(shop, told), find(shop, logged)
    assert (one.step and one.step.key) == (other.step and other.step.key)
    views = piece_view(shop, told, NOW), piece_view(shop, logged, NOW)
    assert views[0].steps_done == views[1].steps_done
    assert (one.progress is None) == (other.progress is None)
    films = film_answer(shop, told), film_answer(shop, logged)
    assert films[0].now == films[1].now


def test_times_that_are_said_are_kept(shop):
    """A sealing on one day and coats on another: each clock runs from what was said."""
    ref = begun(shop, "Lid", "padded-shellac-closed-pored")
    entries = tell_done(
        shop, ref, "sealed since 2026-11-20 12:00, 1 coat since yesterday 9:00", NOW
    )
    times = [entry.at for entry in entries if isinstance(entry.what, events.StepDone)]
    assert times == sorted(times)
    assert times[-1] == datetime(2026, 11, 24, 9, 0, tzinfo=shop.zone)
    assert datetime(2026, 11, 20, 12, 0, tzinfo=shop.zone) in times


@pytest.mark.parametrize(
    ("telling", "says"),
    [
        ("sealed, 3 coats of oil", "lays"), ("sealed, 3 coats of 3 lb shellac", "cut there"),
        ("sealed, 300 coats", "no coat 300"), ("waxed", "no step 'wax'"),
        ("polished until lovely", "nothing that can be told"),
        ("sealed since yesterday, 3 coats since Monday", "earlier time"),
    ],
)  # fmt: skip
def test_what_the_schedule_does_not_have_is_refused(shop, telling, says):
    """Nothing is logged, and the same words tell the form of a new piece."""
    ref = begun(shop, "Lid", "padded-shellac-closed-pored")
    with pytest.raises(RefusedError, match=says):
        tell_done(shop, ref, telling, NOW)
    assert find(shop, ref).progress is None
    answers = {"schedule": "padded-shellac-closed-pored", "done": telling}
    assert says in telling_fault(shop, answers, NOW)

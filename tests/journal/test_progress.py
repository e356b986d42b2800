"""Progress as a fold: its laws, and what each entry does."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishsched.journal.events import (
    AirRead,
    DefectSeen,
    DryNotYet,
    DryReady,
    Event,
    Noted,
    PieceStarted,
    ScheduleAdopted,
    StepDone,
    StepSkipped,
    Undone,
)
from finishsched.journal.progress import (
    EMPTY_BOOK,
    Running,
    StepStatus,
    fold,
    piece_progress,
    running,
)
from finishsched.model.shop import Air

AT = datetime(2026, 3, 1, 8, 30, tzinfo=UTC)
STARTED = PieceStarted("padded", "hash-1", "hash-p")
SAND, PAD, PAD_2, RUB = "body/sand:1.1", "body/pad:1.2", "body/pad:1.3", "body/rub out:1.4"
TO_DO, WAITING, OVER, SKIPPED = StepStatus


def story(*payloads, piece="box/lid"):
    """Return the events of ``payloads``, one an hour; event number 3 has the id 'e3'."""
    return [
        Event(seq, f"e{seq}", AT + timedelta(hours=seq), AT, piece, what)
        for seq, what in enumerate(payloads, start=1)
    ]


def progress_of(steps, *payloads):
    """Return where a piece stands after ``payloads``."""
    return piece_progress(fold(EMPTY_BOOK, story(*payloads)), "box/lid", steps)


def test_a_piece_with_no_entries_has_all_to_do(steps):
    """Nothing logged means every step is to do, and the first is in hand."""
    progress = progress_of(steps)

    assert progress.statuses == (TO_DO, TO_DO, TO_DO, TO_DO)
    assert progress.current == steps[0]
    assert not progress.waiting
    assert not progress.finished


def test_a_step_without_a_wait_is_over_when_done(steps):
    """Sanding needs no dry check: the next step is in hand at once."""
    progress = progress_of(steps, STARTED, StepDone(SAND))

    assert progress.statuses == (OVER, TO_DO, TO_DO, TO_DO)
    assert progress.current == steps[1]
    assert progress.steps_passed == 1


def test_a_coat_waits_for_its_dry_check(steps):
    """A coat stays in hand, waiting since it was laid, through every check that says not yet."""
    progress = progress_of(
        steps, STARTED, StepDone(SAND), StepDone(PAD), DryNotYet(PAD), DryNotYet(PAD)
    )

    assert progress.current == steps[1]
    assert progress.waiting
    assert progress.status_of(steps[1]) is WAITING
    assert progress.laid_at == AT + timedelta(hours=3)
    assert progress.not_yet_at == (AT + timedelta(hours=4), AT + timedelta(hours=5))


def test_ready_ends_the_wait(steps):
    """A dry check that says ready is what puts the next coat in hand."""
    progress = progress_of(steps, STARTED, StepDone(SAND), StepDone(PAD), DryReady(PAD))

    assert progress.statuses == (OVER, OVER, TO_DO, TO_DO)
    assert progress.current == steps[2]
    assert progress.laid_at is None
    assert progress.not_yet_at == ()


def test_ready_counts_only_for_a_step_that_is_done(steps):
    """A dry check of a coat that was never laid ends nothing, then or later."""
    progress = progress_of(steps, STARTED, DryReady(PAD), StepDone(SAND), StepDone(PAD))

    assert progress.status_of(steps[1]) is WAITING


def test_a_coat_laid_again_waits_anew(steps):
    """Logging a coat again starts its wait over, from the later coat."""
    progress = progress_of(
        steps, STARTED, StepDone(SAND), StepDone(PAD), DryNotYet(PAD), StepDone(PAD)
    )

    assert progress.laid_at == AT + timedelta(hours=5)
    assert progress.not_yet_at == ()


def test_a_skipped_step_is_passed(steps):
    """A skipped step is neither to do nor done."""
    progress = progress_of(steps, STARTED, StepSkipped(SAND, "came sanded"))

    assert progress.status_of(steps[0]) is SKIPPED
    assert progress.current == steps[1]
    assert progress.done == ()


def test_a_coat_that_is_laid_cannot_be_skipped(steps):
    """Skipping does not unlay a coat nor end its wait: only a dry check does that."""
    progress = progress_of(steps, STARTED, StepDone(SAND), StepDone(PAD), StepSkipped(PAD, "hurry"))

    assert progress.status_of(steps[1]) is WAITING


def test_finished_when_every_step_is_passed(steps):
    """The piece is finished when the last step is over, and knows what was done by which entry."""
    whole = (
        StepDone(SAND),
        StepDone(PAD),
        DryReady(PAD),
        StepSkipped(PAD_2, "full"),
        StepDone(RUB),
    )
    progress = progress_of(steps, STARTED, *whole)

    assert progress.finished
    assert progress.current is None
    assert [(step.key, event.id) for step, event in progress.done] == [
        (SAND, "e2"),
        (PAD, "e3"),
        (RUB, "e6"),
    ]


def test_a_schedule_without_steps_is_never_finished():
    """No steps means nothing was finished."""
    assert not progress_of((), STARTED).finished


def test_notes_and_defects_move_nothing(steps):
    """Notes and defects change no status."""
    progress = progress_of(steps, Noted("chip on arrival"), STARTED, DefectSeen("blush", PAD))

    assert progress.current == steps[0]


def test_starting_again_begins_every_step_anew(steps):
    """A piece stripped and started again has everything to do; an undo brings the work back."""
    again = (STARTED, StepDone(SAND), StepDone(PAD), STARTED)

    assert progress_of(steps, *again).statuses == (TO_DO,) * 4
    assert progress_of(steps, *again, Undone("e4")).status_of(steps[1]) is WAITING


def test_entries_about_unknown_steps_do_not_count(steps):
    """Entries about steps of an earlier schedule change nothing in this one."""
    progress = progress_of(steps, STARTED, StepDone("body/brush:1.1"), DryReady("seal/wipe:1.1"))

    assert progress.statuses == (TO_DO,) * 4
    assert progress.done == ()


def test_status_of_a_foreign_step_is_no_answer(steps):
    """Asking for a step that the piece does not have is a mistake of the caller's."""
    with pytest.raises(KeyError):
        progress_of(steps[:1]).status_of(steps[3])


def test_running_names_the_texts_in_force():
    """The start names schedule and piece; adopting changes the schedule; undo brings it back."""
    events = story(STARTED, ScheduleAdopted("padded", "hash-2"), Undone("e2"), Undone("e1"))
    books = [fold(EMPTY_BOOK, events[:count]) for count in range(5)]
    started_at = AT + timedelta(hours=1)

    assert [running(book, "box/lid") for book in books] == [
        None,
        Running("padded", "hash-1", "hash-p", started_at),
        Running("padded", "hash-2", "hash-p", started_at),
        Running("padded", "hash-1", "hash-p", started_at),
        None,
    ]


def test_adopting_without_a_start_is_nothing():
    """A schedule adopted for a piece that was never started runs nothing."""
    assert running(fold(EMPTY_BOOK, story(ScheduleAdopted("a", "b"))), "box/lid") is None


def test_air_is_in_the_order_of_reading():
    """Readings sort by when they were read, with those taken at a coat, without undone ones."""
    early, late = AT - timedelta(days=1), AT + timedelta(hours=2, minutes=30)
    events = story(
        AirRead(Air(20.0, 50.0)),
        StepDone(PAD, air=Air(21.0, 50.0)),
        AirRead(Air(19.0, 50.0, at=early)),
        AirRead(Air(22.0, 50.0, at=late)),
        AirRead(Air(99.0, 50.0)),
        Undone("e5"),
    )
    at_once = fold(EMPTY_BOOK, events).air

    assert [reading.air.temperature_c for reading in at_once] == [19.0, 20.0, 21.0, 22.0]


def test_pieces_are_named_in_the_order_of_their_first_entry():
    """Entries about the whole shop name no piece."""
    book = fold(EMPTY_BOOK, story(Noted("a"), piece="box/lid"))
    later = [Event(2, "f", AT, AT, None, Noted("b")), Event(3, "g", AT, AT, "box/case", Noted("c"))]

    assert fold(book, later).pieces == ("box/lid", "box/case")
    assert [event.id for event in fold(book, later).live(None)] == ["f"]


ids = st.integers(1, 40).map(lambda number: f"e{number}")
keys = st.sampled_from([SAND, PAD, PAD_2, RUB, "elsewhere"])
whats = st.one_of(
    st.just(STARTED),
    st.just(ScheduleAdopted("padded", "hash-2")),
    st.builds(StepDone, keys, air=st.none() | st.just(Air(20.0, 50.0))),
    st.builds(DryReady, keys),
    st.builds(DryNotYet, keys),
    st.builds(StepSkipped, keys, st.just("why")),
    st.builds(Noted, st.just("a")),
    st.builds(DefectSeen, st.just("a")),
    st.builds(Undone, ids),
    st.builds(
        AirRead,
        st.builds(Air, st.just(20.0), st.just(50.0), st.just(0.1), st.none() | st.just(AT)),
    ),
)
stories = st.lists(
    st.tuples(st.sampled_from([None, "box/lid", "box/case"]), whats), max_size=40
).map(
    lambda drawn: [
        Event(seq, f"e{seq}", AT + timedelta(minutes=(seq * 37) % 11), AT, piece, what)
        for seq, (piece, what) in enumerate(drawn, start=1)
    ]
)


@given(stories, st.data())
def test_folding_in_parts_is_folding_at_once(events, data):
    """For any story, however odd, and any cut through it, both ways give the same book."""
    cut = data.draw(st.integers(0, len(events)))
    in_parts = fold(fold(EMPTY_BOOK, events[:cut]), events[cut:])

    assert in_parts == fold(EMPTY_BOOK, events)
    assert in_parts.pieces == fold(EMPTY_BOOK, events).pieces


@given(stories)
def test_folding_one_by_one_and_again_is_folding_at_once(events):
    """One by one gives the same book too, and entries already there are passed over."""
    book = EMPTY_BOOK
    for event in events:
        book = fold(book, [event])

    assert book == fold(EMPTY_BOOK, events)
    assert fold(book, events) is book


@given(stories)
def test_a_book_never_changes(events):
    """Folding more into a book leaves that book as it was."""
    half = fold(EMPTY_BOOK, events[: len(events) // 2])
    before = (half.last_seq, dict(half.filed), half.undone, half.readings)
    fold(half, events)

    assert (half.last_seq, dict(half.filed), half.undone, half.readings) == before


@given(stories)
def test_an_undone_entry_is_as_if_never_made(steps, events):
    """Progress is that of the story without the undone entries and the undos."""
    undone = {event.what.event_id for event in events if isinstance(event.what, Undone)}
    left = [e for e in events if e.id not in undone and not isinstance(e.what, Undone)]

    assert piece_progress(fold(EMPTY_BOOK, events), "box/lid", steps) == piece_progress(
        fold(EMPTY_BOOK, left), "box/lid", steps
    )


def valid_choices(progress):
    """Return what a person could truly log at this point."""
    always = [Noted("a"), DefectSeen("b")]
    if progress.current is None:
        return always
    key = progress.current.key
    if progress.waiting:
        return [*always, DryReady(key), DryNotYet(key)]
    return [*always, StepDone(key), StepSkipped(key, "why")]


@given(st.lists(st.integers(0, 3), max_size=25))
def test_each_undo_steps_back_exactly_one_state(steps, choices):
    """After any true story, undoing entry by entry passes back through every earlier state."""
    book = fold(EMPTY_BOOK, story(STARTED))
    states = [piece_progress(book, "box/lid", steps)]
    for choice in choices:
        options = valid_choices(states[-1])
        book = _then(book, options[choice % len(options)])
        states.append(piece_progress(book, "box/lid", steps))

    for earlier in reversed(states[:-1]):
        (last,) = book.newest("box/lid", 1)
        book = _then(book, Undone(last.id))
        assert piece_progress(book, "box/lid", steps) == earlier


@given(st.lists(st.integers(0, 3), max_size=40))
def test_a_true_story_only_goes_forward(steps, choices):
    """With true entries each entry leaves as many steps passed as before, or one more."""
    book = fold(EMPTY_BOOK, story(STARTED))
    passed = 0
    for choice in choices:
        before = piece_progress(book, "box/lid", steps)
        options = valid_choices(before)
        book = _then(book, options[choice % len(options)])
        now_passed = piece_progress(book, "box/lid", steps).steps_passed
        assert now_passed - passed in (0, 1)
        passed = now_passed


def _then(book, what):
    seq = book.last_seq + 1
    return fold(book, [Event(seq, f"e{seq}", AT + timedelta(hours=seq), AT, "box/lid", what)])


def test_folding_grows_with_the_entries_and_one_more_costs_the_same_in_any_book(calls_of):
    """Ten times the entries are ten times the calls, and one more is as many after 100 as 10,000.

    Counted in calls, so that a busy machine changes nothing.
    """
    events = story(*(StepDone(PAD, air=Air(20.0, 50.0)) for _ in range(10_001)))
    short, long = fold(EMPTY_BOOK, events[:100]), fold(EMPTY_BOOK, events[:10_000])
    assert long.last_seq == 10_000
    of_1000, of_10_000 = (
        calls_of(lambda n=n: fold(EMPTY_BOOK, events[:n])) for n in (1000, 10_000)
    )
    assert of_10_000 <= 10.5 * of_1000
    more, after = events[100:101], events[10_000:]
    assert calls_of(lambda: fold(long, after)) <= calls_of(lambda: fold(short, more)) + 5

"""Rests begin by themselves: after a coat at that coat, after anything else when it is over."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from finishsched.journal.events import DryReady, PieceStarted, ReworkTaken, StepDone, StepSkipped
from finishsched.journal.progress import EMPTY_BOOK, StepStatus, fold, piece_progress
from finishsched.model.schedule import Verb
from tests.journal.conftest import OVERNIGHT, make_step
from tests.journal.test_progress import AT, STARTED, story

TO_DO, WAITING, OVER, SKIPPED = StepStatus
PAD, REST, LEVEL = "body/pad:1.1", "body/rest:1.2", "body/level:1.3"


def progress_of(steps, *payloads):
    """Return where a piece stands after ``payloads``, one an hour."""
    return piece_progress(fold(EMPTY_BOOK, story(*payloads)), "box/lid", steps)


def hour(number: int):
    """Return when entry ``number`` happened."""
    return AT + timedelta(hours=number)


@pytest.fixture(scope="module")
def coat():
    """Return a coat that dries, a rest and a levelling."""
    return (
        make_step(1, Verb.PAD, OVERNIGHT),
        make_step(2, Verb.REST, OVERNIGHT),
        make_step(3, Verb.LEVEL, None),
    )


def test_a_rest_after_a_coat_runs_from_the_coat_and_has_the_only_dry_check(coat):
    """One entry lays the coat and begins the rest; one more ends both."""
    progress = progress_of(coat, STARTED, StepDone(PAD))
    assert progress.current == coat[1]
    assert progress.laid_at == hour(2)
    assert progress.statuses == (OVER, WAITING, TO_DO)

    progress = progress_of(coat, STARTED, StepDone(PAD), DryReady(REST))
    assert progress.current == coat[2]


def test_a_rest_after_other_work_runs_from_when_that_was_over():
    """A clamp comes off before the rest begins; a levelling without a wait begins it at once."""
    glued = (make_step(1, Verb.GLUE_UP, OVERNIGHT), make_step(2, Verb.REST, OVERNIGHT))
    glue, rest = (step.key for step in glued)
    assert progress_of(glued, STARTED, StepDone(glue)).current == glued[0]
    progress = progress_of(glued, STARTED, StepDone(glue), DryReady(glue))
    assert (progress.current, progress.laid_at) == (glued[1], hour(3))
    assert progress_of(glued, STARTED, StepDone(glue), DryReady(glue), DryReady(rest)).finished

    levelled = (make_step(1, Verb.LEVEL, None), make_step(2, Verb.REST, OVERNIGHT))
    assert progress_of(levelled, STARTED, StepDone(levelled[0].key)).laid_at == hour(2)


def test_a_rest_that_comes_first_begins_with_the_piece():
    """Veneer that has to settle does so from the start."""
    steps = (make_step(1, Verb.REST, OVERNIGHT), make_step(2, Verb.SAND, None))
    assert progress_of(steps, STARTED).laid_at == hour(1)


def test_what_was_said_of_a_rest_goes_before_what_follows_by_itself(coat):
    """A journal in which rests were begun by hand, or checked the old way, reads as it did."""
    old = (STARTED, StepDone(PAD), DryReady(PAD), StepDone(REST))
    assert progress_of(coat, *old).laid_at == hour(4)
    assert progress_of(coat, *old, DryReady(REST)).current == coat[2]


def test_a_rest_left_out_gives_the_coat_its_own_dry_check_back(coat):
    """Nothing proceeds by time alone: without the rest, the coat's check is due."""
    progress = progress_of(coat, STARTED, StepDone(PAD), StepSkipped(REST, "no time"))
    assert progress.statuses == (WAITING, SKIPPED, TO_DO)


def test_a_coat_left_out_passes_the_rest_on_to_the_one_before():
    """The rest runs from the last coat that was laid."""
    steps = (
        make_step(1, Verb.PAD, OVERNIGHT),
        make_step(2, Verb.PAD, OVERNIGHT),
        make_step(3, Verb.REST, OVERNIGHT),
    )
    first, second = steps[0].key, steps[1].key
    progress = progress_of(steps, STARTED, StepDone(first), StepSkipped(second, "film is full"))
    assert (progress.current, progress.laid_at) == (steps[2], hour(2))


def test_the_rest_of_a_rework_begins_when_it_is_taken():
    """What needs more time needs it from now on, not from a coat of last week."""
    pad, mend = make_step(1, Verb.PAD, OVERNIGHT), make_step(2, Verb.REST, OVERNIGHT)
    steps = (pad, replace(mend, key="rework-1/rest:1.1"), make_step(3, Verb.LEVEL, None))
    taken = ReworkTaken("0" * 64, 1, "more-time", "more time")
    assert progress_of(steps, STARTED, StepDone(PAD)).current == pad
    progress = progress_of(steps, STARTED, StepDone(PAD), taken)
    assert (progress.current, progress.laid_at) == (steps[1], hour(3))


def test_begun_anew_forgets_the_rest(coat):
    """A stripped piece has its coat to lay again."""
    anew = PieceStarted("padded", "h", "p", anew=True)
    assert progress_of(coat, STARTED, StepDone(PAD), anew).statuses == (TO_DO, TO_DO, TO_DO)

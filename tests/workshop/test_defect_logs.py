"""Made-up logs, each with the cause that a practitioner would name first (common practice)."""

import pytest
from defect_logs import tell
from logs_eighteenth import EIGHTEENTH
from logs_eighth import EIGHTH, VAGUE
from logs_eleventh import ELEVENTH
from logs_fifteenth import FIFTEENTH
from logs_fifth import FIFTH
from logs_first import FIRST
from logs_fourteenth import FOURTEENTH
from logs_fourth import FOURTH
from logs_in_new_words import NEW_WORDS
from logs_in_newer_words import NEWER_WORDS
from logs_named import NAMED
from logs_nineteenth import NINETEENTH
from logs_ninth import NINTH
from logs_of_materials import OF_MATERIALS
from logs_of_other_hands import OTHER_HANDS
from logs_same_words import SAME_WORDS
from logs_second import SECOND
from logs_seventeenth import SEVENTEENTH
from logs_seventh import SEVENTH
from logs_sixteenth import SIXTEENTH
from logs_sixth import SIXTH
from logs_tenth import TENTH
from logs_third import THIRD
from logs_thirteenth import THIRTEENTH
from logs_twelfth import TWELFTH
from logs_twentieth import TWENTIETH
from logs_twenty_first import TWENTY_FIRST
from logs_twenty_first_more import MORE

from finishsched.checking.defects.ranking import diagnose
from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.defects.looking import look, seen_of

SETS = {
    "named": NAMED,
    "first": FIRST,
    "second": SECOND,
    "third": THIRD,
    "fourth": FOURTH,
    "fifth": FIFTH,
    "sixth": SIXTH,
    "seventh": SEVENTH,
    "eighth": EIGHTH,
    "ninth": NINTH,
    "tenth": TENTH,
    "eleventh": ELEVENTH,
    "twelfth": TWELFTH,
    "thirteenth": THIRTEENTH,
    "fourteenth": FOURTEENTH,
    "fifteenth": FIFTEENTH,
    "sixteenth": SIXTEENTH,
    "seventeenth": SEVENTEENTH,
    "eighteenth": [*EIGHTEENTH, *NINETEENTH],
    "twentieth": TWENTIETH,
    "twenty-first": [*TWENTY_FIRST, *MORE],
    "in new words": NEW_WORDS,
    "in newer words": NEWER_WORDS,
    "other hands": OTHER_HANDS,
    "same words": SAME_WORDS,
    "of materials": OF_MATERIALS,
}
RIGHT_SHARE = 0.95
"""Of each set: 90 in 100 is the aim, and all of them are better than that."""
ASKED_BACK = "which defect is meant is asked back"


def _named(told, folder):
    """Return what it is called and the causes that are named, likeliest first, as a person is told.

    What is asked back has no cause, so it is never right.
    """
    workshop, seen_at = tell(told, folder)
    with workshop:
        looked = look(workshop, "p", told.seen, seen_at, None, "", None)
        try:
            seen = seen_of(looked.standing, told.seen, looked.event, looked.known)
        except RefusedError:
            return ASKED_BACK, [ASKED_BACK]
    return seen.value, [one.cause.id for one in diagnose(seen, looked.evidence).causes]


@pytest.mark.parametrize("name", SETS)
def test_nearly_all_logs_rank_first_what_a_practitioner_names(name, tmp_path):
    """Told through the journal, of each set's logs 95 in 100 put a cause that is meant first.

    Nearly all others have it within the first three; what it is called is right for 95 in 100.
    """
    told = {one.name: one for one in SETS[name]}
    named = {key: _named(one, tmp_path / str(n)) for n, (key, one) in enumerate(told.items())}
    meant = {key: set(one.cause.split("|")) for key, one in told.items()}
    missed = {k: (meant[k], v) for k, v in named.items() if v[1][0] not in meant[k]}
    far_off = {key for key in missed if not meant[key] & set(named[key][1][:3])}
    miscalled = {k: named[k] for k, one in told.items() if not _is_called(one, named[k][0])}
    assert len(told) == len(SETS[name])
    assert len(missed) <= (1 - RIGHT_SHARE) * len(told), missed
    assert len(far_off) <= 1, far_off
    assert len(miscalled) <= (1 - RIGHT_SHARE) * len(told), miscalled


def _is_called(told, seen):
    return not told.called or seen in told.called.split("|")


@pytest.mark.parametrize("told", VAGUE, ids=lambda told: told.name)
def test_what_says_too_little_is_asked_back(told, tmp_path):
    """Somebody who says only that a thing is wrong is asked which defect is meant."""
    assert _named(told, tmp_path) == (ASKED_BACK, [ASKED_BACK])


def test_three_hundred_logs_stand_behind_the_figures():
    """Of all sets, no log is told twice in the same words, schedule and air."""
    logs = [one for each in SETS.values() for one in each]
    assert len({repr(one) for one in logs}) == len(logs) >= 300

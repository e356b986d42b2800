"""Classic mistakes are told of, and sound schedules are left alone.

Both sets are written by hand in ``classics.py``; the score is counted, not each case, so that a
case may fail as long as 95 in a hundred are caught.
"""

from __future__ import annotations

import functools

from classics import MADE_UP, mistakes, piece, schedule, sound

from finishsched.checking.cases import PieceCase, ScheduleCase
from finishsched.checking.findings import piece_findings, schedule_findings
from finishsched.checking.rule import Severity
from finishsched.documents.library import shipped_products

UNSTATED = {"no-amount", "solids-not-said", "one-face", "relief-left"}
"""What a shorthand leaves out, and what only a sheen asks for."""


@functools.cache
def products():
    """Return the shipped products and those made up for the cases."""
    return {**shipped_products(), **MADE_UP}


def findings(species, text, look=""):
    """Return what the rules find in a shorthand on a wood."""
    made = schedule(text, look, tuple(shipped_products()))
    case = ScheduleCase(made, products())
    of_piece = piece_findings(PieceCase(piece(species, look), case))
    return (*schedule_findings(case), *of_piece)


def test_ninety_five_in_a_hundred_classic_mistakes_are_caught():
    """Each mistake is told under one of the codes that mean it."""
    missed = []
    for what, species, text, codes in mistakes():
        look = "gloss" if "gloss" in what else ""
        told = {one.code for one in findings(species, text, look)}
        if not told & codes:
            missed.append((what, sorted(told)))
    assert len(mistakes()) >= 100
    assert len(missed) <= 0.05 * len(mistakes()), missed


def test_no_false_alarm_on_forty_sound_schedules():
    """No error is told of what a handbook would pass."""
    alarms = [
        (species, text[len("sand P120") :], one.code, one.message)
        for species, text in sound()
        for one in findings(species, text)
        if one.severity is Severity.ERROR and one.code not in UNSTATED
    ]
    assert len(sound()) >= 40
    assert alarms == []

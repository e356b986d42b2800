"""What is noted of one coat is no evidence of another (common practice, no source)."""

import pytest
from defect_logs import BARE, DAY, PAD, said, seal, tell, wax

from finishsched.checking.defects.lexicon import meanings
from finishsched.checking.defects.notes import of_any_coat
from finishsched.checking.defects.ranking import diagnose
from finishsched.checking.defects.seen import Seen
from finishsched.workshop.base.entries import Entry, What
from finishsched.workshop.defects.looking import look
from finishsched.workshop.log.log import log_entry

NOTE = "thick as butter"
WAX, SHELLAC = 7, 6


def _chances(notes, seen, folder, after=""):
    told = said("white patches", "blush", "damp-air", [*BARE, seal(), PAD, PAD, wax()],
                later=2 * DAY, notes=notes)  # fmt: skip
    workshop, at = tell(told, folder)
    with workshop:
        if after:
            log_entry(workshop, Entry(What.NOTE, "p", text=after), at)
        looked = look(workshop, "p", told.seen, at, None, "", None)
    return {one.cause.id: one.chance for one in diagnose(seen, looked.evidence).causes}


def test_wax_laid_thick_makes_no_coat_of_shellac_thick(tmp_path):
    """Noted of the wax it moves nothing that befalls the shellac; noted of the shellac it does."""
    none = _chances({}, Seen.BLUSH, tmp_path / "none")
    of_wax = _chances({WAX: NOTE}, Seen.BLUSH, tmp_path / "wax")
    of_shellac = _chances({SHELLAC: NOTE}, Seen.BLUSH, tmp_path / "shellac")
    ratio = of_wax["trapped"] / of_wax["damp-air"]
    assert ratio == pytest.approx(none["trapped"] / none["damp-air"])
    assert of_shellac["trapped"] / of_shellac["damp-air"] > 2 * ratio


def test_a_note_that_names_no_step_is_of_the_coat_done_last(tmp_path):
    """Noted by itself after the wax, it moves nothing that befalls the shellac below."""
    none = _chances({}, Seen.BLUSH, tmp_path / "none")
    after = _chances({}, Seen.BLUSH, tmp_path / "after", after=NOTE)
    ratio = none["trapped"] / none["damp-air"]
    assert after["trapped"] / after["damp-air"] == pytest.approx(ratio)


def test_it_still_counts_for_the_wax(tmp_path):
    """Where wax itself is the cause, what was noted of it speaks for it."""
    none = _chances({}, Seen.STICKY, tmp_path / "none")
    of_wax = _chances({WAX: NOTE}, Seen.STICKY, tmp_path / "wax")
    assert of_wax["wax-on-top"] > none["wax-on-top"]


@pytest.mark.parametrize(
    ("note", "left"),
    [
        ("the tin was not stirred, the back is bare", "the back is bare"),
        ("never rinsed", "never rinsed"),
        ("poured it on", ""),
    ],
)
def test_what_is_of_the_wood_is_kept(note, left):
    """Of a note at another coat only what it tells of that coat goes."""
    assert of_any_coat(note) == left


def test_bleached_elsewhere_is_bleached():
    """Where it was not bleached it is sound: that denies no bleach."""
    assert not meanings("it is clear where it was not bleached")["bleached"].denied
    assert meanings("it was not bleached")["bleached"].denied

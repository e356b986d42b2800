"""What due tells of coats is what the need of their job counts: one pad, one mix for what keeps."""

import pytest
from conftest import NOW
from need_cases import PRODUCTS, a_pad, a_piece

from finishsched.model.schedule import Wait, Waits
from finishsched.workshop.amounts.coats import NO_HABIT, Work, coats_of_the_jar
from finishsched.workshop.base.entries import Entry, What
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.log.log import log_entries
from finishsched.workshop.stock.needs import job_need
from finishsched.workshop.views.row_views import row_views
from finishsched.workshop.views.views import due_answer


@pytest.fixture
def at_the_coat(folder):
    """Return the shop with both pieces of the box, which are not alike, at their first coat."""
    with Workshop.open(folder, NOW) as workshop:
        for what in (What.START, What.DONE):
            log_entries(workshop, Entry(what, "all"), NOW)
        yield workshop


def _add_tray(folder):
    """Write a second job of the same pieces."""
    box = (folder / "jobs/box.yaml").read_text()
    (folder / "jobs/tray.yaml").write_text(box.replace("job: box", "job: tray"))


def _sheets(workshop):
    return [row.view.sheet for row in row_views(workshop, due_answer(workshop, NOW).at_hand, NOW)]


def test_a_dry_pad_is_charged_once_for_all_pieces(at_the_coat):
    """The coats at hand take together what need counts for them, one charge among them."""
    sheets = _sheets(at_the_coat)
    need = job_need(at_the_coat, "box", NOW)
    keys = {sheet.step.key for sheet in sheets}
    wanted = sum(coat.amount.likely for coat in need.coats if coat.step.key in keys)
    assert len(sheets) == 2
    assert sum(sheet.takes.amount.likely for sheet in sheets) == pytest.approx(wanted)
    assert sorted(sheet.takes.pad_ml for sheet in sheets) == [0.0, 10.0]
    (told,) = (
        text
        for view in due_answer(at_the_coat, NOW).at_hand
        for text in view.how_much
        if text.startswith("pad: dry; the 10 ml that go into it are counted once")
    )
    assert told.endswith("box/lid")


def test_the_mix_of_each_piece_is_the_one_that_need_has(at_the_coat):
    """Both pieces are told the same one jar, for all coats that it keeps for; need mixes that."""
    (jar,) = job_need(at_the_coat, "box", NOW).supply.batches
    assert {sheet.makes_ml for sheet in _sheets(at_the_coat)} == {jar.makes_ml}
    assert all("4 coats on 2 pieces, 0.3 m2" in sheet.mix_makes for sheet in _sheets(at_the_coat))


@pytest.fixture
def two_jobs(folder):
    """Return the shop with two jobs of one product begun, every piece at its first coat."""
    _add_tray(folder)
    with Workshop.open(folder, NOW) as workshop:
        for what in (What.START, What.DONE):
            log_entries(workshop, Entry(what, "all"), NOW)
        yield workshop


def test_two_jobs_take_from_one_jar_and_one_pad(two_jobs):
    """All pieces under way are told one jar and one charge, whichever job: as need all has it."""
    sheets = _sheets(two_jobs)
    (jar,) = job_need(two_jobs, "all", NOW).supply.batches
    assert len(sheets) == 4
    assert {sheet.makes_ml for sheet in sheets} == {jar.makes_ml}
    assert all("8 coats on 4 pieces, 0.6 m2" in sheet.mix_makes for sheet in sheets)
    assert sorted(sheet.takes.pad_ml for sheet in sheets) == [0.0, 0.0, 0.0, 10.0]


def test_whoever_goes_first_with_a_dry_pad_is_told_what_goes_into_it(two_jobs):
    """A coat that the charge is not counted with says what it takes besides where it is first."""
    others = [sheet for sheet in _sheets(two_jobs) if not sheet.takes.pad_ml]
    assert len(others) == 3
    for sheet in others:
        assert sheet.takes.pad_first_ml == 10
        assert "10 ml more where it goes first, into the dry pad" in sheet.mix_makes
    log_entries(two_jobs, Entry(What.DONE, "tray/body"), NOW)
    assert all(sheet.takes.pad_first_ml == 0 == sheet.takes.pad_ml for sheet in _sheets(two_jobs))


def test_a_need_of_one_job_says_that_another_takes_from_the_same_jar(two_jobs):
    """Who asks for one job alone is told that due has one jar for both, and where to read it."""
    (first, *_) = job_need(two_jobs, "box", NOW).assumptions
    assert "one jar mixed and one pad charged for box, tray together" in first
    assert not any("charged for" in told for told in job_need(two_jobs, "all", NOW).assumptions)


def test_a_job_not_begun_takes_nothing_of_the_jar(at_the_coat, folder):
    """What is mixed is for what is under way: a job for next month changes no amount."""
    before = [sheet.mix_makes for sheet in _sheets(at_the_coat)]
    _add_tray(folder)
    with Workshop.open(folder, NOW) as workshop:
        assert [sheet.mix_makes for sheet in _sheets(workshop) if sheet.mix] == before


@pytest.mark.parametrize(("months", "coats"), [(1, 2), (4, 1)])
def test_a_jar_is_for_the_coats_that_are_laid_while_it_is_surely_good(months, coats):
    """Shellac that keeps six months is surely good for three: a coat after four has its own."""
    waits = Waits(after=Wait(3600.0, months * 30 * 86400.0))
    piece = a_piece(a_pad(coats=1, waits=waits), a_pad("later", coats=1))
    work = Work(piece.steps, piece.steps[0], piece.area_m2, piece.species)
    assert len(coats_of_the_jar(work, PRODUCTS, NO_HABIT)) == coats

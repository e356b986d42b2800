"""A piece's film as the journal has it: amounts, batches, weighings, gauges, what they teach."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from finishsched.film.face import Loss
from finishsched.film.materials import FILM
from finishsched.film.odds import Stake
from finishsched.film.strokes import depth_um
from finishsched.mixing.cut import mix_for_volume
from finishsched.model.film import FilmRules, Reach
from finishsched.model.grades import grade_of
from finishsched.workshop.base.entries import Entry, RefusedError, What
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.film.before import before_levelling, risk_words
from finishsched.workshop.film.films import before_step_in_hand, film_answer, film_now
from finishsched.workshop.film.gauge_entries import Read, Weighed, left_of, log_film
from finishsched.workshop.film.hand import HandTest, log_hand_test
from finishsched.workshop.film.sentences import answer_sentences
from finishsched.workshop.film.shown import LevelQuestion, RowKind
from finishsched.workshop.log.log import log_entry
from finishsched.workshop.standing.where import find
from finishsched.workshop.stock.shelf_entries import Mixed
from finishsched.workshop.stock.shop_stock import log_stock

LB = 453.59237 / 3.785411784
SCHEDULE = """\
schedule: two-coats
title: Two rounds
source: common practice
stages:
  - stage: prepare
    steps:
      - sand: with the grain
        grade: P180
  - stage: body
    steps:
      - rounds: 2
        steps:
          - brush: flow on
            product: shellac-dewaxed-blonde
            cut: 2 lb
            coats: 4
            amount: 60 ml/m2
          - level: block
            grade: P400
            lubricant: water
"""


@pytest.fixture
def workshop(folder, at):
    """Return the shop with a schedule of two levelled rounds, on veneered cherry."""
    (folder / "schedules/two-coats.yaml").write_text(SCHEDULE)
    job = (folder / "jobs/box.yaml").read_text()
    job = job.replace("    species: cherry\n", "    species: cherry\n    veneer: 0.6 mm\n")
    (folder / "jobs/box.yaml").write_text(job)
    with Workshop.open(folder, at(0)) as opened:
        yield opened


def _done(workshop, at, count, piece="lid", **more):
    """Log so many steps done, the first of them after a start."""
    if find(workshop, piece).progress is None:
        log_entry(workshop, Entry(What.START, piece), at(0))
    for _ in range(count):
        log_entry(workshop, Entry(What.DONE, piece, **more), at(1))


def _film(workshop, at, piece="lid"):
    return film_answer(workshop, piece, at(2)).film_um


def test_a_schedule_ahead_is_reckoned_by_its_amounts(workshop, at):
    """60 ml/m2 of a 2-lb cut, 16.7 % of it film, four times less what cherry drinks: 36.7 um."""
    answer = film_answer(workshop, "lid", at(0))
    assert answer.film_um.high == 0
    last = next(row for row in answer.rows if row.title == "brush coat 4 of 4")
    assert last.kind is RowKind.AHEAD
    assert last.film_um.likely == pytest.approx((4 * 60 - 20) * 0.16641, abs=0.05)
    assert answer.veneer_um.likely == 600


def test_real_amounts_go_before_the_schedule(workshop, at):
    """6 ml on 0.1 m2 less 15 % loss and 20 ml/m2 drunk is 31 um wet, 5.2 um of a 2-lb cut."""
    _done(workshop, at, 1)
    _done(workshop, at, 1, amount_ml=6.0)
    assert _film(workshop, at).likely == pytest.approx((60 * 0.85 - 20) * 0.16641, abs=0.02)


def test_the_cut_of_the_batch_goes_before_the_schedule_s(workshop, at):
    """The same coat out of a 1-lb jar leaves 9.1 % of it."""
    log_stock(workshop, Mixed("jar", 500.0, LB, product="shellac-dewaxed-blonde"), at(0))
    _done(workshop, at, 1)
    _done(workshop, at, 1, amount_ml=6.0, batch="jar")
    assert _film(workshop, at).likely == pytest.approx((60 * 0.85 - 20) * 0.0908, abs=0.02)


def test_a_weighed_bottle_goes_before_what_was_logged(workshop, at):
    """The weight by the density of the cut, spread over its coats, takes the amounts' place."""
    _done(workshop, at, 1)
    _done(workshop, at, 4, amount_ml=3.0)
    log_film(workshop, "lid", Weighed(512.0, 486.0, coats=4), at(2))
    density = mix_for_volume(2 * LB, 100.0, workshop.papers.shop.alcohol).density_g_per_ml
    wet = 26.0 / density / 0.1 * 0.85 - 20
    assert _film(workshop, at).likely == pytest.approx(wet * 0.16641, rel=1e-3)
    log_entry(workshop, Entry(What.UNDO, "lid"), at(3))
    assert _film(workshop, at).likely == pytest.approx((4 * 30 * 0.85 - 20) * 0.16641, rel=1e-3)


def test_a_weighing_teaches_the_shop_for_other_pieces(workshop, at):
    """What one piece took changes what the other's coats ahead are reckoned to take."""
    before = film_answer(workshop, "body", at(0)).end.film_um
    _done(workshop, at, 1)
    _done(workshop, at, 4)
    log_film(workshop, "lid", Weighed(512.0, 460.0, coats=4), at(2))
    after = film_answer(workshop, "body", at(2)).end.film_um
    assert after.likely > before.likely * 1.05
    assert after.high / after.likely < before.high / before.likely


def test_the_first_coat_into_wood_teaches_nothing(workshop, at):
    """What bare wood drank says nothing of how much a coat takes: other pieces are as before."""
    before = film_answer(workshop, "body", at(0)).end.film_um
    _done(workshop, at, 1)
    _done(workshop, at, 1, amount_ml=20.0)
    assert film_answer(workshop, "body", at(2)).end.film_um == before
    _done(workshop, at, 1, amount_ml=20.0)
    assert film_answer(workshop, "body", at(2)).end.film_um.likely > before.likely


@pytest.mark.usefixtures("workshop")
def test_why_tells_of_no_way_of_laying_that_the_piece_has_not(folder, at):
    """What another product's weighings taught is no reason for this piece's film."""
    (folder / "schedules/wiped.yaml").write_text(
        "schedule: wiped\ntitle: Wiped\nsource: common practice\nstages:\n  - stage: body\n"
        "    steps: [{wipe: thin, product: wiping-varnish, amount: 20 ml/m2}]\n"
    )
    job = (folder / "jobs/box.yaml").read_text()
    begin, end = job.rsplit("schedule: two-coats", 1)
    (folder / "jobs/box.yaml").write_text(f"{begin}schedule: wiped{end}")
    with Workshop.open(folder, at(0)) as again:
        _done(again, at, 1)
        _done(again, at, 3, amount_ml=9.0)
        rules = {
            piece: [reason.rule for reason in film_answer(again, piece, at(2)).reasons]
            for piece in ("lid", "body")
        }
    own = "this shop's own figures for brush shellac-dewaxed-blonde"
    assert own in rules["lid"]
    assert own not in rules["body"]


def test_a_gauge_is_the_film_and_teaches_what_stays(workshop, at):
    """A reading replaces the reckoned film, with the gauge's error, and moves other pieces'."""
    before = film_answer(workshop, "body", at(0)).end.film_um
    _done(workshop, at, 5)
    log_film(workshop, "lid", Read(20.0), at(2))
    film = _film(workshop, at)
    assert film.likely == 20.0
    assert (film.low, film.high) == (pytest.approx(15.0, abs=0.3), pytest.approx(25.0, abs=0.3))
    rows = film_answer(workshop, "lid", at(2)).rows
    assert [row.kind for row in rows].index(RowKind.GAUGED) == 5
    assert film_answer(workshop, "body", at(2)).end.film_um.likely < before.likely


def test_before_a_levelling_the_odds_are_confirmed(workshop, at):
    """Clear film that coats follow is no loss; the last levelling asks, unless gauged thick."""
    _done(workshop, at, 1)
    assert not before_levelling(film_answer(workshop, "lid", at(1))).needs_confirmation
    _done(workshop, at, 4, amount_ml=2.5)
    calm = before_levelling(film_answer(workshop, "lid", at(1)))
    assert not calm.needs_confirmation
    assert "the coats that follow fill it" in " ".join(calm.words)
    _done(workshop, at, 5, amount_ml=2.5)
    asks = before_levelling(film_answer(workshop, "lid", at(1)))
    assert asks.needs_confirmation
    assert asks.odds_percent > 5
    assert "goes through the film" in " ".join(asks.words)
    log_film(workshop, "lid", Read(150.0), at(2))
    calm = before_levelling(film_answer(workshop, "lid", at(2)))
    assert not calm.needs_confirmation
    assert calm.odds_percent < 5


def test_a_paper_that_shows_clear_wood_is_told_as_no_loss_and_not_as_unlikely(folder, at):
    """On solid wood the odds of showing it are told beside why they do not count."""
    (folder / "schedules/two-coats.yaml").write_text(SCHEDULE)
    with Workshop.open(folder, at(0)) as solid:
        _done(solid, at, 5, amount_ml=2.5)
        answer = film_answer(solid, "lid", at(1))
        said = " ".join(answer_sentences(answer))
    assert answer.level_now.worst is None
    assert answer.level_now.odds > 0.05
    assert "it shows the wood in places" in said
    assert "nothing is lost for good by it, which is within the 5 %" in said
    assert "that is within" not in said


def test_a_key_hears_the_same_as_whoever_reads_the_whole_answer(workshop, at):
    """What is said before a step is the same, asked by itself or with all that film tells."""
    said = []
    for count in range(11):
        whole = before_levelling(film_answer(workshop, "lid", at(2)))
        assert before_step_in_hand(workshop, "lid") == whole
        said.append(whole.words)
        if count == 6:
            log_film(workshop, "lid", Read(150.0), at(2))
        _done(workshop, at, 1, amount_ml=2.5)
    assert any(said)
    assert not all(said)


def test_the_face_as_it_is_now_is_that_of_the_whole_answer(workshop, at):
    """Before any work, at every step of it and after a gauge was read: the same, world by world."""
    for count in range(7):
        whole = film_answer(workshop, "lid", at(2))
        assert film_now(workshop, "lid") == whole.now
        assert whole.now != whole.end
        if count == 4:
            log_film(workshop, "lid", Read(150.0), at(2))
            assert film_now(workshop, "lid").film_um.likely == 150.0
        _done(workshop, at, 1, amount_ml=2.5)


def test_half_a_veneer_is_confirmed(workshop, folder, at):
    """A face of 0.05 mm under P180, which takes 0.041 mm, is confirmed; one of 0.6 mm is not."""
    assert not before_levelling(film_answer(workshop, "lid", at(0))).needs_confirmation
    job = (folder / "jobs/box.yaml").read_text().replace("0.6 mm", "0.05 mm")
    (folder / "jobs/box.yaml").write_text(job)
    with Workshop.open(folder, at(0)) as again:
        asks = before_levelling(film_answer(again, "lid", at(0)))
        assert asks.needs_confirmation
        assert "82 % of the veneer" in " ".join(asks.words)


def test_a_grade_asked_about_is_judged_on_the_film_as_it_is(workshop, at):
    """P2000 may scuff 37 um; P80 may not level it, and is told how many coats it would take."""
    _done(workshop, at, 5)
    fine = film_answer(workshop, "lid", at(2), LevelQuestion(grade_of("P2000"), Reach.SCUFF))
    assert fine.level_now.losses[0].odds < 0.001
    assert fine.level_now.worst is None
    coarse = film_answer(workshop, "lid", at(2), LevelQuestion(grade_of("P80"), Reach.LEVEL))
    assert coarse.level_now.odds > 0.5
    assert coarse.level_now.more_coats > 1


def test_a_skipped_coat_lays_nothing(workshop, at):
    """A step left out leaves the ledger as it was."""
    _done(workshop, at, 2)
    before = _film(workshop, at)
    log_entry(workshop, Entry(What.SKIPPED, "lid", text="enough"), at(2))
    assert _film(workshop, at) == before


@pytest.mark.parametrize(
    ("entry", "says"),
    [
        (Read(0.0), "a film of 0 um"),
        (Read(5000.0), "a film of 5000 um"),
        (Weighed(100.0, 100.0), "laid nothing"),
        (Weighed(100.0, 90.0, coats=3), "up to 2 coats"),
        (Weighed(100.0, 90.0, step="1"), "no coat that was laid"),
    ],
)
def test_what_cannot_be_true_is_refused(workshop, at, entry, says):
    """A refused entry leaves the journal as it was."""
    _done(workshop, at, 3)
    seq = workshop.book().last_seq
    with pytest.raises(RefusedError, match=says):
        log_film(workshop, "lid", entry, at(2))
    assert workshop.book().last_seq == seq


def test_nothing_is_measured_on_a_piece_not_begun(workshop, at):
    """A gauge needs a film, and a film a beginning; so does a bottle, and a coat."""
    with pytest.raises(RefusedError, match="not begun"):
        log_film(workshop, "lid", Read(20.0), at(0))
    log_entry(workshop, Entry(What.START, "lid"), at(0))
    with pytest.raises(RefusedError, match="no coat yet"):
        log_film(workshop, "lid", Weighed(100.0, 90.0), at(0))
    with pytest.raises(RefusedError, match="time to come"):
        log_film(workshop, "lid", Read(20.0), at(0), at=at(60))


def test_a_measured_step_is_how_an_inlay_stands(folder, at):
    """Proud or low, in any unit, by any word of its name; what is not there is refused."""
    job = folder / "jobs/box.yaml"
    inlay = "{material: holly stringing, thickness: 0.9 mm, in: 0.6 mm veneer}"
    told = f"species: cherry\n    veneer: 0.6 mm\n    inlay: {inlay}"
    job.write_text(job.read_text().replace("species: cherry", told))
    with Workshop.open(folder, at(0)) as workshop:
        log_entry(workshop, Entry(What.START, "lid", at=at(0)), at(0))
        log_film(workshop, "lid", left_of("the holly 8 thou proud"), at(1))
        steps = film_answer(workshop, "lid").now.steps_um()
        assert steps["holly stringing inlay"].likely == pytest.approx(203.2)
        log_film(workshop, "lid", left_of("stringing 50 um low"), at(2))
        steps = film_answer(workshop, "lid").now.steps_um()
        assert steps["holly stringing inlay"].likely == pytest.approx(-50)
        for words in ("bone 0.3 mm", "maple 0.3 mm proud", "0.3 mm proud", "holly 4 mm proud"):
            with pytest.raises(RefusedError):
                log_film(workshop, "lid", left_of(words), at(3))


def test_a_measured_veneer_is_what_is_left(workshop, at):
    """0.42 mm at the top edge is logged for the edges; the field keeps what was reckoned."""
    _done(workshop, at, 1)
    field = film_answer(workshop, "lid", at(2)).veneer_um
    entry = left_of("veneer 0.42 mm at the top edge")
    event = log_film(workshop, "lid", entry, at(2))
    assert (event.what.zone, event.what.left_um) == ("edges", pytest.approx(420.0))
    answer = film_answer(workshop, "lid", at(3))
    edges = next(part for part in answer.now.parts if part.zone.name == "edges")
    assert edges.left_um.likely == pytest.approx(420.0)
    assert answer.veneer_um == field
    assert left_of("16.5 mil").left_um == pytest.approx(419.1)
    for words, says in (("thin", "holds no thickness"), ("veneer 2 mm", "of 0.6 mm")):
        with pytest.raises(RefusedError, match=says):
            log_film(workshop, "lid", left_of(words), at(3))


def test_strokes_on_a_test_piece_give_this_hand_s_rate(workshop, at):
    """A hand that takes half of what the model says has twice the strokes, in a narrower range."""
    _done(workshop, at, 5)
    asked = LevelQuestion(grade_of("P600"), Reach.LEVEL, wet=True)
    before = film_answer(workshop, "lid", at(2), asked).level_now.bearing
    assert before.measured == 0
    model_um = depth_um(FILM, grade_of("P600"), 100.0, 1e4, wet=True)
    mass_mg = 0.5 * model_um * 1.2 * 1e4 / 1000
    test = HandTest(f"100 strokes: {mass_mg:.5f} mg", 1e4, grade_of("P600"), wet=True)
    for _ in range(5):
        log_hand_test(workshop, "lid", test, at(2))
    after = film_answer(workshop, "lid", at(3), asked).level_now.bearing
    assert after.measured == 5
    assert after.strokes.likely > 1.7 * before.strokes.likely
    assert after.strokes.high / after.strokes.low < before.strokes.high / before.strokes.low
    with pytest.raises(RefusedError, match="is no test"):
        log_hand_test(workshop, "lid", HandTest("a few: 1 mg", 1e4, grade_of("P600")), at(2))


def test_bare_veneer_has_odds_of_its_own(workshop, at):
    """Before any film, P60 on a 0.6 mm face is told what it goes through, and where first."""
    level = film_answer(workshop, "lid", at(0), LevelQuestion(grade_of("P60"))).level_now
    assert level.reach is None
    assert level.worst.stake.value == "veneer"
    assert level.worst.zone == "corners"
    assert not level.safe
    assert film_answer(workshop, "lid", at(0), LevelQuestion(grade_of("P240"))).level_now.safe
    assert level.coarsest.grain_um < grade_of("P60").grain_um


@pytest.mark.parametrize(
    ("odds", "words"),
    [
        (0.3, "It goes through the film, first at the edges, with odds of about 30 %"),
        (0.06, "It goes through the film, first at the edges, with odds of about 6 %"),
        (0.05, ""),
    ],
)
def test_a_risk_is_told_from_the_odds_on_that_the_shop_allows(odds, words):
    """Above the usual 5 % it is named with where it is first, and at it nothing is said."""
    row = SimpleNamespace(worst=Loss(Stake.FILM, odds, "edges", odds))
    assert risk_words(row, FilmRules()) == words

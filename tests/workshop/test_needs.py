"""What a job takes, by the shop's papers, its journal and its shelf."""

import pytest

from finishsched.documents.faults import DocumentFaultsError
from finishsched.workshop.base.entries import Entry, RefusedError, What
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.log.log import log_entry
from finishsched.workshop.stock.needs import job_need
from finishsched.workshop.stock.shelf_entries import Bought, Mixed
from finishsched.workshop.stock.shop_stock import log_stock

POUND = 453.59237 / 3.785411784
FLAKES = "shellac-dewaxed-blonde"
JARS_AND_PACKS = """\
jars: [30 ml, 100 ml]
packs:
  - {product: shellac-dewaxed-blonde, size: 100 g, price: 12 EUR}
  - {product: denatured-alcohol, size: 1 l}
"""


def _log(workshop, at, *entries):
    for minute, (what, amount_ml) in enumerate(entries):
        entry = Entry(what, "box/lid", amount_ml=amount_ml)
        log_entry(workshop, entry, at(minute))


def _begin(workshop, at, *coats_ml):
    """Start the lid, sand it, and lay so many coats, each checked dry."""
    _log(workshop, at, (What.START, None), (What.DONE, None))
    for number, amount_ml in enumerate(coats_ml, start=1):
        log_entry(workshop, Entry(What.DONE, "box/lid", amount_ml=amount_ml), at(200 * number))
        log_entry(workshop, Entry(What.READY, "box/lid"), at(200 * number + 150))


def test_a_job_not_begun_is_reckoned_whole(workshop, at):
    """Both pieces' coats, by hand: area, loss, the pad's charge, and what bare wood may drink."""
    need = job_need(workshop, "box", at(0))
    assert [(piece.ref, piece.scope) for piece in need.pieces] == [
        ("box/lid", "whole"),
        ("box/body", "whole"),
    ]
    amounts = [coat.amount.likely for coat in need.coats]
    assert amounts == pytest.approx(
        [15 * 0.1 / 0.9 + 10, 15 * 0.1 / 0.9, 15 * 0.2 / 0.9, 15 * 0.2 / 0.9]
    )
    # Cherry is closed pored, 20 ml/m2 besides; of the body nobody says the wood, 30 ml/m2.
    high = [coat.amount.high - coat.pad_ml for coat in need.coats]
    assert high[0] - high[1] == pytest.approx(20 * 0.1)
    assert high[2] - high[3] == pytest.approx(30 * 0.2)
    (made,) = need.supply.mixtures
    assert made.need.mixture.cut_g_per_l == pytest.approx(2 * POUND)
    assert (made.need.coats, made.need.area_m2) == (4, pytest.approx(0.3))
    assert {material.product for material in need.supply.materials} == {
        FLAKES,
        "denatured-alcohol",
    }


def test_a_piece_begun_is_reckoned_from_its_step_in_hand(workshop, at):
    """A coat that is laid is not needed again, unless the whole is asked for."""
    _begin(workshop, at, None)
    need = job_need(workshop, "box", at(500), ("lid",))
    assert [piece.scope for piece in need.pieces] == ["from step 3 of 4"]
    assert [coat.step.coat for coat in need.coats] == [2]
    whole = job_need(workshop, "box", at(500), ("box/lid",), whole=True)
    assert [coat.step.coat for coat in whole.coats] == [1, 2]


def test_a_coat_that_waits_for_its_dry_check_is_laid(workshop, at):
    """Material counts by what was put on, not by what is dry."""
    _log(workshop, at, (What.START, None), (What.DONE, None), (What.DONE, None))
    assert len(job_need(workshop, "box", at(5), ("lid",)).coats) == 1


def test_a_finished_piece_needs_nothing(workshop, at):
    """Every step over: no coats, nothing to mix, nothing to buy."""
    _begin(workshop, at, None, None)
    log_entry(workshop, Entry(What.DONE, "box/lid"), at(600))
    need = job_need(workshop, "box", at(601), ("lid",))
    assert [piece.scope for piece in need.pieces] == ["finished"]
    assert not need.coats
    assert not need.supply.purchases


def test_the_shops_own_use_goes_before_the_schedule(workshop, at):
    """Amounts logged move the figure, one that was undone does not; bare wood teaches nothing."""
    _begin(workshop, at, 1.7, 1.0)
    need = job_need(workshop, "box", at(600))
    assert need.coats[0].own.entries == 2
    assert need.coats[0].own.factor.likely < 1
    assert any(text.startswith("here a padded coat lays 0.8") for text in need.assumptions)
    log_entry(workshop, Entry(What.UNDO, "box/lid"), at(621))
    log_entry(workshop, Entry(What.UNDO, "box/lid"), at(622))
    again = job_need(workshop, "box", at(623))
    assert all(coat.own.factor.likely == 1 for coat in again.coats if coat.own)


def test_what_stands_on_the_shelf_is_not_mixed_or_bought(workshop, at):
    """A batch of the cut comes off what is to be mixed, a lot off what is to be bought."""
    before = job_need(workshop, "box", at(0)).supply
    log_stock(workshop, Bought(FLAKES, amount_g=500.0, name="sack"), at(1))
    log_stock(workshop, Bought("denatured-alcohol", amount_ml=1000.0, name="can"), at(2))
    log_stock(workshop, Mixed("jar 1", 15.0, cut_g_per_l=2 * POUND, product=FLAKES), at(3))
    after = job_need(workshop, "box", at(4)).supply
    assert after.mixtures[0].in_stock == pytest.approx(15)
    assert after.mixtures[0].taken_from == ("jar 1",)
    assert after.mixtures[0].to_make == pytest.approx(before.mixtures[0].to_make - 15)
    assert before.purchases
    assert not after.purchases


def test_a_jar_to_be_tested_is_counted_and_said(workshop, at):
    """Four months on, a mixed jar is still stock, with the test that decides beside it."""
    log_stock(workshop, Bought(FLAKES, amount_g=500.0, name="sack"), at(1))
    log_stock(workshop, Bought("denatured-alcohol", amount_ml=1000.0, name="can"), at(2))
    log_stock(workshop, Mixed("jar 1", 15.0, cut_g_per_l=2 * POUND, product=FLAKES), at(3))
    need = job_need(workshop, "box", at(4 * 30 * 24 * 60))
    assert need.supply.mixtures[0].in_stock == pytest.approx(15)
    assert any(text.startswith("jar 1 is tested before it is used") for text in need.assumptions)


def test_a_batch_past_its_life_is_no_stock(workshop, at):
    """Two years on, a mixed jar is not counted on."""
    log_stock(workshop, Bought(FLAKES, amount_g=500.0, name="sack"), at(1))
    log_stock(workshop, Bought("denatured-alcohol", amount_ml=1000.0, name="can"), at(2))
    log_stock(workshop, Mixed("jar 1", 15.0, cut_g_per_l=2 * POUND, product=FLAKES), at(3))
    two_years = 2 * 365 * 24 * 60
    assert job_need(workshop, "box", at(two_years)).supply.mixtures[0].in_stock == 0


def test_jars_and_packs_come_from_the_shops_document(folder, at):
    """Batches fit its jars; packs are bought in its sizes, with a cost where it is known."""
    with (folder / "shop.yaml").open("a") as shop:
        shop.write(JARS_AND_PACKS)
    with Workshop.open(folder, at(0)) as workshop:
        need = job_need(workshop, "box", at(0))
    # A good 25 ml is to be mixed, which the smaller jar holds.
    assert [batch.jar_ml for batch in need.supply.batches] == [30.0]
    bought = {one.material.product: one for one in need.supply.purchases}
    assert bought[FLAKES].packs[0][1] == 1
    assert bought[FLAKES].cost.amount == 12
    assert bought["denatured-alcohol"].packs[0][0].size_ml == pytest.approx(1000)
    assert bought["denatured-alcohol"].cost is None


def test_a_piece_whose_schedule_cannot_be_read_is_told_and_the_rest_answered(folder, at):
    """One piece's broken schedule costs only that piece."""
    job = folder / "jobs/box.yaml"
    head, _, tail = job.read_text().rpartition("two-coats")
    job.write_text(f"{head}three-coats{tail}")
    with Workshop.open(folder, at(0)) as workshop:
        need = job_need(workshop, "box", at(0))
    assert [piece.ref for piece in need.pieces] == ["box/lid"]
    assert len(need.coats) == 2
    assert len(need.notices) == 1
    assert "box/body" in need.notices[0]
    assert "three-coats" in need.notices[0]


def test_an_unknown_job_or_piece_is_refused_with_what_was_near(workshop, at):
    """A slip of the pen is met with the name that was meant."""
    with pytest.raises(RefusedError, match="did you mean 'box'"):
        job_need(workshop, "bx", at(0))
    with pytest.raises(RefusedError, match="there are box"):
        job_need(workshop, "quilt", at(0))
    with pytest.raises(RefusedError, match="did you mean 'lid'"):
        job_need(workshop, "box", at(0), ("lidd",))


def test_a_job_with_faults_is_refused_with_all_of_them(folder, at):
    """Every fault of the job's document, with its place."""
    job = folder / "jobs/box.yaml"
    job.write_text(job.read_text().replace("length: 400 mm", "length: 400").replace("due:", "duo:"))
    with Workshop.open(folder, at(0)) as workshop, pytest.raises(DocumentFaultsError) as refused:
        job_need(workshop, "box", at(0))
    assert len(refused.value.faults) == 2
    assert {fault.file for fault in refused.value.faults} == {"jobs/box.yaml"}


def test_a_job_whose_document_is_gone_is_reckoned_by_the_journal(folder, at):
    """A piece begun goes on by its snapshot, and the notice says so."""
    with Workshop.open(folder, at(0)) as workshop:
        log_entry(workshop, Entry(What.START, "box/lid"), at(0))
    (folder / "jobs/box.yaml").unlink()
    with Workshop.open(folder, at(1)) as workshop:
        need = job_need(workshop, "box", at(1))
    assert [coat.piece for coat in need.coats] == ["box/lid", "box/lid"]
    assert "document is gone" in need.notices[0]


def test_everything_taken_for_granted_is_said(workshop, at):
    """Loss, pad, bare wood, letting down, alcohol, life, jars, packs, and what is left out."""
    said = " | ".join(job_need(workshop, "box", at(0)).assumptions)
    for words in (
        "10 % of what is used to pad is lost",
        "takes up 10 ml before it lays anything",
        "10 ml in all",
        "bare wood may drink 20 ml/m2 besides (10 ml/m2 to 30 ml/m2), which the high figures count",
        "its pores being closed: box/lid",
        "box/body",
        "let down with alcohol",
        "95 %vol",
        "used up within 3 months (typically it keeps 6)",
        "lists no jars",
        "plain amount",
        "sheets of 230 x 280 mm",
    ):
        assert words in said

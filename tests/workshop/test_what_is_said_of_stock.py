"""What is said of the shelf: assumptions that hold and no others, drawing by weight and volume."""

from __future__ import annotations

import shlex
from datetime import UTC, datetime, timedelta

import pytest

from finishsched.workshop.base.entries import Entry, RefusedError, What
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.log.log import log_entry, remarks_on
from finishsched.workshop.stock.needs import job_need
from finishsched.workshop.stock.shelf_entries import Bought, Counted, Mixed
from finishsched.workshop.stock.shop_stock import log_stock, shop_stock
from finishsched.workshop.views.views import bench_view

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
FLAKES, ALCOHOL = "shellac-dewaxed-blonde", "denatured-alcohol"
TWO_LB = 2 * 453.59237 / 3.785411784


def said(workshop):
    """Return what the need of the box takes for granted, as one text."""
    return " | ".join(job_need(workshop, "box", NOW).assumptions)


def with_packs(folder, *prices):
    """Return the shop with a pack of flakes and one of alcohol, each at its price or at none."""
    rows = zip((f"{FLAKES}, size: 100 g", f"{ALCOHOL}, size: 1 l"), prices, strict=True)
    packs = "".join(
        f"  - {{product: {what}{f', price: {price}' if price else ''}}}\n" for what, price in rows
    )
    shop = folder / "shop.yaml"
    shop.write_text(f"{shop.read_text()}packs:\n{packs}")
    return Workshop.open(folder, NOW)


@pytest.mark.parametrize(
    ("prices", "by_cost", "by_rest"),
    [
        (("12 EUR", "9 EUR"), True, False), ((None, None), False, True),
        (("12 EUR", None), True, True),
    ],
)  # fmt: skip
def test_how_packs_are_chosen_is_said_of_those_that_are_bought(folder, prices, by_cost, by_rest):
    """By cost where there is a price, by the least left over where there is none."""
    with with_packs(folder, *prices) as workshop:
        words = said(workshop)
    assert ("chosen for the least cost" in words) is by_cost
    assert ("without a price are chosen for the least left over" in words) is by_rest
    assert "lists no pack of" not in words


def test_a_batch_that_serves_is_said_to(workshop):
    """With nothing on the shelf nothing is said of it; with a jar of the cut it serves."""
    serves = "a batch on the shelf serves for its own product and cut"
    assert serves not in said(workshop)
    log_stock(workshop, Mixed("jar 2", 250.0, TWO_LB, product=FLAKES), NOW)
    assert serves in said(workshop)
    assert "in solution is reckoned at the cut" not in said(workshop)


def coat(workshop, **used):
    """Lay the first coat of the lid, and return the entry with what a person should hear."""
    for what in (What.START, What.DONE):
        log_entry(workshop, Entry(what, "lid"), NOW)
    event = log_entry(workshop, Entry(What.DONE, "lid", **used), NOW)
    return event.what, list(remarks_on(workshop, event, NOW))


def left(workshop, name):
    """Return what is left of one thing."""
    row = shop_stock(workshop, NOW).find(name)
    return row.lot.left if hasattr(row, "lot") else row.batch.left_ml


@pytest.mark.parametrize(
    ("used", "taken_ml"),
    [({"amount_ml": 10.0}, 10.0), ({"amount_g": 10.0}, 10.0 / 0.9), ({}, 15 * 0.1 / 0.9 + 10)],
)
def test_a_jar_gives_by_volume_what_was_weighed(workshop, used, taken_ml):
    """A 2-lb cut weighs about 0.9 g/ml: ten grams out of it are some eleven millilitres.

    Where nothing is said it gives what the coat is reckoned to take, a pad's charge and a loss.
    """
    log_stock(workshop, Mixed("jar 2", 250.0, TWO_LB, product=FLAKES), NOW)
    done, _ = coat(workshop, batch="jar 2", **used)
    assert left(workshop, "jar 2") == pytest.approx(250.0 - taken_ml, rel=0.005)
    assert done.amount_g == used.get("amount_g")


@pytest.mark.parametrize(
    ("used", "left_g", "told"),
    [
        ({"amount_g": 20.0}, 480.0, []),
        (
            {"amount_ml": 20.0},
            500.0,
            ["'tin' is kept in grams and its density is not known: none was taken"],
        ),
    ],
)
def test_a_tin_by_weight_gives_by_weight(workshop, used, left_g, told):
    """Of flakes nobody knows the density: millilitres take nothing, and that is said; grams do."""
    log_stock(workshop, Bought(FLAKES, amount_g=500.0, name="tin"), NOW)
    _, remarks = coat(workshop, batch="tin", **used)
    assert left(workshop, "tin") == pytest.approx(left_g)
    assert [one for one in remarks if "density" in one] == told


def test_a_coat_from_before_its_jar_takes_nothing(workshop):
    """What came to the shelf only later was not in the hand."""
    log_stock(workshop, Mixed("jar 2", 250.0, TWO_LB, product=FLAKES), NOW)
    for what in (What.START, What.DONE):
        log_entry(workshop, Entry(what, "lid", at=NOW - timedelta(hours=2)), NOW)
    early = NOW - timedelta(seconds=1)
    event = log_entry(
        workshop, Entry(What.DONE, "lid", at=early, batch="jar 2", amount_ml=9.0), NOW
    )
    assert any("came to the shelf only later" in one for one in remarks_on(workshop, event, NOW))
    assert left(workshop, "jar 2") == 250.0


@pytest.mark.parametrize(("many", "listed"), [(0, False), (1, True), (12, True), (13, False)])
def test_a_name_that_is_none_is_told_with_up_to_twelve_that_are(workshop, many, listed):
    """A short shelf is listed; of a long one, or none, only the way out is told."""
    for number in range(many):
        log_stock(workshop, Bought(ALCOHOL, amount_ml=100.0, name=f"can {number}"), NOW)
    with pytest.raises(RefusedError, match="no lot or batch 'qqqqqq'") as caught:
        log_stock(workshop, Counted("qqqqqq", left_ml=5.0), NOW)
    remedy = caught.value.remedy
    if listed:
        assert remedy == f"there are {', '.join(sorted(f'can {n}' for n in range(many)))}"
    else:
        assert remedy == "log what was bought or mixed first"


def test_bare_wood_is_said_of_the_pieces_whose_pores_are_meant(workshop):
    """Cherry of the lid is closed; of the body nobody knows: each sentence names its own piece."""
    found = [one for one in job_need(workshop, "box", NOW).assumptions if "bare wood" in one]
    assert [one.partition(": ")[2] for one in found] == [
        "box/lid (our assumption)", "box/body (our assumption)",
    ]  # fmt: skip


def test_shellac_bought_in_solution_is_said_to_have_the_cut_that_is_wanted(folder):
    """What is in the tin is on its label; the schedule's cut is taken for it, and that is said."""
    schedule = folder / "schedules/two-coats.yaml"
    schedule.write_text(schedule.read_text().replace(FLAKES, "sealer-shellac"))
    (folder / "products").mkdir()
    (folder / "products/sealer-shellac.yaml").write_text(
        "product: sealer-shellac\ntitle: Sealer\nkind: shellac\nmechanism: solvent\nhazards: []\n"
        "rags: flammable\nthinner: denatured-alcohol\nwaxy: no\n"
        "sources: {hazards: label, rags: label, waxy: label}\n"
    )
    with Workshop.open(folder, NOW) as workshop:
        assert "shellac bought in solution is reckoned at the cut" in said(workshop)


def test_a_coat_that_is_let_down_comes_out_of_the_jar_of_the_first(workshop):
    """The second coat, of 1 lb, is told out of the 2-lb jar, draws half of itself, unremarked."""
    log_stock(workshop, Mixed("jar 2", 250.0, TWO_LB, product=FLAKES), NOW)
    coat(workshop, batch="jar 2")
    later = NOW + timedelta(hours=3)
    log_entry(workshop, Entry(What.READY, "lid"), later)
    (view,) = (one for one in bench_view(workshop, later).pieces if one.ref == "box/lid")
    assert view.sheet.product.endswith("2-lb cut let down to 1-lb")
    assert view.sheet.jar.startswith("jar 2, ")
    assert view.sheet.mix_makes == (
        "1.7 ml (0.9 ml from the jar and 0.8 ml alcohol) for this coat on 0.1 m2"
    )
    event = log_entry(workshop, Entry(What.DONE, "lid", batch="jar 2"), later)
    assert list(remarks_on(workshop, event, later)) == []
    assert event.what.amount_ml == pytest.approx(view.sheet.takes.amount.likely)
    from_jar_ml = event.what.amount_ml - event.what.let_down_ml
    assert from_jar_ml == pytest.approx(0.545 * event.what.amount_ml, rel=0.02)


def test_the_command_that_logs_a_mix_says_all_of_it(workshop):
    """Product, cut and what the jar holds as on the sheet, with a name that is free."""
    log_stock(workshop, Mixed("jar 1", 250.0, 3 * TWO_LB, product=FLAKES), NOW)
    log_entry(workshop, Entry(What.START, "lid"), NOW)
    log_entry(workshop, Entry(What.DONE, "lid"), NOW)
    (view,) = (one for one in bench_view(workshop, NOW).pieces if one.ref == "box/lid")
    command, *words = shlex.split(view.sheet.log_mix)
    assert command == "stock"
    told = dict(zip(words[::2], words[1::2], strict=True))
    assert told == {
        "--mixed": "jar 2",
        "--product": FLAKES,
        "--cut": "2 lb/gal",
        "--makes": "20 ml",
    }


@pytest.mark.parametrize(("coats", "told"), [(1, "for this coat on"), (2, "for 2 coats on")])
def test_a_mix_is_told_for_how_many_coats_it_is(folder, coats, told):
    """One is this coat; of two that one jar serves both are named."""
    schedule = folder / "schedules" / "two-coats.yaml"
    schedule.write_text(schedule.read_text().replace("coats: 2", f"coats: {coats}"))
    job = folder / "jobs" / "box.yaml"
    job.write_text(job.read_text().partition("  - piece: body")[0])
    if coats == 1:
        plain = schedule.read_text().replace("        thin_to: 1 lb\n", "")
        schedule.write_text(
            plain.replace("            between: {earliest: 1 h, likely: 2 h}\n", "")
        )
    with Workshop.open(folder, NOW) as workshop:
        for what in (What.START, What.DONE):
            log_entry(workshop, Entry(what, "lid"), NOW)
        (view,) = bench_view(workshop, NOW).pieces
    assert told in view.sheet.mix_makes

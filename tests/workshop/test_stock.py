"""The shelf by way of the workshop: entries, refusals, states, and coats that draw."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from finishsched.factors import G_PER_L_IN_A_POUND_CUT
from finishsched.mixing.alcohol import alcohol_g_per_ml
from finishsched.mixing.amount import used_amount
from finishsched.mixing.cut import mix_for_volume
from finishsched.model.shop import Alcohol
from finishsched.workshop.base.entries import Entry, RefusedError, What
from finishsched.workshop.log.log import log_entry, remarks_on
from finishsched.workshop.standing.where import find
from finishsched.workshop.stock.shelf_entries import Bought, Counted, Mixed, TakenBack
from finishsched.workshop.stock.shop_stock import log_stock, shop_stock
from finishsched.workshop.stock.stock import StockState
from finishsched.workshop.views.views import due_answer, piece_view

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
DAY = timedelta(days=1)
BLONDE, ALCOHOL = "shellac-dewaxed-blonde", "denatured-alcohol"
TWO_LB = 2 * G_PER_L_IN_A_POUND_CUT


def ago(days):
    """Return an instant so many days before now."""
    return NOW - days * DAY


@pytest.fixture
def stocked(workshop):
    """Return the shop with flakes, alcohol and a jar of 2-lb cut."""
    log_stock(workshop, Bought(BLONDE, amount_g=500.0, name="tin", at=ago(30)), NOW)
    log_stock(workshop, Bought(ALCOHOL, amount_ml=2000.0, name="can", at=ago(20)), NOW)
    log_stock(workshop, Mixed("jar 2", 250.0, TWO_LB, at=ago(10)), NOW)
    return workshop


def left(workshop, name):
    """Return what is left of one thing."""
    row = shop_stock(workshop, NOW).find(name)
    return row.lot.left if hasattr(row, "lot") else row.batch.left_ml


def refused(workshop, entry):
    """Return the words of a refusal, and see that it left no trace."""
    before = shop_stock(workshop, NOW)
    with pytest.raises(RefusedError) as caught:
        log_stock(workshop, entry, NOW)
    assert shop_stock(workshop, NOW) == before
    return str(caught.value)


def done(workshop, **words):
    """Log the step in hand done, and return what a person should hear."""
    entry = Entry(what=What.DONE, piece="lid", **words)
    return remarks_on(workshop, log_entry(workshop, entry, NOW), NOW)


@pytest.fixture
def at_the_first_coat(stocked):
    """Return the shop with the lid at its first coat, which wants a 2-lb cut of blonde."""
    log_entry(stocked, Entry(what=What.START, piece="lid"), NOW)
    log_entry(stocked, Entry(what=What.DONE, piece="lid"), NOW)
    return stocked


def test_a_batch_draws_by_the_exact_balance(stocked):
    """Flakes by weight and alcohol by volume, what the mixing calculator says for the shop."""
    batch = mix_for_volume(TWO_LB, 250.0, Alcohol())

    assert left(stocked, "tin") == pytest.approx(500 - batch.flakes_g)
    assert left(stocked, "can") == pytest.approx(2000 - batch.alcohol_ml)
    assert shop_stock(stocked, NOW).find("jar 2").batch.lots == ("tin", "can")


def test_alcohol_bought_by_weight_is_drawn_by_weight(workshop):
    """The same batch from a can that is weighed."""
    log_stock(workshop, Bought(ALCOHOL, amount_g=900.0, name="can"), NOW)
    log_stock(workshop, Mixed("jar", 250.0, TWO_LB, product=BLONDE), NOW)

    drawn = mix_for_volume(TWO_LB, 250.0, Alcohol()).alcohol_g
    assert left(workshop, "can") == pytest.approx(900 - drawn)


def test_the_oldest_lot_is_used_up_first(stocked):
    """What the first tin lacks comes from the second; an older one written late goes first."""
    log_stock(stocked, Bought(BLONDE, amount_g=20.0, name="older", at=ago(90)), NOW)
    event = log_stock(stocked, Mixed("jar 3", 250.0, TWO_LB), NOW)

    assert [draw.lot for draw in event.what.draws] == ["older", "tin", "can"]
    assert left(stocked, "older") == 0.0


def test_named_lots_are_used_and_no_others(stocked):
    """With --from the tin that was named is drawn on, and the alcohol may be of another kind."""
    log_stock(stocked, Bought(BLONDE, amount_g=300.0, name="new tin"), NOW)
    log_stock(stocked, Bought("ethanol", amount_ml=1000.0, name="pure"), NOW)
    event = log_stock(stocked, Mixed("jar 3", 250.0, TWO_LB, lots=("new tin", "pure")), NOW)

    assert [draw.lot for draw in event.what.draws] == ["new tin", "pure"]


def test_varnish_is_thinned_by_volume(stocked):
    """A quarter of thinner in 200 ml; of what no lot is known nothing is drawn, and it is said."""
    log_stock(stocked, Bought("wiping-varnish", amount_ml=500.0, name="varnish"), NOW)
    event = log_stock(
        stocked, Mixed("tin 1", 200.0, thinned_percent=25.0, product="wiping-varnish"), NOW
    )

    assert left(stocked, "varnish") == pytest.approx(350.0)
    assert [draw.lot for draw in event.what.draws] == ["varnish"]
    (remark,) = remarks_on(stocked, event, NOW)
    assert "no lot of mineral-spirits is logged" in remark


def test_a_batch_may_be_logged_without_any_lots(workshop):
    """Somebody who keeps no lots can still keep jars, and is not told that lots are missing."""
    event = log_stock(workshop, Mixed("jar", 100.0, TWO_LB, product=BLONDE), NOW)

    assert event.what.draws == ()
    assert not remarks_on(workshop, event, NOW)


def test_who_logs_flakes_and_no_alcohol_is_not_told_of_it(workshop):
    """Of alcohol, which many buy for more than finishing, only who logs it hears a gap."""
    log_stock(workshop, Bought(BLONDE, amount_g=250.0, name="bag"), NOW)
    event = log_stock(workshop, Mixed("jar", 100.0, TWO_LB, product=BLONDE), NOW)
    assert [draw.lot for draw in event.what.draws] == ["bag"]
    assert not remarks_on(workshop, event, NOW)


def test_flakes_that_were_never_bought_are_not_drawn(stocked):
    """With only the alcohol named, a jar of other flakes is mixed and the gap is said."""
    event = log_stock(
        stocked, Mixed("jar 3", 250.0, TWO_LB, product="shellac-garnet", lots=("can",)), NOW
    )
    assert [draw.lot for draw in event.what.draws] == ["can"]
    assert any("no lot of shellac-garnet" in one for one in remarks_on(stocked, event, NOW))


def test_old_flakes_are_to_be_tested_when_they_are_mixed(workshop):
    """A batch from a tin of three years says how to test the flakes."""
    log_stock(workshop, Bought(BLONDE, amount_g=300.0, name="tin", at=ago(1100)), NOW)
    event = log_stock(workshop, Mixed("jar", 100.0, TWO_LB), NOW)
    assert any("pinch" in remark for remark in remarks_on(workshop, event, NOW))


@pytest.mark.parametrize(
    ("entry", "said"),
    [
        (Bought("shelac-dewaxed-blonde", amount_g=1.0), f"did you mean '{BLONDE}'?"),
        (Bought(BLONDE, amount_ml=1.0), "flakes, which are weighed"),
        (Bought(BLONDE, amount_g=1.0, name="tin"), "such as 'tin (2)'"),
        (Bought(BLONDE, amount_g=1.0, name="jar 2"), "there is a 'jar 2' already"),
        (Bought(BLONDE, amount_g=1.0, name="x" * 61), "too long for a label"),
        (Bought(BLONDE, amount_g=1.0, name="a\x1b[2Jb"), "cannot be printed"),
        (Bought(BLONDE, amount_g=1.0, name="a\u202eb"), "cannot be printed"),
        (Bought(BLONDE, amount_g=1.0, at=NOW + DAY), "the time to come"),
        (Mixed(" ", 250.0, TWO_LB), "without a name"),
        (Mixed("jar 2", 250.0, TWO_LB), "already"),
        (Mixed("jar 3", 250.0, TWO_LB, at=NOW + DAY), "the time to come"),
        (Mixed("jar 3", 250.0, TWO_LB, at=ago(25), lots=("can",), product=BLONDE), "after that"),
        (Mixed("jar 3", 250.0, TWO_LB, product="blonde"), "no product 'blonde'"),
        (Mixed("jar 3", 250.0, TWO_LB, product="blonde flakes"),
         "did you mean Dewaxed blonde shellac flakes?"),
        (Mixed("jar 3", 250.0, TWO_LB, product="wiping-varnish"), "only flakes are mixed"),
        (Mixed("jar 3", 250.0, thinned_percent=10.0, product=BLONDE), "write --cut"),
        (Mixed("jar 3", 250.0, thinned_percent=10.0, product="mineral-oil"), "names no thinner"),
        (Mixed("jar 3", 250.0, thinned_percent=10.0), "of which product?"),
        (Mixed("jar 3", 250.0, TWO_LB, lots=("tim",)), "did you mean 'tin'?"),
        (Mixed("jar 3", 250.0, TWO_LB, lots=("jar 2",)), "is a batch, not a lot"),
        (Mixed("jar 3", 250.0, thinned_percent=1.0, product="wiping-varnish", lots=("tin",)),
         "does not go into this batch"),
        (Mixed("jar 3", 5000.0, TWO_LB), "450 g in 'tin'"),
        (Counted("jar 22", left_ml=1.0), "did you mean 'jar 2'?"),
        (Counted("jar 2", left_ml=1.0, at=ago(11)), "was mixed on 2026-11-15, after that"),
        (Counted("tin", left_ml=1.0), "kept by weight"),
        (TakenBack("jar 3"), "did you mean 'jar 2'?"),
        (TakenBack("tin"), "went into 'jar 2'"),
    ],
)  # fmt: skip
def test_what_cannot_be_true_is_refused(stocked, entry, said):
    """Each refusal says what is wrong and what would be right, and leaves no trace."""
    assert said in refused(stocked, entry)


def test_a_tin_that_is_empty_leaves_no_doubt_of_what_is_mixed(workshop):
    """Of two kinds of flakes the one of which some is left is meant."""
    log_stock(workshop, Bought("shellac-garnet", amount_g=500.0, name="old tin"), NOW)
    log_stock(workshop, Bought(BLONDE, amount_g=500.0, name="tin"), NOW)
    assert "of which product?" in refused(workshop, Mixed("jar", 250.0, TWO_LB))
    log_stock(workshop, Counted("old tin"), NOW)
    log_stock(workshop, Mixed("jar", 250.0, TWO_LB), NOW)
    assert shop_stock(workshop, NOW).find("jar").batch.product == BLONDE


def test_a_product_is_known_by_its_title(workshop):
    """A title is what every sheet shows, and no id: as it is read there it can be typed."""
    log_stock(workshop, Bought("dewaxed blonde shellac flakes", amount_g=1.0, name="tin"), NOW)
    assert shop_stock(workshop, NOW).find("tin").lot.product == BLONDE


def test_a_lot_is_named_by_its_product_and_day(workshop):
    """Two on one day are told apart."""
    names = [log_stock(workshop, Bought("pumice", amount_g=1.0), NOW).what.lot for _ in range(3)]
    assert names == ["pumice 2026-11-25", "pumice 2026-11-25 (2)", "pumice 2026-11-25 (3)"]


def test_what_is_mixed_on_the_day_it_was_bought_comes_after(stocked):
    """A day without a time begins the day; what came later that day does not make it false."""
    log_stock(stocked, Bought(BLONDE, amount_g=300.0, name="new", at=ago(5)), NOW)
    midnight = ago(5).replace(hour=0)
    event = log_stock(stocked, Mixed("jar 3", 250.0, TWO_LB, at=midnight, lots=("new",)), NOW)
    assert event.at == ago(5)


def test_a_count_resets_by_volume_by_weight_or_to_nothing(stocked):
    """A jar on the scale is reckoned by the density of its cut, a can by its alcohol's strength."""
    log_stock(stocked, Counted("jar 2", left_ml=120.0), NOW)
    assert left(stocked, "jar 2") == 120.0
    density = mix_for_volume(TWO_LB, 250.0, Alcohol()).density_g_per_ml
    log_stock(stocked, Counted("jar 2", left_g=100.0), NOW)
    assert left(stocked, "jar 2") == pytest.approx(100 / density)
    log_stock(stocked, Counted("jar 2"), NOW)
    assert shop_stock(stocked, NOW).find("jar 2").states == (StockState.EMPTY,)
    log_stock(stocked, Counted("can", left_g=811.0), NOW)
    assert left(stocked, "can") == pytest.approx(811.0 / alcohol_g_per_ml(95.0, 20.0))
    log_stock(stocked, Counted("tin"), NOW)
    assert left(stocked, "tin") == 0.0


def test_an_undo_takes_back_the_newest_entry_about_a_thing(stocked):
    """First the count, then the mixing, which gives back what it drew; then the name is free."""
    log_stock(stocked, Counted("jar 2", left_ml=1.0), NOW)
    log_stock(stocked, TakenBack("jar 2"), NOW)
    assert left(stocked, "jar 2") == 250.0
    log_stock(stocked, TakenBack("jar 2"), NOW)
    assert (left(stocked, "tin"), left(stocked, "can")) == (500.0, 2000.0)
    log_stock(stocked, Mixed("jar 2", 100.0, TWO_LB), NOW)
    assert left(stocked, "jar 2") == 100.0


def test_an_undo_by_id_is_of_that_entry(stocked):
    """Any entry about stock can be named by its id, one about a piece cannot."""
    event = log_stock(stocked, Bought("pumice", amount_g=1.0, name="bag"), NOW)
    log_stock(stocked, TakenBack(event.id), NOW)
    assert shop_stock(stocked, NOW).find("bag") is None
    other = log_entry(stocked, Entry(what=What.NOTE, piece="lid", text="dust"), NOW)
    assert "no lot or batch" in refused(stocked, TakenBack(other.id))


def test_two_doors_cannot_give_one_name_twice(folder, stocked):
    """An entry about stock is judged by the journal as it is when it is written."""
    with type(stocked).open(folder, NOW) as other:
        log_stock(other, Bought("pumice", amount_g=1.0, name="bag"), NOW)
        assert "already" in refused(stocked, Bought("pumice", amount_g=1.0, name="bag"))


@pytest.mark.parametrize(
    ("days", "expected"),
    [
        (0, StockState.GOOD), (91, StockState.GOOD), (92, StockState.TEST),
        (365, StockState.TEST), (366, StockState.PAST),
    ],
)  # fmt: skip
def test_a_jar_is_good_then_tested_then_past_its_life(workshop, days, expected):
    """At three months it wants the drop on glass, past twelve it is not used."""
    log_stock(workshop, Mixed("jar", 250.0, TWO_LB, product=BLONDE, at=ago(days)), NOW)
    row = shop_stock(workshop, NOW).find("jar")

    assert row.state is expected
    assert row.age_s == days * 86400
    assert row.usable == (expected is not StockState.PAST)
    assert "drop on glass" in row.life.test


def test_low_is_under_a_tenth_or_under_what_a_coat_takes(at_the_first_coat):
    """The body's coat of 2-lb cut, soon due, takes 3.3 ml, and the pad keeps 10."""
    for amount, state in ((24.0, StockState.LOW), (26.0, StockState.GOOD)):
        log_stock(at_the_first_coat, Counted("jar 2", left_ml=amount), NOW)
        assert shop_stock(at_the_first_coat, NOW).find("jar 2").state is state
    for makes, state in ((13.0, StockState.LOW), (14.0, StockState.GOOD)):
        log_stock(at_the_first_coat, Mixed(f"cup {makes}", makes, TWO_LB), NOW)
        row = shop_stock(at_the_first_coat, NOW).find(f"cup {makes}")
        assert row.state is state
    assert "13" in shop_stock(at_the_first_coat, NOW).find("cup 13.0").why[-1]


def test_a_jar_can_be_old_and_low_at_once(workshop):
    """Both words are there, the graver first; empty ones stand last and say only that."""
    log_stock(workshop, Mixed("old", 250.0, TWO_LB, product=BLONDE, at=ago(100)), NOW)
    log_stock(workshop, Counted("old", left_ml=5.0), NOW)
    log_stock(workshop, Mixed("new", 250.0, TWO_LB, product=BLONDE), NOW)
    assert shop_stock(workshop, NOW).find("old").states == (StockState.TEST, StockState.LOW)
    log_stock(workshop, Counted("old"), NOW)
    stock = shop_stock(workshop, NOW)
    assert [row.batch.name for row in stock.batches] == ["new", "old"]
    assert stock.find("old").states == (StockState.EMPTY,)


def test_a_coat_draws_from_its_batch(at_the_first_coat):
    """What was used comes off the jar, and with nothing amiss nothing is said."""
    assert done(at_the_first_coat, batch="jar 2", amount_ml=12.0) == ()
    assert left(at_the_first_coat, "jar 2") == pytest.approx(238.0)


def test_a_coat_weighed_draws_by_the_density_of_its_cut(at_the_first_coat):
    """Weighing the bottle before and after is the best measure; the words keep the grams."""
    assert done(at_the_first_coat, batch="jar 2", amount_g=10.0) == ()
    density = mix_for_volume(TWO_LB, 250.0, Alcohol()).density_g_per_ml
    assert left(at_the_first_coat, "jar 2") == pytest.approx(250 - 10 / density)
    assert "10 g of jar 2" in piece_view(at_the_first_coat, "lid", NOW).log[0].text


def test_undoing_a_coat_gives_back_what_it_took(at_the_first_coat):
    """The shelf follows the journal."""
    done(at_the_first_coat, batch="jar 2", amount_ml=12.0)
    log_entry(at_the_first_coat, Entry(what=What.UNDO, piece="lid"), NOW)
    assert left(at_the_first_coat, "jar 2") == 250.0


def test_a_coat_of_which_nobody_says_how_much_draws_what_it_likely_takes(at_the_first_coat):
    """The jar goes down by the schedule's coat and the pad's charge, marked as reckoned."""
    entry = Entry(what=What.DONE, piece="lid", batch="jar 2")
    event = log_entry(at_the_first_coat, entry, NOW)
    standing = find(at_the_first_coat, "lid")
    step = next(one for one in standing.steps if one.key == event.what.step)
    likely = used_amount(step.spread.ml_per_m2, standing.piece.area_m2, 1, step.verb) + 10
    assert event.what.reckoned
    assert event.what.amount_ml == pytest.approx(likely)
    assert left(at_the_first_coat, "jar 2") == pytest.approx(250 - likely)
    assert "about" in piece_view(at_the_first_coat, "lid", NOW).log[0].text


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ({"batch": "a jar of my aunt's", "amount_ml": 2.0}, None),
        ({"batch": "jar 22", "amount_ml": 2.0}, "did you mean 'jar 2'?"),
        ({"batch": "jar 2"}, None),
        ({"batch": "jar 2", "amount_ml": 251.0}, "held less than what was taken"),
        ({"batch": "old", "amount_ml": 2.0}, "past its life"),
        ({"batch": "garnet", "amount_ml": 2.0}, "the step asks for Dewaxed blonde"),
        ({"batch": "thin", "amount_ml": 2.0}, "is a 1-lb cut, and the step asks for a 2-lb cut"),
        ({"batch": "tin", "amount_ml": 2.0}, "density is not known"),
        ({"batch": "jar 2", "amount_ml": 2.0, "at": ago(11)}, "came to the shelf only later"),
    ],
)  # fmt: skip
def test_what_is_odd_about_a_coat_is_said_and_never_refused(stocked, words, said):
    """The coat is logged whatever it was laid with; one line says what does not fit."""
    at = ago(12)
    log_entry(stocked, Entry(what=What.START, piece="lid", at=at), NOW)
    log_entry(stocked, Entry(what=What.DONE, piece="lid", at=at), NOW)
    log_stock(stocked, Mixed("old", 250.0, TWO_LB, product=BLONDE, at=ago(400)), NOW)
    log_stock(stocked, Mixed("garnet", 250.0, TWO_LB, product="shellac-garnet"), NOW)
    log_stock(stocked, Mixed("thin", 250.0, TWO_LB / 2, product=BLONDE), NOW)
    remarks = done(stocked, **words)

    assert [said in one for one in remarks] == [True] if said else remarks == ()
    assert piece_view(stocked, "lid", NOW).steps_done == 1


def test_a_clock_set_back_makes_nothing_younger_than_new(workshop):
    """Something bought by a clock that ran ahead is of age nought."""
    log_stock(workshop, Bought("pumice", amount_g=1.0, name="bag"), NOW + DAY)
    assert shop_stock(workshop, NOW).find("bag").age_s == 0.0


def test_a_jar_that_holds_the_coats_is_named_in_place_of_a_mix(at_the_first_coat):
    """With enough of the right cut on the shelf nobody is told to mix; with too little they are."""
    sheet = piece_of_due(at_the_first_coat).sheet
    assert sheet.jar == "jar 2, 250 ml left"
    log_stock(at_the_first_coat, Counted("jar 2", left_ml=2.0), NOW)
    assert piece_of_due(at_the_first_coat).sheet.jar == ""


def piece_of_due(workshop):
    """Return the lid as ``due`` shows it."""
    return next(view for view in due_answer(workshop, NOW).at_hand if view.ref.endswith("/lid"))

"""The vapour budget out of what the journal says was used."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from finishsched.model.solvent import Liquid
from finishsched.safety.budget import HOUR_S
from finishsched.safety.contents import parts_of_liquid
from finishsched.safety.ventilation import vapour_m3
from finishsched.workshop.base.entries import Entry, What
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.log.log import log_entry
from finishsched.workshop.safety.vapour import before_coats, vapour_answer
from finishsched.workshop.stock.shelf_entries import Bought, Mixed
from finishsched.workshop.stock.shop_stock import log_stock

from .conftest import NOW, SHOP

ROOM = "rooms: [{room: shop, volume: 30 m3, air_flow: 30 m3/h, mixing: 3}]\n"
SMALL = "rooms: [{room: shop, volume: 3 m3, air_flow: 6 m3/h, mixing: 3}]\n"


@pytest.fixture
def opened(folder):
    """Return a caller that opens the shop with lines added to its document."""
    shops = []

    def open_with(lines):
        (folder / "shop.yaml").write_text(SHOP + lines)
        shops.append(Workshop.open(folder, NOW))
        return shops[-1]

    yield open_with
    for shop in shops:
        shop.close()


def before_coat(workshop, name, now):
    """Return what the next coat of one piece would do to its room; None for nothing."""
    return next(before_coats(workshop, [name], now), None)


def lay_first_coat(shop, at, **given):
    """Bring the lid to its first coat and lay it, ending at ``at``."""
    log_entry(shop, Entry(What.START, "lid", at=at - timedelta(hours=1)), at)
    log_entry(shop, Entry(What.DONE, "lid", at=at - timedelta(minutes=30)), at)
    log_entry(shop, Entry(What.DONE, "lid", at=at, **given), at)


def by_liquid(answer):
    """Return the rows of the only room by their liquid."""
    return {row.solvent.liquid: row for row in answer.rooms[0].rows}


def test_without_a_room_it_says_once_what_is_missing(workshop):
    """No volume, no figures, no line on the bench; and no warning before a coat."""
    lay_first_coat(workshop, NOW)
    answer = vapour_answer(workshop, NOW)
    assert "volume" in answer.missing
    assert (answer.line, answer.rooms, answer.assumptions) == ("", (), ())
    assert before_coat(workshop, "lid", NOW) is None


def all_at_once_ppm(used_ml):
    """Return the methanol of so much of a 2-lb cut in 30 m3, were all of it in the air at once.

    A ml holds 0.834 ml of 95 % alcohol (by hand), half of it methanol if unread.
    """
    methanol_g = used_ml * 0.834 * 0.95 * 0.79 / 2
    return methanol_g * 24.45 / 32.04 / 1000 / 30 * 1e6


def test_a_logged_coat_is_in_the_air(opened, at):
    """All that was used of 30 ml, but what the air carries off while the coat dries."""
    shop = opened(ROOM)
    lay_first_coat(shop, NOW, amount_ml=30.0)
    rows = by_liquid(vapour_answer(shop, at(20)))
    assert set(rows) == {Liquid.ETHANOL, Liquid.METHANOL}
    most = all_at_once_ppm(30.0)
    assert 0.7 * most < rows[Liquid.METHANOL].peak_ppm < most


def test_of_a_mix_only_what_its_coat_takes_is_in_the_air(opened, at):
    """20 ml are the mix that due tells: 15 ml/m2, a tenth lost, and the pad's 10 ml are used."""
    shop = opened(ROOM)
    lay_first_coat(shop, NOW, amount_ml=20.0)
    most = all_at_once_ppm(15 * 0.1 / 0.9 + 10)
    peak_ppm = by_liquid(vapour_answer(shop, at(20)))[Liquid.METHANOL].peak_ppm
    assert 0.85 * most < peak_ppm < most


def test_an_entered_methanol_share_takes_the_place_of_the_high_one(opened, at):
    """With 5 % methanol the share of the limits falls, and nothing is said of planning high."""
    unread = opened(ROOM)
    lay_first_coat(unread, NOW, amount_ml=20.0)
    high = vapour_answer(unread, at(5))
    read = opened(ROOM + "alcohol: {strength: 95 %vol, methanol: 5 %}\n")
    low = vapour_answer(read, at(5))
    assert "50 % of methanol" in high.planned[0]
    assert low.planned == ()
    assert low.rooms[0].now < high.rooms[0].now / 4


def test_a_jar_of_ethanol_holds_no_methanol(opened, at):
    """The lot that a batch drew on decides, not the product's usual thinner."""
    shop = opened(ROOM)
    log_stock(shop, Bought("ethanol", amount_ml=1000.0, name="can"), NOW)
    log_stock(shop, Bought("shellac-dewaxed-blonde", amount_g=500.0, name="tin"), NOW)
    mixed = Mixed("jar 1", 250.0, cut_g_per_l=240.0, lots=("tin", "can"))
    log_stock(shop, mixed, NOW)
    lay_first_coat(shop, at(1), amount_ml=20.0, batch="jar 1")
    assert set(by_liquid(vapour_answer(shop, at(5)))) == {Liquid.ETHANOL}


def test_it_fades_and_an_undo_takes_it_back(opened, at):
    """Two hours later there is less; after the undo there is none of it."""
    shop = opened(ROOM)
    lay_first_coat(shop, NOW, amount_ml=20.0)
    now, later = (vapour_answer(shop, at(minutes)).rooms[0].now for minutes in (5, 125))
    assert 0 < later < now
    log_entry(shop, Entry(What.UNDO, "lid"), at(126))
    assert vapour_answer(shop, at(126)).rooms[0].now == 0


def test_the_line_is_quiet_below_and_loud_above_the_limits(opened, at):
    """Nothing without vapour; a share and the day's most below; a mark and a time above."""
    quiet = opened(ROOM)
    assert vapour_answer(quiet, NOW).line == ""
    lay_first_coat(quiet, NOW, amount_ml=20.0)
    assert vapour_answer(quiet, at(5)).line.startswith("vapour ")
    loud = opened(SMALL)
    answer = vapour_answer(loud, at(5))
    assert answer.rooms[0].over
    assert answer.line.startswith("! vapour")
    assert "open up" in answer.line
    clear_at = answer.rooms[0].clear_at
    assert vapour_answer(loud, clear_at + timedelta(minutes=1)).rooms[0].now <= 1


def test_a_coat_without_an_amount_counts_by_the_schedule(opened, at):
    """What nobody measured is counted all the same, and said."""
    shop = opened(ROOM)
    lay_first_coat(shop, NOW)
    answer = vapour_answer(shop, at(5))
    assert answer.rooms[0].now > 0
    assert any("have no amount" in words for words in answer.assumptions)


def test_before_a_coat_it_says_what_would_help(opened):
    """In a cupboard of a room a coat passes the limit: air, a wait, or less at once."""
    shop = opened(SMALL.replace("3 m3,", "0.6 m3,"))
    lay_first_coat(shop, NOW - timedelta(hours=3), amount_ml=3.0)
    coat = before_coat(shop, "lid", NOW)
    assert coat.passes
    assert coat.peak > 1
    assert "of the vapour limits" in coat.line
    assert coat.helps
    assert "worse" in coat.mind
    assert "data sheet" in coat.deferral


def test_before_a_coat_that_is_no_trouble_it_is_silent(opened):
    """A small coat in a room with air: no line, nothing to do."""
    shop = opened(ROOM)
    lay_first_coat(shop, NOW - timedelta(hours=3), amount_ml=1.0)
    coat = before_coat(shop, "lid", NOW)
    assert not coat.passes
    assert (coat.line, coat.helps) == ("", ())


def test_a_step_without_solvent_has_no_vapour(opened):
    """Sanding is no coat."""
    shop = opened(ROOM)
    assert before_coat(shop, "body", NOW) is None


def test_mixing_a_jar_loses_a_little(opened, at):
    """A hundredth of its alcohol, and what it came from is named."""
    shop = opened(ROOM)
    log_stock(shop, Mixed("jar 1", 250.0, cut_g_per_l=240.0, product="shellac-dewaxed-blonde"), NOW)
    answer = vapour_answer(shop, at(1))
    assert answer.rooms[0].from_what == ("mixing jar 1",)
    grams = 250 * 0.834 * 0.95 * 0.79 / 2 / 100
    ppm = by_liquid(answer)[Liquid.METHANOL].peak_ppm
    assert ppm == pytest.approx(grams * 24.45 / 32.04 / 1000 / 30 * 1e6, rel=0.1)


def test_work_is_counted_in_the_room_that_it_is_done_in(opened, at):
    """A room for sanding hears nothing of the pad in the other."""
    shop = opened(
        "rooms:\n  - {room: dust, for: [sand], volume: 20 m3}\n"
        "  - {room: finishing, volume: 30 m3, air_flow: 30 m3/h}\n"
    )
    lay_first_coat(shop, NOW, amount_ml=20.0)
    dust, finishing = vapour_answer(shop, at(5)).rooms
    assert (dust.name, dust.now) == ("dust", 0)
    assert finishing.now > 0


def test_clock_of_the_budget_is_the_day_of_the_shop(opened, at):
    """Yesterday's peak is not today's: the day begins at the shop's own midnight."""
    shop = opened(ROOM)
    lay_first_coat(shop, NOW, amount_ml=20.0)
    tomorrow = vapour_answer(shop, at(24 * 60))
    today = vapour_answer(shop, at(5))
    assert tomorrow.rooms[0].peak < today.rooms[0].peak / 5
    assert 0 <= (today.rooms[0].peak_at - NOW).total_seconds() < HOUR_S


def test_a_day_of_25_hours_is_whole(opened):
    """On the day that clocks go back, what is used in its last hour counts as that day's."""
    shop = opened(ROOM)
    # 23:50 in Lisbon, whose 25 October 2026 began at 23:00 UTC of the day before.
    late = datetime(2026, 10, 25, 23, 50, tzinfo=UTC)
    lay_first_coat(shop, late - timedelta(minutes=10), amount_ml=20.0)
    room = vapour_answer(shop, late).rooms[0]
    assert room.now > 0
    assert room.peak >= room.now
    assert room.peak_at > late - timedelta(minutes=30)


def test_each_way_that_it_names_does_help(opened):
    """While the air is below its limit a flow is named; once it is over, a window and a wait."""
    shop = opened("rooms: [{room: shop, volume: 4 m3, air_flow: 4 m3/h, mixing: 1}]\n")
    lay_first_coat(shop, NOW - timedelta(hours=1), amount_ml=7.0)
    below = before_coat(shop, "lid", NOW)
    assert below.passes
    assert below.flow_m3_per_h > 4
    assert below.helps[0].startswith("open up: ")
    assert "of fresh air instead of 4 m3/h" in below.helps[0]
    over = before_coat(shop, "lid", NOW - timedelta(minutes=55))
    assert over.flow_m3_per_h is None
    assert over.helps[0].startswith("open up first, and wait ")
    assert over.wait_s > 0
    assert before_coat(shop, "lid", NOW + timedelta(seconds=over.wait_s)).peak <= 1


def test_what_will_pass_the_limits_is_told_before_it_does(opened, at):
    """A coat just laid that will fill the room is told with when, though the air is good yet."""
    shop = opened(ROOM)
    lay_first_coat(shop, NOW, amount_ml=400.0)
    soon = vapour_answer(shop, at(1))
    assert not soon.rooms[0].over
    assert soon.rooms[0].ahead
    assert soon.line.startswith("! vapour will be")
    over = vapour_answer(shop, soon.rooms[0].peak_at)
    assert over.rooms[0].over
    assert not over.rooms[0].ahead


SPIRITED = """\
schedule: two-coats
title: Spirited off
source: common practice
stages:
  - stage: body
    steps:
      - sand: with the grain
        grade: P180
      - spirit off: straight strokes
        product: ethanol
"""


def test_a_pass_of_spirit_of_which_nobody_says_how_much_counts_as_assumed(opened, folder, at):
    """15 ml a square metre on the lid's 0.1 m2 (our assumption) are 1.5 ml, as if measured."""
    (folder / "schedules" / "two-coats.yaml").write_text(SPIRITED)
    shop = opened(ROOM)
    lay_first_coat(shop, NOW)
    assumed = by_liquid(vapour_answer(shop, at(5)))[Liquid.ETHANOL].now_ppm
    log_entry(shop, Entry(What.UNDO, "lid"), NOW)
    log_entry(shop, Entry(What.DONE, "lid", at=NOW, amount_ml=1.5), NOW)
    measured = by_liquid(vapour_answer(shop, at(5)))[Liquid.ETHANOL].now_ppm
    assert assumed == pytest.approx(measured)
    assert assumed > 0


BRUSHED = """\
schedule: two-coats
title: Brushed
source: common practice
stages:
  - stage: body
    steps:
      - sand: with the grain
        grade: P180
      - brush: flow on
        product: oil-varnish
        amount: 80 ml/m2
"""


@pytest.mark.parametrize(("thinned", "spirits_ml"), [("", 6.25), ("        thinned: 20 %\n", 7.0)])
def test_what_a_varnish_is_thinned_with_is_in_the_air_too(opened, folder, thinned, spirits_ml):
    """Of 10 ml laid 5/8 are spirits (its document); thinned by a fifth 5 ml and 2 ml (by hand)."""
    (folder / "schedules" / "two-coats.yaml").write_text(BRUSHED + thinned)
    shop = opened("rooms: [{room: shop, volume: 30 m3, air_flow: 0 m3/h}]\n")
    lay_first_coat(shop, NOW, amount_ml=10.0)
    row = by_liquid(vapour_answer(shop, NOW + timedelta(hours=48)))[Liquid.MINERAL_SPIRITS]
    (part,) = parts_of_liquid(Liquid.MINERAL_SPIRITS, ml=spirits_ml)
    assert row.now_ppm == pytest.approx(1e6 * vapour_m3(part) / 30.0, rel=1e-3)

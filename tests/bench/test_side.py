"""What stands beside the pieces: what to do now, vapour, rags, cautions, findings."""

from dataclasses import replace
from datetime import timedelta

import pytest
from fakes import CAUTIONS, HOUR, NOW, ZONE, Clocks, FakeDoor, FakePiece, bench, pad
from real_shop import advised_on, shown, until

from finishsched.bench import words
from finishsched.bench.at_hand.side import (
    LOOKING,
    NOTHING_NOW,
    Side,
    findings_of,
    now_words,
    rags_words,
    side_of,
)
from finishsched.bench.widgets.large import Large
from finishsched.bench.widgets.piece_list import PieceList
from finishsched.bench.widgets.side_strip import SideStrip
from finishsched.checking.registry import RULES
from finishsched.checking.rule import Finding, Found
from finishsched.safety.cautions import FLAMMABLE_VAPOUR, SELF_HEATING_RAGS, Caution, Danger
from finishsched.workshop.base.answers import Later, State
from finishsched.workshop.base.entries import Entry, What
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.plan.memory import recall
from finishsched.workshop.plan.what_now import Suggestion, WhatNow, what_now
from finishsched.workshop.safety.cautions_today import caution_hash
from finishsched.workshop.views.views import bench_view, piece_view

SIZES = [(60, 20), (80, 24), (120, 40)]
BEST = Suggestion("a/a", pad(2), "Ana", NOW, 14, None, check_first=True)
HERE = WhatNow(("Ana",), NOW + HOUR, None, BEST, None)
TITLES = {"a/a": "A box", "a/b": "A lid"}


def said(found: WhatNow) -> tuple[str, ...]:
    """Return the words for it."""
    return now_words(found, TITLES, NOW, ZONE)


def one_bench(side: Side, **facts: object):
    """Return a bench on one piece with something beside it."""
    app = bench(FakeDoor([FakePiece("a/a", "A box", **facts)]))  # type: ignore[arg-type]
    app.beside.side = side
    return app


CAUTIONS_OF_THE_TRADE = (
    FLAMMABLE_VAPOUR,
    SELF_HEATING_RAGS,
    "Dust of cherry can bring on asthma: a P3 or P100 mask, and extraction.",
    "Open a window and move air through; the air at the pad is worse than in the room.",
)


@pytest.mark.parametrize("caution", CAUTIONS_OF_THE_TRADE)
async def test_a_caution_is_whole_on_the_lowest_screen(caution: str) -> None:
    """At 40x12 the large letters make room for it; keys, row and what to do stay in sight.

    It ended in an ellipsis: "heavier than ai …" tells nobody what not to do.
    """
    app = one_bench(Side(rags=rags_words(["Wiping varnish"]), now=("now: Kay, A box: pad, 3 min",)))
    only = (Caution(Danger.FIRE, caution),)
    async with app.run_test(size=(40, 12)) as pilot:
        await until(pilot, lambda: "logs where" in shown(app))
        large = app.screen.query_one(Large)
        sheet = large.facts.piece.sheet._replace(cautions=only)
        large.show(replace(large.facts, piece=large.facts.piece._replace(sheet=sheet)))
        await until(pilot, lambda: caution in " ".join(shown(app).replace("▌", " ").split()))
        text = shown(app)
        assert "…" not in text.partition("\n")[2].partition("now: ")[0]
        assert "! rags can catch fire" in text
        assert "space next" in text
        assert "› " in text


async def test_when_and_how_long_are_never_cut_off():
    """What is longer than a line has a second one at 80x24, and at 40x12 the shorter beginning."""
    text = "Kay, Lid and 4 x Side: dry check, then pad coat 2 of 2 from 20:12, 13 min"
    app = one_bench(Side(now=(f"begin within 15 min: {text}",)))
    async with app.run_test(size=(80, 24)) as pilot:
        await until(pilot, lambda: "begin within" in shown(app))
        assert text in " ".join(shown(app).split())
    app = one_bench(Side(now=("begin within 15 min: Kay, Lid: tack off, 3 min",)))
    async with app.run_test(size=(40, 12)) as pilot:
        await until(pilot, lambda: "now: Kay, Lid: tack off, 3 min" in shown(app))


def test_what_lasts_longer_than_the_time_is_only_begun_in_it():
    """Filling takes 23 min and is the thing to begin: the line names no time that all of it has."""
    best = replace(HERE.best, minutes=23)
    (line,) = said(replace(HERE, best=best))
    assert line.startswith("begin within 15 min: ")
    assert line.endswith("23 min")


def test_what_to_do_now_is_one_sentence():
    """It names the piece, the check that comes first, the step and how long it takes."""
    assert said(HERE) == ("begin within 15 min: A box: dry check, then pad coat 2 of 6, 14 min",)


def test_what_the_plan_has_another_day_is_offered_as_that():
    """Ready work is named tonight, and the plan that has it tomorrow is not contradicted."""
    tomorrow = replace(BEST, planned_at=NOW + 24 * HOUR, hours_end=NOW + HOUR)
    assert said(replace(HERE, best=tomorrow))[0].endswith(", 14 min (planned for Thu 18:42)")
    tonight = replace(BEST, planned_at=NOW + HOUR / 2, hours_end=NOW + HOUR)
    assert said(replace(HERE, best=tonight)) == said(HERE)


def test_with_few_minutes_something_shorter_is_named():
    """Where the best takes longer than ten minutes, what does not is told as well."""
    few = Suggestion("a/b", pad(1), "Ana", NOW, 6, None, check_first=False)
    assert said(replace(HERE, if_few=few))[1] == "with ten minutes: A lid: pad coat 1 of 6, 6 min"


def test_with_two_people_it_says_whose_hands():
    """A name is told only where there is a choice."""
    assert said(replace(HERE, hands=("Ana", "Rui")))[0].startswith(
        "begin within 15 min: Ana, A box"
    )


def test_why_a_piece_is_left_for_later_names_others_by_their_titles(demo):
    """The bench shows no names of documents: the tray waits for the frame, as its row is called."""
    later = side_of(demo, NOW).later["tea-chest/tray"]
    assert "Frame" in later.why
    assert "games-panel/" not in later.why
    called = {"a/a-1": "Lid 1", "a/a-1 and 2": "2 x Lid"}
    assert words.titled("dust is settling from a/a-1 and 2", called).endswith("from 2 x Lid")


def test_what_begins_later_says_when():
    """A wait that ends in five minutes is named with its time."""
    later = replace(BEST, start=NOW + timedelta(minutes=5))
    assert "from 18:47" in said(replace(HERE, best=later))[0]


def test_after_hours_it_says_when_the_next_are():
    """Nobody is sent to work at night, but who is there all the same is told what there is."""
    found = WhatNow((), None, NOW + 2 * HOUR, BEST, None)
    assert said(found)[0].startswith("after hours, next 20:42: A box")
    assert said(replace(found, best=None)) == ("no hours until 20:42",)


def test_nothing_to_begin_is_said():
    """Silence could be a fault; a sentence cannot."""
    assert said(replace(HERE, best=None)) == ("in the next 15 min: nothing can be begun",)


def test_cautions_read_today_are_told_apart():
    """What was read is only named, by what it guards against; the rest stays whole."""
    side = Side(read=frozenset({caution_hash(CAUTIONS[0]), caution_hash(CAUTIONS[2])}))
    assert side.unread(CAUTIONS) == (CAUTIONS[1],)
    assert side.read_words(CAUTIONS) == "read today, and they still hold: fire, rags"
    assert Side().unread(CAUTIONS) == CAUTIONS
    assert Side().read_words(CAUTIONS) == ""


def test_rags_are_named_by_their_products():
    """One line for all, none for none."""
    assert rags_words(["Tung oil", "Wax"]) == "rags can catch fire by themselves: Tung oil, Wax"
    assert rags_words([]) == ""


@pytest.mark.parametrize("size", SIZES)
async def test_rags_and_vapour_over_a_limit_show_at_every_size(size):
    """What can hurt is on the board whatever the screen, with the key that deals with it."""
    side = Side(
        now=said(HERE),
        vapour="! vapour 130 % of the limits: open up",
        rags=rags_words(["Tung oil"]),
    )
    app = one_bench(side)
    async with app.run_test(size=size) as pilot:
        await until(pilot, lambda: "logs where" in shown(app))
        text = shown(app)
        assert "! rags can catch fire by themselves: T" in text
        assert "; r logs where" in text
        assert "! vapour 130 % of the limits: open up" in text
        assert "begin within 15 min: A box" in text


async def test_the_quiet_line_gives_way_on_a_low_screen():
    """Below its limits the vapour is a line where there is room, and on the sheet always."""
    side = Side(vapour="vapour 8 % of the limits, most today 9 % at 17:10")
    for size, is_there in (((80, 24), True), ((60, 20), False)):
        app = one_bench(side)
        async with app.run_test(size=size) as pilot:
            await pilot.pause()
            strip = app.screen.query_one(SideStrip)
            assert strip.display is is_there
            assert "vapour 8 %" in app.screen.query_one("SheetText").drawn.plain


async def test_read_cautions_leave_the_large_field_and_are_named_on_the_sheet():
    """Once read today a caution is short; one that is new stands out in full."""
    read_first = Side(read=frozenset({caution_hash(CAUTIONS[0])}))
    app = one_bench(read_first)
    async with app.run_test(size=(80, 40)) as pilot:
        await pilot.pause()
        urgent = app.screen.query_one("#large").drawn.plain
        assert "Flammable vapour" not in urgent
        assert "! Open a window" in urgent
        sheet = app.screen.query_one("SheetText").drawn.plain
        assert "read today, and they still hold: fire" in sheet
        assert "data sheet" in sheet


@pytest.mark.parametrize("size", SIZES)
async def test_a_coat_that_would_pass_a_limit_is_warned_of_first(size):
    """The warning stands in the large field before any other caution, and says what helps."""
    warning = "this coat would bring the room to 140 % of the vapour limits; open up"
    app = one_bench(Side(before={"a/a": (warning, "the air at the pad is worse")}))
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        text = " ".join(app.screen.query_one("#large").drawn.plain.split())
        assert f"! {warning}" in text


async def test_findings_are_on_the_sheet_and_on_the_page_why():
    """What the rules find in the running schedule is told with its remedy and its code."""
    found = Finding(RULES["grade-skipped"], Found((), "one face is worked", "give both the same"))
    app = one_bench(Side(), laid_at=NOW)
    app.beside.findings = {"a/a": (found,)}
    async with app.run_test(size=(80, 40)) as pilot:
        await pilot.pause()
        assert "one face is worked; give both the same" in " ".join(
            app.screen.query_one("SheetText").drawn.plain.split()
        )
        await pilot.press("w")
        text = " ".join(paragraph.text for paragraph in app.screen.paragraphs)
        assert "one face is worked; give both the same" in text
        assert "finishsched check --explain grade-skipped" in text


def test_a_real_shop_answers_all_of_it(demo):
    """On the demo shop there is something to do, vapour, open rags, and something was read."""
    side = side_of(demo, NOW)
    assert side.now[0]
    assert "of the limits" in side.vapour
    assert "Wiping varnish" in side.rags
    assert side.read
    found = findings_of(demo, NOW)
    assert set(found) == {piece.ref for piece in bench_view(demo, NOW).pieces if piece.log}
    assert "tea-chest/tray" not in found  # it is not begun


async def test_the_board_follows_every_entry(demo: Workshop):
    """What was worked out in the back room shows, and is worked out anew after an entry."""
    clocks = Clocks()
    app = advised_on(demo, clocks)
    async with app.run_test(size=(80, 30)) as pilot:
        await until(pilot, lambda: app.beside.side.now)
        await until(pilot, lambda: "r logs where" in shown(app))
        await until(pilot, lambda: recall(demo.folder))
        await until(pilot, lambda: app.beside.side.now == side_of(demo, NOW).now)
        named = app.beside.side.now
        best = what_now(demo, NOW).best
        assert best is not None
        if piece_view(demo, best.ref, NOW).state is State.NOT_BEGUN:
            app.entries.hand_in(Entry(What.START, best.ref), "begun")
        done = What.READY if best.check_first else What.DONE
        app.entries.hand_in(Entry(done, best.ref), "logged")
        await until(pilot, lambda: app.beside.side.now != named)


async def test_the_first_plan_is_made_unasked_and_never_replaced(demo: Workshop):
    """A shop without a plan gets one for what to do now; one that is there is left alone."""
    plans = []
    for app in (advised_on(demo, Clocks()), advised_on(demo, Clocks())):
        async with app.run_test() as pilot:
            await until(pilot, lambda bench=app: bench.beside.side.now and recall(demo.folder))
            await pilot.pause(0.2)
        plans.append(recall(demo.folder))
    assert plans[0] == plans[1]


@pytest.mark.parametrize("size", [(40, 12), (60, 20), (80, 24)])
async def test_what_is_left_for_later_is_large_as_that(size) -> None:
    """Beside "nothing can be begun" no large letters say to do; the row agrees, the key still logs.

    The strip names its reason only while another piece is large.
    """
    later = Later("its 10 coats wait for hours in which they go in one sitting", NOW + HOUR)
    left = ("a/a", f"A box: {later.why}, until 19:42")
    side = Side((NOTHING_NOW,), later={"a/a": later}, left=left)
    door = FakeDoor([FakePiece("a/a", "A box"), FakePiece("a/b", "A lid", laid_at=NOW)])
    app = bench(door)
    app.beside.side = side
    async with app.run_test(size=size) as pilot:
        app.choosing.choose("a/a")
        app.repaint()
        await until(pilot, lambda: app.screen.query_one(Large).facts.piece.ref == "a/a")
        large = app.screen.query_one(Large)
        assert "one sitting" in " ".join(large.drawn.plain.split())
        assert "to do" not in large.drawn.plain
        row = app.screen.query_one(PieceList).drawn_row(0).plain
        assert row.startswith(("› . later", "› .")[size[0] < 50])
        assert row.endswith("in 1 h 00")
        assert "10 coats" not in app.screen.query_one(SideStrip).drawn.plain
        await pilot.press("space")
        assert [entry.piece for entry in door.entries] == ["a/a"]


async def test_what_is_left_for_later_stands_below_what_wants_hands_now() -> None:
    """As due tells it: a piece whose sitting waits for Saturday is no second row tonight."""
    pieces = [FakePiece(f"a/{name}", name) for name in ("case", "lid", "tray")]
    app = bench(FakeDoor([*pieces, FakePiece("a/wet", "wet", laid_at=NOW)]))
    later = {"a/case": Later("its coats wait for one sitting", NOW + HOUR)}
    app.beside.side = Side(first="a/lid", later=later)
    async with app.run_test() as pilot:
        await until(pilot, lambda: app.choosing.rows[:3] == ("a/lid", "a/tray", "a/case"))
        assert app.choosing.rows[3] == "a/wet"


async def test_after_an_entry_what_to_do_now_is_not_told_as_it_was_before(demo: Workshop) -> None:
    """Until it is known what comes next, three dots stand there, never what was just done."""
    clocks = Clocks()
    app = advised_on(demo, clocks)
    async with app.run_test(size=(80, 30)) as pilot:
        await until(pilot, lambda: app.beside.side.now)
        piece = next(one for one in app.desk.view.pieces if one.state is State.TO_DO)
        app.entries.hand_in(Entry(What.DONE, piece.ref), "logged")
        assert app.beside.side.now == (LOOKING,)
        await until(pilot, lambda: app.beside.side.now != (LOOKING,))

"""Rags logged with two keys, the handbook with one."""

import pytest
from fakes import NOW, Clocks, bench, said
from real_shop import advised_on, bench_on, shown, until

from finishsched.bench.at_hand.side import side_of
from finishsched.bench.pages.handbook_pages import next_card
from finishsched.bench.screens.board import Board
from finishsched.bench.screens.choice import SIGNS, ChoiceCard
from finishsched.bench.screens.form import FormCard
from finishsched.journal import events
from finishsched.workshop.base.entries import Entry, What
from finishsched.workshop.papers.handbook import GROUPS, METRIC, page, topic_of, topics
from finishsched.workshop.safety.rags import open_rags, rags_dealt_with
from finishsched.workshop.views.views import piece_view


def where_they_went(workshop) -> list[str]:
    """Return every place that was logged."""
    every = workshop.every_event()
    return [e.what.where for e in every if isinstance(e.what, events.RagsDealtWith)]


def live_rags(workshop) -> list[str]:
    """Return every place that counts."""
    live = workshop.book().live(None)
    return [e.what.where for e in live if isinstance(e.what, events.RagsDealtWith)]


@pytest.mark.parametrize(
    ("key", "where"),
    [("1", "flat outdoors in one layer"), ("2", "under water in a closed metal can")],
)
async def test_two_keys_log_where_the_rags_went(demo, key, where):
    """The reminder goes at once, and the journal has the place."""
    app = advised_on(demo, Clocks())
    async with app.run_test(size=(80, 30)) as pilot:
        await until(pilot, lambda: app.beside.side.rags)
        before = where_they_went(demo)
        await pilot.press("r")
        text = shown(app)
        assert "Wiping varnish" in text
        assert "data sheet" in text
        assert not any(piece.ref in text for piece in app.desk.view.pieces)
        await pilot.press(key)
        await pilot.pause()
        assert isinstance(app.screen, Board)
        assert where_they_went(demo) == [*before, where]
        await until(pilot, lambda: app.beside.side.rags == "")
        assert not open_rags(demo, NOW).rags


class Held:
    """Stands in for a back room that answers when it is told to."""

    def __init__(self) -> None:
        self.sides = []

    def ask(self, name, _question, answered, _failed):
        """Take a question, and keep what to tell its answer."""
        if name == "side":
            self.sides.append(answered)


async def test_what_was_asked_before_the_rags_went_does_not_bring_the_reminder_back(demo):
    """An answer that was long in the making knows nothing of an entry made meanwhile."""
    app, held = bench_on(demo, Clocks()), Held()
    async with app.run_test():
        app.beside.begin(held)
        before = side_of(demo, NOW)
        assert before.rags
        app.rags.log("flat outdoors in one layer")
        asked_before, asked_since = held.sides
        asked_before(before)
        assert app.beside.side.rags == ""
        asked_since(side_of(demo, NOW))
        assert app.beside.side == side_of(demo, NOW)


async def test_the_key_for_undo_takes_the_later_of_rags_and_coat(demo):
    """Coat, rags, coat: three times undo takes them back from the last to the first."""
    app = advised_on(demo, Clocks(), alone=True)
    slope = "letter-box/slope"
    app.choosing.choose(slope)
    async with app.run_test(size=(80, 30)) as pilot:
        coats, rags = len(demo.book().live(slope)), where_they_went(demo)
        app.entries.hand_in(Entry(What.NOTE, slope, text="one"), "logged")
        await pilot.press("r", "1")
        await pilot.pause()
        assert "u takes it back" in said(app)[-1]
        app.entries.hand_in(Entry(What.NOTE, slope, text="two"), "logged")
        for notes, places in ((1, 1), (1, 0), (0, 0)):
            await pilot.press("u")
            await pilot.pause()
            assert len(demo.book().live(slope)) == coats + notes
            assert len(live_rags(demo)) == len(rags) + places
            assert ("the reminder is back" in said(app)[-1]) is ((notes, places) == (1, 0))


async def test_undo_leaves_rags_that_were_not_logged_last_here(demo):
    """An entry on any piece since, here or elsewhere, is what the key is for."""
    app = advised_on(demo, Clocks(), alone=True)
    slope = "letter-box/slope"
    app.choosing.choose(slope)
    async with app.run_test(size=(80, 30)) as pilot:
        app.entries.hand_in(Entry(What.NOTE, slope, text="one"), "logged")
        await pilot.press("r", "2")
        await pilot.pause()
        app.entries.hand_in(Entry(What.NOTE, "tea-chest/lid", text="another piece"), "logged")
        await pilot.press("u")
        await pilot.pause()
        assert live_rags(demo)[-1:] == ["under water in a closed metal can"]
        assert demo.book().live(slope)[-1].what != events.Noted("one")


async def test_another_place_is_written_in_words(demo):
    """The third line opens a form, which needs words."""
    app = advised_on(demo, Clocks(), alone=True)
    async with app.run_test() as pilot:
        await pilot.press("r", "3")
        assert isinstance(app.screen, FormCard)
        await pilot.press("enter")
        assert isinstance(app.screen, FormCard)
        await pilot.press(*"burnt", "enter")
        await pilot.pause()
        assert isinstance(app.screen, Board)
        assert where_they_went(demo)[-1] == "burnt"


async def test_with_no_rags_about_it_says_so(demo):
    """Nothing can be logged that is not there."""
    rags_dealt_with(demo, "flat outdoors", NOW)
    app = advised_on(demo, Clocks(), alone=True)
    async with app.run_test() as pilot:
        await pilot.press("r")
        assert "No rags are open" in shown(app)
        await pilot.press("1", "escape")
        assert len(where_they_went(demo)) == 1


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)])
async def test_one_key_opens_the_page_of_the_step(demo, size):
    """The handbook opens on what the hands are doing, and a digit reads on."""
    app = advised_on(demo, Clocks(), alone=True)
    app.choosing.choose("tea-chest/lid")
    step = piece_view(demo, "tea-chest/lid", NOW).step
    async with app.run_test(size=size) as pilot:
        await pilot.press("h")
        assert isinstance(app.screen, ChoiceCard)
        first = page(topic_of(step))
        assert first.title in shown(app)
        await pilot.press("1")
        await pilot.pause()
        assert page(first.see_also[0]).title in shown(app)
        await pilot.press("escape")
        await pilot.pause()
        assert isinstance(app.screen, Board)


async def test_every_topic_is_three_keys_away():
    """From the page: every topic, its group, the topic; without a piece the list opens."""
    app = bench()
    async with app.run_test() as pilot:
        app.choosing.choose("frame/frame")  # finished: no step in hand
        await pilot.press("h")
        assert "The handbook" in shown(app)
        await pilot.press("4")
        await pilot.pause()
        assert page(GROUPS["what can hurt"][0]).title in shown(app)
        await pilot.press("2")
        await pilot.pause()
        assert page(GROUPS["what can hurt"][1]).title in shown(app)


@pytest.mark.parametrize("topic", topics())
def test_every_page_leads_on(topic):
    """Each page's choices lead to a card, and none has more lines than there are keys."""
    card = next_card(f"topic:{topic}", METRIC)
    assert card.before
    for _, choice in card.choices:
        assert next_card(choice.answer, METRIC).choices
    assert len(card.choices) <= len(SIGNS)


def test_every_topic_is_in_a_list_that_has_keys_enough():
    """No list of topics is longer than its keys."""
    for group, held in GROUPS.items():
        assert len(next_card(f"group:{group}", METRIC).choices) == len(held) + 1

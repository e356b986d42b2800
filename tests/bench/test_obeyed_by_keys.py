"""Whoever does by the keys what is named does what the plan has first, and logs just that."""

from datetime import datetime, timedelta
from pathlib import Path

import pytest
from fakes import MINUTE, Clocks
from real_shop import Hands, bench_on, make_shop

from finishsched.bench.at_hand.next_thing import next_thing
from finishsched.bench.words import plain
from finishsched.journal.events import DryReady, PieceStarted, StepDone
from finishsched.workshop.base.answers import State
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.plan.answers import PlannedStep
from finishsched.workshop.plan.plans import Asked, plan_answer
from finishsched.workshop.plan.what_now import Suggestion, WhatNow, what_now
from finishsched.workshop.stock.shop_stock import shop_stock
from finishsched.workshop.views.views import bench_view, due_answer

SCHEDULE = "quick-shellac-insides"
PRESSES = 14
QUARTER = 15 * MINUTE
SECOND = timedelta(seconds=1)


async def test_letters_plan_and_key_are_one(tmp_path: Path) -> None:
    """At each press the letters name what now names, the plan has first, and the key logs."""
    clocks = Clocks()
    shop = make_shop(tmp_path / "shop", {"tray": SCHEDULE, "lid": SCHEDULE})
    with Workshop.open(shop, clocks.wall) as workshop:
        plan_answer(workshop, clocks.wall, Asked(keep=True, insight=False))
        app = bench_on(workshop, clocks)
        async with app.run_test() as pilot:
            await pilot.pause()
            hands = Hands(app, pilot, clocks)
            for _ in range(PRESSES):
                found = what_now(workshop, clocks.wall)
                if found.best is None or not found.hands:
                    hands.pass_time(_free_at(found) - clocks.wall)
                    continue
                await _obey(workshop, hands, found.best)
            steps = {piece.steps_done for piece in bench_view(workshop, clocks.wall).pieces}
            assert max(steps) > 1


def _free_at(found: WhatNow) -> datetime:
    """Return when something is said to come free."""
    times = [each.until for each in found.held if each.until is not None]
    return min(times if found.hands else [*times, *filter(None, [found.next_hours])]) + SECOND


async def _press(hands: Hands, state: State) -> None:
    """Press what does the next thing, at once, and let its minutes go by."""
    if state not in (State.TO_DO, State.NOT_BEGUN):
        hands.wait_until_likely()
    keys = {State.TO_DO: ("space",), State.NOT_BEGUN: ("space", "y")}.get(state, ("space", "r"))
    for key in keys:
        await hands.pilot.press(key)
        await hands.pilot.pause()
    hands.pass_time(2 * MINUTE)


def _planned(workshop: Workshop, now: datetime) -> tuple[PlannedStep, ...]:
    return plan_answer(workshop, now, Asked(insight=False)).steps


async def _obey(workshop: Workshop, hands: Hands, best: Suggestion) -> None:
    """Do by the key what is named, and hold letters, plan and entry against it."""
    now = hands.clocks.wall
    hands.app.choosing.choose(best.ref)
    hands.app.repaint()
    piece, state = hands.piece, hands.piece.state
    planned = [one for one in _planned(workshop, now) if one.person]
    # Within the quarter of an hour that is asked about; a dry check before it is in no plan.
    first = [one for one in planned if one.start <= now + QUARTER]
    assert not first or best.ref in {one.ref for one in first}
    if state in (State.TO_DO, State.NOT_BEGUN):
        assert piece.step is not None
        assert piece.step.key == best.step.key
        assert plain(best.step.title) in next_thing(piece, now, workshop.zone).sentence
        shown = next(one for one in due_answer(workshop, now).at_hand if one.ref == best.ref)
        assert shown.sheet == piece.sheet
    before = workshop.book().last_seq
    await _press(hands, state)
    new = [event for event in workshop.book().live(best.ref) if event.seq > before]
    kind = {State.TO_DO: StepDone, State.NOT_BEGUN: PieceStarted}.get(state, DryReady)
    (entry,) = (event.what for event in new if isinstance(event.what, kind))
    if isinstance(entry, StepDone):
        assert entry.step == best.step.key


async def test_one_key_takes_from_the_jar_that_its_sheet_names(tmp_path: Path) -> None:
    """What is mixed by m is the jar shown; the coat that space logs draws from it as told."""
    clocks = Clocks()
    shop = make_shop(tmp_path / "shop", {"tray": SCHEDULE})
    with Workshop.open(shop, clocks.wall) as workshop:
        app = bench_on(workshop, clocks)
        async with app.run_test() as pilot:
            await pilot.pause()
            hands = Hands(app, pilot, clocks)
            while hands.piece.sheet is None or not hands.piece.sheet.coats_ml:
                await _press(hands, hands.piece.state)
            before = hands.piece.sheet
            await pilot.press("m", "enter")
            await pilot.pause()
            sheet, made_ml = hands.piece.sheet, _left_ml(workshop, clocks)
            assert (sheet.jar_name, sheet.takes) == ("jar 1", before.takes)
            assert made_ml == pytest.approx(before.makes_ml, rel=0.02)
            await _press(hands, State.TO_DO)
            assert _left_ml(workshop, clocks) == pytest.approx(made_ml - sheet.coats_ml[0])
            await pilot.press("u", "y")
            await pilot.pause()
            assert _left_ml(workshop, clocks) == made_ml


def _left_ml(workshop: Workshop, clocks: Clocks) -> float:
    return shop_stock(workshop, clocks.wall).batches[0].batch.left_ml

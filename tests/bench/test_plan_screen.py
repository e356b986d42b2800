"""The plan on the bench: worked out in the back room, read day by day, never swapped unasked."""

from dataclasses import replace
from datetime import timedelta

import pytest
from fakes import NOW, Clocks, bench, said
from real_shop import advised_on, shown, until

from finishsched.bench.screens.board import Board
from finishsched.bench.screens.plan import DAYS, PlanFacts, PlanScreen
from finishsched.planning.plan_fault import FaultKind, PlanFault
from finishsched.workshop.base.shown import shown_of
from finishsched.workshop.plan.answers import Better
from finishsched.workshop.plan.memory import recall
from finishsched.workshop.plan.plans import Asked, plan_answer
from finishsched.workshop.plan.pots import PlannedMix
from finishsched.workshop.plan.timeline import timeline_of

SIZES = [(60, 20), (80, 24), (120, 40)]


def facts(workshop, **more):
    """Return the demo's plan as the screen takes it."""
    answer = replace(plan_answer(workshop, NOW, Asked(insight=False)), **more)
    return PlanFacts(answer, timeline_of(answer, DAYS))


def text(app) -> str:
    """Return what the plan says, in one line."""
    return " ".join(app.screen.query_one("#plan-text").drawn.plain.split())


@pytest.mark.parametrize("size", SIZES)
async def test_the_plan_comes_by_itself(demo, size):
    """The screen shows the timeline as soon as there is one, then what is at risk."""
    app = advised_on(demo, Clocks())
    async with app.run_test(size=size) as pilot:
        await pilot.press("p")
        assert isinstance(app.screen, PlanScreen)
        await until(pilot, lambda: app.screen.facts.answer)
        assert "Plan: today, Wed 25 Nov" in shown(app)
        assert "Sunbu" in shown(app)
        assert "█ and letters hands-on" in shown(app)
        await until(pilot, lambda: not app.screen.facts.busy)
        assert app.screen.facts.answer.decides
        assert "at risk" in text(app)
        assert recall(demo.folder) is not None
        await pilot.press("escape")
        assert isinstance(app.screen, Board)


async def test_it_opens_at_once_and_says_what_it_waits_for(demo):
    """Before there is a plan the screen says so, and the way back is there."""
    app = advised_on(demo, Clocks())
    async with app.run_test(size=(80, 24)) as pilot:
        asked = []
        app.behind.room.ask = lambda name, *_: asked.append(name)
        await pilot.press("p")
        assert asked.count("plan") == 1
        await until(pilot, lambda: "planning…" in shown(app))
        assert "esc back" in shown(app)
        await pilot.press("right", "enter", "escape")
        assert isinstance(app.screen, Board)


async def test_the_days_are_turned_and_stop_at_both_ends(demo):
    """Right shows the day after with its work, left goes back, never before today."""
    app = bench()
    async with app.run_test(size=(80, 24)) as pilot:
        screen = PlanScreen()
        app.push_screen(screen)
        await pilot.pause()
        screen.show(facts(demo))
        await pilot.press("right")
        assert "Plan: tomorrow, Thu 26 Nov" in shown(app)
        await pilot.press(*["right"] * (DAYS + 3))
        assert screen.facts.day == DAYS - 1
        await pilot.press(*["left"] * (DAYS + 3))
        assert screen.facts.day == 0
        await pilot.press("down", "up", "q")
        assert isinstance(app.screen, Board)


async def test_the_work_of_the_day_is_told_in_words(demo):
    """Below the rows each piece of work has its time, its hands and its step."""
    found = facts(demo)
    first = next(s for s in found.answer.steps if s.end > s.start)
    app = bench()
    async with app.run_test(size=(80, 60)) as pilot:
        screen = PlanScreen()
        app.push_screen(screen)
        await pilot.pause()
        screen.show(found)
        start = first.start.astimezone(found.answer.zone)
        assert f"{start:%H:%M} {first.person} {first.title}: {first.step.title}" in text(app)


async def test_one_mix_and_clearing_up_stand_under_their_work(demo):
    """Below the first step that is done from it a mix is told once, with all that it serves."""
    plan = facts(demo)
    first = next(step for step in plan.answer.steps if step.end > step.start)
    other = next(step for step in plan.answer.steps if step.ref != first.ref)
    mix = PlannedMix(
        product="epoxy",
        title="Epoxy",
        thinned_percent=None,
        refs=(first.ref, other.ref),
        pieces=(first.ref, other.ref),
        keys=(first.key, other.key),
        begun=first.start,
        done=first.end,
        good_until=first.start + timedelta(minutes=40),
        amount=None,
        by_mass=False,
        shown=shown_of(demo.papers.shop),
    )
    steps = tuple(replace(s, clear_up_min=5 if s is first else 0) for s in plan.answer.steps)
    app = bench()
    async with app.run_test(size=(120, 40)) as pilot:
        screen = PlanScreen()
        app.push_screen(screen)
        await pilot.pause()
        screen.show(replace(plan, answer=replace(plan.answer, mixes=(mix,), steps=steps)))
        await pilot.pause()
        titles = {piece.ref: piece.title for piece in plan.answer.pieces}
        until_words = f"{mix.good_until.astimezone(plan.answer.zone):%H:%M}"
        served = f"one mix, Epoxy, for {titles[first.ref]} and {titles[other.ref]}"
        assert text(app).count(f"{served}: good till {until_words}") == 1
        assert text(app).count("5 min are left to ") == 1


async def test_a_better_plan_is_offered_and_taken_only_on_enter(demo):
    """Enter does nothing without one; with one it asks the app, and nothing moves before that."""
    plain = facts(demo)
    better = Better(plain.answer.plan, plain.answer.score, saves_min=130, less_late_min=0)
    taken = []
    app = bench()
    app.plan.take = taken.append
    async with app.run_test(size=(80, 24)) as pilot:
        screen = PlanScreen()
        app.push_screen(screen)
        await pilot.pause()
        screen.show(plain)
        await pilot.press("enter")
        assert not taken
        screen.show(replace(plain, answer=replace(plain.answer, better=better)))
        assert "a better plan was found: all finished 2 h 10 sooner" in text(app)
        await pilot.press("enter")
        await pilot.pause()
        assert taken == [better]


async def test_faults_and_promises_at_risk_are_told(demo):
    """What cannot be planned and what is likely late stand out with a word and a mark."""
    plain = facts(demo)
    piece = replace(plain.answer.pieces[0], late_odds=0.4, late_draws=200)
    fault = PlanFault(
        next(iter(FaultKind)), ("x",), 0, "the glue-up fits in no hours", "write more"
    )
    risky = replace(plain.answer, pieces=(piece, *plain.answer.pieces[1:]), faults=(fault,))
    app = bench()
    async with app.run_test(size=(80, 60)) as pilot:
        screen = PlanScreen()
        app.push_screen(screen)
        await pilot.pause()
        screen.show(replace(plain, answer=risky))
        assert "fault ! the glue-up fits in no hours; write more" in text(app)
        assert "late in 4 cases of 10" in text(app)
        assert piece.title in text(app)


async def test_a_plan_that_fails_is_told_and_the_bench_goes_on(demo):
    """No plan is not the end of the bench."""
    app = advised_on(demo, Clocks())
    async with app.run_test() as pilot:
        app.behind.room.ask = lambda _name, _question, _answered, failed: failed(
            "no plan came out right"
        )
        await pilot.press("p")
        await until(pilot, lambda: "no plan came out right" in shown(app))
        await pilot.press("escape", "j")
        assert isinstance(app.screen, Board)


async def test_without_a_shop_folder_it_says_so():
    """A bench on something else than a shop refuses in words."""
    app = bench()
    async with app.run_test() as pilot:
        await pilot.press("p")
        assert isinstance(app.screen, Board)
        assert said(app) == ["There is no shop folder to ask."]

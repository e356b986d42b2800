"""The plan follows every entry, says what that moved, and offers a better one without taking it."""

import pytest
from fakes import HOUR, MINUTE, NOW, Clocks, FakeDoor, bench, said, six_pieces
from real_shop import advised_on, late_plan, make_shop, shown, until

from finishsched.bench.at_hand.side import Side, side_of
from finishsched.bench.parts.plan import Plan
from finishsched.bench.screens.board import Board
from finishsched.bench.screens.plan import PlanScreen
from finishsched.planning.exact import WorkerNews
from finishsched.workshop.base.entries import Entry, What
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.log.log import log_entry
from finishsched.workshop.plan import better as plan_search
from finishsched.workshop.plan import follow as plan_follow
from finishsched.workshop.plan.memory import recall
from finishsched.workshop.plan.plans import Asked, plan_answer

SLOPE = "box/slope"
PLAIN = Asked(insight=False)


@pytest.fixture
def pair(tmp_path):
    """Return a shop with two oiled pieces that were begun: a plan of them is soon made."""
    folder = make_shop(tmp_path / "pair", {"slope": "wiped-oil", "lid": "tung-oil"})
    with Workshop.open(folder, NOW) as opened:
        for piece in ("box/slope", "box/lid"):
            log_entry(opened, Entry(What.START, piece), NOW)
        yield opened


def places(plan):
    """Return what is when, and whose it is."""
    return {(p.key, p.start_min, p.by) for p in plan.placed}


def kept(workshop):
    """Return what the plan that is shown has open."""
    found = recall(workshop.folder)
    return places(found.plan) if found else set()


def of_slope(workshop):
    """Return how much of the writing slope is planned."""
    return sum(key.startswith(SLOPE) for key, _, _ in kept(workshop))


def plans_told(app) -> list[str]:
    """Return what was said of the plan."""
    return [text for text in said(app) if text.startswith("plan: ")]


@pytest.fixture
def plans_made(monkeypatch):
    """Return when plans were made anew by themselves."""
    made = []

    def counted(workshop, now, asked):
        made.append(now)
        return plan_answer(workshop, now, asked)

    monkeypatch.setattr(plan_follow, "plan_answer", counted)
    return made


class Solver:
    """Stands in for the solver's process, and never answers."""

    every: list  # set anew for each test

    def __init__(self, *_, **__):
        self.running = False
        Solver.every.append(self)

    def start(self):
        """Begin."""
        self.running = True

    def poll(self):
        """Return nothing new."""
        return WorkerNews()

    def cancel(self):
        """End."""
        self.running = False


@pytest.fixture
def solvers(monkeypatch):
    """Return the solvers that were started, none of which is the real one; no plan is proven."""
    Solver.every = []
    monkeypatch.setattr(plan_search, "none_worth_offering", lambda *_: False)
    monkeypatch.setattr(plan_search, "ExactWorker", Solver)
    monkeypatch.setattr(plan_search, "solver_is_there", lambda: True)
    return Solver.every


@pytest.fixture
def unsolved(monkeypatch):
    """Have no solver installed."""
    monkeypatch.setattr(plan_search, "solver_is_there", lambda: False)


async def the_back_room_is_done(app, pilot):
    """Wait until all that the back room was asked before now is answered."""
    done = []
    app.behind.room.ask("last", lambda _: None, done.append, done.append)
    await until(pilot, lambda: done)


async def test_every_entry_gives_a_new_plan_and_what_to_do_follows_it(pair):
    """After a coat the kept plan is the one that a new look would give, without that coat."""
    clocks = Clocks()
    app = advised_on(pair, clocks)
    async with app.run_test(size=(80, 30)) as pilot:
        await until(pilot, lambda: kept(pair) and app.beside.side.now)
        before = of_slope(pair)
        clocks.forward(3 * MINUTE)
        app.entries.hand_in(Entry(What.DONE, SLOPE), "logged")
        await until(pilot, lambda: of_slope(pair) == before - 1)
        assert kept(pair) >= places(plan_answer(pair, clocks.wall, PLAIN).plan)
        app.entries.hand_in(Entry(What.UNDO, SLOPE), "undone")
        await until(pilot, lambda: of_slope(pair) == before)
        await until(pilot, lambda: app.beside.side.now == side_of(pair, clocks.wall).now)


async def test_time_alone_makes_no_plan(pair, plans_made):
    """Beats, and somebody else who only looks, leave the plan alone."""
    clocks = Clocks()
    app = advised_on(pair, clocks)
    async with app.run_test() as pilot:
        await until(pilot, lambda: app.plan.watch and app.plan.watch._mark)
        with Workshop.open(pair.folder, NOW) as other:
            for _ in range(6):
                clocks.forward(HOUR)
                other.mark_looked(clocks.wall)
                app.beat()
                await pilot.pause()
        await the_back_room_is_done(app, pilot)
        assert plans_made == [NOW]
        assert not plans_told(app)


async def test_an_entry_by_somebody_else_gives_a_new_plan(pair):
    """What another process logs is followed at the next beat."""
    clocks = Clocks()
    app = advised_on(pair, clocks)
    async with app.run_test() as pilot:
        await until(pilot, lambda: kept(pair))
        before = of_slope(pair)
        with Workshop.open(pair.folder, NOW) as other:
            log_entry(other, Entry(What.DONE, SLOPE), NOW)
        app.beat()
        await until(pilot, lambda: of_slope(pair) == before - 1)


async def test_what_moved_is_said_in_one_line_and_rings_nobody(pair):
    """Five hours in which nothing was done move other work, and the entry after them says so."""
    clocks = Clocks()
    app = advised_on(pair, clocks)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(pilot, lambda: kept(pair))
        assert not plans_told(app)
        clocks.forward(5 * HOUR)
        app.beat()
        rings = app.rings
        app.entries.hand_in(Entry(What.NOTE, SLOPE, text="the phone"), "logged")
        await until(pilot, lambda: plans_told(app))
        (line,) = plans_told(app)
        assert "moved; p shows it" in line
        assert app.rings == rings
        await pilot.press("p")
        await until(pilot, lambda: app.screen.facts.answer)
        assert "changed" in app.screen.query_one("#plan-text").drawn.plain


async def test_what_another_program_planned_already_is_said_all_the_same(pair):
    """What changed is told against the plan that the bench showed, not the one kept since."""
    clocks = Clocks()
    app = advised_on(pair, clocks)
    async with app.run_test() as pilot:
        await until(pilot, lambda: app.plan.watch and app.plan.watch._last)
        clocks.forward(5 * HOUR)
        with Workshop.open(pair.folder, NOW) as other:
            log_entry(other, Entry(What.NOTE, SLOPE, text="the phone"), clocks.wall)
            plan_answer(other, clocks.wall, Asked(insight=False, keep=True))
        app.beat()
        await until(pilot, lambda: plans_told(app))


async def test_an_entry_that_moves_nothing_else_says_nothing(pair):
    """A coat at its time is no news, nor is a plan where there was none."""
    app = advised_on(pair, Clocks())
    async with app.run_test() as pilot:
        await until(pilot, lambda: kept(pair))
        before = of_slope(pair)
        app.entries.hand_in(Entry(What.DONE, SLOPE), "logged")
        await until(pilot, lambda: of_slope(pair) == before - 1)
        await pilot.pause()
        assert not plans_told(app)
        assert not app.plan.unsaid


async def test_it_is_said_once_nothing_lies_over_the_board(pair):
    """A card is read in peace; the message waits until it is closed."""
    clocks = Clocks()
    app = advised_on(pair, clocks)
    async with app.run_test() as pilot:
        await until(pilot, lambda: kept(pair))
        clocks.forward(5 * HOUR)
        await pilot.press("question_mark")
        with Workshop.open(pair.folder, NOW) as other:
            log_entry(other, Entry(What.NOTE, SLOPE, text="the phone"), clocks.wall)
        app.beat()
        await until(pilot, lambda: app.plan.unsaid)
        assert not plans_told(app)
        await pilot.press("escape")
        app.beat()
        await until(pilot, lambda: plans_told(app))


async def test_a_plan_that_was_overtaken_while_nobody_looked_is_made_anew(pair, plans_made):
    """What was logged while the bench was closed is followed when it opens."""
    plan_answer(pair, NOW, Asked(insight=False, keep=True))
    before = of_slope(pair)
    clocks = Clocks(NOW + HOUR)
    log_entry(pair, Entry(What.DONE, SLOPE), clocks.wall)
    app = advised_on(pair, clocks)
    async with app.run_test() as pilot:
        await until(pilot, lambda: of_slope(pair) == before - 1)
        assert plans_made == [clocks.wall]


async def test_the_open_plan_follows_an_entry_by_somebody_else(pair):
    """The screen shows the plan without the coat, and then what is at risk in it."""
    app = advised_on(pair, Clocks())
    async with app.run_test(size=(80, 30)) as pilot:
        await pilot.press("p")
        await until(pilot, lambda: app.screen.facts.answer and not app.screen.facts.busy)
        first = app.screen.facts.answer
        with Workshop.open(pair.folder, NOW) as other:
            log_entry(other, Entry(What.DONE, SLOPE), NOW)
        app.beat()
        await until(pilot, lambda: len(app.screen.facts.answer.steps) < len(first.steps))
        await until(pilot, lambda: not app.screen.facts.busy)
        assert app.screen.facts.answer.decides
        assert not plans_told(app)


@pytest.mark.usefixtures("unsolved")
async def test_a_better_plan_is_offered_on_the_board_and_taken_only_on_enter(pair):
    """Looking for it keeps nothing; enter keeps the very plan that is shown as better."""
    late_plan(pair, NOW, 5)
    before = kept(pair)
    app = advised_on(pair, Clocks(), seeks=True)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(pilot, lambda: app.plan.watch and app.plan.watch.offer)
        await until(pilot, lambda: "better plan found: " in shown(app))
        assert "; p shows it" in shown(app)
        assert kept(pair) == before
        await pilot.press("p")
        await until(pilot, lambda: app.screen.facts.answer and not app.screen.facts.busy)
        offered = app.screen.facts.answer.better
        assert "enter take it" in shown(app)
        assert kept(pair) == before
        await pilot.press("enter")
        await until(pilot, lambda: kept(pair) != before)
        assert kept(pair) == places(offered.plan)
        await until(pilot, lambda: not app.screen.facts.busy)
        assert app.screen.facts.answer.better is None
        await pilot.press("escape")
        assert isinstance(app.screen, Board)
        assert "better plan found" not in shown(app)


@pytest.mark.usefixtures("unsolved")
async def test_an_offer_outlives_an_entry_that_leaves_it_better(pair):
    """What was found is offered again by the plan that follows, until it is no better."""
    late_plan(pair, NOW, 5)
    clocks = Clocks()
    app = advised_on(pair, clocks, seeks=True)
    async with app.run_test() as pilot:
        await until(pilot, lambda: app.plan.watch and app.plan.watch.offer)
        mark = app.plan.watch._mark
        app.entries.hand_in(Entry(What.NOTE, SLOPE, text="well"), "logged")
        await until(pilot, lambda: app.plan.watch._mark != mark)
        assert app.plan.watch.offer
        taken = Asked(insight=False, keep=True, offered=app.plan.watch.offer.plan, take_better=True)
        with Workshop.open(pair.folder, NOW) as other:
            plan_answer(other, NOW, taken)
            log_entry(other, Entry(What.NOTE, SLOPE, text="taken elsewhere"), NOW)
        app.beat()
        await until(pilot, lambda: app.plan.watch.offer is None)


async def test_one_search_for_each_change_and_none_for_a_beat(pair, solvers):
    """The solver is started once; an entry ends it at once, and starts the next."""
    clocks = Clocks()
    app = advised_on(pair, clocks, seeks=True)
    async with app.run_test() as pilot:
        await until(pilot, lambda: solvers)
        for _ in range(3):
            clocks.forward(2 * MINUTE)
            app.beat()
            await the_back_room_is_done(app, pilot)
        assert [each.running for each in solvers] == [True]
        app.entries.hand_in(Entry(What.DONE, SLOPE), "logged")
        assert not solvers[0].running
        await until(pilot, lambda: len(solvers) == 2)
        await the_back_room_is_done(app, pilot)
        assert [each.running for each in solvers] == [False, True]


async def test_leaving_ends_the_solver(pair, solvers):
    """Nothing goes on once the bench is closed."""
    app = advised_on(pair, Clocks(), seeks=True)
    async with app.run_test() as pilot:
        await until(pilot, lambda: solvers)
    assert not any(each.running for each in solvers)


async def test_an_entry_elsewhere_ends_the_solver(pair, solvers):
    """The search is for a plan that is not shown any more."""
    app = advised_on(pair, Clocks(), seeks=True)
    async with app.run_test() as pilot:
        await until(pilot, lambda: solvers)
        with Workshop.open(pair.folder, NOW) as other:
            log_entry(other, Entry(What.DONE, SLOPE), NOW)
        app.beat()
        await until(pilot, lambda: not solvers[0].running)


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)])
async def test_the_offer_is_one_quiet_line(size, monkeypatch):
    """It has its words and its key at every size, also beside rags and what to do now."""
    gain = property(lambda _: "all finished 2 d sooner")
    monkeypatch.setattr(Plan, "offer_words", gain)
    app = bench(FakeDoor(six_pieces()))
    app.beside.side = Side(("begin within 15 min: a coat",), rags="rags can catch fire")
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        assert "better plan found: all finished 2 d sooner; p shows it" in shown(app)


async def test_without_a_shop_nothing_is_planned():
    """A bench on something else than a shop takes entries as ever."""
    door = FakeDoor(six_pieces())
    app = bench(door)
    async with app.run_test() as pilot:
        await pilot.press("space", "escape")
        app.beat()
        assert app.plan.watch is None
        assert not plans_told(app)
        app.on_plan_screen_taken(PlanScreen.Taken(None))
        assert isinstance(app.screen, Board)


async def test_the_bench_takes_keys_while_a_better_plan_is_looked_for(pair, solvers):
    """The search is beside the work: keys do what they always do."""
    app = advised_on(pair, Clocks(), seeks=True)
    async with app.run_test() as pilot:
        await until(pilot, lambda: solvers)
        refs = [piece.ref for piece in app.facts.view.pieces]
        at = refs.index(app.choosing.large)
        await pilot.press("j")
        assert app.choosing.large == refs[(at + 1) % len(refs)]
        await pilot.press("w", "escape")
        assert isinstance(app.screen, Board)
        assert solvers[0].running

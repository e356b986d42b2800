"""Looking for a better plan: the time that was asked is used, and what was found is kept."""

import pytest
from test_quick_ways import circle, tied_shop

from finishsched.planning.judging.checker import check
from finishsched.planning.looking import Looking
from finishsched.planning.problem import Activity, Bare, Goal, Hands, Lag, Problem, RoomRule
from finishsched.planning.quick import first_plan, re_decode
from finishsched.planning.score import score
from finishsched.planning.window import Window

TICK_S = 0.01


class Clock:
    """Time that goes on by each look at it, and may interrupt."""

    def __init__(self, interrupt_at=1e9):
        self.now, self.interrupt_at = 0.0, interrupt_at

    def __call__(self):
        """Return the time, or interrupt."""
        self.now += TICK_S
        if self.now >= self.interrupt_at:
            self.interrupt_at = 1e9
            raise KeyboardInterrupt
        return self.now


def dusty_shop():
    """Pieces that are sanded and coated in one room, with more due than can be in time."""
    evenings = tuple(range(18 * 60, 40 * 1440, 1440))
    steps, lags = [], []
    for piece in range(6):
        goal = f"p{piece}"
        for number in range(4):
            key, dusty = f"{goal}-{number}", number % 2 == 0
            kind = {"stirs": ("dust",)} if dusty else {"bare": (Bare("dust", 200),)}
            steps.append(Activity(key, 50 + piece, ("Ada",), goal, room="shed", **kind))
            if number:
                lags.append(Lag(f"{goal}-{number - 1}", key, 90))
    return Problem(
        tuple(steps),
        tuple(lags),
        (Hands("Ada", tuple(Window(at, at + 180) for at in evenings)),),
        rules=(RoomRule("shed", "dust", 15),),
        goals=tuple(Goal(f"p{piece}", (2 + piece) * 1440) for piece in range(6)),
    )


def test_the_time_that_was_asked_is_used_where_nothing_is_proven():
    """It goes on to the last second, and what it says it used is what it used."""
    clock, problem = Clock(), dusty_shop()
    start = re_decode(problem, ())
    told = []
    looked = Looking(problem, start, 5.0, clock=clock, tell=told.append, solver=False).look()
    assert not looked.proven
    assert looked.seconds == pytest.approx(5.0, abs=0.5)
    assert not looked.with_solver
    assert score(problem, looked.plan) < score(problem, start)
    assert not check(problem, looked.plan)
    assert [each.best.late_min for each in told] == sorted(
        (each.best.late_min for each in told), reverse=True
    )


def test_what_cannot_be_better_ends_it_at_once():
    """A plan at the bound is proven before anything is looked for."""
    problem = tied_shop()
    clock = Clock()
    looked = Looking(problem, first_plan(problem), 60.0, clock=clock, solver=False).look()
    assert looked.proven
    assert looked.seconds < 1


def test_an_interrupt_keeps_the_best_so_far():
    """Stopped half way, the best plan of that time comes back, and that it was cut short."""
    problem = dusty_shop()
    start = re_decode(problem, ())
    looked = Looking(problem, start, 60.0, clock=Clock(interrupt_at=3.0), solver=False).look()
    assert looked.cut_short
    assert looked.seconds < 4
    assert score(problem, looked.plan) < score(problem, start)


def test_where_rules_give_up_the_solver_begins_at_once(monkeypatch):
    """It is not waited for until the rules have had their time, which would be in vain."""
    problem = circle()
    looking = Looking(problem, first_plan(problem), 60.0, clock=Clock(), solver=True)
    looking._search.inner.vain_left = 300
    begun = []
    monkeypatch.setattr(looking, "_start_solver", begun.append)
    looking.look()
    assert begun == [pytest.approx(60.0, abs=1.5)]

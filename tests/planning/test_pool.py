"""What waits to begin is told apart by what keeps it out, and taken the most pressing first."""

from dataclasses import replace

import pytest
from planning_shops import evenings

from finishsched.planning.numbers.numbering import inner_of
from finishsched.planning.problem import (
    Activity,
    Bare,
    Hands,
    Lag,
    Problem,
    RoomRule,
    Store,
    Use,
)
from finishsched.planning.quick.blocks import blocks_of
from finishsched.planning.quick.board import Board
from finishsched.planning.quick.pool import Pool, Sorts

SETTLES, DRIES, NOW = 15, 30, 18 * 60


def _shop():
    """Return a coat, two sandings and a look, all in one room with its dust rule."""
    ada = ("Ada",)
    coat = Activity("coat", 10, ada, room="shed", bare=(Bare("dust", DRIES),))
    sandings = [Activity(f"sand {n}", 20, ada, room="shed", stirs=("dust",)) for n in (1, 2)]
    look = Activity("look", 5, ada, room="shed")
    rules = (RoomRule("shed", "dust", SETTLES),)
    activities = (coat, *sandings, look)
    return Problem(activities, (), (Hands("Ada", evenings()),), rules=rules, now_min=NOW)


def _filled(ahead_min=0):
    """Return the problem in numbers, a board, and a pool of all its blocks."""
    inner = inner_of(_shop())
    blocks = blocks_of(inner, keep_soft=False)
    pool = Pool(Sorts(inner, blocks, ahead_min))
    pool.fill(range(4), [1, 2, 3, 4])
    return inner, Board(inner), pool


def _taken(inner, pool):
    """Return what the pool gives until nothing is left that is not kept out."""
    found = []
    while pool.has_any():
        found.append(inner.keys[pool.take()])
    return found


def test_what_is_most_pressing_comes_first():
    """In an empty room all four can begin, in the order of their keys."""
    inner, board, pool = _filled()
    pool.look(board, NOW)
    assert _taken(inner, pool) == ["coat", "sand 1", "sand 2", "look"]


def test_what_makes_dust_is_passed_over_until_the_coat_is_dry():
    """While a coat is wet no sanding is given, and it can begin no sooner than the coat is dry."""
    inner, board, pool = _filled()
    board.fit(0, NOW, 10)
    board.take(0, NOW, 10)
    pool.look(board, NOW + 10)
    assert _taken(inner, pool) == ["coat", "look"]
    assert pool.next_after(NOW + 10) == NOW + 10 + DRIES
    pool.look(board, NOW + 10 + DRIES)
    assert _taken(inner, pool) == ["sand 1", "sand 2"]


@pytest.mark.parametrize(("ahead_min", "given"), [(DRIES - 1, 2), (DRIES, 4)])
def test_where_work_may_begin_a_little_later_a_room_that_is_soon_free_keeps_none_out(
    ahead_min, given
):
    """With set-ups a block is looked at minutes ahead: it is given if the coat is dry by then."""
    inner, board, pool = _filled(ahead_min)
    board.fit(0, NOW, 10)
    board.take(0, NOW, 10)
    pool.look(board, NOW + 10)
    assert len(_taken(inner, pool)) == given


def test_coats_that_share_a_rack_in_turn_are_found_in_a_row():
    """Coats that each give their place back before the next is laid need no trying out.

    One that holds its place for longer does.
    """
    problem = _shop()
    coat = problem.activities[0]

    def in_a_row(hold_min):
        use = Use("rack", from_start=False, hold_min=hold_min)
        coats = tuple(replace(coat, key=f"coat {n}", uses=(use,)) for n in range(3))
        lags = (Lag("coat 0", "coat 1", 5, 20), Lag("coat 1", "coat 2", 5, 20))
        shop = replace(problem, activities=coats, lags=lags, stores=(Store("rack", 2),))
        return blocks_of(inner_of(shop), keep_soft=False).in_a_row

    assert in_a_row(5 + 10) == [True]
    assert in_a_row(5 + 10 + 1) == [False]

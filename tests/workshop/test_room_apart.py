"""What a room apart for the dust would bring is planned as it would be with that room."""

from finishsched.planning.problem import (
    Activity,
    Bare,
    Goal,
    Hands,
    HeldBy,
    Placed,
    Plan,
    Problem,
    RoomRule,
)
from finishsched.planning.window import Window
from finishsched.workshop.plan.insight import more_room


def test_only_what_makes_dust_moves_into_a_room_with_the_same_rule():
    """Sanding is tried in a room of its own; the coat stays, and both rooms keep dust off."""
    sand = Activity("sand", 30, ("Ada",), "box", room="shed", stirs=("dust",))
    coat = Activity("coat", 30, ("Ada",), "lid", room="shed", bare=(Bare("dust", 120),))
    problem = Problem(
        (sand, coat),
        hands=(Hands("Ada", (Window(0, 600),)),),
        rules=(RoomRule("shed", "dust", 15),),
        goals=(Goal("box"), Goal("lid")),
    )
    plan = Plan(
        (
            Placed("coat", 0, 30, "Ada"),
            Placed("sand", 150, 180, "Ada", HeldBy.ROOM, "coat"),
        )
    )
    (trial,) = more_room(problem, plan)
    moved_sand, same_coat = trial.problem.activities
    apart = moved_sand.room
    assert apart != "shed"
    assert same_coat == coat
    assert set(trial.problem.rules) == {RoomRule("shed", "dust", 15), RoomRule(apart, "dust", 15)}

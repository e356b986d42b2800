"""Small random shops for the laws of planning, and a small shop that is solved by hand."""

from dataclasses import replace

from hypothesis import strategies as st

from finishsched.planning.problem import (
    Activity,
    Bare,
    Done,
    Goal,
    Hands,
    Lag,
    Pot,
    Problem,
    RoomRule,
    SetUp,
    Store,
    Use,
)
from finishsched.planning.window import Window

DAY = 1440
DAYS = 40
KINDS = ("sand", "coat", "glue")


def evenings(start=18 * 60, length=180, days=DAYS):
    """Return one window on every day."""
    return tuple(Window(d * DAY + start, d * DAY + start + length) for d in range(days))


@st.composite
def hands(draw):
    """Draw one or two people with hours of their own; nobody's sessions are too short to work."""
    found = []
    for name in ("Ada", "Ben")[: draw(st.integers(1, 2))]:
        start = draw(st.integers(0, 1200))
        length = draw(st.integers(90, 239))
        second = draw(st.booleans())
        windows = []
        for day in range(DAYS):
            at = day * DAY + start
            windows.append(Window(at, at + length))
            if second and start + length + 300 < DAY:
                windows.append(Window(at + length + 30, at + length + 150))
        found.append(Hands(name, tuple(windows)))
    return tuple(found)


@st.composite
def problems(draw, most_pieces=3, most_steps=5, *, progress=False):
    """Draw a shop: pieces in steps, with waits, windows, dust, a rack, set-ups and due dates."""
    people = draw(hands())
    names = tuple(each.name for each in people)
    stores = (Store("rack", draw(st.integers(1, 2))),) if draw(st.booleans()) else ()
    rules = (RoomRule("shop", "dust", draw(st.integers(0, 30))),) if draw(st.booleans()) else ()
    set_ups = ()
    if draw(st.booleans()):
        set_ups = tuple(SetUp(kind, *(draw(st.integers(0, 10)) for _ in range(3)))
                        for kind in KINDS[:2])  # fmt: skip
    activities, lags, goals = [], [], []
    for piece in range(draw(st.integers(1, most_pieces))):
        goal = f"p{piece}"
        due = draw(st.none() | st.integers(DAY, 10 * DAY))
        goals.append(Goal(goal, due))
        before = None
        for number in range(draw(st.integers(1, most_steps))):
            activity = draw(_steps(f"{goal}-{number}", goal, names, bool(stores), bool(rules)))
            activities.append(activity)
            if before is not None:
                lags.append(draw(_lag(before, activity.key)))
            before = activity.key
        if draw(st.booleans()):
            activities[-1] = replace(activities[-1], tail_min=draw(st.integers(0, 3 * DAY)))
    pots = ()
    if draw(st.booleans()):
        pots = (Pot("mix", draw(st.integers(20, 120))),)
        coats = [activity.kind == "coat" for activity in activities]
        activities = [
            replace(activity, pot="mix" if coat else "")
            for activity, coat in zip(activities, coats, strict=True)
        ]
    problem = Problem(
        tuple(activities), tuple(lags), people, stores, rules, set_ups, tuple(goals), pots=pots
    )
    return draw(_begun(problem)) if progress else problem


@st.composite
def _steps(draw, key, goal, names, has_store, has_rule):
    kind = draw(st.sampled_from(KINDS))
    minutes = draw(st.integers(1, 60))
    by = names if draw(st.booleans()) else names[:1]
    if draw(st.integers(0, 9)) == 0:
        by, minutes = (), 0
    uses = ()
    if has_store and kind == "coat":
        uses = (Use("rack", 1, from_start=draw(st.booleans()), hold_min=draw(st.integers(0, 600))),)
    return Activity(
        key, minutes, by, goal, room="shop" if has_rule else "", kind=kind, like=kind,
        stirs=("dust",) if kind == "sand" else (),
        bare=(Bare("dust", draw(st.integers(0, 240))),) if kind == "coat" else (), uses=uses,
    )  # fmt: skip


@st.composite
def _lag(draw, before, after):
    least = draw(st.sampled_from([0, 0, 30, 240, 720]))
    what = draw(st.integers(0, 5))
    if what == 0:
        return Lag(before, after, least, least + draw(st.integers(0, 2 * DAY)), 15)
    if what == 1:
        most = least + draw(st.integers(DAY, 3 * DAY))
        return Lag(before, after, least, most, None, in_one_sitting=draw(st.booleans()))
    return Lag(before, after, least)


@st.composite
def _begun(draw, problem):
    """Draw how far a shop has come: the first steps of some pieces, done as nobody planned them."""
    done, at = [], draw(st.integers(0, 5 * DAY))
    latest = 0
    for goal in problem.goals:
        mine = [a for a in problem.activities if a.goal == goal.key]
        time = draw(st.integers(0, 2 * DAY))
        for activity in mine[: draw(st.integers(0, len(mine)))]:
            end = time + activity.minutes + draw(st.integers(0, 30))
            by = activity.by[0] if activity.by else None
            done.append(Done(activity.key, time, end, by))
            latest = max(latest, end)
            time = end + draw(st.integers(0, 800))
    return replace(problem, done=tuple(done), now_min=max(at, latest))

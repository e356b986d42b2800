"""Whether a plan keeps to hands: who can do it, their hours, one thing at a time, their set-ups."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import accumulate

from finishsched.planning.judging.violations import Broken, Scene, There, Violation
from finishsched.planning.problem import Activity, Done, Hands, Placed
from finishsched.planning.window import Window


def hands_broken(scene: Scene) -> Iterator[Violation]:
    """Find everything that is wrong with whose hands do what, and when."""
    names = {each.name for each in scene.problem.hands}
    for placed in scene.plan.placed:
        activity = scene.activities[placed.key]
        can = activity.by
        is_right = (placed.by in can and placed.by in names) if can else placed.by is None
        if not is_right:
            yield _wrong_hands(placed, activity)
    for hands in scene.problem.hands:
        yield from _one_pair(hands, scene)


def _wrong_hands(placed: Placed, activity: Activity) -> Violation:
    """Return that nobody does what takes hands, that somebody does what takes none, or cannot.

    Args:
        placed: where it lies, and whose it is.
        activity: what it is.

    """
    needs_hands = bool(activity.by)
    has_hands = placed.by is not None
    sentence = f"{placed.key} is done by {placed.by}, who cannot"
    if needs_hands != has_hands:
        sentence = f"{placed.key} is done by {placed.by or 'nobody'}"
    return Violation(Broken.HANDS, (placed.key,), 0, sentence)


def _one_pair(hands: Hands, scene: Scene) -> Iterator[Violation]:
    """Find everything that is wrong with what one pair of hands does.

    Args:
        hands: whose work it is, and their windows.
        scene: the plan and its problem.

    """
    mine = [placed for placed in scene.plan.placed if placed.by == hands.name]
    past = [done for done in scene.problem.done if done.by == hands.name]
    held: dict[str, Window | None] = {}
    hours = _Hours(hands.windows)
    for placed in mine:
        window = hours.around(placed)
        held[placed.key] = window
        if window is None:
            sentence = f"{placed.key} lies in no one window of {hands.name}"
            yield Violation(Broken.HOURS, (placed.key,), 0, sentence)
    timed = _timed([*past, *mine])
    yield from _overlaps(hands, timed)
    if scene.problem.set_ups:
        yield from _set_ups(hands, timed, _by_window(hours, timed, held), scene)
    yield from _at_the_end(hands, mine, held, scene)


def _timed(everything: Sequence[There]) -> list[There]:
    """Return what takes time, in the order of starts."""
    timed = [each for each in everything if each.end_min > each.start_min]
    timed.sort(key=_by_time)
    return timed


def _by_time(there: There) -> tuple[int, int, str]:
    """Return what work is ordered by: its start, its end, and its key, so that no two are alike."""
    return there.start_min, there.end_min, there.key


class _Hours:
    """The windows of one pair of hands, which are in order of time and do not touch."""

    def __init__(self, windows: Sequence[Window]) -> None:
        """Look up where they begin."""
        self._windows = windows
        self._begins = [window.start_min for window in windows]

    def around(self, there: There) -> Window | None:
        """Return the window that holds all of something."""
        window = self._last_begun(there.start_min)
        return None if window is None or there.end_min > window.end_min else window

    def begun_in(self, there: There) -> Window | None:
        """Return the window in which something began."""
        window = self._last_begun(there.start_min)
        return None if window is None or there.start_min >= window.end_min else window

    def _last_begun(self, minute: int) -> Window | None:
        """Return the last window that has begun by a minute; None before the first of them."""
        begun = bisect_right(self._begins, minute)
        return self._windows[begun - 1] if begun else None


def _overlaps(hands: Hands, timed: Iterable[There]) -> Iterator[Violation]:
    """Compare each with whichever before it ends last; two that are done are not judged.

    Args:
        hands: whose work it is.
        timed: all of it that takes time, in the order of starts.

    """
    # Of those before, the one that ends last is enough: if it does not reach, none of them does.
    last: There | None = None
    last_placed: Placed | None = None
    for each in timed:
        other = last if isinstance(each, Placed) else last_placed
        if other is not None and other.end_min > each.start_min:
            both_until = min(other.end_min, each.end_min)
            shared = both_until - each.start_min
            both = f"{other.key} and {each.key}"
            sentence = f"{hands.name} is at {both} for {shared} minutes"
            yield Violation(Broken.OVERLAP, (other.key, each.key), shared, sentence)
        if _ends_after(each, last):
            last = each
        if isinstance(each, Placed) and _ends_after(each, last_placed):
            last_placed = each


def _ends_after(each: There, other: There | None) -> bool:
    """Return whether something ends after another, or there is no other."""
    return other is None or each.end_min > other.end_min


def _set_ups(
    hands: Hands,
    timed: list[There],
    by_window: Mapping[Window, list[There]],
    scene: Scene,
) -> Iterator[Violation]:
    """Find where hands have too little time to get ready for a kind of work, or to clear up.

    Args:
        hands: whose work it is.
        timed: all of it that takes time, in the order of starts.
        by_window: what of it is in each window.
        scene: the plan and its problem.

    """
    past = [each for each in timed if isinstance(each, Done)]
    past_is_over = max([each.end_min for each in past], default=0)
    for window, inside in by_window.items():
        first = inside[0]
        if isinstance(first, Placed):
            reaching = past if window.start_min < past_is_over else []
            opened = _opened(window, reaching, scene)
            yield from _ready_first(hands, first, opened, scene)
        kinds = [_kind(each, scene) for each in inside]
        busy_until = accumulate([each.end_min for each in inside], max)
        for at, (before, until) in enumerate(zip(inside[:-1], busy_until, strict=False), 1):
            each = inside[at]
            # After work of the same kind in the same window nothing has to be got ready.
            if kinds[at - 1] != kinds[at] and isinstance(each, Placed):
                yield from _ready_again(hands, each, before, until, scene)
        yield from _clearing_up(hands, inside[-1], window, scene)


def _at_the_end(
    hands: Hands,
    mine: Iterable[Placed],
    held: Mapping[str, Window | None],
    scene: Scene,
) -> Iterator[Violation]:
    """Find work that ends too near to the end of its hours to clean its tool in them.

    Args:
        hands: whose work it is.
        mine: all of it that is placed.
        held: the window in which each lies as a whole.
        scene: the plan and its problem.

    """
    kept_free = {each.kind: each.at_end_min for each in scene.problem.set_ups if each.at_end_min}
    for placed in mine:
        window = held[placed.key]
        wanted = kept_free.get(_kind(placed, scene), 0)
        if window is None or not wanted or placed.end_min == placed.start_min:
            continue
        short = placed.end_min + wanted - window.end_min
        if short > 0:
            sentence = f"{short} minutes too few for {hands.name} to clean up after {placed.key}"
            yield Violation(Broken.SET_UP, (placed.key,), short, sentence)


def _clearing_up(hands: Hands, last: There, window: Window, scene: Scene) -> Iterator[Violation]:
    """Find that a window closes before hands can have cleared up; of what is done nothing is asked.

    Args:
        hands: whose work it is.
        last: what they do last in the window.
        window: in which it lies.
        scene: the plan and its problem.

    """
    cleared_min = last.end_min + _clear_up_min(last, scene)
    short = cleared_min - window.end_min
    if isinstance(last, Placed) and short > 0:
        sentence = f"{short} minutes too few for {hands.name} to clear up after {last.key}"
        yield Violation(Broken.SET_UP, (last.key,), short, sentence)


def _ready_first(hands: Hands, each: Placed, opened: int, scene: Scene) -> Iterator[Violation]:
    """Find that there is too little time to get ready for the first work of a window.

    Args:
        hands: whose work it is.
        each: the work.
        opened: the minute from which on they have time for it.
        scene: the plan and its problem.

    """
    ready_min = opened + _get_ready_min(each, scene)
    yield from _not_ready(hands, each, ready_min)


def _ready_again(
    hands: Hands,
    each: Placed,
    before: There,
    busy_until: int,
    scene: Scene,
) -> Iterator[Violation]:
    """Find that there is too little time before a work to clear up and get ready for it.

    Args:
        hands: whose work it is.
        each: the work.
        before: what they did before it in the same window, of another kind.
        busy_until: when all that they did before in that window was over.
        scene: the plan and its problem.

    """
    # What could be cleared up before now has been.
    clearing_min = _clear_up_min(before, scene)
    cleared_min = max(busy_until + clearing_min, scene.problem.now_min)
    ready_min = cleared_min + _get_ready_min(each, scene)
    yield from _not_ready(hands, each, ready_min)


def _not_ready(hands: Hands, each: Placed, ready_min: int) -> Iterator[Violation]:
    """Find that a work begins before hands are ready for it.

    Args:
        hands: whose work it is.
        each: the work.
        ready_min: when they are.

    """
    short = ready_min - each.start_min
    if short > 0:
        sentence = f"{short} minutes too few for {hands.name} to get ready for {each.key}"
        yield Violation(Broken.SET_UP, (each.key,), short, sentence)


def _by_window(
    hours: _Hours,
    timed: Iterable[There],
    held: Mapping[str, Window | None],
) -> dict[Window, list[There]]:
    """Return what is in each window: what is placed as a whole, what is done where it began.

    Args:
        hours: of whoever does it.
        timed: all of it that takes time, in the order of starts.
        held: the window in which each placed work lies as a whole.

    """
    found: dict[Window, list[There]] = {}
    for each in timed:
        is_placed = isinstance(each, Placed)
        window = held[each.key] if is_placed else hours.begun_in(each)
        if window is not None:
            found.setdefault(window, []).append(each)
    return found


def _opened(window: Window, past: list[Done], scene: Scene) -> int:
    """Return from when on hands can get ready for the first work of a window.

    Args:
        window: in which they work.
        past: all of their work that is done and may reach into it.
        scene: the plan and its problem.

    """
    start = max(window.start_min, scene.problem.now_min)
    for each in past:
        if each.start_min < window.start_min < each.end_min:
            start = max(start, each.end_min + _clear_up_min(each, scene))
    return start


def _kind(there: There, scene: Scene) -> str:
    """Return the kind of work that something is."""
    return scene.activities[there.key].kind


def _get_ready_min(there: There, scene: Scene) -> int:
    """Return the minutes of getting ready for its kind of work; 0 where it needs none."""
    set_up = scene.set_ups.get(_kind(there, scene))
    return set_up.before_min if set_up else 0


def _clear_up_min(there: There, scene: Scene) -> int:
    """Return the minutes of clearing up after its kind of work; 0 where it needs none."""
    set_up = scene.set_ups.get(_kind(there, scene))
    return set_up.after_min if set_up else 0

"""The planning problem, free of finishing words: activities, lags, hands, capacities, rooms.

Times are whole minutes since 1970-01-01T00:00Z, so that nothing here knows a time zone; lengths are
whole minutes too. An interval holds its start and not its end. Everything is immutable and plain,
so that a problem can be stored, compared and sent to another process.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from finishsched.planning.window import Window


@dataclass(frozen=True, slots=True)
class Hands:
    """One person who works, within windows in order of time that do not touch."""

    name: str
    windows: tuple[Window, ...]


@dataclass(frozen=True, slots=True)
class Store:
    """Something of which only so much can be in use at once: rack slots, clamps, jars."""

    name: str
    capacity: int


@dataclass(frozen=True, slots=True)
class Use:
    """What an activity takes of a store, from its start or from its end.

    It is held for ``hold_min`` after the activity's end, or until another activity starts where
    ``until`` names one (never less than up to the activity's own end).
    """

    store: str
    amount: int = 1
    from_start: bool = True
    hold_min: int = 0
    until: str | None = None


@dataclass(frozen=True, slots=True)
class Bare:
    """From its start until ``after_min`` past its end an activity must not be ``stirred``."""

    stirred: str
    after_min: int


@dataclass(frozen=True, slots=True)
class RoomRule:
    """In ``room`` no activity that stirs up ``stirs`` may meet one that is bare to it.

    What was stirred up hangs in the room for ``settle_min`` after the end of the activity.
    """

    room: str
    stirs: str
    settle_min: int


@dataclass(frozen=True, slots=True)
class SetUp:
    """Minutes of getting ready for a kind of work, and of clearing up after it.

    They are paid by the same hands, inside their window, wherever the work before or after it in
    that window is of another kind or there is none; between two activities of one kind done by the
    same hands in one window, with nothing of another kind between, they are not.
    """

    kind: str
    before_min: int = 0
    after_min: int = 0
    at_end_min: int = 0
    """So long before the hours end all of the kind is over: what is put by until then, a brush in
    its jar, is cleaned once. Other kinds of work may lie between, and in these minutes: two kinds
    share them."""


@dataclass(frozen=True, slots=True)
class Pot:
    """A kind of mix that has to be used up within ``life_min`` of when it is begun.

    Whatever draws on it shares one mix from the start of the first to the end of the last that fit
    into one life; what does not fit is done from another.
    """

    name: str
    life_min: int


@dataclass(frozen=True, slots=True)
class Activity:
    """One thing to do, in one go.

    ``by`` names the hands that can do it, one of which is busy for all of it and inside one of its
    windows; an activity that names none takes no hands and may lie anywhere.
    """

    key: str
    minutes: int
    by: tuple[str, ...] = ()
    goal: str = ""
    """The goal that it belongs to; each has at most one."""
    tail_min: int = 0
    """After its end, the least time until its goal can be called reached."""
    room: str = ""
    kind: str = ""
    """The kind of work, for set-ups."""
    stirs: tuple[str, ...] = ()
    """What it stirs up in its room, such as dust."""
    bare: tuple[Bare, ...] = ()
    uses: tuple[Use, ...] = ()
    release_min: int | None = None
    """It cannot start before."""
    pot: str = ""
    """The pot that it is done from; empty for what keeps, or needs nothing mixed."""
    like: str = ""
    """Two that are alike need the same paper, pad or mix, and go well one after the other."""


@dataclass(frozen=True, slots=True)
class Lag:
    """From the end of ``before`` to the start of ``after``: at least, and perhaps at most.

    ``least_min`` may be negative. A window (``most_min``) that is missed is mended by
    ``remedy_min`` more minutes of ``after``, done first; where that is None it must not be missed.
    """

    before: str
    after: str
    least_min: int = 0
    most_min: int | None = None
    remedy_min: int | None = None
    in_one_sitting: bool = False
    """True between two coats of one sitting: missed, that is split, and nothing is spoilt."""

    @property
    def hard(self) -> bool:
        """True when there is no remedy for missing the window."""
        return self.remedy_min is None


@dataclass(frozen=True, slots=True)
class Goal:
    """A number of activities that somebody waits for, perhaps by a time."""

    key: str
    due_min: int | None = None


@dataclass(frozen=True, slots=True)
class Done:
    """What happened, or is happening: it moves no more, and no rule judges it.

    Lags run from it, what it holds of stores and rooms is held, and its hands are busy until its
    end. ``end_min`` may lie ahead of the problem's ``now_min`` while it runs.
    """

    key: str
    start_min: int
    end_min: int
    by: str | None = None


@dataclass(frozen=True, slots=True)
class Problem:
    """Everything that a plan has to keep to. Keys and names are each unique."""

    activities: tuple[Activity, ...]
    lags: tuple[Lag, ...] = ()
    hands: tuple[Hands, ...] = ()
    stores: tuple[Store, ...] = ()
    rules: tuple[RoomRule, ...] = ()
    set_ups: tuple[SetUp, ...] = ()
    goals: tuple[Goal, ...] = ()
    done: tuple[Done, ...] = ()
    now_min: int = 0
    """Nothing that is not done starts before."""
    pots: tuple[Pot, ...] = ()


class HeldBy(StrEnum):
    """What kept an activity from starting earlier."""

    NOTHING = "nothing"
    """It starts as soon as anything may."""
    LAG = "wait"
    HOURS = "hours"
    BUSY = "hands busy"
    SET_UP = "getting ready"
    """Its hands are free, and have to get ready for its kind of work."""
    ROOM = "room"
    STORE = "store"
    WINDOW = "window"
    """It waits so that a later one can keep its window."""
    POT = "one pot"
    """It waits so that one mix serves it and others."""
    ORDER = "order"
    """It could start earlier; the plan puts something else first."""


@dataclass(frozen=True, slots=True)
class Placed:
    """Where one activity lies in a plan; ``minutes`` includes any remedy."""

    key: str
    start_min: int
    end_min: int
    by: str | None = None
    held_by: HeldBy = HeldBy.NOTHING
    held_by_key: str = ""
    """The activity, hands, store or room that held it, where there is one."""


@dataclass(frozen=True, slots=True)
class Miss:
    """A window that is missed, and by how much."""

    before: str
    after: str
    late_min: int
    hard: bool


@dataclass(frozen=True, slots=True)
class Mixed:
    """One pot that is mixed once, and all that is done from it, in the order of starts.

    What is done already is named too, where it began a pot that is still good.
    """

    pot: str
    keys: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Plan:
    """Every activity that is not done, placed, in the order of starts and then of keys."""

    placed: tuple[Placed, ...]
    misses: tuple[Miss, ...] = ()
    left_out: tuple[str, ...] = ()
    """Activities that no calendar has room for, or that the rules of the quick planner found no
    place for; ``quick.not_found`` tells which of these they are."""
    mixed: tuple[Mixed, ...] = ()
    """The pots that more than one activity is done from."""


@dataclass(frozen=True, slots=True, order=True)
class Score:
    """How good a plan is; compared field by field, less is better."""

    left_out: int
    spoilt_min: int
    """Minutes past windows after which something is spoilt: a mix gone off, glue that skinned."""
    late_and_split_min: int
    """Minutes by which goals are late, together, and what it is worth to split no sitting."""
    latest_min: int
    """The lateness of the latest goal: of two plans as late together, the fairer is better."""
    finish_min: int
    """When the last goal is reached: the latest end with its tail."""
    remedies_min: int
    """Minutes spent on mending missed windows."""
    pots: int
    """How many pots are still to be mixed."""
    goals_min: int
    """Finishes of the goals, added up: a compact plan is better."""
    late_min: int = field(default=0, compare=False)
    """Minutes by which goals are late, together."""
    split_min: int = field(default=0, compare=False)
    """Minutes for which sittings are split, together."""

    @property
    def hard_late_min(self) -> int:
        """Minutes by which hard windows are missed, together."""
        return self.spoilt_min + self.split_min

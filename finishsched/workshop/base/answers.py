"""What the workshop answers: frozen pictures of the shop at an instant, ready to be shown."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime, tzinfo
from enum import StrEnum
from typing import NamedTuple

from finishsched.drying.air import AirAnswer
from finishsched.drying.clock import CureClock
from finishsched.model.ranges import Range
from finishsched.model.shop import Alcohol, ShownUnits, Tools
from finishsched.model.step import Step
from finishsched.safety.cautions import Caution
from finishsched.workshop.base.notice import Notice
from finishsched.workshop.base.shown import Shown


class State(StrEnum):
    """Where a piece stands, the word that every face shows for it."""

    CLOSED = "window closed"
    """Waited past the step's window: a remedy is due before the next step."""
    CHECK = "check"
    """Likely dry: make the dry check."""
    TO_DO = "to do"
    """Hands can go on now."""
    NEARLY = "nearly"
    """Past the earliest time, not yet likely."""
    DRYING = "drying"
    NOT_BEGUN = "not begun"
    FINISHED = "finished"

    @property
    def mark(self) -> str:
        """A single-width character that stands beside the word and the colour."""
        return _MARKS[self]

    @property
    def wants_hands(self) -> bool:
        """True when a person can do something about it now."""
        return self.wants_check or self is State.TO_DO

    @property
    def wants_check(self) -> bool:
        """True where a dry check comes before anything else."""
        return self in (State.CHECK, State.CLOSED)

    @property
    def may_go_on(self) -> bool:
        """True where the next step may be taken up, or the first."""
        return self in (State.TO_DO, State.NOT_BEGUN)

    @property
    def dries(self) -> bool:
        """True where nothing but time is wanted."""
        return self in (State.DRYING, State.NEARLY)


_MARKS = {
    State.CLOSED: "!",
    State.CHECK: "?",
    State.TO_DO: ">",
    State.NEARLY: "~",
    State.DRYING: "-",
    State.NOT_BEGUN: " ",
    State.FINISHED: "=",
}


class MixLine(NamedTuple):
    """One thing to weigh or measure for a step: ``28 g dewaxed blonde shellac flakes``."""

    amount: str
    what: str


class Takes(NamedTuple):
    """What one coat takes, likely and between which bounds: in ml, or g where it is weighed."""

    amount: Range
    by_mass: bool = False
    pad_ml: float = 0.0
    """Of it, what a dry pad keeps."""
    pad_first_ml: float = 0.0
    """What it takes besides where it is laid before the coat that the dry pad is counted with."""

    def words(self, shown: Shown) -> str:
        """Return the likely amount."""
        return self._show(self.amount.likely, shown)

    def between(self, shown: Shown) -> str:
        """Return the bounds."""
        return f"{self._show(self.amount.low, shown)} to {self._show(self.amount.high, shown)}"

    def _show(self, amount: float, shown: Shown) -> str:
        return shown.weight(amount) if self.by_mass else shown.volume(amount)


class StepSheet(NamedTuple):
    """Everything that the person needs to do one step on one piece."""

    step: Step
    steps_in_all: int
    product: str
    """Title of what is applied, with its strength; empty when nothing is."""
    abrasive: str
    """The grade, and ``dry`` where it is used so: ``P400, dry``."""
    lubricant: str
    """What wets the work; empty when nothing does."""
    mix: tuple[MixLine, ...]
    mix_makes: str
    """How much that makes, for what: ``30 ml for 6 coats on 0.42 m2``."""
    hands_on_min: float
    cautions: tuple[Caution, ...]
    deferral: str
    coats_ml: tuple[float, ...] = ()
    """What each coat takes out of the jar; none where nobody says how much, or it is weighed."""
    jar: str = ""
    """A jar on the shelf that holds all of it, or this coat at least, and what is left in it."""
    jar_name: str = ""
    """That jar by its name alone: a coat that is logged without one is taken from it."""
    taken: str = ""
    """The same of a jar that stands there: it may be less than can be mixed."""
    takes: Takes | None = None
    """What this very coat takes; None where nobody says how much."""
    mix_gives: str = ""
    """The cut that scale and measure really give of it, and between which it may be."""
    mix_warnings: tuple[str, ...] = ()
    """Where the scale is too coarse for so little."""
    jar_holds: str = ""
    """How much is made, alone: ``30 ml``."""
    for_coats: tuple[str, ...] = ()
    """The keys of the steps of this work that come from the same jar, this one first."""
    let_down: str = ""
    """Of a coat weaker than its jar, how much of that and of alcohol; empty for any other."""
    makes_ml: float | None = None
    """The same in ml; None where nothing is mixed or poured by volume."""
    jar_cut_g_per_l: float | None = None
    """The cut of the jar that it comes from, which may be stronger than the coat; None for none."""
    log_mix: str = ""
    """The command that logs the jar to be mixed for it, so that its coats are taken from there."""
    as_bought: bool = False
    """True where it is laid as it is bought: nothing is mixed for it."""


class LogLine(NamedTuple):
    """One live entry of a piece's story."""

    at: datetime
    text: str
    by: str = ""
    of_all: str = ""
    """Of what took some of a jar, the words without how much: that is the one piece's own, and
    nothing to tell of a row of several."""


class Later(NamedTuple):
    """Why a step that could be done now is left for later, by the plan as it stands."""

    why: str
    until: datetime | None
    """From when it can be begun, as far as that is known."""


LATER_WORD, LATER_MARK = "later", "."


class WaitsFor(NamedTuple):
    """What is worked beside a piece and has to be over before its step in hand."""

    ref: str
    title: str

    def __str__(self) -> str:
        return f"{self.ref}, {self.title}"


class PieceView(NamedTuple):
    """One piece as it stands."""

    ref: str
    """``job/piece``, as the command line takes it."""
    title: str
    job_title: str
    schedule_title: str
    state: State
    due: date | None
    step: Step | None
    """The step in hand: the one to do, or the one whose wait runs. None when finished."""
    sheet: StepSheet | None
    next_sheet: StepSheet | None
    """While a wait runs: the step after it."""
    clock: CureClock | None
    steps_done: int
    steps_in_all: int
    log: tuple[LogLine, ...]
    """The newest first, at most twelve."""
    why: tuple[str, ...] = ()
    """By which rule, from which figures and from which source it stands as it does."""
    pace: str = ""
    """While a wait runs: why it stands still, or is slower or quicker than the book."""
    warnings: tuple[str, ...] = ()
    """Before a coat: what speaks against laying it now, and what to do, the gravest first."""
    waits_for: tuple[WaitsFor, ...] = ()
    """What is worked beside it and has to be over before the step in hand."""
    coats_ahead: int = 0
    """How many coats can follow one another on it now, with no dry check between."""
    how_much: tuple[str, ...] = ()
    """How the sheet's amounts came about, and how its pad is."""
    changed_schedule: bool = False
    """True when the schedule's document differs from the snapshot that this piece runs on."""
    later: Later | None = None
    """What keeps a step that is to do from being begun now, where what to do now was asked."""

    @property
    def word(self) -> str:
        """The word for where it stands that every face shows."""
        return LATER_WORD if self.is_for_later else self.state.value

    @property
    def mark(self) -> str:
        """A single-width character that stands beside the word and the colour."""
        return LATER_MARK if self.is_for_later else self.state.mark

    @property
    def is_beside(self) -> bool:
        """True for what is worked beside a piece, such as the repair of a spot: ``job/lid+1``."""
        return "+" in self.ref

    @property
    def is_for_later(self) -> bool:
        """True where the step in hand is not to be begun now, though nothing of it dries."""
        return self.later is not None or bool(self.waits_for)

    def left_for(self, later: Later | None) -> PieceView:
        """Return the piece with its step left for later, if it has one to do or to begin with."""
        if later is None or not self.state.may_go_on:
            return self
        return self._replace(later=later)


class WindowKind(StrEnum):
    """What closes, in the trade's word."""

    RECOAT = "recoat window"
    OPEN = "open time"
    POT = "pot life"


@dataclass(frozen=True, slots=True)
class Window:
    """A time in which something must be done, as it stands at ``now``."""

    kind: WindowKind
    name: str
    """The piece, or the batch."""
    title: str
    """The step, or the product."""
    opened_at: datetime
    closes_at: datetime
    now: datetime
    why: tuple[str, ...] = ()

    @property
    def left_s(self) -> float:
        """Seconds until it closes; negative once it has."""
        return (self.closes_at - self.now).total_seconds()

    @property
    def percent(self) -> float:
        """How much of it has gone by, 0 to 100."""
        whole_s = (self.closes_at - self.opened_at).total_seconds()
        gone_s = (self.now - self.opened_at).total_seconds()
        return 100.0 if whole_s <= 0 else min(100.0, max(0.0, 100 * gone_s / whole_s))

    @property
    def closing_from(self) -> datetime:
        """From when it is about to close: its last quarter (our assumption)."""
        return self.closes_at - (self.closes_at - self.opened_at) / 4

    @property
    def state(self) -> str:
        """``open``, ``closing`` or ``closed``."""
        if self.now >= self.closes_at:
            return "closed"
        return "closing" if self.now >= self.closing_from else "open"


class Trend(StrEnum):
    """Where the air went in the last hours that were read."""

    RISING = "rising"
    FALLING = "falling"
    STEADY = "steady"
    UNKNOWN = ""


class AirPoint(NamedTuple):
    """The air at one hour around now."""

    at: datetime
    temperature_c: float
    humidity_percent: float
    foretold: bool
    """True where it is forecast, not read."""


@dataclass(frozen=True, slots=True)
class AirView:
    """The last reading, or the shop's usual air when there is none."""

    answer: AirAnswer
    read_at: datetime | None
    """None when it is the usual air of the shop's document."""
    is_old: bool = False
    """True when it no longer stands for the air now, which is then forecast from it."""
    points: tuple[AirPoint, ...] = ()
    """Hour by hour, from twelve before now to twelve after; none before the first reading."""
    warmth: Trend = Trend.UNKNOWN
    damp: Trend = Trend.UNKNOWN
    surface_c: float | None = None
    """Of the floor or the work, where it was read and still counts."""


class BenchView(NamedTuple):
    """Everything that one repaint of the bench needs."""

    shop: str
    now: datetime
    zone: tzinfo
    units: ShownUnits
    people: tuple[str, ...]
    air: AirView
    pieces: tuple[PieceView, ...]
    """The most urgent first."""
    alcohol: Alcohol = Alcohol()
    tools: Tools = Tools()
    notices: tuple[Notice, ...] = ()
    """What somebody should know: how long nobody looked, faults in documents."""
    windows: tuple[Window, ...] = ()
    """What closes, the first to close first."""

    @property
    def most_urgent(self) -> PieceView | None:
        """The piece that wants hands first, else the one whose wait ends first."""
        return self.pieces[0] if self.pieces else None


@dataclass(frozen=True, slots=True)
class DueAnswer:
    """What can be done now, what is next, and every clock that runs."""

    now: datetime
    zone: tzinfo
    at_hand: tuple[PieceView, ...]
    coming: tuple[PieceView, ...]
    clocks: tuple[PieceView, ...]
    notices: tuple[Notice, ...] = field(default=())
    windows: tuple[Window, ...] = field(default=())

"""An invented shop in memory, a clock that stands still, and a bench on top of both."""

from __future__ import annotations

import math
from collections.abc import Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

from finishsched.bench.app import BenchApp
from finishsched.bench.asking.door import Reach
from finishsched.drying.air import air_answer
from finishsched.drying.clock import ClockState, cure_clock
from finishsched.model.schedule import HandsOn, StageName, Verb, Wait
from finishsched.model.settings import Settings
from finishsched.model.shop import Air, ShownUnits
from finishsched.model.step import Step
from finishsched.safety.cautions import DEFERRAL, Caution, Danger
from finishsched.workshop.base.answers import (
    AirPoint,
    AirView,
    BenchView,
    LogLine,
    MixLine,
    PieceView,
    State,
    StepSheet,
    Trend,
    Window,
)
from finishsched.workshop.base.entries import Entry, RefusedError, What
from finishsched.workshop.base.notice import Notice
from finishsched.workshop.standing.together import Row
from finishsched.workshop.stock.shelf_entries import Mixed
from finishsched.workshop.stock.stock import StockAnswer
from finishsched.workshop.views.row_views import RowView

NOW = datetime(2026, 11, 25, 17, 42, tzinfo=UTC)
ZONE = ZoneInfo("Europe/Berlin")
HOUR = timedelta(hours=1)
MINUTE = timedelta(minutes=1)

CAUTIONS = (
    Caution(
        Danger.FIRE,
        "Flammable vapour, heavier than air: no flame, spark, heater or unrated fan near it.",
    ),
    Caution(
        Danger.VAPOUR,
        "Open a window and move air through; the air at the pad is worse than in the room.",
    ),
    Caution(
        Danger.RAGS,
        "Wet rags and pads burn readily: dry them outdoors, or keep the pad in a closed jar.",
    ),
)
DRY_CHECK_WORDS = "cool to the back of the hand means not yet; it must feel warm and not drag"


USUAL_WAIT = Wait(2 * 3600, 4 * 3600, 6 * 3600, 24 * 3600)
BETWEEN_WAIT = Wait(5 * 60, 15 * 60, 30 * 60)
"""Between two coats of one sitting."""


def pad(coat: int, coats: int = 6, wait: Wait = USUAL_WAIT) -> Step:
    """Return one coat of padding in the second round of three."""
    return Step(
        number=20 + coat,
        key=f"body/pad:2.{coat}",
        stage=StageName.BODY,
        verb=Verb.PAD,
        how="thin ovals, then straight with the grain, never stopping on the film",
        coat=coat,
        coats=coats,
        round=2,
        rounds=3,
        product="blonde",
        tool="linen over wool, palm sized",
        hands_on=HandsOn(2, 10),
        wait=wait,
        dry_check=DRY_CHECK_WORDS,
    )


def sheet(step: Step) -> StepSheet:
    """Return the sheet of a padding step."""
    return StepSheet(
        step=step,
        steps_in_all=61,
        product="Dewaxed blonde shellac flakes, 1.5 lb cut",
        abrasive=step.grade or "",
        lubricant="",
        mix=(
            MixLine("5.4 g", "dewaxed blonde shellac flakes"),
            MixLine("30 ml", "alcohol, 95 %vol"),
        ),
        mix_makes="34 ml, for 0.42 m2",
        hands_on_min=6.2,
        cautions=CAUTIONS,
        deferral=DEFERRAL,
    )


@dataclass(slots=True)
class FakePiece:
    """One piece and its story so far."""

    ref: str
    title: str
    job_title: str = "Tea box with a sunburst lid"
    coat: int = 1
    coats: int = 6
    laid_at: datetime | None = None
    begun: bool = True
    between: Wait = USUAL_WAIT
    """The wait after each coat but the last."""
    due: date | None = None
    not_yet: list[datetime] = field(default_factory=list)
    log: list[LogLine] = field(default_factory=list)

    def view(self, now: datetime) -> PieceView:
        """Return the piece as it stands."""
        finished = self.coat > self.coats
        step = None if finished else self._pad(self.coat)
        clock = None
        if step is not None and step.wait is not None and self.laid_at is not None:
            clock = cure_clock(step.wait, self.laid_at, self.not_yet, now)
        following = self.laid_at is not None and self.coat < self.coats
        return PieceView(
            ref=self.ref,
            title=self.title,
            job_title=self.job_title,
            schedule_title="Padded shellac on open-pored wood",
            state=self._state(clock.state if clock else None),
            due=self.due,
            step=step,
            sheet=sheet(step) if step else None,
            next_sheet=sheet(self._pad(self.coat + 1)) if following else None,
            clock=clock,
            steps_done=20 + self.coat - 1,
            steps_in_all=61,
            log=tuple(reversed(self.log))[:12],
            coats_ahead=self._coats_ahead(),
            why=("check: the likely time has passed; only the dry check ends the wait",),
        )

    def _coats_ahead(self) -> int:
        """Return how many coats the piece can have now, going round."""
        goes_on = self.between is BETWEEN_WAIT
        if self.laid_at is not None:
            return self.coats - self.coat if goes_on else 0
        return self.coats - self.coat + 1 if goes_on else min(1, self.coats - self.coat + 1)

    def _pad(self, coat: int) -> Step:
        wait = self.between if coat < self.coats else USUAL_WAIT
        return pad(coat, self.coats, wait)

    def _state(self, clock: ClockState | None) -> State:
        if not self.begun:
            return State.NOT_BEGUN
        if self.coat > self.coats:
            return State.FINISHED
        return State(clock.value) if clock else State.TO_DO


def a_day() -> tuple[AirPoint, ...]:
    """Return a day about now: warm at noon, cooler and damper in the night to come."""
    return tuple(
        AirPoint(
            NOW + hour * HOUR,
            19.0 - 2 * math.sin((hour + 2) / 12 * math.pi),
            55.0 + 7 * math.sin((hour + 2) / 12 * math.pi),
            foretold=hour > 0,
        )
        for hour in range(-12, 13)
    )


class FakeDoor:
    """A workshop in memory: takes entries, refuses what it is told to, counts who asked what."""

    workshop = None

    def __init__(self, pieces: list[FakePiece], notices: tuple[str, ...] = ()) -> None:
        self.pieces = {piece.ref: piece for piece in pieces}
        self.notices = notices
        self.air = AirView(
            air_answer(19.0, 55.0), NOW - 2 * HOUR, points=a_day(), warmth=Trend.FALLING,
            damp=Trend.RISING,
        )  # fmt: skip
        self.windows: tuple[Window, ...] = ()
        self.entries: list[Entry] = []
        self.looked: list[datetime] = []
        self.asked = 0
        self.is_changed = False
        self.refusal: Exception | None = None

    def bench_view(self, now: datetime) -> BenchView:
        """Return the shop, the most urgent piece first."""
        self.asked += 1
        views = [piece.view(now) for piece in self.pieces.values()]
        order = list(State)
        views.sort(
            key=lambda v: (order.index(v.state), v.clock.likely_at.timestamp() if v.clock else 0)
        )
        return BenchView(
            shop="Alder Lane Workshop",
            now=now,
            zone=ZONE,
            units=ShownUnits(),
            people=("Ana", "Rui"),
            air=self.air,
            pieces=tuple(views),
            notices=tuple(map(Notice, self.notices)),
            windows=tuple(replace(window, now=now) for window in self.windows),
        )

    def stock(self, now: datetime) -> StockAnswer:
        """Return an empty shelf."""
        return StockAnswer(now, ZONE, ShownUnits(), (), ())

    def log_stock(self, entry: Mixed, now: datetime) -> object:  # noqa: ARG002  # the door's
        """Take a batch, or refuse it."""
        if self.refusal is not None:
            raise self.refusal
        return entry

    def changed(self) -> bool:
        """Tell once that something changed."""
        was, self.is_changed = self.is_changed, False
        return was

    def log(self, entry: Entry, now: datetime) -> object:
        """Take the entry, or refuse it."""
        if self.refusal is not None:
            raise self.refusal
        self.entries.append(entry)
        piece = self.pieces[entry.piece]
        at = entry.at or now
        _apply(piece, entry, at)
        return entry

    def rows(
        self,
        pieces: Sequence[PieceView],
        apart: AbstractSet[str],  # noqa: ARG002
        now: datetime,  # noqa: ARG002
    ) -> tuple[RowView, ...]:
        """Return each piece by itself."""
        return tuple(RowView(Row((p.ref,), p.ref, p.title), p, (p,)) for p in pieces)

    def reach(self, refs: Sequence[str], jar: str, now: datetime) -> Reach:  # noqa: ARG002
        """Return a pad that goes on for three parts of any kind."""
        return Reach(12.0, "pad", dict.fromkeys(refs, 4.0), len(refs), 140.0 if jar else None)

    def add_air(self, air: Air, now: datetime) -> object:
        """Take the reading, or refuse it."""
        if self.refusal is not None:
            raise self.refusal
        self.air = AirView(air_answer(air.temperature_c, air.humidity_percent), air.at or now)
        return air

    def mark_looked(self, now: datetime) -> None:
        """Keep when somebody looked."""
        self.looked.append(now)


def _apply(piece: FakePiece, entry: Entry, at: datetime) -> None:
    if entry.what is What.UNDO:
        if not piece.log:
            raise RefusedError("there is nothing to undo", "log something first")
        piece.log.pop()
        piece.laid_at = None
        return
    if entry.what is What.START:
        piece.begun = True
    elif entry.what is What.DONE:
        piece.laid_at = at
    elif entry.what is What.GO_ON:
        piece.coat, piece.laid_at, piece.not_yet = piece.coat + 1, at, []
    elif entry.what is What.NOT_READY:
        piece.not_yet.append(at)
    elif entry.what in (What.READY, What.EARLY, What.SKIPPED):
        piece.laid_at, piece.not_yet = None, []
        piece.coat += 1
    piece.log.append(LogLine(at, f"{entry.what.value} {entry.text}".strip(), entry.by))


def six_pieces() -> list[FakePiece]:
    """Return six pieces, one in each state that a working day shows."""
    story = [
        LogLine(NOW - 30 * HOUR, "done: 22, pad coat 2 of 6 14 ml of jar 7", "Ana"),
        LogLine(NOW - 20 * HOUR, "ready: 22, pad coat 2 of 6", "Ana"),
        LogLine(NOW - 5 * HOUR, "done: 23, pad coat 3 of 6", "Rui"),
    ]
    return [
        FakePiece(
            "tea-box/lid",
            "Lid, sunburst veneer",
            coat=3,
            laid_at=NOW - 5 * HOUR,
            due=date(2026, 12, 10),
            log=story,
        ),
        FakePiece("tea-box/case", "Case, book-matched sides", coat=4),
        FakePiece("tea-box/tray", "Inner tray", coat=2, laid_at=NOW - 2.5 * HOUR),
        FakePiece(
            "panel/left",
            "Left door panel, herringbone",
            "Cabinet doors",
            coat=1,
            laid_at=NOW - 0.4 * HOUR,
        ),
        FakePiece("panel/right", "Right door panel, herringbone", "Cabinet doors", begun=False),
        FakePiece("frame/frame", "Frame for a mirror", "Mirror frame", coat=7),
    ]


class Clocks:
    """A wall clock and a monotonic clock that only move when told to."""

    def __init__(self, wall: datetime = NOW) -> None:
        self.wall = wall
        self.monotonic_s = 1000.0

    def forward(self, step: timedelta) -> None:
        """Let time pass on both."""
        self.wall += step
        self.monotonic_s += step.total_seconds()


class WatchedBench(BenchApp):
    """The bench, its bell counted instead of rung, with no beat or search but those of the test."""

    BEAT_S = 86400.0
    QUIET_S = 86400.0

    rings = 0

    def bell(self) -> None:
        """Count."""
        self.rings += 1


def bench(
    door: FakeDoor | None = None,
    clocks: Clocks | None = None,
    **settings: object,
) -> WatchedBench:
    """Return a bench on an invented shop."""
    clocks = clocks or Clocks()
    return WatchedBench(
        door or FakeDoor(six_pieces()),
        now=lambda: clocks.wall,
        monotonic=lambda: clocks.monotonic_s,
        settings=replace(Settings(), **settings),  # type: ignore[arg-type]
    )


def said(app: BenchApp) -> list[str]:
    """Return the toasts on screen."""
    return [toast.message for toast in app._notifications]

"""What can happen in a shop: one payload for each kind of entry.

An entry's kind and the names of its fields are written into journals for good: a field may be
added with a default, but none is renamed, removed or given another meaning.

``given`` is a mark that entries have in common which were given in one go, so that they can be
taken back as they were given; it is empty for an entry given by itself.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import ClassVar, TypeAlias

from finishsched.journal.payloads_of_gauges import (
    BottleWeighed,
    FilmGauged,
    HandTested,
    JarTested,
    SurfaceRead,
    ZoneMeasured,
    ZoneStands,
)
from finishsched.journal.payloads_of_shop import (
    AirRead,
    BatchMixed,
    CautionsRead,
    HandsAway,
    LotBought,
    PaceSet,
    RagsDealtWith,
    StockCounted,
    SuppliesTold,
)
from finishsched.model.shop import Air


@dataclass(frozen=True, slots=True)
class PieceStarted:
    """Work on a piece began, or began anew; both hashes name snapshots in the same journal."""

    kind: ClassVar[str] = "piece-started"
    schedule_id: str
    schedule_hash: str
    piece_hash: str
    by: str = ""
    note: str = ""
    anew: bool = False
    """True where earlier work was stripped: every step is to do again."""
    given: str = ""


@dataclass(frozen=True, slots=True)
class ScheduleAdopted:
    """The piece goes on by another text of its schedule, kept as a snapshot."""

    kind: ClassVar[str] = "schedule-adopted"
    schedule_id: str
    schedule_hash: str
    by: str = ""
    given: str = ""


@dataclass(frozen=True, slots=True)
class StepDone:
    """One step was done; its wait, where it has one, runs from the entry's ``at``."""

    kind: ClassVar[str] = "step-done"
    step: str
    by: str = ""
    batch: str = ""
    amount_ml: float | None = None
    amount_g: float | None = None
    air: Air | None = None
    note: str = ""
    moisture_percent: float | None = None
    """Of the wood, where it was measured before the coat, in percent of its dry mass."""
    told: bool = False
    """True where nobody logged it then: it was told afterwards, and its time is reckoned."""
    given: str = ""
    reckoned: bool = False
    """True where nobody said how much: the amount is what such a coat takes, and no evidence."""
    took_min: float | None = None
    """Hands-on, by the clock; None where nobody looked."""
    jar_told: bool = False
    """True where nobody named the jar: it is the one that the coat was told to be taken from."""
    let_down_ml: float = 0.0
    """Of the amount, alcohol that let it down at the bench: that did not come out of the jar."""
    mixed_ml: float | None = None
    """What somebody said was used and is what was told to be mixed, for all the pieces together: so
    nobody said how much was used of it."""


@dataclass(frozen=True, slots=True)
class DryReady:
    """A dry check found the film ready, which ends the wait of a step that is done."""

    kind: ClassVar[str] = "dry-ready"
    step: str
    by: str = ""
    note: str = ""
    told: bool = False
    """True where it was told afterwards: it ends the wait, and is no evidence of how it dried."""
    given: str = ""
    going_on: bool = False
    """True where nobody looked for it alone: the next coat of a sitting glided."""


@dataclass(frozen=True, slots=True)
class WentEarly(DryReady):
    """A wait was cut short on purpose: the work goes on, and nobody found the film ready.

    It ends the wait as a dry check does, and is evidence of nothing; ``note`` says why.
    """

    kind: ClassVar[str] = "went-early"
    told: bool = True


@dataclass(frozen=True, slots=True)
class DryNotYet:
    """A dry check found the film not ready; the wait goes on."""

    kind: ClassVar[str] = "dry-not-yet"
    step: str
    by: str = ""
    note: str = ""
    given: str = ""


@dataclass(frozen=True, slots=True)
class StepSkipped:
    """A step was left out on purpose."""

    kind: ClassVar[str] = "step-skipped"
    step: str
    reason: str
    by: str = ""
    given: str = ""


@dataclass(frozen=True, slots=True)
class Noted:
    """Something worth remembering."""

    kind: ClassVar[str] = "note"
    text: str
    by: str = ""
    given: str = ""


@dataclass(frozen=True, slots=True)
class DefectSeen:
    """Something is wrong with the work; ``step`` is where it was seen or thought to come from."""

    kind: ClassVar[str] = "defect"
    text: str
    step: str | None = None
    by: str = ""
    seen: str = ""
    """What it is in the trade's word, such as ``blush``; empty for what has no name."""
    given: str = ""
    where: str = ""
    """The place on the piece, in the words of whoever saw it; empty for all of it."""
    zone: str = ""
    """The zone of the face that it lies in, such as ``edges``."""
    area_m2: float | None = None
    """How large it is, where somebody said."""


@dataclass(frozen=True, slots=True)
class ReworkTaken:
    """A way to put a defect right was chosen: its steps enter before the work that is left.

    The steps are those of the snapshot ``rework_hash``, with keys that begin ``rework-`` and
    ``number``, which no other rework of the piece ever has.
    """

    kind: ClassVar[str] = "rework"
    rework_hash: str
    number: int
    option: str
    title: str
    seen: str = ""
    defect_id: str = ""
    """The entry that says what was seen."""
    before: str = ""
    """The step that it entered before, for a reader; empty for the end of the work."""
    ends_wait: str = ""
    """The step whose running wait the rework takes the place of."""
    by: str = ""
    given: str = ""
    beside: str = ""
    """By which name it is worked beside the piece, such as ``casket/lid+2``; ``before`` is then the
    step that waits for it. Empty where its steps enter the piece's own work."""


@dataclass(frozen=True, slots=True)
class Undone:
    """An earlier entry does not count; it stays in the journal."""

    kind: ClassVar[str] = "undo"
    event_id: str
    by: str = ""
    note: str = ""
    given: str = ""


@dataclass(frozen=True, slots=True)
class Amended:
    """An earlier entry is told otherwise: what is None here stays as it was; both are kept."""

    kind: ClassVar[str] = "amend"
    event_id: str
    at: datetime | None = None
    hands: str | None = None
    """Whose work it was."""
    batch: str | None = None
    amount_ml: float | None = None
    amount_g: float | None = None
    """Either amount takes the place of both."""
    by: str = ""
    """Who says so now."""
    note: str = ""
    given: str = ""
    took_min: float | None = None


@dataclass(frozen=True, slots=True)
class PiecesJoined:
    """Pieces are worked together until ``until``, while the steps they are at agree."""

    kind: ClassVar[str] = "joined"
    pieces: tuple[str, ...]
    """Each as ``job/piece``."""
    until: datetime
    by: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class PictureAttached:
    """A picture of the piece: a file in the shop's folder, by its path from there."""

    kind: ClassVar[str] = "picture"
    path: str
    caption: str = ""
    by: str = ""
    step: str = ""
    """The key of the step that it shows; empty for one of the piece as a whole."""
    given: str = ""


Payload: TypeAlias = (
    PieceStarted
    | ScheduleAdopted
    | StepDone
    | DryReady
    | WentEarly
    | DryNotYet
    | StepSkipped
    | Noted
    | DefectSeen
    | ReworkTaken
    | Undone
    | Amended
    | PiecesJoined
    | AirRead
    | LotBought
    | BatchMixed
    | StockCounted
    | SuppliesTold
    | CautionsRead
    | RagsDealtWith
    | BottleWeighed
    | FilmGauged
    | ZoneMeasured
    | ZoneStands
    | SurfaceRead
    | JarTested
    | HandTested
    | PaceSet
    | HandsAway
    | PictureAttached
)

PAYLOADS: dict[str, type[Payload]] = {
    payload.kind: payload
    for payload in (
        PieceStarted,
        ScheduleAdopted,
        StepDone,
        DryReady,
        WentEarly,
        DryNotYet,
        StepSkipped,
        Noted,
        DefectSeen,
        ReworkTaken,
        Undone,
        Amended,
        PiecesJoined,
        AirRead,
        LotBought,
        BatchMixed,
        StockCounted,
        SuppliesTold,
        CautionsRead,
        RagsDealtWith,
        BottleWeighed,
        FilmGauged,
        ZoneMeasured,
        ZoneStands,
        SurfaceRead,
        JarTested,
        HandTested,
        PaceSet,
        HandsAway,
        PictureAttached,
    )
}
"""Every kind of entry by the name it has in the journal."""

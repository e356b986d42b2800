"""What can happen in a shop: one payload for each kind of entry.

An entry's kind and the names of its fields are written into journals for good: a field may be
added with a default, but none is renamed, removed or given another meaning.

``given`` is a mark that entries have in common which were given in one go, so that they can be
taken back as they were given; it is empty for an entry given by itself.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import ClassVar, TypeAlias

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
class AirRead:
    """Somebody or something read the air; ``source`` says who, or from which file."""

    kind: ClassVar[str] = "air"
    air: Air
    source: str = ""
    surface_c: float | None = None
    """Of the floor or the work, where it was read too."""


@dataclass(frozen=True, slots=True)
class LotBought:
    """A lot of a product came into the shop, by weight or by volume."""

    kind: ClassVar[str] = "lot-bought"
    lot: str
    product: str
    amount_g: float | None = None
    amount_ml: float | None = None
    by: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Draw:
    """What was taken from one lot, by weight or by volume as the lot was bought."""

    lot: str
    amount_g: float | None = None
    amount_ml: float | None = None


@dataclass(frozen=True, slots=True)
class BatchMixed:
    """A batch was mixed, from lots where any are named."""

    kind: ClassVar[str] = "batch-mixed"
    batch: str
    product: str
    makes_ml: float
    cut_g_per_l: float | None = None
    thinned_percent: float | None = None
    draws: tuple[Draw, ...] = ()
    by: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class StockCounted:
    """Somebody looked how much of a lot or batch is left; nothing of it means empty."""

    kind: ClassVar[str] = "stock-counted"
    name: str
    left_g: float | None = None
    left_ml: float | None = None
    by: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class BottleWeighed:
    """The bottle was weighed before and after the last ``coats`` coats that end with ``step``."""

    kind: ClassVar[str] = "bottle-weighed"
    step: str
    before_g: float
    after_g: float
    coats: int = 1
    by: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class FilmGauged:
    """A film gauge was read over the high spots of a piece, as it is at that time."""

    kind: ClassVar[str] = "film-gauged"
    film_um: float
    by: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class ZoneMeasured:
    """What is left of veneer or inlay in one zone of a piece was measured, as it is then."""

    kind: ClassVar[str] = "zone-measured"
    zone: str
    left_um: float
    by: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class HandTested:
    """So many strokes on a test piece took so much: this hand's rate."""

    kind: ClassVar[str] = "hand-tested"
    on: str
    """``film``, ``wood`` or an inlay's material."""
    grade: str
    strokes: float
    area_mm2: float
    taken_um: float
    wet: bool = False
    species: str = ""
    by: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class CautionsRead:
    """Somebody read cautions, each known by a hash of its text; no more that day."""

    kind: ClassVar[str] = "cautions-read"
    texts: tuple[str, ...]
    by: str = ""


@dataclass(frozen=True, slots=True)
class RagsDealtWith:
    """The rags that heat by themselves, of every step done until then, are out of harm's way."""

    kind: ClassVar[str] = "rags-dealt-with"
    where: str
    by: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class PaceSet:
    """Somebody overruled, or reset, what dry checks teach about one product's waits of a kind.

    ``forget`` counts only the checks from the entry's ``at`` on. Without it ``factor`` sets the
    pace, in times the book; None goes back to what is learnt.
    """

    kind: ClassVar[str] = "pace"
    product: str
    waits: str
    """The kind of wait, such as ``first coat``."""
    factor: float | None = None
    forget: bool = False
    by: str = ""


@dataclass(frozen=True, slots=True)
class HandsAway:
    """Somebody, or everybody, is away: on days, or for a span of minutes of each."""

    kind: ClassVar[str] = "hands-away"
    first: date
    last: date
    who: str = ""
    opens_min: int | None = None
    closes_min: int | None = None
    by: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class PictureAttached:
    """A picture of the piece: a file in the shop's folder, by its path from there."""

    kind: ClassVar[str] = "picture"
    path: str
    caption: str = ""
    by: str = ""


Payload: TypeAlias = (
    PieceStarted
    | ScheduleAdopted
    | StepDone
    | DryReady
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
    | CautionsRead
    | RagsDealtWith
    | BottleWeighed
    | FilmGauged
    | ZoneMeasured
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
        CautionsRead,
        RagsDealtWith,
        BottleWeighed,
        FilmGauged,
        ZoneMeasured,
        HandTested,
        PaceSet,
        HandsAway,
        PictureAttached,
    )
}
"""Every kind of entry by the name it has in the journal."""

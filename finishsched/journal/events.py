"""What happened: typed entries that never change once written, and their JSON.

An entry's kind and the names of its fields are written into journals for good: a field may be
added with a default, but none is renamed, removed or given another meaning.
"""

from __future__ import annotations

import dataclasses
import json
import os
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any, ClassVar, NoReturn, TypeAlias

from finishsched.journal.faults import JournalFaultError
from finishsched.model.plain import canonical_json, from_plain, to_plain
from finishsched.model.shop import Air


@dataclass(frozen=True, slots=True)
class PieceStarted:
    """Work on a piece began; both hashes name snapshots in the same journal."""

    kind: ClassVar[str] = "piece-started"
    schedule_id: str
    schedule_hash: str
    piece_hash: str
    by: str = ""


@dataclass(frozen=True, slots=True)
class ScheduleAdopted:
    """The piece goes on by another text of its schedule, kept as a snapshot."""

    kind: ClassVar[str] = "schedule-adopted"
    schedule_id: str
    schedule_hash: str
    by: str = ""


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


@dataclass(frozen=True, slots=True)
class DryReady:
    """A dry check found the film ready, which ends the wait of a step that is done."""

    kind: ClassVar[str] = "dry-ready"
    step: str
    by: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class DryNotYet:
    """A dry check found the film not ready; the wait goes on."""

    kind: ClassVar[str] = "dry-not-yet"
    step: str
    by: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class StepSkipped:
    """A step was left out on purpose."""

    kind: ClassVar[str] = "step-skipped"
    step: str
    reason: str
    by: str = ""


@dataclass(frozen=True, slots=True)
class Noted:
    """Something worth remembering."""

    kind: ClassVar[str] = "note"
    text: str
    by: str = ""


@dataclass(frozen=True, slots=True)
class DefectSeen:
    """Something is wrong with the work; ``step`` is where it was seen or thought to come from."""

    kind: ClassVar[str] = "defect"
    text: str
    step: str | None = None
    by: str = ""


@dataclass(frozen=True, slots=True)
class Undone:
    """An earlier entry does not count; it stays in the journal."""

    kind: ClassVar[str] = "undo"
    event_id: str
    by: str = ""


@dataclass(frozen=True, slots=True)
class AirRead:
    """Somebody or something read the air; ``source`` says who, or from which file."""

    kind: ClassVar[str] = "air"
    air: Air
    source: str = ""


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


Payload: TypeAlias = (
    PieceStarted
    | ScheduleAdopted
    | StepDone
    | DryReady
    | DryNotYet
    | StepSkipped
    | Noted
    | DefectSeen
    | Undone
    | AirRead
    | LotBought
    | BatchMixed
    | StockCounted
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
        Undone,
        AirRead,
        LotBought,
        BatchMixed,
        StockCounted,
    )
}
"""Every kind of entry by the name it has in the journal."""


@dataclass(frozen=True, slots=True)
class Event:
    """One entry as written."""

    seq: int
    """From 1, in the order of writing; the order in which entries count."""
    id: str
    at: datetime
    """When it happened, as the person says."""
    logged_at: datetime
    """When it was written, by a clock that may step back."""
    piece: str | None
    """``job/piece``; None for an entry about the whole shop."""
    what: Payload


@dataclass(frozen=True, slots=True)
class NewEvent:
    """An entry to be written, with the texts of the snapshots that it names by hash."""

    at: datetime
    piece: str | None
    what: Payload
    snapshots: tuple[tuple[str, str], ...] = ()
    """Pairs of SHA-256 hash and text, as ``content_hash`` and ``canonical_json`` make them."""


Row: TypeAlias = tuple[int, str, str, str, str | None, str, str]
"""An entry as the events table holds it, in the order of its columns."""


def to_row(event: Event) -> Row:
    """Return ``event`` as the events table holds it.

    Raises:
        JournalFaultError: when a text or figure in it cannot be written.

    """
    try:
        _refuse_local_time(event.what)
        at, logged_at = _stored(event.at), _stored(event.logged_at)
        body = canonical_json(event.what)
        f"{event.piece}{body}".encode()
    except ValueError as error:
        raise JournalFaultError(
            f"this {event.what.kind} entry cannot be written ({error})",
            "nothing was written; give it again without that character or figure",
        ) from error
    return event.seq, event.id, at, logged_at, event.piece, event.what.kind, body


def from_row(row: Row) -> Event:
    """Return the event that ``to_row`` made ``row`` of.

    Keys in the body that this program does not know are passed over, so that it can read what a
    later one wrote.

    Raises:
        JournalFaultError: naming the entry, for an unknown kind or a body of another shape.

    """
    seq, id_, at, logged_at, piece, kind, body = row
    payload = PAYLOADS.get(kind)
    if payload is None:
        raise JournalFaultError(
            f"entry {seq} of the journal is of an unknown kind, {kind!r:.40}",
            "update finishsched, which may know it",
        )
    try:
        what = from_plain(payload, _DECODER.decode(body))
        _refuse_local_time(what)
        return Event(seq, id_, _instant(at), _instant(logged_at), piece, what)
    except (ValueError, OverflowError, RecursionError) as error:
        raise JournalFaultError(
            f"entry {seq} of the journal cannot be read ({error})",
            "keep the file as it is, and bring back the newest copy beside it",
        ) from error


def as_json(event: Event) -> dict[str, Any]:
    """Return ``event`` as JSON values for people and other programs, every field present."""
    head = {
        name: _shown(getattr(event, name)) for name in ("seq", "id", "at", "logged_at", "piece")
    }
    return {**head, "kind": event.what.kind, **_shown(event.what)}


def random_id() -> str:
    """Return a new random identifier, 32 hex digits: a UUID of version 4 (RFC 9562, 5.4).

    Made by hand because importing ``uuid`` costs a short command as much as all its work here.
    """
    bits = int.from_bytes(os.urandom(16), "big")
    bits &= ~(0xF << 76 | 0x3 << 62)
    return f"{bits | 0x4 << 76 | 0x2 << 62:032x}"


def utc_text(at: datetime, timespec: str = "auto") -> str:
    """Return an aware instant as ISO 8601 in UTC, such as ``2026-03-01T08:30:00Z``.

    Raises:
        ValueError: for a time without a zone.

    """
    if at.utcoffset() is None:
        raise ValueError("a time without a zone")
    return at.astimezone(UTC).replace(tzinfo=None).isoformat(timespec=timespec) + "Z"


def _stored(at: datetime) -> str:
    """Write an instant always to the microsecond, so that text sorts as time does."""
    return utc_text(at, "microseconds")


def _instant(text: str) -> datetime:
    at = datetime.fromisoformat(text)
    if at.utcoffset() is None:
        raise ValueError(f"a time without a zone, {text!r:.40}")
    return at


def _refuse_local_time(what: Payload) -> None:
    air: Air | None = getattr(what, "air", None)
    if air is not None and air.at is not None and air.at.utcoffset() is None:
        raise ValueError("a reading of the air at a time without a zone")


def _refuse_constant(name: str) -> NoReturn:
    raise ValueError(f"{name} is no number")


_DECODER = json.JSONDecoder(parse_constant=_refuse_constant)


def _shown(value: Any) -> Any:
    if isinstance(value, datetime):
        return utc_text(value)
    if dataclasses.is_dataclass(value):
        return {
            field.name: _shown(getattr(value, field.name)) for field in dataclasses.fields(value)
        }
    if isinstance(value, tuple):
        return [_shown(item) for item in value]
    return to_plain(value)

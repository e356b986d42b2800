"""What happened: entries that never change once written, and their rows and JSON."""

from __future__ import annotations

import dataclasses
import json
import os
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import lru_cache
from typing import Any, NoReturn, TypeAlias

from finishsched.journal.faults import JournalFaultError
from finishsched.journal.payloads import (
    PAYLOADS,
    Amended,
    DefectSeen,
    DryNotYet,
    DryReady,
    Noted,
    Payload,
    PictureAttached,
    PiecesJoined,
    PieceStarted,
    ReworkTaken,
    ScheduleAdopted,
    StepDone,
    StepSkipped,
    Undone,
    WentEarly,
)
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
    Draw,
    HandsAway,
    LotBought,
    PaceSet,
    RagsDealtWith,
    StockCounted,
    SuppliesTold,
    WentIn,
)
from finishsched.model.plain import canonical_json, from_plain, to_plain
from finishsched.model.shop import Air

__all__ = [
    "PAYLOADS",
    "AirRead",
    "Amended",
    "BatchMixed",
    "BottleWeighed",
    "CautionsRead",
    "DefectSeen",
    "Draw",
    "DryNotYet",
    "DryReady",
    "Event",
    "FilmGauged",
    "HandTested",
    "HandsAway",
    "JarTested",
    "LotBought",
    "NewEvent",
    "Noted",
    "PaceSet",
    "Payload",
    "PictureAttached",
    "PieceStarted",
    "PiecesJoined",
    "RagsDealtWith",
    "ReworkTaken",
    "Row",
    "ScheduleAdopted",
    "StepDone",
    "StepSkipped",
    "StockCounted",
    "SuppliesTold",
    "SurfaceRead",
    "Undone",
    "WentEarly",
    "WentIn",
    "ZoneMeasured",
    "ZoneStands",
    "as_json",
    "from_row",
    "random_id",
    "to_row",
    "utc_text",
]


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
    id: str = ""
    """By which another entry written with it can name it, as ``random_id`` makes one."""


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
    if not _has_types(row):
        raise _unreadable(seq, "a column of another type")
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
    except (ValueError, TypeError, OverflowError, RecursionError) as error:
        raise _unreadable(seq, str(error)) from error


def _has_types(row: Row) -> bool:
    seq, id_, at, logged_at, piece, kind, body = row
    texts = all(type(text) is str for text in (id_, at, logged_at, kind, body))
    return texts and type(seq) is int and (piece is None or type(piece) is str)


def _unreadable(seq: object, why: str) -> JournalFaultError:
    return JournalFaultError(
        f"entry {seq!r:.40} of the journal cannot be read ({why})",
        "keep the file as it is, and bring back the newest copy beside it",
    )


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


@lru_cache(maxsize=64)
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
    for name in ("at", "until"):
        told: datetime | None = getattr(what, name, None)
        if told is not None and told.utcoffset() is None:
            raise ValueError("a time without a zone")


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

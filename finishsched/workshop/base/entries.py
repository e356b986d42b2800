"""Entries as people make them, and the refusal of those that cannot be true."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from finishsched.model.shop import Air
from finishsched.refusals import RefusalError


class What(StrEnum):
    """What a person says happened."""

    START = "start"
    DONE = "done"
    READY = "ready"
    NOT_READY = "not ready"
    SKIPPED = "skipped"
    DEFECT = "defect"
    NOTE = "note"
    ADOPT = "adopt"
    """Go on by the schedule's document as it now reads."""
    UNDO = "undo"
    ANEW = "anew"
    """The piece was stripped: begin again at its first step."""


ENTRY_NAMES = {
    **{what.value: what for what in What},
    **dict.fromkeys(("not-ready", "not yet", "not-yet"), What.NOT_READY),
    "skip": What.SKIPPED,
}
"""Every way to write what happened."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry about one piece. ``step`` is a number, a key, or None for the step in hand."""

    what: What
    piece: str
    step: str | None = None
    text: str = ""
    at: datetime | None = None
    """When it happened; None for now."""
    by: str = ""
    batch: str = ""
    amount_ml: float | None = None
    amount_g: float | None = None
    air: Air | None = None
    seen: str = ""
    """Of a defect: what it is in the trade's word; empty for what its text begins with."""
    moisture_percent: float | None = None
    """Of the wood, as measured before the coat, in percent of its dry mass."""


class RefusedError(RefusalError, ValueError):
    """An entry that cannot be taken: what is wrong, and what would be right."""

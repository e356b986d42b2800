"""Entries as people make them, and the refusal of those that cannot be true."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum
from shlex import quote

from finishsched.model.names import in_words
from finishsched.model.shop import Air
from finishsched.refusals import RefusalError

AHEAD = timedelta(minutes=1)
"""An entry may be this far ahead of the clock: two machines seldom agree to the second."""


TOLD_AFTERWARDS = "told afterwards"
"""The note of an entry that nobody made when it happened."""


class What(StrEnum):
    """What a person says happened."""

    START = "start"
    DONE = "done"
    READY = "ready"
    NOT_READY = "not ready"
    EARLY = "early"
    """Go on before it was found ready, on purpose: its wait ends, and nothing is learnt of it."""
    SKIPPED = "skipped"
    DEFECT = "defect"
    NOTE = "note"
    ADOPT = "adopt"
    """Go on by the schedule's document as it now reads."""
    UNDO = "undo"
    AMEND = "amend"
    """Tell an earlier entry otherwise: its time, hands, jar or amount, or the piece it is about."""
    JOIN = "join"
    """Work these pieces together for the evening, for as long as the steps they are at agree."""
    PART = "part"
    """They are no longer worked together."""
    GO_ON = "go on"
    """The next coat of a sitting: that it went on says that the one before had dried enough."""
    ANEW = "anew"
    """The piece was stripped: begin again at its first step."""
    WAIT = "wait"
    """A wait of this piece alone, that no schedule has: a clock beside its own."""
    EXTRA = "extra"
    """A step of this piece alone, that no schedule has."""

    @property
    def lays(self) -> bool:
        """True for what may tell an amount, a batch, the air and the time that a coat took."""
        return self in (What.DONE, What.GO_ON)

    @property
    def is_own_step(self) -> bool:
        """True for what makes a step of this piece alone."""
        return self in (What.WAIT, What.EXTRA)


ENTRY_NAMES = {
    **{what.value: what for what in What},
    **dict.fromkeys(("not-ready", "not yet", "not-yet"), What.NOT_READY),
    "skip": What.SKIPPED,
    **dict.fromkeys(("go early", "went early"), What.EARLY),
    "go-on": What.GO_ON,
}
"""Every way to write what happened."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry about one piece, or the same about several.

    ``step`` is a number, a key, or None for the step in hand.
    """

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
    took_min: float | None = None
    """Hands-on minutes of a step done, for all pieces together."""
    number: int | None = None
    """Of an undo or an amendment: the journal's number of the entry meant; None for the newest."""
    and_later: bool = False
    """Of an undo: take back what hangs on the entry as well."""
    to: str = ""
    """Of an amendment: the piece that the entry was meant for."""
    where: str = ""
    """Of a defect: its place on the piece; empty for what its text says."""
    area_m2: float | None = None
    """Of a defect: how large it is."""
    span_s: float | None = None
    """Of a wait or an extra step: how long it takes."""
    until: datetime | None = None
    """Of a wait: when it is over, in the place of ``span_s``."""


class RefusedError(RefusalError, ValueError):
    """An entry that cannot be taken: what is wrong, and what would be right."""


class NotToBeReadError(RefusedError):
    """A piece or schedule that is in no document that can be read: a fault there may be why."""


class SeveralRefusedError(RefusedError):
    """Entries about several pieces, of which none is taken because some cannot be.

    ``each`` gives for each refusal the piece that it is about, or nothing where it is about none.
    """

    def __init__(self, each: Sequence[tuple[str, RefusedError]]) -> None:
        super().__init__(each[0][1].message, each[0][1].remedy)
        self.each = tuple(each)

    @property
    def lines(self) -> tuple[str, ...]:
        """Return each refusal as one line for people; one that is true of several, once."""
        pieces: dict[tuple[str, str], list[str]] = {}
        for ref, refused in self.each:
            words = refused.message, refused.remedy
            if ref:
                what = words[0].removeprefix(f"{ref}: ").replace(ref, "it")
                words = what, words[1].replace(ref, _THEM)
            pieces.setdefault(words, []).append(ref)
        return tuple(
            f"{in_words(refs)}: {message}; {remedy.replace(_THEM, _as_typed(refs))}"
            if refs[0]
            else f"{message}; {remedy}"
            for (message, remedy), refs in pieces.items()
        )


_THEM = "\0"
"""Stands for the pieces of a refusal until all that it is true of are known."""
_MOST_TYPED = 60


def _as_typed(refs: Sequence[str]) -> str:
    """Return pieces as a command takes them, ``'front-1 to 5'``; a long list stays ``PIECE``."""
    words = in_words(refs).replace(", ", ",")
    return quote(words) if len(words) <= _MOST_TYPED else "PIECE"

"""The rows of the table of layers, read from ``table.txt``."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from importlib import resources

from finishsched.checking.layers.matter import is_a
from finishsched.factors import DAY_S, HOUR_S, MIN_S
from finishsched.tables import rows_of, several

_UNIT_S = {"min": MIN_S, "h": HOUR_S, "d": DAY_S}


class Need(StrEnum):
    """What has to be done between two layers."""

    SCUFF = "scuff"
    SCUFF_FILM = "scuff film"
    """As a scuff, of what is more than a wash coat, which lets the wood's own tooth through."""
    CUT = "cut"
    """Scraped or sanded off the face, down to the wood."""
    WASH = "wash"
    RINSE = "rinse"
    SEAL = "seal"
    SPRAY = "spray"
    """The layer above is misted on by gun."""
    UNRUBBED = "unrubbed"
    """The layer above is flowed on: no pad rubs over the one below."""
    FRESH = "fresh"
    """The bare wood was cut or washed no longer ago than the row's ``until``."""
    MEANT = "meant"
    """It is laid for its colour, as the verb of its step says."""
    TANNIN = "tannin"
    """A tannin was brushed on before."""
    NEVER = "never"


class Status(StrEnum):
    """How well a row is known."""

    SOURCED = "sourced"
    COMMON = "common"
    """Common practice, no source."""
    MEMORY = "memory"
    CONTESTED = "contested"


@dataclass(frozen=True, slots=True)
class Pair:
    """One row: what lies below, what comes above, what it needs, why, and who says so."""

    below: tuple[str, ...]
    above: tuple[str, ...]
    after_s: float
    until_s: float
    """Within it nothing else is needed; 0 where time spares nothing."""
    needs: tuple[Need, ...]
    why: str
    mend: str
    sources: str
    status: Status
    rule: str
    """The code under which ``check`` tells it."""

    @property
    def is_certain(self) -> bool:
        """True where it makes an error; what is contested or from memory only advises."""
        return self.status in (Status.SOURCED, Status.COMMON)

    def fits(self, below: str, above: str) -> bool:
        """Tell whether the row speaks of these two matters."""
        return any(is_a(below, one) for one in self.below) and any(
            is_a(above, one) for one in self.above
        )


@lru_cache(maxsize=1)
def pairs() -> tuple[Pair, ...]:
    """Return every row, in the order in which they are asked."""
    return tuple(map(_row, rows_of("table.txt", __package__)))


@lru_cache(maxsize=4096)  # far fewer matters lie over one another; every rule asks anew
def asked_of(below: str, above: str) -> tuple[Pair, ...]:
    """Return the rows that one matter over another is asked by, what is certain first.

    The first that fits is it; what is contested only advises, so it hides no row after it.
    """
    fitting = [pair for pair in pairs() if pair.fits(below, above)]
    certain = next((at for at, pair in enumerate(fitting) if pair.is_certain), len(fitting))
    return tuple(sorted(fitting[: certain + 1], key=lambda pair: not pair.is_certain))


@lru_cache(maxsize=1)
def sources() -> dict[str, str]:
    """Return what each key of the sources means."""
    text = (resources.files(__package__) / "table.txt").read_text("utf-8")
    foot = text.partition("below | above")[2]
    found: dict[str, str] = {}
    for line in foot.splitlines():
        keys, colon, title = line.removeprefix("# ").partition(": ")
        if line.startswith("# ") and colon:
            found.update(dict.fromkeys((key.strip() for key in keys.split(",")), title))
    return found


def _row(cells: tuple[str, ...]) -> Pair:
    below, above, after, until, needs, why, mend, source, status, rule = cells
    return Pair(
        below=several(below),
        above=several(above),
        after_s=_seconds(after),
        until_s=_seconds(until),
        needs=() if needs == "-" else tuple(map(Need, several(needs))),
        why=why,
        mend=mend,
        sources=source,
        status=Status(status),
        rule=rule,
    )


def _seconds(cell: str) -> float:
    count, _, unit = cell.partition(" ")
    return 0.0 if cell == "-" else float(count) * _UNIT_S[unit]

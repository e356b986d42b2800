"""How far the shelf was folded before, so that a lifetime of coats is not folded each time.

A file beside the journal keeps what stood on the shelf after one entry, known by that entry's
random name. It is no truth: it can be removed at any time, and where anything else than later
entries came since, all is folded anew. What is kept is not yet settled, so that going on from it
gives the same figures to the last digit as folding from the beginning.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, field, replace
from datetime import datetime
from pathlib import Path
from typing import Any
from zlib import crc32

from finishsched.journal.events import random_id
from finishsched.model.recipe import Weighed
from finishsched.model.stock import Batch, DropTest, Lot, Thing

SHELF_FILE = ".shelf.json"
_FORMAT = 1
_MOST_BYTES = 64 * 1024**2
_ENOUGH = 300
"""After so many things that were told or drawn the file is written anew."""


@dataclass(frozen=True, slots=True)
class Folded:
    """The shelf as one state of the journal has it."""

    things: Mapping[str, Thing] = field(default_factory=dict)
    sums: Mapping[str, tuple[float, float]] = field(default_factory=dict)
    """Grams and millilitres that were drawn from each since it was last told of."""
    until: tuple[datetime, int] | None = None
    """When the last of it happened, and its number."""
    seq: int = 0
    mark: str = ""
    """By which the journal's last entry then is known."""
    undone: int = 0
    """A sum over the names of the entries that did not count."""


class ShelfMemo:
    """What was folded last of one journal, at hand and in the file beside it."""

    def __init__(self, journal: Path) -> None:
        self._file = journal.with_name(SHELF_FILE)
        self._last: Folded | None = None
        self._since_kept = 0

    def folded(self) -> Folded:
        """Return what was folded last; nothing where there is nothing of use."""
        if self._last is None:
            self._last = _read(self._file)
        return self._last

    def keep(self, folded: Folded, count: int) -> None:
        """Remember what was folded, of which ``count`` was not before."""
        self._last = folded
        self._since_kept += count
        if self._since_kept >= _ENOUGH:
            self._since_kept = 0
            with suppress(OSError):  # without it all is folded anew the next time
                _write(self._file, folded)


def sum_of_names(names: frozenset[str]) -> int:
    """Return a sum over names that is another one once there is another name, or one less."""
    return sum(crc32(name.encode("utf-8", "surrogatepass")) for name in names)


def _write(file: Path, folded: Folded) -> None:
    text = json.dumps(_plain(folded), separators=(",", ":"))
    made = file.with_name(f".{file.name}.{random_id()}.making")
    try:
        made.write_text(f"{crc32(text.encode()):08x}{text}", encoding="ascii")
        made.replace(file)
    finally:
        made.unlink(missing_ok=True)


def _read(file: Path) -> Folded:
    try:
        if not file.is_file() or file.stat().st_size > _MOST_BYTES:
            return Folded()
        text = file.read_text(encoding="ascii")
        if f"{crc32(text[8:].encode()):08x}" != text[:8]:
            return Folded()
        return _folded(json.loads(text[8:]))
    except (OSError, ValueError, TypeError, KeyError, IndexError, RecursionError):
        return Folded()  # nothing of use is in it


def _plain(folded: Folded) -> dict[str, Any]:
    until = folded.until
    return {
        "format": _FORMAT,
        "seq": folded.seq,
        "mark": folded.mark,
        "undone": folded.undone,
        "until": until and [until[0].isoformat(), until[1]],
        "sums": folded.sums,
        "things": [_row(thing) for thing in folded.things.values()],
    }


def _folded(kept: dict[str, Any]) -> Folded:
    if kept["format"] != _FORMAT:
        return Folded()
    things = {row[1]: _thing(*row) for row in kept["things"]}
    sums = {name: (grams, millilitres) for name, (grams, millilitres) in kept["sums"].items()}
    at, last = kept["until"]
    until = (datetime.fromisoformat(at), last)
    return Folded(things, sums, until, kept["seq"], kept["mark"], kept["undone"])


def _row(thing: Thing) -> list[Any]:
    if isinstance(thing, Lot):
        had = (thing.had_g, thing.left_g, thing.had_ml, thing.left_ml)
        return ["lot", thing.name, thing.product, thing.bought_at.isoformat(), thing.short, *had]
    tested = thing.tested and [thing.tested.at.isoformat(), thing.tested.hard_after_s]
    made = (thing.made_ml, thing.left_ml, thing.cut_g_per_l, thing.thinned_percent)
    parts = [[part.product, part.grams, part.ml] for part in thing.parts]
    at = thing.mixed_at.isoformat()
    return ["batch", thing.name, thing.product, at, thing.short, *made, thing.lots, parts, tested]


def _thing(kind: str, name: str, product: str, at: str, short: bool, *rest: Any) -> Thing:  # noqa: FBT001  # a row
    when = datetime.fromisoformat(at)
    if kind == "lot":
        had_g, left_g, had_ml, left_ml = rest
        return Lot(name, product, when, had_g, left_g, had_ml, left_ml, short)
    made_ml, left_ml, cut, thinned, lots, parts, tested = rest
    went_in = tuple(Weighed(*part) for part in parts)
    drop = tested and DropTest(datetime.fromisoformat(tested[0]), tested[1])
    made = Batch(name, product, when, made_ml, left_ml, cut, thinned, tuple(lots), went_in, short)
    return replace(made, tested=drop) if drop else made

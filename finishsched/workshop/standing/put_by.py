"""Pieces that are put by: finished a month ago and more, and read again only where they are named.

A shop finishes hundreds of pieces a year, and every one of them has a hundred entries; whoever asks
what is due need not wait until all of them are read. Which pieces are put by follows from the
entries and the documents alone. Beside the journal stands only which ones were found to be, each
with the mark of its last entry and with what its document wanted then: where either differs, or
the file is gone, the piece is read and judged anew.
"""

from __future__ import annotations

import json
from bisect import bisect_left
from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping
from contextlib import suppress
from datetime import datetime, timedelta
from fnmatch import fnmatchcase
from functools import cached_property, lru_cache
from itertools import chain
from typing import NamedTuple
from zlib import crc32

from finishsched import __version__
from finishsched.documents.plain_files import read_plain
from finishsched.journal.progress import Book
from finishsched.model.job import Piece
from finishsched.model.product import Product, RagHabit
from finishsched.model.schedule import Schedule
from finishsched.workshop.base.documents import Papers
from finishsched.workshop.base.place import PUT_BY_FILE
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.base.write_whole import write_chunks
from finishsched.workshop.standing.finding import loosely
from finishsched.workshop.standing.rags_out import RagsOut
from finishsched.workshop.standing.sheets import brought_in
from finishsched.workshop.standing.standing import Standing

PUT_BY_AFTER = timedelta(days=30)
"""So long before the shop's last entry a piece must have been finished (our assumption)."""
STILL_TEACH, TEACH_FOR = 5, timedelta(days=730)
"""Of each schedule the last few go on teaching what waits and amounts are here, for two years; what
lies further back has faded (our assumption)."""
TOOLS_KEEP = timedelta(days=8)
"""No pad in its closed box serves longer than this from one piece to another."""
_FORMAT = 2
_MOST_BYTES = 64 * 1024**2
_SIGNS = frozenset("*?[")


class PutBy(NamedTuple):
    """One piece that is put by."""

    mark: str
    """Of the last entry about it, or about what was worked beside it."""
    wanted: str
    """What its document wants of it; empty where there is none."""
    schedule: str
    """By which it was finished."""
    title: str
    alike: str
    first_s: float
    last_s: float
    """When the work on it began and ended, seconds since 1970 in UTC."""
    heating: tuple[tuple[str, float], ...]
    """When rags that heat by themselves were last used on it, and on what was worked beside it."""


class Marks:
    """By what it is known that nothing happened to a piece since, and that nothing else is wanted.

    Empty where nothing may be kept: then every piece is read.
    """

    def __init__(self, workshop: Workshop, book: Book) -> None:
        self.products = workshop.papers.products
        self._workshop = workshop
        self._book = book
        self._rags_out = RagsOut(book)

    @cached_property
    def _of(self) -> dict[str, tuple[int, str]]:
        """By piece the number and the mark of the last entry about it, or about what is beside."""
        found: dict[str, tuple[int, str]] = {}
        for piece, mark in self._book.filed.marks().items() if not self._workshop.lost else ():
            ref, seq = piece.partition("+")[0], int(mark.partition(":")[0])
            if seq > found.get(ref, (0, ""))[0]:
                found[ref] = seq, mark
        return found

    @cached_property
    def _wanted(self) -> dict[str, str]:
        papers = self._workshop.papers
        return {ref: _wanted(piece, papers) for ref, _, piece in papers.pieces()}

    def of(self, ref: str) -> str:
        """Return the mark of the last entry about a piece; empty for none."""
        return self._of.get(ref, (0, ""))[1]

    def wanted(self, ref: str) -> str:
        """Return what the document of a piece wants of it."""
        return self._wanted.get(ref, "")

    def hold(self, ref: str, one: PutBy) -> bool:
        """Tell whether a piece stands as it did when it was put by, and its rags are out."""
        is_same = one.mark == self.of(ref) and one.wanted == self.wanted(ref)
        return is_same and self.are_rags_out(one)

    def are_rags_out(self, one: PutBy) -> bool:
        """Tell whether somebody said where the rags went that heat by themselves."""
        return all(at_s <= self._rags_out.until(ref).timestamp() for ref, at_s in one.heating)


def kept_away(workshop: Workshop, marks: Marks) -> dict[str, PutBy]:
    """Return the pieces that were found to be put by, and still are as they were then."""
    try:
        kept = json.loads(read_plain(workshop.folder / PUT_BY_FILE, _MOST_BYTES))
        if kept["by"] != _by():
            return {}
        rows = {str(ref): _row(one) for ref, one in kept["pieces"].items()}
    except (OSError, ValueError, TypeError, KeyError, AttributeError, RecursionError):
        return {}  # there is none, or nothing of use in it
    return {ref: one for ref, one in rows.items() if marks.hold(ref, one)}


def keep(workshop: Workshop, away: Mapping[str, PutBy]) -> None:
    """Keep which pieces are put by; where that cannot be, they are read anew the next time."""
    text = json.dumps({"by": _by(), "pieces": away}, separators=(",", ":"))
    with suppress(OSError):
        write_chunks(workshop.folder / PUT_BY_FILE, (text.encode(),))


def found_away(
    found: Mapping[str, tuple[Standing, ...]], book: Book, marks: Marks
) -> dict[str, PutBy]:
    """Return those of the pieces ``found``, each with what is worked beside it, to be put by."""
    if book.last_logged_at is None:
        return {}
    until = book.last_logged_at - PUT_BY_AFTER
    return {
        ref: made
        for ref, each in found.items()
        if _is_over(each) and marks.of(ref) and (made := _put_by(each, book, marks, until))
    }


def who_teach(away: Mapping[str, PutBy], here: Iterable[Standing], book: Book) -> Collection[str]:
    """Return the pieces put by that are read all the same, for what is learnt from them.

    They are the last few of each schedule; and those that were in work while others were that are
    not put by, since the same pad may have served both.
    """
    if not away or book.last_logged_at is None:
        return ()
    since_s = (book.last_logged_at - TEACH_FOR).timestamp()
    by_schedule: dict[str, list[tuple[float, str]]] = defaultdict(list)
    for ref, one in away.items():
        if one.last_s >= since_s:
            by_schedule[one.schedule].append((one.last_s, ref))
    last = (ref for each in by_schedule.values() for _, ref in sorted(each)[-STILL_TEACH:])
    busy = _joined(_stretches(here, book))
    beside = (ref for ref, one in away.items() if _meets(busy, one.first_s, one.last_s))
    return dict.fromkeys(chain(last, beside)).keys()


def could_mean(text: str, away: Mapping[str, PutBy]) -> set[str]:
    """Return the pieces put by that a part of a list of names may stand for."""
    found: set[str] = set()
    titles = {ref: one.title for ref, one in away.items()}
    for part in text.split(","):
        name = part.strip().removeprefix("-").strip()
        if not name:
            continue
        found.update(ref for ref, one in away.items() if _is_called(ref, one, name))
        found.update(loosely(name, titles))
    return found


def _is_called(ref: str, one: PutBy, name: str) -> bool:
    job, _, own = ref.partition("/")
    names = {ref, own, job}
    if one.alike:
        names |= {one.alike, f"{job}/{one.alike}"}
    if name.partition("+")[0] in names:
        return True
    if _SIGNS & set(name):
        return fnmatchcase(ref, name) or fnmatchcase(own, name)
    stem = name.rpartition("-")[0] if " " in name else ""  # of a span, such as front-3 to 7
    return bool(stem) and stem in (ref.rpartition("-")[0], own.rpartition("-")[0])


def _by() -> str:
    return f"{__version__} {_FORMAT}"


def _row(kept: object) -> PutBy:
    """Return one piece as it was kept.

    Raises:
        TypeError, ValueError: when it is none.

    """
    if not isinstance(kept, list):
        raise TypeError(kept)
    *words, first_s, last_s, heating = kept
    mark, wanted, schedule, title, alike = map(str, words)
    used = tuple((str(ref), float(at_s)) for ref, at_s in heating)
    return PutBy(mark, wanted, schedule, title, alike, float(first_s), float(last_s), used)


def _is_over(each: tuple[Standing, ...]) -> bool:
    """Tell whether a piece is finished, all that is worked beside it too, and nothing follows."""
    over = (one.progress is not None and one.progress.finished for one in each)
    return all(over) and not each[0].changed_schedule


def _put_by(each: tuple[Standing, ...], book: Book, marks: Marks, until: datetime) -> PutBy | None:
    """Return a piece that is over as it is put by; None where that is not to be yet."""
    instants = [event.at for one in each for event in book.work(one.ref)]
    first, last = min(instants), max(instants)
    if last > until:
        return None
    piece, schedule = each[0].piece, each[0].schedule
    made = PutBy(
        marks.of(each[0].ref),
        marks.wanted(each[0].ref),
        schedule.id if schedule is not None else "",
        piece.title,
        piece.alike,
        first.timestamp(),
        last.timestamp(),
        tuple(_heating(each, marks.products)),
    )
    return made if marks.are_rags_out(made) else None


def _heating(
    each: Iterable[Standing], products: Mapping[str, Product]
) -> Iterator[tuple[str, float]]:
    """Give when the last coat was laid whose rags heat by themselves."""
    for one in each:
        used = [
            event.at.timestamp()
            for step, event in (one.progress.done if one.progress is not None else ())
            if any(each.rags is RagHabit.SELF_HEATING for each in brought_in(step, products))
        ]
        if used:
            yield one.ref, max(used)


def _wanted(piece: Piece, papers: Papers) -> str:
    """Return by what a piece is to be finished: names, and of the shop's own schedules the text."""
    found = []
    for name in piece.schedules:
        own = papers.own_schedules.get(name)
        found.append(name if own is None else f"{name} {_sum_of(own)}")
    return ", ".join(found) or "nothing"


@lru_cache(maxsize=256)
def _sum_of(schedule: Schedule) -> int:
    return crc32(repr(schedule).encode("utf-8", "surrogatepass"))


def _stretches(here: Iterable[Standing], book: Book) -> Iterator[tuple[float, float]]:
    """Give the time before each entry about a piece in which another may have charged its pad."""
    keeps_s = TOOLS_KEEP.total_seconds()
    for one in here:
        for event in book.work(one.ref):
            at_s = event.at.timestamp()
            yield at_s - keeps_s, at_s


def _joined(stretches: Iterable[tuple[float, float]]) -> list[tuple[float, float]]:
    """Return stretches of time in order, those that meet as one."""
    found: list[tuple[float, float]] = []
    for begin_s, end_s in sorted(stretches):
        if found and begin_s <= found[-1][1]:
            found[-1] = found[-1][0], max(found[-1][1], end_s)
        else:
            found.append((begin_s, end_s))
    return found


def _meets(busy: list[tuple[float, float]], first_s: float, last_s: float) -> bool:
    """Tell whether any of the stretches, in order and apart, meets a time."""
    after = bisect_left(busy, first_s, key=_end_s)
    return after < len(busy) and busy[after][0] <= last_s


def _end_s(stretch: tuple[float, float]) -> float:
    return stretch[1]

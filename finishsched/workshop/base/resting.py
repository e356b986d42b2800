"""Documents at rest: those of jobs whose every piece is put by, read only where they are asked for.

A shop keeps the documents of all that it ever made. Which of them need no reading the file of what
is put by tells, each with the time and size of its file: one that was edited since is read as ever.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, KeysView, Mapping
from functools import cached_property, lru_cache
from pathlib import Path
from typing import Any, NamedTuple
from zlib import crc32

from finishsched.model.job import Job
from finishsched.model.schedule import Schedule
from finishsched.workshop.base.place import PUT_BY_FILE

_NAMES_END = ": "


class Stamped(NamedTuple):
    """A document's file by its path within the shop's folder, and what changes when it does."""

    name: str
    written_ns: int
    size: int


class Rested(NamedTuple):
    """What is known of a document that is not read."""

    name: str
    job: str
    title: str


class Resting:
    """The jobs at rest."""

    def __init__(
        self, rested: Iterable[Rested] = (), load: Callable[[list[str]], list[Job]] | None = None
    ) -> None:
        self._of = {one.job: one for one in rested}
        self._load = load
        self._loaded: dict[str, Job | None] = {}

    @property
    def ids(self) -> KeysView[str]:
        """The ids of all."""
        return self._of.keys()

    def titles(self) -> Iterator[tuple[str, str]]:
        """Give the id and the title of each job, reading none of them."""
        return ((one.job, one.title) for one in self._of.values())

    def job(self, id_: str) -> Job | None:
        """Return one job, read now; None where none of that id is at rest, or it cannot be read."""
        if id_ not in self._of:
            return None
        if id_ not in self._loaded:
            self._loaded[id_] = next(iter(self._read([self._of[id_]])), None)
        return self._loaded[id_]

    @cached_property
    def jobs(self) -> tuple[Job, ...]:
        """All of them, each read now."""
        return tuple(self._read(list(self._of.values())))

    def _read(self, rested: list[Rested]) -> list[Job]:
        wanted = {one.job for one in rested}
        found = self._load([one.name for one in rested]) if self._load and rested else []
        return [job for job in found if job.id in wanted]


def wanted_text(names: Iterable[str], own: Mapping[str, Schedule]) -> str:
    """Return by what a piece is to be finished: names, and of the shop's own schedules a sum."""
    names = tuple(names)
    sums = [f"{name} {_sum_of(own[name])}" for name in names if name in own]
    return f"{', '.join(names)}{_NAMES_END}{', '.join(sums)}"


def resting_in(
    folder: Path, stamped: Iterable[Stamped], own: Mapping[str, Schedule]
) -> list[Rested]:
    """Return those of the documents ``stamped`` that are at rest.

    None where a schedule that is the shop's ``own`` now reads otherwise, or is gone.
    """
    known = _known_in(folder, own) if (folder / PUT_BY_FILE).is_file() else {}
    found = []
    for name, *stamp in stamped:
        *then, job, title = known.get(name, (None, None, "", ""))
        if stamp == then:
            found.append(Rested(name, job, title))
    return found


def _known_in(folder: Path, own: Mapping[str, Schedule]) -> dict[str, list[Any]]:
    """Return what the file has of documents at rest, by their names."""
    import sqlite3  # noqa: PLC0415  # documents are read without a journal too

    from finishsched.workshop.base.put_by_file import (  # noqa: PLC0415
        every_wanted,
        looked_into,
    )

    try:
        with looked_into(folder) as db:
            if db is None or any(wanted != _now(wanted, own) for wanted in every_wanted(db)):
                return {}
            rows = db.execute("SELECT name, written_ns, bytes, job, title FROM documents")
            return {name: row for name, *row in rows}
    except sqlite3.Error:
        return {}  # another program makes it anew just now, or the disk changed something in it


def _now(wanted: str, own: Mapping[str, Schedule]) -> str:
    """Return what a document wants now that wanted this then; nothing where there was none."""
    names, sign, _ = wanted.partition(_NAMES_END)
    return wanted_text(names.split(", "), own) if sign else wanted


@lru_cache(maxsize=256)
def _sum_of(schedule: Schedule) -> int:
    return crc32(repr(schedule).encode("utf-8", "surrogatepass"))

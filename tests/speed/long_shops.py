"""Shops of a lifetime, to be measured: jobs that were finished one after another, or long notes.

A job is finished once, as anybody would log it, and its entries are written down again for every
other job, each at its own time. So millions of entries take minutes, and are what the program
itself would have written.
"""

from __future__ import annotations

import json
import tempfile
from collections.abc import Callable, Iterable, Iterator
from datetime import datetime, timedelta
from pathlib import Path
from typing import NamedTuple

from finishsched.journal.derived import fill
from finishsched.journal.events import BatchMixed, NewEvent, Row, random_id, utc_text
from finishsched.journal.salvage import put_rows, put_snapshots
from finishsched.journal.store import Journal
from finishsched.model.step import steps_of
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.demo.demo import make_demo
from finishsched.workshop.keeping.notebook import import_notebook
from finishsched.workshop.safety.rags import rags_dealt_with

PIECE = "tea-chest/lid"
"""In hand in the shop that all of these are made of."""
PARTS = ("case", "lid", "tray", "drawer", "back")
"""The pieces of a finished job."""
SCHEDULE = "dyed-and-varnished"
MOST_READINGS = 100_000
LIFETIME, LATELY = timedelta(days=3650), timedelta(days=60)
"""So long ago the first job was begun, and so long ago the last one was finished."""
_JOB = "job: {job}\ntitle: An old chest, {job}\ncustomer: nobody\npieces:\n"
_PIECE = (
    "  - {{piece: {part}, title: The {part} of {job}, schedule: {schedule}, species: maple,\n"
    "     faces: [{{face: top, length: 300 mm, width: 200 mm}}]}}\n"
)


class _Jobs(NamedTuple):
    """The entries of one finished job, to be written down again for others."""

    rows: list[Row]
    last: timedelta
    """So long after the one that was logged the last was begun."""
    apart: timedelta


def lived_in(folder: Path, entries: int, now: datetime, *, documents: bool = True) -> None:
    """Make a demo shop in which jobs were finished of so many entries in all.

    With ``documents`` every job's document is still there, as most people leave them.
    """
    make_demo(folder, now)
    with tempfile.TemporaryDirectory() as place:
        rows, snapshots = _finish_one(Path(place) / "shop", now)
    count = max(1, round(entries / len(rows)))
    first = min(datetime.fromisoformat(row[2]) for row in rows)
    lasted = max(datetime.fromisoformat(row[2]) for row in rows) - first
    last = LIFETIME - lasted - LATELY
    jobs = _Jobs(rows, last, last / count)
    fill_up(folder, lambda begin: _again(jobs, count, begin), snapshots)
    with Workshop.open(folder, now) as workshop:
        rags_dealt_with(workshop, "flat outdoors", now)
    if documents:
        for number in range(count):
            (folder / "jobs" / f"old-{number}.yaml").write_text(_document(f"old-{number}"))


def noted(folder: Path, entries: int, now: datetime) -> None:
    """Make a demo shop with so many notes on a piece in hand, and readings of the air."""
    make_demo(folder, now)
    fill_up(folder, lambda begin: (_note(begin + turn, now) for turn in range(entries)))


def fill_up(
    folder: Path, rows: Callable[[int], Iterator[Row]], snapshots: Iterable[tuple[str, str]] = ()
) -> None:
    """Put rows, numbered from where the journal ends, into the journal of a shop."""
    with Journal.open(folder / "journal.db") as journal, journal._writing() as db:
        put_snapshots(db, snapshots)
        put_rows(db, rows(journal.book().last_seq + 1))
        fill(db)


def _document(job: str) -> str:
    parts = "".join(_PIECE.format(part=part, job=job, schedule=SCHEDULE) for part in PARTS)
    return _JOB.format(job=job) + parts


def _finish_one(folder: Path, now: datetime) -> tuple[list[Row], list[tuple[str, str]]]:
    """Finish a job a lifetime ago in a shop of its own; return its entries and snapshots."""
    make_demo(folder, now)
    (folder / "jobs" / "old.yaml").write_text(_document("old"))
    begun = now - LIFETIME
    mixed = BatchMixed("old-jar", "shellac-blonde", makes_ml=500.0, cut_g_per_l=200.0)
    with Workshop.open(folder, now) as workshop:
        before = workshop.book().last_seq
        steps = steps_of(workshop.papers.schedules[SCHEDULE])
        workshop.append(lambda _: NewEvent(begun, None, mixed), now)
        import_notebook(workshop, "".join(_notebook(begun, len(steps))), now)
    with Journal.open(folder / "journal.db") as journal, journal._writing() as db:
        query = "SELECT seq, id, at, logged_at, piece, kind, body FROM events WHERE seq > ?"
        rows = db.execute(query, (before,)).fetchall()
        return rows, db.execute("SELECT hash, body FROM snapshots").fetchall()


def _notebook(begun: datetime, steps: int) -> Iterator[str]:
    yield "date,time,piece,entry,step,batch,used,text\n"
    for turn in range(steps):
        day = begun + timedelta(days=3 * turn)
        jar = "old-jar,12 ml" if turn in (3, 4, 5) else ","
        for minute, part in enumerate(PARTS):
            at = f"{day:%Y-%m-%d},{9 + minute:02d}:00"
            yield f"{at},old/{part},done,{turn + 1},{jar},\n"
            if turn % 5 == 0:
                yield f"{at},old/{part},note,,,,looked at in raking light\n"
    day = begun + timedelta(days=3 * steps)
    for part in PARTS:
        yield f"{day:%Y-%m-%d},09:00,old/{part},ready,{steps},,,\n"


def _again(jobs: _Jobs, count: int, seq: int) -> Iterator[Row]:
    """Give the entries of one job after another."""
    for number in range(count):
        # Counted from the last, which was finished lately however few there are.
        name, later = f"old-{number}", jobs.last - (count - 1 - number) * jobs.apart
        for _, _, at, _, piece, kind, body in jobs.rows:
            about = piece and f"{name}/{piece.partition('/')[2]}"
            when = utc_text(datetime.fromisoformat(at) + later, "microseconds")
            yield (
                seq,
                random_id(),
                when,
                when,
                about,
                kind,
                body.replace("old-jar", f"jar-{number}"),
            )
            seq += 1


def _note(seq: int, now: datetime) -> Row:
    at = utc_text(now - timedelta(minutes=seq % 500_000), "microseconds")
    if seq % 10 == 0 and seq <= 10 * MOST_READINGS:
        body = json.dumps({"air": {"humidity_percent": 45.0 + seq % 20, "temperature_c": 19.5}})
        return seq, random_id(), at, at, None, "air", body.replace(" ", "")
    return seq, random_id(), at, at, PIECE, "note", f'{{"text":"note {seq}"}}'

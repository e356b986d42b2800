"""Attach a picture to a piece: a file inside the shop's folder, named by its path from there."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from finishsched.journal.events import Event, NewEvent, PictureAttached
from finishsched.journal.progress import Book
from finishsched.model.step import Step
from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.base.words import one_line
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.log.log import Taken, take
from finishsched.workshop.log.making import Made
from finishsched.workshop.standing.one_go import in_one_go
from finishsched.workshop.standing.several import find_several

KINDS = (".jpg", ".jpeg", ".png")
SIGNS = {b"\xff\xd8\xff": "image/jpeg", b"\x89PNG\r\n\x1a\n": "image/png"}
"""How the files of each kind begin."""


def kind_of(data: bytes) -> str | None:
    """Return the kind of a picture by the first of its bytes; None for any other file."""
    return next((kind for sign, kind in SIGNS.items() if data.startswith(sign)), None)


@dataclass(frozen=True, slots=True)
class PictureRow:
    """Pictures of one step, which stand side by side: before and after."""

    title: str
    """Of the step; empty for those of the piece as a whole."""
    pictures: tuple[PictureAttached, ...]


def attach(
    workshop: Workshop,
    pieces: str,
    file: Path,
    caption: str,
    now: datetime,
    step: str = "",
    *,
    trial: bool = False,
) -> Taken:
    """Log that a picture belongs to each of some pieces, and to the step of that key, if any.

    With ``trial`` nothing is written.

    Raises:
        RefusedError: when it is no picture, is not there, or does not lie in the shop's folder.

    """
    by = workshop.papers.shop.hands_named("")
    what = PictureAttached(picture_path(workshop, file), one_line(caption), by, step)

    def make(book: Book) -> Made:
        refs = tuple(one.ref for one in find_several(workshop, pieces, book, finished=True))
        return Made(in_one_go([NewEvent(at=now, piece=ref, what=what) for ref in refs]), refs)

    return take(workshop, make, now, trial=trial)


def attach_at_step(
    workshop: Workshop, events: Iterable[Event], files: Iterable[Path], caption: str, now: datetime
) -> tuple[Event, ...]:
    """Attach each picture to the last step that ``events`` tell of, on every piece that they name.

    Raises:
        RefusedError: as ``attach`` does.

    """
    last: dict[str, str] = {}
    for event in events:
        step = getattr(event.what, "step", "")
        if event.piece is not None:
            last[event.piece] = step or last.get(event.piece, "")
    files = tuple(files)
    return tuple(
        event
        for piece, step in last.items()
        for file in files
        for event in attach(workshop, piece, file, caption, now, step).events
    )


def picture_rows(
    pictures: Iterable[PictureAttached], steps: Iterable[Step]
) -> Iterator[PictureRow]:
    """Give the pictures of each step in the order of the work, those of the whole piece first."""
    pictures = tuple(pictures)
    titles = {"": ""} | {step.key: f"{step.number}, {step.title}" for step in steps}
    known = [one if one.step in titles else replace(one, step="") for one in pictures]
    for key, title in titles.items():
        of_step = tuple(one for one in known if one.step == key)
        if of_step:
            yield PictureRow(title, of_step)


def picture_path(workshop: Workshop, file: Path) -> str:
    """Return a picture by its path within the shop's folder.

    Raises:
        RefusedError: when it is no picture, is not there, or does not lie in the shop's folder.

    """
    home, path = workshop.folder.resolve(), file.resolve()
    if path.suffix.lower() not in KINDS:
        raise RefusedError(f"{file} is no picture", "attach a file that ends in .jpg or .png")
    if not path.is_file():
        raise RefusedError(f"there is no file {file}", "name one that is there")
    if not path.is_relative_to(home):
        raise RefusedError(
            f"{file} lies outside the shop's folder",
            f"copy it in first, for example to {home / 'pictures'}, so that a backup keeps it",
        )
    with path.open("rb") as opened:
        if kind_of(opened.read(16)) is None:
            raise RefusedError(f"{file} holds no JPEG and no PNG", "attach one of these")
    return path.relative_to(home).as_posix()

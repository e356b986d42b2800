"""Attach a picture to a piece: a file inside the shop's folder, named by its path from there."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from finishsched.journal.events import Event, NewEvent, PictureAttached
from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.base.words import one_line
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.standing.where import find

KINDS = (".jpg", ".jpeg", ".png")
SIGNS = {b"\xff\xd8\xff": "image/jpeg", b"\x89PNG\r\n\x1a\n": "image/png"}
"""How the files of each kind begin."""


def kind_of(data: bytes) -> str | None:
    """Return the kind of a picture by the first of its bytes; None for any other file."""
    return next((kind for sign, kind in SIGNS.items() if data.startswith(sign)), None)


def attach(workshop: Workshop, piece: str, file: Path, caption: str, now: datetime) -> Event:
    """Log that a picture belongs to a piece.

    Raises:
        RefusedError: when it is no picture, is not there, or does not lie in the shop's folder.

    """
    standing = find(workshop, piece)
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
    people = workshop.papers.shop.people
    what = PictureAttached(
        path.relative_to(home).as_posix(), one_line(caption), people[0] if people else ""
    )
    return workshop.append(lambda _: NewEvent(at=now, piece=standing.ref, what=what), now)

"""Fill a template into one self-contained page, every text in it escaped."""

from __future__ import annotations

import os
from collections.abc import Iterable
from importlib import resources
from pathlib import Path
from typing import Literal

from jinja2 import DictLoader, Environment, StrictUndefined

from finishsched.documents.plain_files import open_plain
from finishsched.workshop.base.write_whole import write_chunks

_HEAD_BYTES = 1024


def page(template: str, **facts: object) -> str:
    """Return the page that ``template`` (a file's name in ``templates/``) makes of ``facts``."""
    text = (resources.files("finishsched") / "reports/templates" / template).read_text("utf-8")
    filler = Environment(
        loader=DictLoader({template: text}),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    return filler.get_template(template).render(**facts)


def write_whole(path: Path, text: str, newline: Literal[""] | None = None) -> None:
    """Write ``text`` to ``path`` wholly or not at all, over what stood there.

    Its line ends become those of the machine, or stay as they are where ``newline`` is empty.

    Raises:
        OSError: when it cannot be written; what stood there is as it was.

    """
    write_lines(path, (text,), newline)


class NotOursError(Exception):
    """A file that stands where a page was to be written, and that another wrote."""

    def __init__(self, path: Path, kind: str) -> None:
        super().__init__(f"{path} is there already, and is no {kind} of finishsched")


def write_page(path: Path, kind: str, text: str, *, force: bool = False) -> None:
    """Write a page of a ``kind``, over an earlier one of its kind only unless ``force``.

    Raises:
        NotOursError: for anything else that is there; it is as it was.
        OSError: when it cannot be written; what stood there is as it was.

    """
    if not force and path.exists() and not _is_page(path, kind):
        raise NotOursError(path, kind)
    write_whole(path, text)


def _is_page(path: Path, kind: str) -> bool:
    """Tell a page by what wrote it, which stands in its head."""
    try:
        with open_plain(path) as file:
            head = file.read(_HEAD_BYTES)
    except OSError:
        return False
    return f'<meta name="generator" content="finishsched {kind}">'.encode() in head


def write_lines(path: Path, lines: Iterable[str], newline: Literal[""] | None = "") -> None:
    """Write ``lines`` with their own line ends, as ``write_whole`` writes a text."""
    end = os.linesep if newline is None else "\n"
    write_chunks(path, (line.replace("\n", end).encode() for line in lines))

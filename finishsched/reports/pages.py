"""Fill a template into one self-contained page, every text in it escaped."""

from __future__ import annotations

import os
from collections.abc import Iterable
from importlib import resources
from pathlib import Path
from typing import Literal

from jinja2 import DictLoader, Environment, StrictUndefined

from finishsched.workshop.base.write_whole import write_chunks


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


def write_lines(path: Path, lines: Iterable[str], newline: Literal[""] | None = "") -> None:
    """Write ``lines`` with their own line ends, as ``write_whole`` writes a text."""
    end = os.linesep if newline is None else "\n"
    write_chunks(path, (line.replace("\n", end).encode() for line in lines))

"""Fill a template into one self-contained page, every text in it escaped."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterable
from importlib import resources
from pathlib import Path

from jinja2 import DictLoader, Environment, StrictUndefined


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


def write_whole(path: Path, text: str, newline: str | None = None) -> None:
    """Write ``text`` to ``path`` wholly or not at all, over what stood there.

    Raises:
        OSError: when it cannot be written; what stood there is as it was.

    """
    write_lines(path, (text,), newline)


def write_lines(path: Path, lines: Iterable[str], newline: str | None = "") -> None:
    """Write ``lines`` with their own line ends, as ``write_whole`` writes a text."""
    handle, making = tempfile.mkstemp(prefix=f".{path.name}-", dir=path.parent)
    try:
        with os.fdopen(handle, "w", encoding="utf-8", newline=newline) as file:
            file.writelines(lines)
        Path(making).chmod(0o644)
        Path(making).replace(path)
    except BaseException:
        Path(making).unlink(missing_ok=True)
        raise

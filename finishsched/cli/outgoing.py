"""The one place where words leave the program: clean, and in signs that the other end can show.

Names of files and folders, and errors that quote them, may hold signs that a terminal obeys: a
clipboard or a window's title can be changed by them. None leaves here. Where the other end cannot
show a sign, or ``FINISHSCHED_PLAIN`` asks for plain ones, a plain sign stands in its place.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable, Mapping
from typing import Any, TextIO

import click

from finishsched.cli.working import room
from finishsched.signs import fitting, is_plain

_BLACK, _WHITE = 16, 231
"""Of the 256 colours those that no theme of a terminal changes."""


def say(line: str, *, err: bool = False) -> None:
    """Print one line for people; whatever is no sign for the eye in it shows as what it is."""
    stream = sys.stderr if err else sys.stdout
    with room():
        click.echo(shown(clean(line), stream), err=err)


def say_text(text: str) -> None:
    """Print a text of several lines as it stands, its last line end included."""
    lines = "\n".join(clean(line) for line in text.split("\n"))
    with room():
        click.echo(shown(lines, sys.stdout), nl=False)


def say_json(data: Mapping[str, Any]) -> None:
    """Print one JSON object; what is no sign for the eye is escaped in it."""
    text = json.dumps(data, ensure_ascii=not _takes_unicode(sys.stdout), allow_nan=False)
    with room():
        click.echo("".join(sign if sign.isprintable() else _json_escape(sign) for sign in text))


def clean(line: str) -> str:
    """Return a line without signs that a terminal obeys or that turn the reading direction.

    Spaces of every kind become plain ones; anything else shows by its number in hex.
    """
    if line.isprintable():
        return line
    return "".join(sign if sign.isprintable() else _visible(sign) for sign in line)


def shown(text: str, stream: TextIO | None) -> str:
    """Return ``text`` in signs that ``stream`` can show."""
    if text.isascii():
        return text
    encoding = (getattr(stream, "encoding", None) or "ascii") if stream else "ascii"
    plain = is_plain()
    return "".join(fitting(sign, encoding, plain) for sign in text)


def can_show(signs: str) -> bool:
    """Tell whether standard output can show these very signs."""
    return shown(signs, sys.stdout) == signs


def say_dark_on_light(lines: Iterable[str]) -> None:
    """Print lines of a drawing in black on white, whatever colours the terminal has."""
    with room():
        for line in lines:
            click.echo(click.style(clean(line), fg=_BLACK, bg=_WHITE))


def _takes_unicode(stream: TextIO | None) -> bool:
    return (getattr(stream, "encoding", None) or "").lower().replace("-", "") == "utf8"


def _visible(sign: str) -> str:
    if sign.isspace():
        return " "
    number = ord(sign)
    return f"\\x{number:02x}" if number < 0x100 else f"\\u{number:04x}"


def _json_escape(sign: str) -> str:
    return json.dumps(sign)[1:-1]

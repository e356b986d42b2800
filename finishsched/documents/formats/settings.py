"""The format of a person's own settings for the bench."""

from __future__ import annotations

import re

from finishsched.documents.codec import BadValueError, Leaf, ListOf, MapOf
from finishsched.documents.leaves import LINE, YES_NO, word
from finishsched.documents.records import FixedKey, Key, Record
from finishsched.documents.wording import quoted
from finishsched.model.settings import Quiet, Settings, Theme


def _minute(text: str) -> int:
    match = re.fullmatch(r"([0-9]{1,2}):([0-9]{2})", text)
    if match and int(match[1]) < 24 and int(match[2]) < 60:
        return int(match[1]) * 60 + int(match[2])
    raise BadValueError(f"{quoted(text)} is no time of day", "write it such as 22:00")


_CLOCK = Leaf(
    "a time of day",
    _minute,
    lambda minute: f"{minute // 60:02d}:{minute % 60:02d}",
    {"type": "string", "pattern": "^[0-9]{1,2}:[0-9]{2}$"},
    "22:00",
    bare=True,
)

_QUIET = Record(
    Quiet,
    "hours of silence",
    (
        Key("from", _CLOCK, "when silence begins, such as 22:00", "from_min", required=True),
        Key("to", _CLOCK, "when it ends, such as 07:00", "to_min", required=True),
    ),
    on_one_line=True,
)

SETTINGS = Record(
    Settings,
    "a list of settings",
    (
        FixedKey("settings", "bench", "what they are for: bench"),
        Key("theme", word("a theme", Theme), "dark or light"),
        Key("bell", YES_NO, "whether it rings when something is due"),
        Key("flash", YES_NO, "whether the top line flashes when something is due"),
        Key("quiet", _QUIET, "hours in which nothing sounds, from 22:00 to 07:00"),
        Key(
            "notify",
            ListOf(LINE, "a command and its arguments"),
            "your own command, run when something is due; the words are its last argument",
        ),
        Key(
            "button",
            LINE,
            "the key of a foot switch or a single button, such as f9: one press does the next "
            "thing, two presses the other",
        ),
        Key("keys", MapOf(LINE, "a list of keys"), "for a binding's id: its keys, with commas"),
    ),
)

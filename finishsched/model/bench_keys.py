"""Every key of the bench, in one table: the keymap, the help and the key line come from it."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

_SHOWN = {
    "question_mark": "?",
    "escape": "esc",
    "up": "↑",
    "down": "↓",
    "pageup": "pgup",
    "pagedown": "pgdn",
    "left": "←",
    "right": "→",
}


@dataclass(frozen=True, slots=True)
class Key:
    """One thing that a key does."""

    id: str
    keys: str
    """As Textual names them, the first is the one that hints show."""
    action: str
    words: str
    tooltip: str
    group: str


_WORK, _LOOK, _MOVE = "the work", "looking", "moving about"
_CHECK, _ASK = "in the dry check", "in a question"
_LIST, _PLAN = "in a list; its lines have keys of their own", "in the plan"

BOARD = (
    Key(
        "next-thing",
        "space,enter",
        "app.next_thing",
        "next",
        "the next thing for the chosen piece: log it done, or make the dry check",
        _WORK,
    ),
    Key(
        "log-coat",
        "l",
        "app.log_details",
        "log",
        "log with the amount, batch, person and time",
        _WORK,
    ),
    Key("undo", "u", "app.undo", "undo", "take back the last entry of the chosen piece", _WORK),
    Key("air", "a", "app.air", "air", "write down a reading of the air", _WORK),
    Key("mixing", "m", "app.mixing", "mix", "mix a cut: type a volume, see what to weigh", _WORK),
    Key(
        "rags", "r", "app.rags", "rags", "log where the rags went, which closes the reminder", _WORK
    ),
    Key("note", "t", "app.note", "note", "write a note on the chosen piece", _WORK),
    Key("defect", "d", "app.defect", "defect", "write down a defect of the chosen piece", _WORK),
    Key("skip", "s", "app.skip", "skip", "leave out the step in hand, with a reason", _WORK),
    Key(
        "adopt",
        "o",
        "app.adopt",
        "adopt",
        "go on by the schedule's document as it now reads",
        _WORK,
    ),
    Key(
        "plan",
        "p",
        "app.plan",
        "plan",
        "the coming days: who does what when, what is at risk",
        _LOOK,
    ),
    Key("film", "f", "app.film", "film", "film, relief and veneer of the chosen piece", _LOOK),
    Key("why", "w", "app.why", "why", "why the chosen piece stands as it does", _LOOK),
    Key("notices", "n", "app.notices", "notices", "every notice, dismissed ones too", _LOOK),
    Key(
        "handbook",
        "h",
        "app.handbook",
        "handbook",
        "read on the step in hand, or on a topic",
        _LOOK,
    ),
    Key("help", "question_mark", "app.keys_help", "keys", "the keys in force", _LOOK),
    Key("dismiss", "escape", "app.dismiss_notice", "dismiss", "dismiss the notice shown", _LOOK),
    Key("quit", "q", "app.quit", "quit", "leave; every clock goes on by itself", _LOOK),
    Key("up", "up,k", "app.choose(-1)", "up", "choose the piece above", _MOVE),
    Key("down", "down,j", "app.choose(1)", "down", "choose the piece below", _MOVE),
    Key("first", "g,home", "app.choose_first", "first", "choose the most urgent piece", _MOVE),
    Key("sheet-up", "pageup", "sheet(-1)", "sheet up", "turn the sheet back", _MOVE),
    Key("sheet-down", "pagedown", "sheet(1)", "sheet down", "turn the sheet on", _MOVE),
)

DRY_CHECK = (
    Key("ready", "r", "ready", "ready", "the film passed the dry check", _CHECK),
    Key("not-ready", "n", "not_ready", "not yet", "the film needs longer", _CHECK),
    Key("check-close", "escape", "close", "back", "close without an entry", _CHECK),
)

QUESTION = (
    Key("yes", "y", "yes", "yes", "do it", _ASK),
    Key("no", "n,escape", "close", "no", "leave it", _ASK),
)

CLOSE = Key("close", "escape", "close", "back", "close without an entry", "in a form")

READING = (
    Key("reading-close", "escape,q,space", "close", "back", "close the page", "in a page"),
    Key("reading-up", "up,k,pageup", "turn(-1)", "up", "turn back", "in a page"),
    Key("reading-down", "down,j,pagedown", "turn(1)", "down", "turn on", "in a page"),
)

CHOICE = (
    Key("choice-close", "escape,q,space", "close", "back", "close without an entry", _LIST),
    Key("choice-up", "up,pageup", "turn(-1)", "up", "turn back", _LIST),
    Key("choice-down", "down,pagedown", "turn(1)", "down", "turn on", _LIST),
)

PLAN = (
    Key(
        "plan-take", "enter", "take", "take", "go on by the better plan, where one was found", _PLAN
    ),
    Key("plan-day-before", "left", "day(-1)", "day before", "the day before", _PLAN),
    Key("plan-day-after", "right", "day(1)", "day after", "the day after", _PLAN),
    Key("plan-up", "up,k,pageup", "turn(-1)", "up", "turn back", _PLAN),
    Key("plan-down", "down,j,pagedown", "turn(1)", "down", "turn on", _PLAN),
    Key("plan-close", "escape,q,p,space", "close", "back", "back to the pieces", _PLAN),
)

_SCREENS = (BOARD, DRY_CHECK, QUESTION, (CLOSE,), READING, CHOICE, PLAN)
OTHER_SCREENS = (*DRY_CHECK, *QUESTION, CLOSE, *READING, *CHOICE, *PLAN)
KNOWN_IDS = frozenset(key.id for key in (*BOARD, *OTHER_SCREENS))

HINTS = (
    "next-thing", "log-coat", "undo", "help", "plan", "film", "defect", "handbook", "air", "mixing",
    "why", "note", "skip", "quit",
)  # fmt: skip
"""What the key line shows, as many of the first as fit."""


def shown(key: str) -> str:
    """Return a key's name as people read it."""
    return _SHOWN.get(key, key)


def shown_list(names: str) -> str:
    """Return a comma-separated list of keys as people read it."""
    return ", ".join(shown(name.strip()) for name in names.split(","))


def faults(keymap: Mapping[str, str]) -> Iterator[str]:
    """Tell what is wrong with the user's keys: names that nothing has, keys given to two things.

    Textual itself passes over a key that takes the place of a default one, so it is found here.
    """
    for id_ in keymap.keys() - KNOWN_IDS:
        named = _plain(id_)
        yield f"settings: nothing is called {named!r} under keys; the help lists what there is"
    for screen in _SCREENS:
        owners: dict[str, list[str]] = {}
        for key in screen:
            for name in shown_list(keymap.get(key.id) or key.keys).split(", "):
                owners.setdefault(name, []).append(key.id)
        for name, ids in owners.items():
            if len(ids) > 1:
                both = " and ".join(ids)
                yield f"settings: the key {_plain(name)!r} is given to {both}; give each its own"


def _plain(text: str) -> str:
    return "".join(c for c in text if unicodedata.category(c)[0] != "C")

"""Every key of the bench, in one table: the keymap, the help and the key line come from it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from textual.binding import Binding

from finishsched.bench.words import plain

_SHOWN = {
    "question_mark": "?",
    "escape": "esc",
    "up": "↑",
    "down": "↓",
    "pageup": "pgup",
    "pagedown": "pgdn",
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

    @property
    def binding(self) -> Binding:
        """The same as a Textual binding."""
        return Binding(
            self.keys,
            self.action,
            self.words,
            tooltip=self.tooltip,
            id=self.id,
            group=Binding.Group(self.group),
        )


_WORK, _LOOK, _MOVE = "the work", "looking", "moving about"
_CHECK, _ASK = "in the dry check", "in a question"

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
    Key("why", "w", "app.why", "why", "why the chosen piece stands as it does", _LOOK),
    Key("notices", "n", "app.notices", "notices", "every notice, dismissed ones too", _LOOK),
    Key("help", "question_mark", "app.keys_help", "help", "the keys in force", _LOOK),
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

_SCREENS = (BOARD, DRY_CHECK, QUESTION, (CLOSE,), READING)
OTHER_SCREENS = (*DRY_CHECK, *QUESTION, CLOSE, *READING)
KNOWN_IDS = frozenset(key.id for key in (*BOARD, *OTHER_SCREENS))

HINTS = ("next-thing", "log-coat", "undo", "help", "air", "why", "note", "skip", "defect", "quit")
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
        yield f"settings: nothing is called {plain(id_)!r} under keys; the help lists what there is"
    for screen in _SCREENS:
        owners: dict[str, list[str]] = {}
        for key in screen:
            for name in shown_list(keymap.get(key.id) or key.keys).split(", "):
                owners.setdefault(name, []).append(key.id)
        for name, ids in owners.items():
            if len(ids) > 1:
                both = " and ".join(ids)
                yield f"settings: the key {plain(name)!r} is given to {both}; give each its own"


def in_force(bindings: Iterable[Binding]) -> dict[str, str]:
    """Return for each id the keys that work now, ``space, enter``, in the order they came."""
    keys: dict[str, list[str]] = {}
    for binding in bindings:
        if binding.id:
            keys.setdefault(binding.id, []).append(shown(binding.key))
    return {id_: ", ".join(names) for id_, names in keys.items()}


def first_key(force: Mapping[str, str], id_: str) -> str:
    """Return the first key in force for ``id_``, or nothing."""
    return force.get(id_, "").split(", ")[0]

"""Every key of the bench, in one table: the keymap, the help and the key line come from it."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from finishsched.refusals import RefusalError

_SHOWN = {
    "question_mark": "?",
    "escape": "esc",
    "up": "↑",
    "down": "↓",
    "pageup": "pgup",
    "pagedown": "pgdn",
    "left": "←",
    "right": "→",
    "plus": "+",
    "minus": "-",
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
    def tap(self) -> str:
        """What a tap sets off: the same action, wherever on its screen it is tapped."""
        return self.action if "." in self.action else f"screen.{self.action}"


_WORK, _LOOK, _MOVE = "the work", "looking", "moving about"
_CHECK, _ASK = "in the dry check", "in a question"
_BEFORE, _SITTING = "before a sitting; digits and letters have a meaning there", "in a sitting"
_JOIN = "in joining; letters take a piece in or out"
_LIST, _PLAN = "in a list; its lines have keys of their own", "in the plan"


def _on_board(id_: str, keys: str, words: str, tooltip: str, group: str) -> Key:
    """Return a key of the board; a part of the bench has what it does, under the same id."""
    return Key(id_, keys, f"app.do('{id_}')", words, tooltip, group)


BOARD = (
    _on_board(
        "next-thing",
        "space,enter",
        "next",
        "the next thing for the piece in large letters: log it done, or make the dry check",
        _WORK,
    ),
    _on_board(
        "sitting", "c", "sitting", "coat several parts, round and round, a key a coat", _WORK
    ),
    _on_board("log-coat", "l", "log", "log with the amount, batch, person and time", _WORK),
    _on_board("undo", "u", "undo", "take back the last entry of the piece", _WORK),
    _on_board("entries", "z", "earlier", "take back an earlier entry, or tell it otherwise", _WORK),
    _on_board("begin", "b", "begin", "begin a piece: every field has an answer already", _WORK),
    _on_board("change", "e", "change", "change a date, faces, a wait, the shop's hours", _WORK),
    _on_board("air", "a", "air", "write down a reading of the air", _WORK),
    _on_board("mixing", "m", "mix", "mix a cut: type a volume, see what to weigh", _WORK),
    _on_board("rags", "r", "rags", "log where the rags went, which closes the reminder", _WORK),
    _on_board("read", "v", "read", "gloss, colour, an old piece's condition; boards, cost", _WORK),
    _on_board("note", "t", "note", "write a note on the piece", _WORK),
    _on_board("own", "y", "wait", "a wait or an extra step that no schedule says", _WORK),
    _on_board("defect", "d", "defect", "write down a defect of the piece", _WORK),
    _on_board("skip", "s", "skip", "leave out the step in hand, with a reason", _WORK),
    _on_board("apart", "x", "one of", "take one out of those that stand as one, or back", _WORK),
    _on_board("join", "i", "join", "work different pieces as one tonight, or part them", _WORK),
    _on_board("adopt", "o", "adopt", "go on by the schedule's document as it now reads", _WORK),
    _on_board("plan", "p", "plan", "the coming days: who does what when, what is at risk", _LOOK),
    _on_board("film", "f", "film", "film, relief and veneer of the piece", _LOOK),
    _on_board("why", "w", "why", "why the piece stands as it does", _LOOK),
    _on_board("notices", "n", "notices", "every notice, dismissed ones too", _LOOK),
    _on_board("handbook", "h", "handbook", "read on the step in hand, or on a topic", _LOOK),
    _on_board("help", "question_mark", "keys", "the keys in force", _LOOK),
    _on_board("dismiss", "escape", "dismiss", "dismiss the notice shown", _LOOK),
    Key("quit", "q", "app.quit", "quit", "leave; every clock goes on by itself", _LOOK),
    _on_board("up", "up,k", "up", "the piece above in large letters", _MOVE),
    _on_board("down", "down,j", "down", "the piece below in large letters", _MOVE),
    _on_board("first", "g,home", "first", "the piece with the next thing to do", _MOVE),
    Key("sheet-up", "pageup", "sheet(-1)", "sheet up", "turn the sheet back", _MOVE),
    Key("sheet-down", "pagedown", "sheet(1)", "sheet down", "turn the sheet on", _MOVE),
)

DRY_CHECK = (
    Key("ready", "r", "ready", "ready", "the film passed the dry check", _CHECK),
    Key("not-ready", "n", "not_ready", "not yet", "the film needs longer", _CHECK),
    Key("early", "e", "early", "early", "go on before it is ready, on purpose: says why", _CHECK),
    Key("check-close", "escape", "close", "back", "close without an entry", _CHECK),
)

QUESTION = (
    Key("yes", "y", "yes", "yes", "do it", _ASK),
    Key("no", "n,escape", "close", "no", "leave it", _ASK),
)

BEFORE_SITTING = (
    Key("sitting-begin", "space,enter", "begin", "begin", "begin with what is shown", _BEFORE),
    Key("sitting-more", "plus,right", "more(1)", "more", "one coat more", _BEFORE),
    Key("sitting-fewer", "minus,left", "more(-1)", "fewer", "one coat fewer", _BEFORE),
    Key("sitting-jar", "j", "jar", "jar", "the next jar, or none", _BEFORE),
    Key("sitting-close", "escape,q", "close", "back", "close without an entry", _BEFORE),
)

SITTING = (
    Key("coated", "space,enter", "coated", "coated", "the part in hand is coated", _SITTING),
    Key("not-yet", "n", "not_yet", "not yet", "the pad drags: leave it for a round", _SITTING),
    Key(
        "sitting-early",
        "e",
        "early",
        "early",
        "coat it before it is ready, on purpose: says why",
        _SITTING,
    ),
    Key("sitting-undo", "u", "undo", "undo", "take back what the last key did", _SITTING),
    Key("charged", "c", "charged", "charged", "the pad was charged anew", _SITTING),
    Key("part-down", "down,j", "by(1)", "down", "take the next part in hand", _SITTING),
    Key("part-up", "up,k", "by(-1)", "up", "take the part before in hand", _SITTING),
    Key("sitting-end", "escape,q", "end", "end", "end the sitting", _SITTING),
)

JOINING = (
    Key("join-them", "space,enter", "join", "join", "work those that are in as one", _JOIN),
    Key("join-close", "escape,q", "close", "back", "close without an entry", _JOIN),
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
        "plan-take",
        "enter",
        "take",
        "take it",
        "go on by the better plan, if one was found",
        _PLAN,
    ),
    Key("plan-day-before", "left", "day(-1)", "day", "the day before", _PLAN),
    Key("plan-day-after", "right", "day(1)", "day", "the day after", _PLAN),
    Key("plan-up", "up,k,pageup", "turn(-1)", "up", "turn back", _PLAN),
    Key("plan-down", "down,j,pagedown", "turn(1)", "down", "turn on", _PLAN),
    Key("plan-close", "escape,q,p,space", "close", "back", "back to the pieces", _PLAN),
)

_SCREENS = (
    BOARD, DRY_CHECK, QUESTION, BEFORE_SITTING, SITTING, JOINING, (CLOSE,), READING, CHOICE, PLAN,
)  # fmt: skip
OTHER_SCREENS = tuple(key for screen in _SCREENS if screen is not BOARD for key in screen)
KNOWN_IDS = frozenset(key.id for key in (*BOARD, *OTHER_SCREENS))

HINTS = (
    "next-thing", "sitting", "undo", "help", "log-coat", "plan", "film", "defect", "handbook",
    "air", "mixing", "why", "note", "skip", "quit",
)  # fmt: skip
"""What the key line shows, as many of the first as fit."""


def shown(key: str) -> str:
    """Return a key's name as people read it."""
    return _SHOWN.get(key, key)


def shown_list(names: str) -> str:
    """Return a comma-separated list of keys as people read it."""
    return ", ".join(shown(name.strip()) for name in names.split(","))


def faults(keymap: Mapping[str, str]) -> Iterator[RefusalError]:
    """Tell what is wrong with the user's keys: names that nothing has, keys given to two things.

    Textual itself passes over a key that takes the place of a default one, so it is found here.
    """
    for id_ in keymap.keys() - KNOWN_IDS:
        named = _plain(id_)
        yield _fault(f"nothing is called {named!r} under keys", "the help lists what there is")
    for screen in _SCREENS:
        owners: dict[str, list[str]] = {}
        for key in screen:
            for name in shown_list(keymap.get(key.id) or key.keys).split(", "):
                owners.setdefault(name, []).append(key.id)
        for name, ids in owners.items():
            if len(ids) > 1:
                both = " and ".join(ids)
                yield _fault(f"the key {_plain(name)!r} is given to {both}", "give each its own")


def _fault(message: str, remedy: str) -> RefusalError:
    return RefusalError(message, remedy, "settings")


def _plain(text: str) -> str:
    return "".join(c for c in text if unicodedata.category(c)[0] != "C")

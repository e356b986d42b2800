"""What a page around the bench offers to the hand: buttons and fields, as they stand now.

Nothing is written down here twice: buttons are what the screen itself offers for a tap, in the
words of the one table of keys, and the fields are those of the form that shows.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, Protocol, TypeAlias, runtime_checkable

from textual.geometry import Size
from textual.screen import Screen
from textual.widget import Widget

from finishsched.bench import keys
from finishsched.bench.parts.button import meant_by
from finishsched.bench.parts.no_piece import OF_A_PIECE
from finishsched.bench.screens.board import Board
from finishsched.bench.screens.form import Field
from finishsched.bench.screens.sitting import SittingScreen
from finishsched.bench.widgets.taps import Tap, TapSource

Told: TypeAlias = Mapping[str, object]

_OF_BOARD = {key.tap: key for key in keys.BOARD}
_NEXT = "app.do('next-thing')"
_DISMISS = "app.do('dismiss')"
_OF_THE_LAST = ("undo",)
"""Takes back the last entry of the piece, and so is about it too."""
_END_OF_SITTING = "screen.end"
_NEXT_FIELD = "app.focus_next"
"""The page has the fields itself, and its own way from one to the next."""


@runtime_checkable
class HasFields(Protocol):
    """A screen with fields to type into."""

    faults: Mapping[str, str]
    refused: str

    @property
    def title_words(self) -> str:
        """What it is about."""

    def fields(self) -> tuple[Field, ...]:
        """Return the fields as they stand."""


def taps_of(screen: Screen[Any]) -> dict[str, Tap]:
    """Return what can be tapped on ``screen`` by its action, what presses most first."""
    found: dict[str, Tap] = {}
    for source in screen.query(Widget):
        if isinstance(source, TapSource):
            for tap in source.taps():
                found.setdefault(tap.action, tap)
    found.pop(_NEXT_FIELD, None)
    # It comes and goes with a notice: in the last place it pushes no other button aside.
    if (goes := found.pop(_DISMISS, None)) is not None:
        found[_DISMISS] = goes
    return found


def fields_of(screen: Screen[Any]) -> dict[str, Field]:
    """Return the fields of ``screen`` by their ids; none where there is nothing to type into."""
    if isinstance(screen, HasFields) and screen.is_mounted and screen.children:
        return {field.id: field for field in screen.fields()}
    return {}


def offer(
    screen: Screen[Any], taps: Mapping[str, Tap], numbers: tuple[int, int], whole: Size
) -> Told:
    """Return what ``screen`` offers, with ``taps`` of it, as it is told to the page.

    The numbers are that of the screen and its piece, and that of where everything stands on it.

    The page shows a picture of another size only once it is told that this one is ``whole``.
    """
    form = screen if isinstance(screen, HasFields) else None
    of, seen = numbers
    return {
        "type": "offer",
        "of": of,
        "seen": seen,
        "screen": _kind(screen),
        "width": whole.width,
        "height": whole.height,
        "buttons": list(_buttons(screen, taps)),
        "title": form.title_words if form else "",
        "refused": form.refused if form else "",
        "fields": list(_fields(screen)),
    }


def subject(screen: Screen[Any]) -> str:
    """Return which piece the buttons of ``screen`` act on; empty for one that stays the same."""
    if isinstance(screen, Board):
        return screen.facts.chosen
    return screen.facts.in_hand.piece.ref if isinstance(screen, SittingScreen) else ""


def is_about_a_piece(screen: Screen[Any], action: str) -> bool:
    """Tell whether ``action`` is about the piece that is large on ``screen``."""
    if isinstance(screen, Board):
        key = _OF_BOARD.get(action)
        return key is not None and key.id in {*OF_A_PIECE, *_OF_THE_LAST}
    return action != _END_OF_SITTING


def _kind(screen: Screen[Any]) -> str:
    """Return what the page must know of a screen to make room for it."""
    if isinstance(screen, Board):
        return "board"
    if isinstance(screen, SittingScreen):
        return "sitting"
    return "form" if isinstance(screen, HasFields) else "card"


def _buttons(screen: Screen[Any], taps: Mapping[str, Tap]) -> Iterator[Told]:
    main, other = _main_and_other(screen)
    for action, tap in taps.items():
        key = _OF_BOARD.get(action)
        yield {
            "action": action,
            "key": tap.key,
            "words": tap.words,
            "said": tap.said,
            "rank": "main" if action == main else "other" if action == other else "",
            "about": key.tooltip if key else "",
            "group": key.group if key else "",
        }


def _main_and_other(screen: Screen[Any]) -> tuple[str, str]:
    """Return what the one button does on ``screen``, pressed once and twice, as it is tapped."""
    if isinstance(screen, Board):
        return _NEXT, ""
    once, twice = meant_by(screen)
    # What is only read has nothing to do but to go back: a finger turns it.
    main = "" if once.startswith("turn(") else f"screen.{once}"
    return main, f"screen.{twice}"


def _fields(screen: Screen[Any]) -> Iterator[Told]:
    faults = screen.faults if isinstance(screen, HasFields) else {}
    for field in fields_of(screen).values():
        yield {
            "id": field.id,
            "label": field.label,
            "hint": field.hint,
            "value": field.value,
            "choices": list(field.suggestions or field.answers),
            "lines": field.lines,
            "fault": faults.get(field.id, ""),
        }

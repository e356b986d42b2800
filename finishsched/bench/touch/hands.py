"""The part that tells the page what is offered, and does what hands on the page say."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from enum import Enum, auto
from typing import Any, NamedTuple, TypeVar

from textual.geometry import Size
from textual.screen import Screen
from textual.widgets import Input, TextArea

from finishsched.bench.touch.driver import Touched
from finishsched.bench.touch.offer import (
    Told,
    fields_of,
    is_about_a_piece,
    offer,
    subject,
    taps_of,
)
from finishsched.bench.touch.targets import Lay, Target, lay_of, target_at

Value = TypeVar("Value")

MOST_TYPED = 8000
"""Letters that a field takes: a schedule in lines has a few hundred."""
REMEMBERED = 32
"""Offers, and pictures, that a late tap may be of."""


class Verdict(Enum):
    """What comes of a tap."""

    MEANT = auto()
    NEVER_OFFERED = auto()
    """No page of ours sends it."""
    GONE = auto()
    """It, or what it was about, is not there any more."""
    MOVED = auto()
    """Something else stands in its place."""


class _Offered(NamedTuple):
    """What a number was told for."""

    screen: Screen[Any]
    about: str
    actions: set[str]


class Hands:
    """Numbers each screen, and each piece on it, so that what was meant for another does nothing.

    A tap is seconds late over a poor connection, or at a bench that is busy, and the piece that it
    was for may no longer be in large letters: then it must not be logged on the one that is. What
    is about no piece is done as long as its screen shows.
    """

    def __init__(self, tell: Callable[[Told], None]) -> None:
        self._tell = tell
        self._offered: OrderedDict[int, _Offered] = OrderedDict()
        self._of = 0
        self._lays: OrderedDict[int, Lay] = OrderedDict()
        self._seen = 0
        self._told: Told = {}

    def look(self, screen: Screen[Any], whole: Size) -> None:
        """Tell what ``screen`` offers now, if that is not what was told last.

        ``whole`` is the size of the last picture of which every part was drawn for it.
        """
        about = subject(screen)
        last = self._offered.get(self._of)
        if last is None or screen is not last.screen or about != last.about:
            self._of += 1
            last = _Offered(screen, about, set())
            _keep(self._offered, self._of, last)
        if (lay := lay_of(screen)) != self._lays.get(self._seen):
            self._seen += 1
            _keep(self._lays, self._seen, lay)
        taps = taps_of(screen)
        last.actions.update(taps)
        now = offer(screen, taps, (self._of, self._seen), whole)
        if now != self._told:
            self._told = now
            self._tell(now)

    def forget(self) -> None:
        """Have what is offered told again, whatever was told."""
        self._told = {}

    def judge(self, of: int, action: str, screen: Screen[Any]) -> Verdict:
        """Tell what comes of a tap on a button that was offered with ``of``, now that it is heard.

        ``screen`` is the one that shows.
        """
        offered = self._offered.get(of)
        if offered is not None and action not in offered.actions:
            return Verdict.NEVER_OFFERED
        if offered is None or offered.screen is not screen or action not in taps_of(screen):
            return Verdict.GONE
        is_same = offered.about == subject(screen) or not is_about_a_piece(screen, action)
        return Verdict.MEANT if is_same else Verdict.MOVED

    def judge_cell(self, touched: Touched, screen: Screen[Any]) -> tuple[Verdict, Target | None]:
        """Tell what comes of a tap on a cell, and what it is on."""
        offered, lay = self._offered.get(touched.of), self._lays.get(touched.seen)
        if offered is None or lay is None or offered.screen is not screen:
            return Verdict.GONE, None
        meant, now = target_at(lay, touched.x, touched.y), lay_of(screen)
        if meant is not None and meant.ref:
            # To choose logs nothing: a row that moved is chosen where it went.
            is_there = any(meant.is_same_as(target) for target in now)
            return Verdict.MEANT if is_there else Verdict.GONE, meant
        there = target_at(now, touched.x, touched.y)
        is_same = meant.is_same_as(there) if meant is not None else there is None
        is_same = is_same and offered.about == subject(screen)
        return Verdict.MEANT if is_same else Verdict.MOVED, meant

    def type(self, of: int, field: str, value: str) -> None:
        """Write into a field of the screen that was meant."""
        screen = self._offered[of].screen if of == self._of and of in self._offered else None
        if screen is None or field not in fields_of(screen):
            return
        widget = screen.query_one(f"#{field}")
        if isinstance(widget, Input):
            widget.value = _one_line(value[:MOST_TYPED])
        elif isinstance(widget, TextArea):
            widget.text = "\n".join(_one_line(line) for line in value[:MOST_TYPED].splitlines())


def _keep(told: OrderedDict[int, Value], number: int, value: Value) -> None:
    """Keep the last few; a tap that is later than so many changes is of nothing that is known."""
    told[number] = value
    while len(told) > REMEMBERED:
        told.popitem(last=False)


def _one_line(text: str) -> str:
    return "".join(sign if sign.isprintable() else " " for sign in text)

"""The board: the chosen piece in large letters, all pieces, the sheet of the chosen one."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Container
from textual.screen import Screen

from finishsched.bench import bindings, keys
from finishsched.bench.at_hand.side import NOTHING, Findings, Side
from finishsched.bench.lasting import Lasting
from finishsched.bench.widgets.air_strip import AirFacts, AirStrip
from finishsched.bench.widgets.drawn import ROOMY_HEIGHT, draw_what_is_not_whole, fit, is_lowest
from finishsched.bench.widgets.key_line import KeyLine
from finishsched.bench.widgets.large import Large, LargeFacts
from finishsched.bench.widgets.notice_strip import NoticeStrip, StripFacts
from finishsched.bench.widgets.piece_list import PieceList
from finishsched.bench.widgets.sheet import Sheet, SheetFacts
from finishsched.bench.widgets.side_strip import SideFacts, SideStrip
from finishsched.bench.widgets.top_line import TopLine
from finishsched.bench.widgets.window_strip import WindowStrip
from finishsched.workshop.base.answers import BenchView, PieceView

FLASH_S = 2.0


@dataclass(frozen=True, slots=True)
class BoardFacts:
    """Everything that one repaint needs."""

    view: BenchView
    chosen: str
    notices: tuple[str, ...]
    side: Side = NOTHING
    findings: Findings = field(default_factory=dict)
    offer: str = ""
    """What a better plan would gain that was found; empty for none."""
    moved: Mapping[str, str] = field(default_factory=dict)
    """By row that was moved of late: a mark of where it went."""
    late_min: Mapping[str, int] = field(default_factory=dict)
    """By piece that the plan has after its due date: by how much."""

    @property
    def piece(self) -> PieceView | None:
        """The chosen piece."""
        return next((p for p in self.view.pieces if p.ref == self.chosen), None)


PARTS = (
    TopLine, AirStrip, WindowStrip, NoticeStrip, SideStrip, KeyLine, Large, PieceList, Sheet,
)  # fmt: skip
"""Its parts. While the app closes they go one by one, and an answer may still come."""


class Board(Lasting, Screen[None]):
    """Shows what it is given; its keys go to the app."""

    ONCE, TWICE = "app.do('one-press')", "app.do('down-or-first')"

    BINDINGS: ClassVar[list[BindingType]] = [bindings.binding(key) for key in keys.BOARD]
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (110, "-wide")]  # noqa: RUF012  # Textual's own form
    VERTICAL_BREAKPOINTS = [(0, "-short"), (23, "-middling"), (ROOMY_HEIGHT, "-tall")]  # noqa: RUF012

    def __init__(self, facts: BoardFacts) -> None:
        super().__init__()
        self.facts = facts
        self.force: dict[str, str] = {}
        """The keys in force, by their ids."""

    def compose(self) -> ComposeResult:
        """Lay the board out."""
        yield TopLine(id="top")
        yield AirStrip(id="air")
        yield WindowStrip(id="windows")
        yield NoticeStrip(id="notice")
        yield Large(id="large")
        yield SideStrip(id="side")
        with Container(id="work"):
            yield PieceList(id="pieces")
            yield Sheet(id="sheet")
        yield KeyLine(id="keys")

    def on_mount(self) -> None:
        """Learn the keys in force, then show the first facts."""
        fit(self)
        self.set_class(is_lowest(self.app), "-lowest")
        self.force = bindings.in_force(active.binding for active in self.active_bindings.values())
        self._hand_out(self.facts)

    def on_resize(self) -> None:
        """Leave out the sheet where only what the hands need has room."""
        self.set_class(is_lowest(self.app), "-lowest")
        draw_what_is_not_whole(self)

    def show(self, facts: BoardFacts) -> None:
        """Hand each widget its part."""
        self.facts = facts
        if self.is_mounted and all(self.query(part) for part in PARTS):
            self._hand_out(facts)

    def _hand_out(self, facts: BoardFacts) -> None:
        with self.app.batch_update():
            self._show_around(facts)
            self.query_one(Large).show(self._large(facts))
            self.query_one(PieceList).show(facts.view, facts.chosen, facts.moved, facts.late_min)
            self.query_one(Sheet).show(self._sheet(facts))

    def on_screen_suspend(self) -> None:
        """Take the messages off the screen: what opens over the board is to be read whole."""
        self.app.clear_notifications()

    def flash(self) -> None:
        """Turn the top line's colours round for a moment."""
        top = self.query_one(TopLine)
        top.add_class("-flash")
        self.set_timer(FLASH_S, lambda: top.remove_class("-flash"))

    def action_sheet(self, pages: int) -> None:
        """Turn the sheet by a page."""
        sheet = self.query_one(Sheet)
        height = max(1, sheet.size.height - 1)
        sheet.scroll_relative(y=pages * height, animate=False)

    def _show_around(self, facts: BoardFacts) -> None:
        view = facts.view
        self.query_one(TopLine).show(view)
        self.query_one(AirStrip).show(AirFacts(view.air, view.now, view.units.temperature))
        self.query_one(WindowStrip).show(view)
        dismiss, notices = self._key("dismiss"), self._key("notices")
        self.query_one(NoticeStrip).show(StripFacts(facts.notices, dismiss, notices))
        self.query_one(SideStrip).show(self._side(facts))
        self.query_one(KeyLine).show(self.force)
        self.set_class(not facts.view.pieces, "-empty")

    def _side(self, facts: BoardFacts) -> SideFacts:
        rags, plan = self._key("rags"), self._key("plan")
        return SideFacts(facts.side, rags, facts.chosen, facts.offer, plan)

    def _key(self, id_: str) -> str:
        return bindings.first_key(self.force, id_)

    def _large(self, facts: BoardFacts) -> LargeFacts:
        view = facts.view
        key = self._key("next-thing")
        return LargeFacts(facts.piece, view.now, view.zone, next_key=key, side=facts.side)

    def _sheet(self, facts: BoardFacts) -> SheetFacts:
        view = facts.view
        return SheetFacts(
            piece=facts.piece,
            now=view.now,
            zone=view.zone,
            windows=tuple(window for window in view.windows if window.name == facts.chosen),
            side=facts.side,
            findings=facts.findings.get(facts.chosen, ()),
        )

"""What is seen of a surface: readings, an old piece's condition, sample boards, costs."""

from __future__ import annotations

from typing import TYPE_CHECKING

from finishsched.bench import words
from finishsched.bench.asking.desk import Desk
from finishsched.bench.host import REMARK_S, Doings, Host
from finishsched.bench.parts.rows import Rows
from finishsched.workshop.base.answers import PieceView

if TYPE_CHECKING:
    from finishsched.model.readings import Measure
    from finishsched.workshop.papers.compared import Compared
    from finishsched.workshop.papers.conditions import Condition


class Seeing:
    """Asks what was read, opens its form, and shows what follows from it."""

    def __init__(self, host: Host, desk: Desk, rows: Rows) -> None:
        self._host = host
        self._desk = desk
        self._rows = rows
        self.doings: Doings = {"read": self.ask}

    def ask(self) -> None:
        """Ask of which piece, where several stand as one, then what."""
        piece = self._host.large_piece()
        if piece is None or self._host.open_shop() is None:
            return
        if len(self._desk.refs_of(piece.ref)) == 1:
            self._ask_what(piece.ref)
        else:
            self._rows.ask_which(piece, "look at it", self._ask_what)

    def _ask_what(self, ref: str) -> None:
        from finishsched.bench.pages import reading_pages as pages  # noqa: PLC0415
        from finishsched.model.readings import Measure  # noqa: PLC0415
        from finishsched.workshop.papers.compared import boards  # noqa: PLC0415

        workshop, title = self._host.open_shop(), self._title(ref)
        if workshop is None:
            return
        job = ref.partition("/")[0]
        board = job if job in boards(workshop) else ""

        def answered(answer: str) -> None:
            shown = {
                pages.SO_FAR: lambda: self._show_so_far(ref, title),
                pages.CONDITION: lambda: self._show_condition(ref, title),
                pages.COST: lambda: self._show_cost(ref, title),
                pages.COMPARE: lambda: self._show_strips(board),
                pages.BOARD: self._make_board,
            }
            if answer in shown:
                shown[answer]()
            else:
                self._ask_value(ref, title, Measure(answer))

        self._host.open_card(pages.what_card(title, board), answered)

    def _ask_value(self, ref: str, title: str, measure: Measure) -> None:
        from finishsched.bench.pages import reading_pages as pages  # noqa: PLC0415
        from finishsched.bench.screens.reading_forms import reading_form  # noqa: PLC0415

        def open_form(grade: str) -> None:
            view, now = self._desk.view, self._host.now
            self._host.open_card(reading_form(ref, title, measure, grade, view, now))

        if measure in pages.GRADES:
            self._host.open_card(pages.grade_card(title, measure), open_form)
        else:
            open_form("")

    def _show_so_far(self, ref: str, title: str) -> None:
        from finishsched.bench.pages.reading_pages import lines_page  # noqa: PLC0415
        from finishsched.workshop.film.surfaces import told_lines  # noqa: PLC0415
        from finishsched.workshop.standing.where import find  # noqa: PLC0415

        workshop = self._host.open_shop()
        if workshop is None:
            return
        book, zone = workshop.book(), workshop.zone
        lines = self._host.asked(lambda: tuple(told_lines(find(workshop, ref, book), book, zone)))
        if lines is not None:
            self._host.open_card(lines_page(f"Read of {title}", lines or ("nothing yet",)))

    def _show_cost(self, ref: str, title: str) -> None:
        from finishsched.bench.pages.reading_pages import lines_page  # noqa: PLC0415
        from finishsched.workshop.papers.cost_words import cost_lines  # noqa: PLC0415
        from finishsched.workshop.papers.costs import cost_of, quote_for  # noqa: PLC0415

        workshop = self._host.open_shop()
        if workshop is None:
            return
        cost = self._host.asked(lambda: cost_of(workshop, ref))
        if cost is not None:
            another = quote_for(cost, cost.area_m2)
            lines = cost_lines(cost, another, workshop.papers.shop.units)
            self._host.open_card(lines_page(f"Cost of {title}", lines))

    def _show_condition(self, ref: str, title: str) -> None:
        from finishsched.bench.pages import reading_pages as pages  # noqa: PLC0415
        from finishsched.workshop.papers.conditions import condition_of  # noqa: PLC0415

        workshop, now = self._host.open_shop(), self._host.now()
        if workshop is None:
            return
        report = self._host.asked(lambda: condition_of(workshop, ref, now))
        if report is not None:
            card = pages.condition_card(title, report)
            self._host.open_card(card, lambda _: self._print_condition(report))

    def _print_condition(self, report: Condition) -> None:
        """Write the report into the shop's folder, under a name that nothing has."""
        from finishsched.reports.condition import condition_page  # noqa: PLC0415
        from finishsched.workshop.base.write_whole import write_new  # noqa: PLC0415

        workshop = self._host.open_shop()
        if workshop is None:
            return
        name = f"condition-{report.ref.replace('/', '-')}"
        page = condition_page(report, workshop.folder)
        path = self._host.asked(lambda: write_new(workshop.folder, name, ".html", page))
        if path is not None:
            self._host.say(f"wrote {path.name} in the shop's folder", seconds=REMARK_S)

    def _show_strips(self, board: str) -> None:
        from finishsched.bench.pages import reading_pages as pages  # noqa: PLC0415
        from finishsched.workshop.papers.compared import compared  # noqa: PLC0415

        workshop, now = self._host.open_shop(), self._host.now()
        if workshop is None:
            return
        rows = self._host.asked(lambda: compared(workshop, board, now))
        if rows is None:
            return
        by_ref = {row.ref: row for row in rows}
        card = pages.strips_card(board, rows)
        self._host.open_card(card, lambda ref: self._ask_for_whom(by_ref[ref]))

    def _ask_for_whom(self, strip: Compared) -> None:
        from finishsched.bench.pages import reading_pages as pages  # noqa: PLC0415

        board = strip.ref.partition("/")[0]
        others = [
            (one.ref, one.title) for one in self._desk.each if one.ref.partition("/")[0] != board
        ]
        card = pages.target_card(strip.schedule, others)
        self._host.open_card(card, lambda ref: self._take_for(strip, ref))

    def _take_for(self, strip: Compared, ref: str) -> None:
        """Write the schedule of a strip into the document of a piece."""
        from finishsched.workshop.begin.boards import taken_for  # noqa: PLC0415
        from finishsched.workshop.begin.written import Written, put  # noqa: PLC0415

        workshop, now = self._host.open_shop(), self._host.now()
        if workshop is None:
            return

        def write() -> Written:
            written = taken_for(workshop.papers, workshop.folder, strip.ref, ref)
            if written.before != written.after:
                put(workshop.folder, written, now)
            return written

        written = self._host.asked(write)
        if written is not None:
            self._desk.refresh(now)
            self._host.take_view()
            said = f"{written.path}: {self._title(ref)} takes {strip.schedule}"
            self._host.say(words.plain(said), seconds=REMARK_S)

    def _make_board(self) -> None:
        from finishsched.bench.screens.begin_forms import board_form  # noqa: PLC0415

        workshop = self._host.open_shop()
        if workshop is not None:
            self._host.open_card(board_form(workshop))

    def _title(self, ref: str) -> str:
        piece: PieceView | None = next((one for one in self._desk.each if one.ref == ref), None)
        return piece.title if piece else ref

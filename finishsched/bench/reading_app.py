"""The part of the bench that is only read: why, the film, the handbook, notices, the keys."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Callable
from datetime import datetime
from typing import TYPE_CHECKING, TypeVar

from textual.app import App

from finishsched.bench import keys
from finishsched.bench.desk import Desk, Refusal, refusal_of
from finishsched.bench.notices import Notices
from finishsched.bench.side import Findings
from finishsched.refusals import RefusalError
from finishsched.workshop.base.answers import PieceView

if TYPE_CHECKING:
    from finishsched.bench.screens.board import Board
    from finishsched.bench.screens.page import Paragraph
    from finishsched.model.settings import Settings
    from finishsched.workshop.base.workshop import Workshop

Answer = TypeVar("Answer")


class ReadingApp(App[None]):
    """Opens the pages; without a shop's folder those that need one say so."""

    _desk: Desk
    _notices: Notices
    _settings: Settings
    _now: Callable[[], datetime]
    _workshop: Workshop | None = None
    findings: Findings = {}  # noqa: RUF012  # replaced whole, never changed

    @property
    @abstractmethod
    def _piece(self) -> PieceView | None:
        """The chosen piece."""

    @abstractmethod
    def _paint(self) -> None:
        """Show everything as it now stands."""

    @abstractmethod
    def _take_view(self) -> None:
        """Take what the desk has."""

    @abstractmethod
    def _say_refused(self, refusal: Refusal) -> None:
        """Tell why something was not taken."""

    @property
    @abstractmethod
    def _board(self) -> Board:
        """The board under everything."""

    def _asked(self, question: Callable[[], Answer]) -> Answer | None:
        """Return an answer of the workshop, or None once its refusal is told."""
        try:
            return question()
        except RefusalError as error:
            self._say_refused(refusal_of(error))
            return None

    def _open_workshop(self) -> Workshop | None:
        if self._workshop is None:
            self.notify("There is no shop folder to ask.", severity="warning", markup=False)
        return self._workshop

    # Pages to read.

    def action_why(self) -> None:
        """Say why the chosen piece stands as it does."""
        from finishsched.bench import pages  # noqa: PLC0415

        if piece := self._piece:
            found = self.findings.get(piece.ref, ())
            lines = pages.why(piece, self._now(), self._desk.view.zone, found)
            self._open_page(f"Why: {piece.title}", tuple(lines))

    def action_notices(self) -> None:
        """List every notice."""
        from finishsched.bench import pages  # noqa: PLC0415

        lines = tuple(pages.notices(self._notices.every, self._notices.open))
        self._open_page("Notices", lines)

    def action_keys_help(self) -> None:
        """List the keys in force."""
        from finishsched.bench import pages  # noqa: PLC0415

        cards = {key.id: self._settings.keys.get(key.id, key.keys) for key in keys.OTHER_SCREENS}
        named = {id_: keys.shown_list(names) for id_, names in cards.items()}
        self._open_page("Keys in force", tuple(pages.key_help(named | self._board.force)))

    def action_help_quit(self) -> None:
        """Say which key leaves, to somebody who tries ctrl+c."""
        quit_key = keys.first_key(self._board.force, "quit")
        self.notify(f"{quit_key} leaves the bench.", markup=False)

    def _open_page(self, title: str, paragraphs: tuple[Paragraph, ...]) -> None:
        from finishsched.bench.screens.page import Page  # noqa: PLC0415

        self.push_screen(Page(title, paragraphs))

    # The film.

    def action_film(self) -> None:
        """Show the chosen piece in section, with what follows from it."""
        from finishsched.bench.screens.film import FilmCard  # noqa: PLC0415
        from finishsched.bench.screens.page import Paragraph  # noqa: PLC0415
        from finishsched.workshop.film.films import film_answer  # noqa: PLC0415
        from finishsched.workshop.film.sentences import (  # noqa: PLC0415
            answer_sentences,
            standing_sentences,
        )

        piece, workshop = self._piece, self._open_workshop()
        if piece is None or workshop is None:
            return
        found = self._asked(lambda: film_answer(workshop, piece.ref, self._now()))
        if found is None:
            return
        said = (*standing_sentences(found), *answer_sentences(found))
        assumed = (f"assumed: {note}" for note in found.assumed)
        paragraphs = (
            *(Paragraph("-", sentence) for sentence in said),
            *(Paragraph("", note, "$text-muted") for note in assumed),
        )
        self.push_screen(FilmCard(f"Film: {piece.title}", found.section, paragraphs))

    # The handbook.

    def action_handbook(self) -> None:
        """Open the page on the step in hand, or the list of topics where there is none."""
        from finishsched.bench import handbook_pages  # noqa: PLC0415
        from finishsched.workshop.papers.handbook import topic_of  # noqa: PLC0415

        piece = self._piece
        step = piece.step if piece else None
        first = f"{handbook_pages.TOPIC}{topic_of(step)}" if step else handbook_pages.ALL

        def answered(answer: str | None) -> None:
            if answer:
                self.push_screen(handbook_pages.next_card(answer), answered)

        answered(first)

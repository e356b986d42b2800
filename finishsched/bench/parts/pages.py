"""What is only read: why, the film, the handbook, notices, the keys."""

from __future__ import annotations

from typing import TYPE_CHECKING

from finishsched.bench.asking.desk import Desk
from finishsched.bench.host import Doings, Host
from finishsched.bench.parts.beside import Beside
from finishsched.bench.telling.notices import Notices

if TYPE_CHECKING:
    from collections.abc import Mapping

    from finishsched.bench.screens.page import Paragraph


class Pages:
    """Opens the pages; without a shop's folder those that need one say so."""

    def __init__(
        self, host: Host, desk: Desk, notices: Notices, beside: Beside, own_keys: Mapping[str, str]
    ) -> None:
        self._host = host
        self._desk = desk
        self._notices = notices
        self._beside = beside
        self._own_keys = own_keys
        self.doings: Doings = {
            "why": self.why,
            "notices": self.notices,
            "dismiss": self.dismiss_notice,
            "film": self.film,
            "handbook": self.handbook,
        }

    def why(self) -> None:
        """Say why the piece shown large stands as it does."""
        from finishsched.bench.pages import why_pages  # noqa: PLC0415

        if piece := self._host.large_piece():
            found = self._beside.findings.get(piece.ref, ())
            lines = why_pages.why(piece, self._host.now(), self._desk.view.zone, found)
            self._open_page(f"Why: {piece.title}", tuple(lines))

    def notices(self) -> None:
        """List every notice."""
        from finishsched.bench.pages import why_pages  # noqa: PLC0415

        lines = tuple(why_pages.notices(self._notices.every, self._notices.open))
        self._open_page("Notices", lines)

    def dismiss_notice(self) -> None:
        """Dismiss the notice that shows."""
        self._notices.dismiss_first()
        self._host.repaint()

    def key_help(self, in_force: Mapping[str, str]) -> None:
        """List the keys in force; those of the board can be tapped there."""
        from finishsched.bench import keys  # noqa: PLC0415
        from finishsched.bench.screens.key_card import KeyCard  # noqa: PLC0415

        cards = {key.id: self._own_keys.get(key.id, key.keys) for key in keys.OTHER_SCREENS}
        named = {id_: keys.shown_list(names) for id_, names in cards.items()}
        self._host.open_card(KeyCard(named | dict(in_force)), self._host.do)

    def film(self) -> None:
        """Show the piece in section, with what follows from it."""
        from finishsched.bench.screens.film import FilmCard, Seen  # noqa: PLC0415
        from finishsched.bench.screens.page import Paragraph  # noqa: PLC0415
        from finishsched.workshop.film.films import film_answer  # noqa: PLC0415
        from finishsched.workshop.film.sentences import (  # noqa: PLC0415
            answer_sentences,
            before_the_paper,
            standing_sentences,
        )

        piece, workshop = self._host.large_piece(), self._host.open_shop()
        if piece is None or workshop is None:
            return
        found = self._host.asked(lambda: film_answer(workshop, piece.ref, self._host.now()))
        if found is None:
            return
        bears = found.paper and found.paper.bearing
        paper = before_the_paper(found.paper, found.units) if found.paper and bears else ()
        said = (*standing_sentences(found), *answer_sentences(found))
        assumed = (f"assumed: {note}" for note in found.assumed)
        paragraphs = (
            *(Paragraph("-", sentence) for sentence in said),
            *(Paragraph("", note, "$text-muted") for note in assumed),
        )
        first = tuple(Paragraph(*pair) for pair in paper)
        seen = Seen(found.section, found.units)
        self._host.open_card(FilmCard(f"Film: {piece.title}", seen, paragraphs, first))

    def handbook(self) -> None:
        """Open the page on the step in hand, or the list of topics where there is none."""
        from finishsched.bench.pages import handbook_pages  # noqa: PLC0415
        from finishsched.workshop.papers.handbook import topic_of  # noqa: PLC0415

        piece = self._host.large_piece()
        step = piece.step if piece else None
        first = f"{handbook_pages.TOPIC}{topic_of(step)}" if step else handbook_pages.ALL

        def read_on(answer: str) -> None:
            self._host.open_card(handbook_pages.next_card(answer, self._desk.view.units), read_on)

        read_on(first)

    def _open_page(self, title: str, paragraphs: tuple[Paragraph, ...]) -> None:
        from finishsched.bench.screens.page import Page  # noqa: PLC0415

        self._host.open_card(Page(title, paragraphs))

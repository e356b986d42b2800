"""The part of the bench that advises: what to do now, defects, rags, levelling.

What is quick is asked of the workshop itself; what is not, of the back room. Nothing here is needed
to log the work: without a workshop the bench goes on, and these keys say so.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from importlib import import_module
from typing import TYPE_CHECKING, TypeVar

from finishsched.bench import keys, words
from finishsched.bench.back_room import Answered, BackRoom
from finishsched.bench.desk import refusal_of
from finishsched.bench.logged_here import LoggedHere
from finishsched.bench.plan_app import REMARK_S, PlanApp
from finishsched.bench.plan_watch import PlanWatch
from finishsched.bench.side import NOTHING, Findings, Side, findings_of, side_of
from finishsched.journal.events import Event, RagsDealtWith
from finishsched.refusals import RefusalError
from finishsched.workshop.base.answers import PieceView
from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.log.log import remarks_on

if TYPE_CHECKING:
    from finishsched.bench.desk import Refusal
    from finishsched.workshop.base.workshop import Workshop

Answer = TypeVar("Answer")
READY = (
    "finishsched.bench.defect_pages",
    "finishsched.bench.handbook_pages",
    "finishsched.bench.rags_pages",
    "finishsched.bench.screens.dry_check",
    "finishsched.bench.screens.film",
    "finishsched.bench.screens.forms",
    "finishsched.bench.screens.plan",
    "finishsched.bench.screens.question",
    "finishsched.workshop.plan.change_sentences",
    "finishsched.workshop.film.sentences",
    "finishsched.workshop.plan.better",
)
"""What the keys load when they are first pressed, unless it is there by then."""
LOOK_FIRST = "Nothing is logged unless you say yes; on the board, f shows the film."


class CounselApp(PlanApp):
    """Keeps what stands beside the pieces, and opens the screens that advise."""

    side: Side = NOTHING
    _logged: LoggedHere
    _found_at: object = None

    # What stands beside the pieces.

    def open_back_room(self) -> None:
        """Open it, and once the board is there have looked at what stands beside the pieces."""
        if self._workshop is not None:
            self._back = BackRoom(self._workshop.folder, self._now, self.post_message)
            self.call_after_refresh(self._begin)

    def _begin(self) -> None:
        self.follow()
        if self._back is None:
            return
        self._back.ask("make ready", _make_ready, _unheard, _unheard)
        self._watch = PlanWatch(self._back, self, self._now, self.QUIET_S)
        self.follow()

    def close_back_room(self) -> None:
        """Let the back room go, and end what it looks for."""
        if self._watch is not None:
            self._watch.close()
            self._watch = None
        if self._back is not None:
            self._back.close()
            self._back = None

    def on_answered(self, message: Answered) -> None:
        """Take an answer of the back room."""
        message.deliver()

    def follow(self) -> None:
        """Have the plan follow what was logged, and ask anew for what stands beside the pieces."""
        self._say_changed()
        if self._back is None:
            return
        if self._desk.asks != self._sided_at:
            self._ask_beside(self._back)
        if self._watch is not None:
            self._watch.follow(self._desk.taken, self._desk.heard)

    def _ask_beside(self, back: BackRoom) -> None:
        self._sided_at = self._desk.asks
        now = self._now()
        back.ask("side", lambda shop: side_of(shop, now), self._take_side, self._untold)
        logged = (now.hour, *((piece.ref, piece.log[:1]) for piece in self._desk.view.pieces))
        if logged != self._found_at:
            self._found_at = logged
            back.ask("findings", lambda shop: findings_of(shop, now), self._take_findings, _unheard)

    def _take_side(self, side: Side) -> None:
        self.side = side
        self._paint()

    def _take_findings(self, findings: Findings) -> None:
        self.findings = findings
        self._paint()

    def _untold(self, fault: str) -> None:
        self._notices.add(f"what stands beside the pieces cannot be told: {words.plain(fault)}")
        self._paint()

    def tell_remarks(self) -> None:
        """Say what the workshop remarks on the entry just taken."""
        event, workshop = self._desk.last_entry, self._workshop
        if workshop is None or not isinstance(event, Event):
            return
        for remark in self._asked(lambda: remarks_on(workshop, event, self._now())) or ():
            self.notify(words.plain(remark), severity="warning", timeout=REMARK_S, markup=False)

    def confirmed(self, piece: PieceView, go_on: Callable[[], object]) -> None:
        """Go on with logging the step in hand, once it is confirmed where it may cut through."""
        said = self._before_levelling(piece)
        if not said:
            go_on()
            return
        from finishsched.bench.screens.question import QuestionCard  # noqa: PLC0415

        def answered(answer: str | None) -> None:
            if answer:
                go_on()

        detail = " ".join((*said, LOOK_FIRST))
        self.push_screen(QuestionCard(f"Log it done? {piece.title}", detail), answered)

    def _before_levelling(self, piece: PieceView) -> tuple[str, ...]:
        """Return what is to be confirmed before the step in hand; nothing where nothing is."""
        from finishsched.workshop.film.films import (  # noqa: PLC0415
            before_levelling,
            film_answer,
        )

        workshop = self._workshop
        if workshop is None or piece.step is None or not piece.step.verb.abrades:
            return ()
        found = self._asked(lambda: film_answer(workshop, piece.ref, self._now()))
        before = before_levelling(found) if found is not None else None
        return before.words if before is not None and before.needs_confirmation else ()

    # Rags.

    def action_rags(self) -> None:
        """Ask where the rags went."""
        from finishsched.bench import rags_pages  # noqa: PLC0415

        workshop = self._open_workshop()
        if workshop is None:
            return

        def answered(answer: str | None) -> None:
            if answer == rags_pages.OTHER:
                self.push_screen(rags_pages.where_form())
            elif answer:
                self.log_rags(answer)

        found = self._asked(lambda: rags_pages.rags_card(workshop, self._now()))
        if found is not None:
            self.push_screen(found, answered)

    def log_rags(self, where: str) -> Refusal | None:
        """Log where the rags went; return why not, when it was refused."""
        from finishsched.workshop.safety.rags import rags_dealt_with  # noqa: PLC0415

        workshop, now = self._workshop, self._now()
        if workshop is None:
            return None
        try:
            self._logged.add(rags_dealt_with(workshop, where, now))
        except RefusalError as error:
            refusal = refusal_of(error)
            self._say_refused(refusal)
            return refusal
        undo = keys.first_key(self._board.force, "undo")
        said = f"logged: rags {words.plain(where)}{f'; {undo} undoes' if undo else ''}"
        self.notify(said, timeout=REMARK_S, markup=False)
        self.side = replace(self.side, rags="")
        self._desk.refresh(now)
        self._take_view()
        return None

    def undo_rags(self, ref: str) -> bool:
        """Take back where the rags went, if that is what was logged last; tell whether it was."""
        from finishsched.workshop.safety.rags import rags_undone  # noqa: PLC0415

        workshop, now = self._workshop, self._now()
        if workshop is None:
            return False
        last = self._asked(lambda: self._logged.rags_to_undo(workshop.book(), ref))
        if last is None or not isinstance(last.what, RagsDealtWith):
            return False
        undone = self._asked(lambda: rags_undone(workshop, now, only=last.id))
        if undone is not None:
            self._logged.add(undone)
            said = f"undone: rags {words.plain(last.what.where)}; the reminder is back"
            self.notify(said, timeout=REMARK_S, markup=False)
            self._desk.refresh(now)
            self._take_view()
        return True

    # Defects.

    def action_defect(self) -> None:
        """Ask what is seen on the chosen piece, then where."""
        from finishsched.bench import defect_pages  # noqa: PLC0415
        from finishsched.bench.screens import forms  # noqa: PLC0415

        piece = self._piece
        if piece is None:
            return

        def answered(answer: str | None) -> None:
            if answer:
                seen = "" if answer == defect_pages.OTHER else answer
                self.push_screen(forms.defect_form(piece, seen))

        self.push_screen(defect_pages.seen_card(piece.title), answered)

    def explain_defect(self, ref: str) -> None:
        """Say what likely made the defect just logged, and offer ways to put it right."""
        from finishsched.bench import defect_pages  # noqa: PLC0415
        from finishsched.workshop.defects.defects import defect_answer, take_rework  # noqa: PLC0415

        workshop, piece = self._workshop, self._desk.piece(ref)
        if workshop is None or piece is None:
            return
        now = self._now()
        try:
            found = defect_answer(workshop, ref, "", now)
        except RefusedError:
            return  # in nobody's words but the finisher's own: logged, and nothing to rank

        def answered(answer: str | None) -> None:
            if not answer:
                return
            number = int(answer)
            taken = self._asked(lambda: take_rework(workshop, found, number, self._now()))
            if taken is None:
                return
            for event in taken:
                self._logged.add(event)
            title = found.options[number - 1].rework.title
            self.notify(f"entered: {words.plain(title)}; its steps come first now", markup=False)
            self._desk.refresh(self._now())
            self._take_view()

        self.push_screen(defect_pages.defect_card(found, piece.title), answered)


def _make_ready(_: Workshop) -> None:
    """Load what the keys open, so that the first press of each is felt as soon as the next."""
    for name in READY:
        import_module(name)


def _unheard(_: object) -> None:
    """Say nothing: it is asked again, and the screens that need it tell the fault."""

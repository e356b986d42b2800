"""The work on the piece shown large: the one next thing, a beginning, a dry check, taking back."""

from __future__ import annotations

from collections.abc import Callable

from finishsched.bench import words
from finishsched.bench.asking.desk import Desk, DoublePress
from finishsched.bench.at_hand.next_thing import Doing, next_thing, step_title
from finishsched.bench.host import Doings, Host
from finishsched.bench.parts.choosing import Choosing
from finishsched.bench.parts.entries import Entries
from finishsched.bench.parts.rags import Rags
from finishsched.numerals import counted
from finishsched.workshop.base.answers import PieceView
from finishsched.workshop.base.entries import Entry, What

WHY_EARLY = (
    "the coat was thin, and the film is firm enough",
    "the next step is gentle: it will not mark",
    "there is no other evening for it",
    "tried on an offcut first",
)
"""Why a maker cuts a wait short, by one key."""
LOOK_FIRST = "Nothing is logged unless you say yes; on the board, {film} shows the film."


class Work:
    """Does the next thing. Its cards load when first opened, to keep the start quick."""

    def __init__(
        self, host: Host, desk: Desk, choosing: Choosing, entries: Entries, rags: Rags
    ) -> None:
        self._host = host
        self._desk = desk
        self._choosing = choosing
        self._entries = entries
        self._rags = rags
        self._double = DoublePress()
        self.doings: Doings = {
            "next-thing": self.next_thing,
            "undo": self.undo,
            "adopt": self.adopt,
        }

    def next_thing(self) -> None:
        """Do the one next thing of the piece shown large."""
        piece = self._host.large_piece()
        if piece is None or self._double.is_one(piece.ref, self._host.pressed_s()):
            return
        if self._choosing.is_sudden:
            self._host.say(f"now in large letters: {piece.title}; press again if it is meant")
            return
        doing = next_thing(piece, self._host.now(), self._desk.view.zone).doing
        if doing is Doing.LOG_DONE:
            self.confirmed(piece, lambda: self._log_done(piece))
        elif doing is Doing.START:
            self.ask_to_start(piece)
        elif doing is Doing.DRY_CHECK:
            self._ask_dry_check(piece)
        elif doing is Doing.WAIT:
            self._choosing.choose(piece.waits_for[0].ref)
            self._host.repaint()
        else:
            self._host.say(f"{piece.title} is finished.")

    def undo(self) -> None:
        """Take back the last entry of the piece, or about rags where that came later.

        Where the large letters went on by themselves, it is the piece that they went on from: of it
        was said that this key takes the entry back.
        """
        ref = self._choosing.entered_last
        piece = self._desk.piece(ref) if ref else None
        if self._rags.undo(piece.ref if piece else "") or piece is None:
            return
        last = "the last entry"
        if piece.log:
            # Logged again it would be of now, so that its clock would stand some minutes later.
            at = words.wall(piece.log[0].at, self._host.now(), self._desk.view.zone)
            last = f"{piece.log[0].text}, of {at}"
        undo = Entry(What.UNDO, piece.ref)
        self._choosing.choose(piece.ref)
        self._entries.hand_in(undo, f"undone: {piece.title}, {last}", can_undo=False)

    def ask_to_start(self, piece: PieceView) -> None:
        """Ask whether a piece is to be begun."""
        detail = (
            f"{piece.schedule_title}, {counted(piece.steps_in_all, 'step')}. "
            "It keeps to the schedule as now written."
        )
        start = Entry(What.START, piece.ref)
        said = f"begun: {piece.title}"
        self._ask(f"Begin {piece.title}?", detail, lambda: self._entries.hand_in(start, said))

    def adopt(self) -> None:
        """Let the piece go on by its schedule's document as it now reads."""
        piece = self._host.large_piece()
        if piece is None:
            return
        question = f"Go on by the schedule as it now reads: {piece.title}?"
        adopt = Entry(What.ADOPT, piece.ref)
        said = f"new schedule adopted: {piece.title}"
        self._ask(question, piece.schedule_title, lambda: self._entries.hand_in(adopt, said))

    def confirmed(self, piece: PieceView, go_on: Callable[[], object]) -> None:
        """Go on with logging the step in hand, once it is confirmed where it may cut through."""
        said = self._before_levelling(piece)
        if not said:
            go_on()
            return
        look = LOOK_FIRST.format(film=self._host.key_for("film") or "the film's key")
        self._ask(f"Log it done? {piece.title}", " ".join((*said, look)), go_on)

    def _log_done(self, piece: PieceView) -> None:
        step = piece.step.key if piece.step else None
        done = Entry(What.DONE, piece.ref, step=step)
        self._entries.hand_in(done, f"logged: {words.plain(piece.title)}, {step_title(piece)}")

    def _ask_dry_check(self, piece: PieceView) -> None:
        from finishsched.bench.screens.dry_check import DryCheckCard  # noqa: PLC0415

        def answered(answer: str) -> None:
            if answer == What.EARLY.value:
                self.ask_why_early(piece, lambda why: self._go_on_early(piece, why))
                return
            step = piece.step.key if piece.step else None
            said = "ready" if answer == What.READY.value else "not yet"
            checked = Entry(What(answer), piece.ref, step=step)
            self._entries.hand_in(checked, f"{said}: {piece.title}, {step_title(piece)}")

        card = DryCheckCard(piece, self._host.now(), self._desk.view.zone)
        self._host.open_card(card, answered)

    def _go_on_early(self, piece: PieceView, why: str) -> None:
        step = piece.step.key if piece.step else None
        early = Entry(What.EARLY, piece.ref, step=step, text=why)
        self._entries.hand_in(early, f"went on early: {piece.title}, {step_title(piece)}")

    def ask_why_early(self, piece: PieceView, answered: Callable[[str], None]) -> None:
        """Ask by one key why it goes on before it was found ready; a note says more."""
        from finishsched.bench.screens.choice import Choice, ChoiceCard  # noqa: PLC0415

        choices = [Choice(why, why) for why in WHY_EARLY]
        title = f"Go on early: {piece.title}. Nothing is learnt of it."
        self._host.open_card(ChoiceCard(title, "why", choices), answered)

    def _ask(self, question: str, detail: str, yes: Callable[[], object]) -> None:
        from finishsched.bench.screens.question import QuestionCard  # noqa: PLC0415

        def answered(_: str) -> None:
            yes()

        self._host.open_card(QuestionCard(question, detail), answered)

    def _before_levelling(self, piece: PieceView) -> tuple[str, ...]:
        """Return what is to be confirmed before the step in hand; nothing where nothing is."""
        from finishsched.workshop.film.films import before_step_in_hand  # noqa: PLC0415

        workshop = self._desk.workshop
        if workshop is None or piece.step is None or not piece.step.verb.abrades:
            return ()
        before = self._host.asked(lambda: before_step_in_hand(workshop, piece.ref))
        return before.words if before is not None and before.needs_confirmation else ()

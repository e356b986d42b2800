"""The bench: one app that keeps the board true, once a second, and takes the keys."""

from __future__ import annotations

import os
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from time import monotonic as machine_monotonic
from typing import TYPE_CHECKING, ClassVar

from textual.reactive import reactive
from textual.screen import Screen

from finishsched.bench import beat, keys, words
from finishsched.bench.alerts import Alerts, run_command
from finishsched.bench.counsel import CounselApp
from finishsched.bench.desk import Desk, DoublePress, Refusal
from finishsched.bench.door import Door, ShopDoor
from finishsched.bench.leaving import leave_on_signals
from finishsched.bench.logged_here import LoggedHere
from finishsched.bench.next_thing import Doing, next_thing, step_title
from finishsched.bench.notices import Notices
from finishsched.bench.reading import RagsWent
from finishsched.bench.screens.board import Board, BoardFacts
from finishsched.bench.side import foremost
from finishsched.bench.themes import THEMES
from finishsched.bench.widgets.piece_list import Row
from finishsched.workshop.base.answers import BenchView, PieceView, State
from finishsched.workshop.base.entries import Entry, What
from finishsched.workshop.stock.shelf_entries import Mixed

if TYPE_CHECKING:
    from finishsched.bench.screens.form import FormCard, Offer
    from finishsched.model.settings import Settings
    from finishsched.workshop.base.workshop import Workshop

TOAST_S = 6.0


class BenchApp(CounselApp):
    """Widgets format and post messages; the app asks the door and sets one snapshot."""

    CSS_PATH = Path(__file__).with_name("bench.tcss")
    TITLE = "finishsched"
    ENABLE_COMMAND_PALETTE = False
    BEAT_S: ClassVar[float] = 1.0
    """The one beat: an entry by somebody else shows within two of them."""

    facts: reactive[BoardFacts | None] = reactive(None, init=False)
    """The one snapshot that everything on the board shows."""

    def __init__(
        self,
        door: Door,
        *,
        now: Callable[[], datetime],
        monotonic: Callable[[], float] = machine_monotonic,
        settings: Settings,
        workshop: Workshop | None = None,
    ) -> None:
        """``workshop`` is the open shop behind the door, for what only a shop can answer."""
        super().__init__()
        self._workshop = workshop
        self._now = now
        self._monotonic = monotonic
        self._settings = settings
        self._desk = Desk(door, now())
        self._notices = Notices()
        self._logged = LoggedHere()
        self._gap = beat.GapWatch(now(), monotonic())
        self._alerts = Alerts(settings.quiet)
        self._notify_failed = False
        self._double = DoublePress()
        self.chosen = ""
        self._choose_something(self._desk.view)
        for theme in THEMES.values():
            self.register_theme(theme)
        self.theme = THEMES.get(settings.theme, THEMES["dark"]).name
        self.set_keymap(dict(settings.keys))

    def get_default_screen(self) -> Screen[None]:
        """Open on the board."""
        self._notices.take_from_shop(self._desk.view.notices)
        return Board(self._facts_now())

    def on_mount(self) -> None:
        """Start the one beat; leave in good order when the terminal closes."""
        leave_on_signals(self.exit)
        self._tell_key_faults()
        self.set_interval(self.BEAT_S, self.beat)
        self.call_after_refresh(self.beat)
        self.open_back_room()

    def on_unmount(self) -> None:
        """Let go of what works in the background."""
        self.close_back_room()

    # The beat.

    def beat(self) -> None:
        """Bring everything up to now; called once a second."""
        now = self._now()
        if gap := self._gap.look(now, self._monotonic()):
            self._notices.add(gap)
        if refusal := self._desk.look(now):
            self._notices.add(refusal.text)
        self._take_view()

    def _take_view(self) -> None:
        view = self._desk.view
        self._notices.take_from_shop(view.notices)
        self._ring(view)
        self._choose_something(view)
        self.follow()
        self._paint()

    def _choose_something(self, view: BenchView) -> None:
        if not any(piece.ref == self.chosen for piece in view.pieces):
            first = foremost(view, self.side)
            self.chosen = first.ref if first else ""

    def _ring(self, view: BenchView) -> None:
        told = self._alerts.look(view)
        for text in told.withdraw:
            self._notices.withdraw(text)
        for text in told.add:
            self._notices.add(text)
        if told.sound:
            self._sound(told.sound)

    def _sound(self, text: str) -> None:
        if self._settings.bell:
            self.bell()
        if self._settings.flash and self._is_open:
            self._board.flash()
        if self._settings.notify and self._is_open:
            self.run_worker(lambda: self._run_command(text), thread=True, exit_on_error=False)

    @property
    def _is_open(self) -> bool:
        return bool(self.screen_stack)

    def _run_command(self, text: str) -> None:
        """Run the user's command, and tell its first failure; later ones would say the same."""
        failure = run_command(self._settings.notify, text, os.environ)
        if failure and not self._notify_failed:
            self._notify_failed = True
            self.call_from_thread(self._notices.add, failure)

    def _facts_now(self) -> BoardFacts:
        view, notices = self._desk.view, self._notices.open
        return BoardFacts(view, self.chosen, notices, self.side, self.findings, self.offer_words)

    def _paint(self) -> None:
        self.facts = self._facts_now()

    def watch_facts(self, facts: BoardFacts) -> None:
        """Hand the new snapshot to the board."""
        if self._is_open:  # none is left while the app closes
            self._board.show(facts)

    # Choosing.

    def action_choose(self, step: int) -> None:
        """Choose the piece ``step`` rows further on."""
        refs = [piece.ref for piece in self._desk.view.pieces]
        if self.chosen in refs:
            place = refs.index(self.chosen) + step
            self._choose(refs[min(max(place, 0), len(refs) - 1)])

    def action_choose_first(self) -> None:
        """Choose the most urgent piece."""
        if first := foremost(self._desk.view, self.side):
            self._choose(first.ref)

    def on_row_touched(self, message: Row.Touched) -> None:
        """Choose the piece that was pointed at."""
        self._choose(message.ref)

    def _choose(self, ref: str) -> None:
        self.chosen = ref
        self._paint()

    @property
    def _piece(self) -> PieceView | None:
        return self._desk.piece(self.chosen)

    # The work.

    def action_next_thing(self) -> None:
        """Do the one next thing of the chosen piece."""
        piece = self._piece
        if piece is None or self._double.is_one(piece.ref, self._monotonic()):
            return
        now, zone = self._now(), self._desk.view.zone
        doing = next_thing(piece, now, zone).doing
        if doing is Doing.LOG_DONE:
            step = piece.step.key if piece.step else None
            entry, said = Entry(What.DONE, piece.ref, step=step), f"logged: {step_title(piece)}"
            self.confirmed(piece, lambda: self._hand_in(entry, said))
        elif doing is Doing.START:
            self._ask_to_start(piece)
        elif doing is Doing.DRY_CHECK:
            self._ask_dry_check(piece)
        else:
            self.notify("This piece is finished.", markup=False)

    def action_undo(self) -> None:
        """Take back the last entry of the chosen piece, or about rags where that came later."""
        piece = self._piece
        if self.undo_rags(piece.ref if piece else "") or piece is None:
            return
        last = piece.log[0].text if piece.log else "the last entry"
        self._hand_in(Entry(What.UNDO, piece.ref), f"undone: {last}", can_undo=False)

    def _hand_in(self, entry: Entry, said: str, *, can_undo: bool = True) -> Refusal | None:
        """Hand in an entry, and say what became of it."""
        now = self._now()
        refusal = self._desk.log(entry, now)
        if refusal is not None:
            self._say_refused(refusal)
            return refusal
        self._logged.add(self._desk.last_entry)
        view = self._desk.view
        said = f"{words.plain(said)} at {words.wall(entry.at or now, now, view.zone)}"
        undo = keys.first_key(self._board.force, "undo")
        tail = f"; {undo} undoes" if can_undo and undo else ""
        self.notify(said + tail, timeout=TOAST_S, markup=False)
        self.tell_remarks()
        self._take_view()
        return None

    def _say_refused(self, refusal: Refusal) -> None:
        text = words.plain(refusal.text)
        if refusal.is_fault:
            self._notices.add(f"not logged: {text}")
        title = "Not logged" if refusal.is_fault else "Refused"
        self.notify(text, title=title, severity="warning", timeout=2 * TOAST_S, markup=False)
        self._take_view()

    # Cards over the board. Their modules load when first opened, to keep the start quick.

    def _ask_dry_check(self, piece: PieceView) -> None:
        from finishsched.bench.screens.dry_check import DryCheckCard  # noqa: PLC0415

        def answered(answer: str | None) -> None:
            if answer:
                step = piece.step.key if piece.step else None
                said = "ready" if answer == What.READY.value else "not yet"
                self._hand_in(
                    Entry(What(answer), piece.ref, step=step), f"{said}: {step_title(piece)}"
                )

        self.push_screen(DryCheckCard(piece, self._now(), self._desk.view.zone), answered)

    def _ask_to_start(self, piece: PieceView) -> None:
        from finishsched.bench.screens.question import QuestionCard  # noqa: PLC0415

        def answered(answer: str | None) -> None:
            if answer:
                self._hand_in(Entry(What.START, piece.ref), f"begun: {piece.title}")

        detail = (
            f"{piece.schedule_title}, {piece.steps_in_all} steps. "
            "It keeps to the schedule as now written."
        )
        self.push_screen(QuestionCard(f"Begin {piece.title}?", detail), answered)

    def action_adopt(self) -> None:
        """Let the chosen piece go on by its schedule's document as it now reads."""
        from finishsched.bench.screens.question import QuestionCard  # noqa: PLC0415

        piece = self._piece
        if piece is None:
            return

        def answered(answer: str | None) -> None:
            if answer:
                self._hand_in(Entry(What.ADOPT, piece.ref), f"new schedule adopted: {piece.title}")

        question = f"Go on by the schedule as it now reads: {piece.title}?"
        self.push_screen(QuestionCard(question, piece.schedule_title), answered)

    def action_log_details(self) -> None:
        """Log the next thing with its amount, batch, person and time."""
        from finishsched.bench.screens import forms  # noqa: PLC0415

        piece = self._piece
        if piece is None or piece.state is State.FINISHED:
            return
        if piece.state is State.NOT_BEGUN:
            self._ask_to_start(piece)
            return
        self.push_screen(forms.log_form(piece, self._desk.view, self._now))

    def action_note(self) -> None:
        """Write a note on the chosen piece."""
        self._open_words(What.NOTE)

    def action_skip(self) -> None:
        """Leave out the step in hand, with a reason; what is done already cannot be left out."""
        piece = self._piece
        if piece is not None and piece.clock is not None:
            key = keys.first_key(self._board.force, "next-thing")
            said = f"{step_title(piece)} is done, and only its wait is left: {key} checks it."
            self.notify(said, timeout=TOAST_S, markup=False)
            return
        self._open_words(What.SKIPPED)

    def _open_words(self, what: What) -> None:
        from finishsched.bench.screens import forms  # noqa: PLC0415

        if piece := self._piece:
            self.push_screen(forms.words_form(what, piece))

    def action_air(self) -> None:
        """Write down a reading of the air."""
        from finishsched.bench.screens import forms  # noqa: PLC0415

        self.push_screen(forms.air_form(self._desk.view, self._now))

    def action_mixing(self) -> None:
        """Open the mixing view on the chosen piece's cut."""
        from finishsched.bench.screens import forms  # noqa: PLC0415

        stock = self._desk.stock(self._now())
        if isinstance(stock, Refusal):
            self._say_refused(stock)
            return
        self.push_screen(forms.mixing_form(self._piece, self._desk.view, stock))

    def on_form_card_offered(self, message: FormCard.Offered) -> None:
        """Hand in what a form offers; a refusal goes back to the form, with all that was typed."""
        offer = message.offer
        piece = None
        if isinstance(offer, Entry) and offer.what is What.DONE:
            piece = self._desk.piece(offer.piece)
        if piece is not None:
            self.confirmed(piece, lambda: self._settle(message))
        else:
            self._settle(message)

    def _settle(self, message: FormCard.Offered) -> None:
        offer = message.offer
        refusal = self._take_offer(offer)
        if refusal is not None:
            message.form.refuse(refusal.text)
            return
        message.form.dismiss("")
        if isinstance(offer, Entry) and offer.what is What.DEFECT:
            self.explain_defect(offer.piece)

    def _take_offer(self, offer: Offer) -> Refusal | None:
        if isinstance(offer, Entry):
            return self._hand_in(offer, f"logged: {offer.what.value}")
        if isinstance(offer, RagsWent):
            return self.log_rags(offer.where)
        if isinstance(offer, Mixed):
            refusal, said = self._desk.log_batch(offer, self._now()), words.plain(offer.name)
        else:
            refusal, said = self._desk.add_air(offer, self._now()), "the air"
        if refusal is None:
            self.notify(f"logged: {said}", timeout=TOAST_S, markup=False)
            self.tell_remarks()
            self._take_view()
        return refusal

    def action_dismiss_notice(self) -> None:
        """Dismiss the notice that shows."""
        self._notices.dismiss_first()
        self._paint()

    # Keys of the user's own.

    @property
    def _board(self) -> Board:
        board = self.screen_stack[0]
        assert isinstance(board, Board)  # noqa: S101  # the default screen, set above
        return board

    def _tell_key_faults(self) -> None:
        for fault in keys.faults(self._settings.keys):
            self._notices.add(fault)


def run(workshop: Workshop, settings: Settings, now: Callable[[], datetime]) -> None:
    """Open the bench and stay in it until the person leaves."""
    BenchApp(ShopDoor(workshop), now=now, settings=settings, workshop=workshop).run()

"""The bench: one app that keeps the board true, once a second, and takes the keys."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from time import monotonic as machine_monotonic
from typing import TYPE_CHECKING, ClassVar

from textual.app import App
from textual.reactive import reactive
from textual.screen import Screen

from finishsched.bench import beat, keys, words
from finishsched.bench.desk import Desk, DoublePress, Refusal
from finishsched.bench.door import Door
from finishsched.bench.next_thing import Doing, next_thing, step_title
from finishsched.bench.notices import Notices
from finishsched.bench.screens.board import Board, BoardFacts
from finishsched.bench.themes import THEMES
from finishsched.bench.widgets.piece_list import Row
from finishsched.workshop.answers import BenchView, PieceView, State
from finishsched.workshop.entries import Entry, What
from finishsched.workshop.stock_entries import Mixed

if TYPE_CHECKING:
    from finishsched.bench.screens.form import FormCard
    from finishsched.bench.screens.page import Paragraph
    from finishsched.model.settings import Settings

TOAST_S = 6.0


class BenchApp(App[None]):
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
    ) -> None:
        super().__init__()
        self._now = now
        self._monotonic = monotonic
        self._settings = settings
        self._desk = Desk(door, now())
        self._notices = Notices()
        self._gap = beat.GapWatch(now(), monotonic())
        self._rings = beat.RingMemory()
        self._banners: dict[str, str] = {}
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
        """Start the one beat."""
        self._tell_key_faults()
        self.set_interval(self.BEAT_S, self.beat)
        self.call_after_refresh(self.beat)

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
        self._paint()

    def _choose_something(self, view: BenchView) -> None:
        if not any(piece.ref == self.chosen for piece in view.pieces):
            first = view.most_urgent
            self.chosen = first.ref if first else ""

    def _ring(self, view: BenchView) -> None:
        waiting = {p.ref for p in view.pieces if p.state in (State.CHECK, State.CLOSED)}
        for ref in [ref for ref in self._banners if ref not in waiting]:
            self._notices.withdraw(self._banners.pop(ref))
        for piece in self._rings.fresh(view):
            said = "likely dry" if piece.state is State.CHECK else "the window closed"
            self._banners[piece.ref] = f"{words.plain(piece.title)}: {said}, make the dry check"
            self._notices.add(self._banners[piece.ref])
            if self._settings.bell:
                self.bell()

    def _facts_now(self) -> BoardFacts:
        return BoardFacts(self._desk.view, self.chosen, self._notices.open)

    def _paint(self) -> None:
        self.facts = self._facts_now()

    def watch_facts(self, facts: BoardFacts) -> None:
        """Hand the new snapshot to the board."""
        if self.screen_stack:  # none is left while the app closes
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
        if first := self._desk.view.most_urgent:
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
            self._hand_in(Entry(What.DONE, piece.ref, step=step), f"logged: {step_title(piece)}")
        elif doing is Doing.START:
            self._ask_to_start(piece)
        elif doing is Doing.DRY_CHECK:
            self._ask_dry_check(piece)
        else:
            self.notify("This piece is finished.", markup=False)

    def action_undo(self) -> None:
        """Take back the last entry of the chosen piece."""
        if piece := self._piece:
            last = piece.log[0].text if piece.log else "the last entry"
            self._hand_in(Entry(What.UNDO, piece.ref), f"undone: {last}", can_undo=False)

    def _hand_in(self, entry: Entry, said: str, *, can_undo: bool = True) -> Refusal | None:
        """Hand in an entry, and say what became of it."""
        now = self._now()
        refusal = self._desk.log(entry, now)
        if refusal is not None:
            self._say_refused(refusal)
            return refusal
        view = self._desk.view
        said = f"{words.plain(said)} at {words.wall(entry.at or now, now, view.zone)}"
        undo = keys.first_key(self._board.force, "undo")
        tail = f"; {undo} undoes" if can_undo and undo else ""
        self.notify(said + tail, timeout=TOAST_S, markup=False)
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
        view = self._desk.view
        self.push_screen(forms.log_form(piece, view.people, self._now, view.zone))

    def action_note(self) -> None:
        """Write a note on the chosen piece."""
        self._open_words(What.NOTE)

    def action_defect(self) -> None:
        """Write down a defect of the chosen piece."""
        self._open_words(What.DEFECT)

    def action_skip(self) -> None:
        """Leave out the step in hand, with a reason."""
        self._open_words(What.SKIPPED)

    def _open_words(self, what: What) -> None:
        from finishsched.bench.screens import forms  # noqa: PLC0415

        if piece := self._piece:
            self.push_screen(forms.words_form(what, piece))

    def action_air(self) -> None:
        """Write down a reading of the air."""
        from finishsched.bench.screens import forms  # noqa: PLC0415

        self.push_screen(forms.air_form(self._now))

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
        if isinstance(offer, Entry):
            refusal = self._hand_in(offer, f"logged: {offer.what.value}")
        elif isinstance(offer, Mixed):
            refusal = self._desk.log_batch(offer, self._now())
            if refusal is None:
                self.notify(f"logged: {words.plain(offer.name)}", timeout=TOAST_S, markup=False)
                self._take_view()
        else:
            refusal = self._desk.add_air(offer, self._now())
            if refusal is None:
                self.notify("logged: the air", timeout=TOAST_S, markup=False)
                self._take_view()
        if refusal is None:
            message.form.dismiss("")
        else:
            message.form.refuse(refusal.text)

    # Pages to read.

    def action_why(self) -> None:
        """Say why the chosen piece stands as it does."""
        from finishsched.bench import pages  # noqa: PLC0415

        if piece := self._piece:
            lines = tuple(pages.why(piece, self._now(), self._desk.view.zone))
            self._open_page(f"Why: {piece.title}", lines)

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


def run(door: Door, settings: Settings, now: Callable[[], datetime]) -> None:
    """Open the bench and stay in it until the person leaves."""
    BenchApp(door, now=now, settings=settings).run()

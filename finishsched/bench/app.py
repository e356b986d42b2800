"""The bench: a thin app that holds its parts, keeps the board true, and takes the keys."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime
from pathlib import Path
from time import monotonic as machine_monotonic
from typing import TYPE_CHECKING, ClassVar

from textual import events
from textual.reactive import var
from textual.screen import ModalScreen, Screen
from textual.widgets import Input

from finishsched.bench import bindings, keys, words
from finishsched.bench.asking.back_room import Answered
from finishsched.bench.asking.desk import Desk, Refusal, refusal_of
from finishsched.bench.asking.door import Door
from finishsched.bench.drawing.themes import dress
from finishsched.bench.host import TOAST_S, Answer, Doings
from finishsched.bench.in_order import InOrder
from finishsched.bench.lasting import LastingApp
from finishsched.bench.leaving import leave_on_signals
from finishsched.bench.parts.beginning import Beginning
from finishsched.bench.parts.behind import Behind
from finishsched.bench.parts.beside import Beside
from finishsched.bench.parts.button import Button
from finishsched.bench.parts.choosing import Choosing
from finishsched.bench.parts.defects import Defects
from finishsched.bench.parts.drafts import Drafts
from finishsched.bench.parts.earlier import Earlier
from finishsched.bench.parts.entries import Entries
from finishsched.bench.parts.no_piece import with_a_piece
from finishsched.bench.parts.pages import Pages
from finishsched.bench.parts.plan import Plan
from finishsched.bench.parts.rags import Rags
from finishsched.bench.parts.ringing import Ringing
from finishsched.bench.parts.rows import Rows
from finishsched.bench.parts.seeing import Seeing
from finishsched.bench.parts.sittings import Sittings
from finishsched.bench.parts.snapshot import Snapshot
from finishsched.bench.parts.work import Work
from finishsched.bench.parts.writing import Writing
from finishsched.bench.plain_signs import in_signs_to_be_had
from finishsched.bench.screens.board import Board, BoardFacts
from finishsched.bench.screens.card import Card
from finishsched.bench.surface import Surface
from finishsched.bench.telling import beat
from finishsched.bench.telling.notices import Notices
from finishsched.bench.typed.beginning import Asked
from finishsched.bench.widgets.piece_list import PieceList
from finishsched.refusals import RefusalError
from finishsched.workshop.views.told_today import ToldToday

if TYPE_CHECKING:
    from textual.driver import Driver
    from textual.filter import LineFilter
    from textual.notifications import SeverityLevel
    from textual.timer import Timer

    from finishsched.bench.screens.form import FormCard
    from finishsched.bench.screens.lines import LinesCard
    from finishsched.bench.screens.plan import PlanScreen
    from finishsched.model.settings import Settings
    from finishsched.workshop.base.answers import PieceView
    from finishsched.workshop.base.workshop import Workshop


class BenchApp(LastingApp):
    """Widgets format and post messages; parts ask the door; the app sets one snapshot."""

    CSS_PATH = Path(__file__).with_name("bench.tcss")
    TITLE = "finishsched"
    ENABLE_COMMAND_PALETTE = False
    BEAT_S: ClassVar[float] = 1.0
    """The one beat: an entry by somebody else shows within two of them."""

    QUIET_S: ClassVar[float] = 2.0
    """How long nothing must have been logged before a better plan is looked for."""
    facts: var[BoardFacts | None] = var(None, init=False)
    """The one snapshot that everything shows. A ``reactive`` would repaint all of it every beat."""

    def __init__(
        self,
        door: Door,
        *,
        now: Callable[[], datetime],
        monotonic: Callable[[], float] = machine_monotonic,
        settings: Settings,
        begin_first: bool = False,
        surface: Callable[[BenchApp], Surface] = lambda _: Surface(),
    ) -> None:
        """``begin_first`` opens on the form for a piece; ``surface`` is made for this bench."""
        super().__init__()
        self._begin_first = begin_first
        self._now = now
        self._monotonic = monotonic
        self._settings = settings
        self._gap_told = ""
        self._was_touched = False
        """True from a press or tap until something is said of it."""
        self._drafts = Drafts(self)
        self._in_order = InOrder(self, self._is_for_the_button)
        self._gap = beat.GapWatch(now(), monotonic())
        self.desk = Desk(door, now())
        told = ToldToday(self.desk.workshop.folder if self.desk.workshop else None, now)
        self.notices = Notices(told)
        self.choosing = Choosing(self)
        self.entries = Entries(self, self.desk, self.choosing)
        self.ringing = Ringing(self, self.notices, settings, told)
        self.beside = Beside(self, self.desk, self.notices)
        self.plan = Plan(self, self.desk, self.beside)
        self.behind = Behind(self, self.desk, self.beside, self.plan)
        self.pages = Pages(self, self.desk, self.notices, self.beside, settings.keys)
        self.rags = Rags(self, self.desk, self.entries, self.beside)
        self.rows = Rows(self, self.desk, self.choosing, self.entries)
        self.earlier = Earlier(self, self.desk, self.entries)
        self.defects = Defects(self, self.desk, self.entries, self.rows)
        self.seeing = Seeing(self, self.desk, self.rows)
        self.work = Work(self, self.desk, self.choosing, self.entries, self.rags)
        self.sittings = Sittings(self, self.desk, self.choosing, self.work, self.beside)
        self.writing = Writing(self, self.desk, self.entries, self.work, self.rags, self.defects)
        self.beginning = Beginning(self, self.desk, self.choosing)
        self.button = Button(self, settings.button)
        self._snapshot = Snapshot(self.desk, self.choosing, self.beside, self.plan, self.notices)
        self._doings = self._gather()
        self._snapshot.follow()
        dress(self, settings.theme)
        self.set_keymap(dict(settings.keys))
        self._surface = surface(self)

    def _gather(self) -> Doings:
        """Return what each key of the board does; a new part adds its own here."""
        parts = (
            self.choosing, self.work, self.sittings, self.writing, self.beginning, self.rows,
            self.earlier, self.rags, self.defects, self.seeing, self.plan, self.pages,
        )  # fmt: skip
        own = {"help": lambda: self.pages.key_help(self._board.force)}
        return with_a_piece(self, own, *(part.doings for part in parts))

    def get_line_filters(self) -> Sequence[LineFilter]:
        """Draw in plain signs where no others are to be had, or wished for."""
        return in_signs_to_be_had(super().get_line_filters())

    def get_default_screen(self) -> Screen[None]:
        """Open on the board."""
        self.notices.take_from_shop(self.desk.view.notices)
        return Board(self._snapshot.facts())

    def on_mount(self) -> None:
        """Start the one beat; leave in good order when the terminal closes."""
        self._surface.begins()
        leave_on_signals(self.exit)
        for fault in keys.faults(self._settings.keys):
            self.notices.add(str(fault))
        self.set_interval(self.BEAT_S, self.beat)
        self.call_after_refresh(self.beat)
        self.behind.open(self.post_message, self.QUIET_S)
        if self._begin_first:
            self.call_after_refresh(self.beginning.begin)

    def on_unmount(self) -> None:
        """Let go of what works in the background."""
        self.behind.close()

    def on_answered(self, message: Answered) -> None:
        """Take an answer of the back room; none of them has a screen to go to while this closes."""
        if self._is_open:
            message.deliver()

    def beat(self) -> None:
        """Bring everything up to now; called once a second."""
        now = self._now()
        if gap := self._gap.look(now, self._monotonic()):
            self._gap_told = self.notices.put_in_place_of(self._gap_told, gap)
        if refusal := self.desk.look(now):
            self.notices.add(refusal.text)
        self.take_view()

    def take_view(self) -> None:
        """Have everything follow what the desk has now."""
        self.notices.take_from_shop(self.desk.view.notices)
        self.ringing.look(self.desk.view)
        self._snapshot.follow()
        self.beside.follow()
        self.plan.follow()
        self.sittings.follow()
        self.repaint()
        self._surface.follows()

    def repaint(self) -> None:
        """Show everything as it now stands."""
        self.facts = self._snapshot.facts()

    def watch_facts(self, facts: BoardFacts) -> None:
        """Hand the new snapshot to the board."""
        if self._is_open:  # none is left while the app closes
            self._board.show(facts)

    def do(self, id_: str) -> None:
        """Do what the key of the board with this id does."""
        key = next(key for key in keys.BOARD if key.id == id_)
        self.call_later(self.run_action, key.tap, self._board)

    def action_do(self, id_: str) -> None:
        """Do what the key with this id does."""
        self.choosing.pressed()
        self._doings[id_]()

    async def on_event(self, event: events.Event) -> None:
        """Take keys in their order, and anything else at once."""
        if self._surface.lets_through(event):
            self._was_touched |= isinstance(event, events.Key | events.MouseDown)
            await self._in_order.take(event, super().on_event)

    def _is_for_the_button(self, event: events.Key) -> bool:
        """Give the one button its key first, unless somebody types."""
        typing = self._is_open and isinstance(self.focused, Input)
        return not typing and self.button.takes(event.key)

    async def tapped(self, action: str, at_s: float | None = None) -> None:
        """Do an action of the screen that shows, which somebody tapped ``at_s``, else just now."""
        self._was_touched = True
        self._in_order.answer(at_s)
        await self.run_action(action, self.screen)

    def do_on_screen(self, action: str) -> None:
        """Do an action of the screen that shows."""
        self.call_later(self.run_action, action, self.screen)

    def action_help_quit(self) -> None:
        """Say which key leaves, to somebody who tries ctrl+c."""
        self.say(f"{self.key_for('quit')} leaves the bench.")

    def on_piece_list_touched(self, message: PieceList.Touched) -> None:
        """Choose the piece that was pointed at."""
        self.action_choose(message.ref)

    def action_choose(self, ref: str) -> None:
        """Show a piece large, or those that it stands as one with."""
        self.choosing.choose(self.desk.first_of(ref))
        self.repaint()

    def on_form_card_offered(self, message: FormCard.Offered) -> None:
        """Take what a form offers."""
        if isinstance(message.offer, Asked):
            self.beginning.offered(message.form, message.offer)
        else:
            self.writing.offered(message.form, message.offer)

    def on_lines_card_offered(self, message: LinesCard.Offered) -> None:
        """Keep the lines that a card offers as a schedule."""
        self.beginning.lines_offered(message.card, message.asked)

    def on_plan_screen_taken(self, message: PlanScreen.Taken) -> None:
        """Go on by the better plan that is shown."""
        self.plan.take(message.better)

    def now(self) -> datetime:
        """Return what time it is."""
        return self._now()

    def monotonic_s(self) -> float:
        """Return seconds that only go forward."""
        return self._monotonic()

    def pressed_s(self) -> float:
        """Return when what is answered now was pressed or tapped, on the same clock."""
        return self._monotonic() - self._in_order.waited_s

    def large_piece(self) -> PieceView | None:
        """Return the piece that is shown large."""
        return self.desk.piece(self.choosing.large)

    def key_for(self, id_: str) -> str:
        """Return the first key in force for an id; empty for none."""
        return bindings.first_key(self._board.force, id_)

    def say(
        self, text: str, *, seconds: float = TOAST_S, title: str = "", warns: bool = False
    ) -> None:
        """Say something for a few seconds, in the place of what was said of an earlier press."""
        if self._was_touched:
            self.clear_notifications()
            self._was_touched = False
        grave: SeverityLevel = "warning" if warns else "information"
        said = words.plain(text)
        self.notify(said, timeout=seconds, title=title, severity=grave, markup=False)

    def say_refused(self, refusal: Refusal) -> None:
        """Say why something was not taken; what the journal failed at stays until it is seen."""
        if refusal.is_fault:
            self.notices.add(f"not logged: {words.plain(refusal.text)}")
        title = "Not logged" if refusal.is_fault else "Refused"
        self.say(refusal.text, seconds=2 * TOAST_S, title=title, warns=True)
        self.take_view()

    def asked(self, question: Callable[[], Answer]) -> Answer | None:
        """Return an answer of the shop, or None once its refusal is told."""
        try:
            return question()
        except RefusalError as error:
            self.say_refused(refusal_of(error))
            return None

    def open_shop(self) -> Workshop | None:
        """Return the open shop, or None once it is said that there is none."""
        if self.desk.workshop is None:
            self.say("There is no shop folder to ask.", warns=True)
        return self.desk.workshop

    def open_card(
        self, card: ModalScreen[str], answered: Callable[[str], None] | None = None
    ) -> None:
        """Open a card over the board."""

        def closed(answer: str | None) -> None:
            self.choosing.pressed()
            if answer and answered is not None:
                answered(answer)

        if isinstance(card, Card):
            card.take_up(self._drafts, self.desk.view.zone)
        self.push_screen(card, closed)

    def cards(self) -> list[Screen[object]]:
        """Return what lies over the board, the lowest first."""
        return self.screen_stack[1:] if self._is_open else []

    def export_screenshot(self, *, title: str | None = None, simplify: bool = False) -> str:  # noqa: ARG002  # Textual's own
        """Return what is on the screen as SVG, in a plain frame."""
        from finishsched.bench.drawing.picture import picture_of  # noqa: PLC0415  # seldom

        return picture_of(self, self._background_screens, simplify=simplify)

    def call_in(self, seconds: float, call: Callable[[], None]) -> Timer:
        """Have something called in a while."""
        return self.set_timer(seconds, call)

    def bell(self) -> None:
        """Ring, as it is done where the bench is shown."""
        (self._surface.rings or super().bell)()

    def post_display_hook(self) -> None:
        """Tell the surface that something was drawn."""
        self._surface.shows()

    def flash(self) -> None:
        """Turn the top line's colours round for a moment."""
        if self._is_open:
            self._board.flash()

    def in_background(self, work: Callable[[], str], told: Callable[[str], None]) -> None:
        """Have something done beside the bench, and ``told`` called with what it says."""
        if self._is_open:
            self.run_worker(
                lambda: self.call_from_thread(told, work()), thread=True, exit_on_error=False
            )

    @property
    def driver(self) -> Driver | None:
        """What draws, once it is at work."""
        return self._driver

    @property
    def _is_open(self) -> bool:
        return bool(self.screen_stack)

    @property
    def _board(self) -> Board:
        board = self.screen_stack[0]
        assert isinstance(board, Board)  # noqa: S101  # the default screen, set above
        return board

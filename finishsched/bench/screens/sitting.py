"""A sitting under way: the part in hand in large letters, the clocks of all beneath."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, tzinfo
from itertools import product
from typing import ClassVar, Protocol

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen

from finishsched.bench import bindings, keys, words
from finishsched.bench.at_hand.sitting import coat_in_hand
from finishsched.bench.drawing import big_letters
from finishsched.bench.lasting import Lasting
from finishsched.bench.widgets.drawn import Drawn, apart, fit, lines
from finishsched.bench.widgets.taps import Tap, as_fit, tap, tapped
from finishsched.workshop.base.answers import PieceView

TOO_EARLY = "TOO EARLY"
_LOW_SCREEN = 16
_LETTERS = (big_letters.small,)
_FROM_AFAR = (big_letters.large, big_letters.tall, big_letters.small)
_FOOT_IDS = ("not-yet", "sitting-undo", "charged", "sitting-end", "sitting-early")
_FOOT = tuple(tap(key) for id_ in _FOOT_IDS for key in keys.SITTING if key.id == id_)


@dataclass(frozen=True, slots=True)
class PartFacts:
    """One part as the sitting has it."""

    piece: PieceView
    to_go: int
    early_s: float
    """How long its last coat must still be left alone."""


@dataclass(frozen=True, slots=True)
class SittingFacts:
    """Everything that one repaint needs."""

    what: str
    """What is done: ``pad, 1.5 lb cut``."""
    parts: tuple[PartFacts, ...]
    turn: int
    done: int
    """How many coats this sitting laid."""
    account: str
    """How far the pad and the jar go."""
    last: str
    """What the last key did."""
    is_warned: bool
    """True just after a press that came too early: the next one counts."""
    now: datetime
    zone: tzinfo
    next_key: str
    later: str = ""
    """Why the part in hand is better left for later, and until when; empty for no reason."""

    @property
    def in_hand(self) -> PartFacts:
        """The part whose turn it is."""
        return self.parts[self.turn]


class Hands(Protocol):
    """What the keys of a sitting do."""

    def coated(self) -> None:
        """Take it that the part in hand is coated."""

    def not_yet(self) -> None:
        """Take it that the pad does not glide on the part in hand."""

    def early(self) -> None:
        """Take it that the part in hand is coated although it was not ready, and ask why."""

    def take(self, number: int) -> None:
        """Take another part in hand."""

    def charged(self) -> None:
        """Take it that the pad was charged anew."""

    def undo(self) -> None:
        """Take back what the last key did."""

    def end(self) -> None:
        """End the sitting."""


class _Head(Drawn[SittingFacts]):
    """What is done, how far it is, and the time."""

    def draw(self, facts: SittingFacts, width: int) -> Content:
        """Return one line."""
        to_go = sum(part.to_go for part in facts.parts)
        clock = words.wall(facts.now, facts.now, facts.zone)
        room = max(8, width - len(clock) - 2)
        work = facts.what.partition(",")[0]
        said = [f"{what}: {facts.done} done, {to_go} to go" for what in (facts.what, work)]
        text = next((one for one in said if len(one) <= room), words.fit(said[-1], room).rstrip())
        told = Content.styled(text, "bold $text-primary")
        return apart(told, Content.styled(clock, "bold"), width)


class _InHand(Drawn[SittingFacts]):
    """The part in hand, readable from across the room; a tap says that it is coated."""

    GROWS = True

    def show(self, facts: SittingFacts) -> None:
        """Take the facts; the edge turns to a warning's colour while it is too early."""
        self.set_class(facts.in_hand.early_s > 0, "-early")
        super().show(facts)

    async def on_click(self) -> None:
        """Say that the part in hand is coated."""
        await self.run_action("screen.coated")

    def taps(self) -> Sequence[Tap]:
        """Return the key for a coat, with what it comes to now."""
        facts = self.facts
        if facts is None:
            return ()
        return (Tap(facts.next_key, "coated", "screen.coated", _sentence(facts)),)

    def draw(self, facts: SittingFacts, width: int) -> Content:
        """Return the name in large letters, the coat, and what the key does."""
        part = facts.in_hand
        piece = part.piece
        letters = _FROM_AFAR if self.is_seen_from_afar else _LETTERS
        is_early = bool(part.early_s)
        banner = _too_early(part, width, letters) if is_early else _name(piece, width, letters)
        chip = Content.styled(f" {facts.next_key} ", "bold reverse")
        said = words.wrap(_sentence(facts), max(8, width - chip.cell_length - 2))
        margin = " " * (chip.cell_length + 2)
        title = words.fit(f"{words.plain(piece.title)}: {coat_in_hand(piece)}", width).rstrip()
        return lines(
            *banner,
            Content.styled(title, "bold"),
            Content.assemble(chip, "  ", (said[0], "bold")),
            *(Content.styled(margin + more, "bold") for more in said[1:]),
            *(Content.styled(text, "bold $text-warning") for text in _left(facts, width)),
            *([Content.styled(facts.last, "$text-muted").truncate(width, ellipsis=True)]),
        )


def _left(facts: SittingFacts, width: int) -> Sequence[str]:
    return words.wrap(f"! {facts.later}", width) if facts.later else ()


def _name(piece: PieceView, width: int, letters: Sequence[big_letters.Draw]) -> list[Content]:
    drawn = big_letters.named(words.plain(piece.title), width, letters)
    return [Content.styled(row, "bold $text-success") for row in drawn]


def _too_early(part: PartFacts, width: int, letters: Sequence[big_letters.Draw]) -> list[Content]:
    """Return the warning and what is left of the wait, as large as both fit."""
    style = "bold $text-error"
    left = words.span(part.early_s, up=True)
    for draw, word in product(letters, (TOO_EARLY, "WAIT")):
        a, b = draw(word), draw(left)
        if b and len(a[0]) + len(b[0]) + 2 <= width:
            return [
                apart(Content.styled(x, style), Content.styled(y, style), width)
                for x, y in zip(a, b, strict=True)
            ]
    drawn = [Content.styled(row, style) for row in big_letters.small(left) if len(row) <= width]
    return [Content.styled(f"! {TOO_EARLY}", f"{style} reverse"), *drawn]


def _sentence(facts: SittingFacts) -> str:
    part = facts.in_hand
    if part.early_s and facts.is_warned:
        return "too early, not logged; press again if it is coated"
    if part.early_s:
        alone = f"leave it alone for {words.span(part.early_s, up=True)} at least"
        others = any(each.to_go and not each.early_s for each in facts.parts)
        return f"{alone}; go round to another part" if others else alone
    if part.piece.clock is not None:
        return "when coated, and it glided"
    return "when it is done"


class _Rows(Drawn[SittingFacts]):
    """Every part with its coats to go and its clock; a tap takes it in hand."""

    GROWS = True

    def draw(self, facts: SittingFacts, width: int) -> Content:
        """Return a line for each part."""
        draw = _high_row if self.is_touched else _row
        return lines(*(draw(facts, number, width) for number in range(len(facts.parts))))


def _row(facts: SittingFacts, number: int, width: int) -> Content:
    """Return a part in one line."""
    right = _standing(facts, number)
    title = _titled(facts, number, max(6, width - right.cell_length - 4))
    return tapped(Content.assemble(title, "  ", right), f"screen.take({number})")


def _high_row(facts: SittingFacts, number: int, width: int) -> Content:
    """Return a part in two lines, for a finger."""
    under = Content.assemble("  ", _standing(facts, number)).truncate(width, pad=True)
    drawn = lines(_titled(facts, number, width - 2), under)
    return tapped(drawn, f"screen.take({number})")


def _titled(facts: SittingFacts, number: int, room: int) -> Content:
    part = facts.parts[number]
    mark = "›" if number == facts.turn else " "
    title = words.fit(words.plain(part.piece.title), room)
    style = "bold" if number == facts.turn else "" if part.to_go else "$text-muted"
    return Content.assemble((f"{mark} ", "bold $text-primary"), (title, style))


def _standing(facts: SittingFacts, number: int) -> Content:
    """Return the clock of a part, and how much it is to get."""
    part = facts.parts[number]
    warns = part.early_s and number == facts.turn
    to_go = f"{part.to_go} to go" if part.to_go else "had its share"
    said = f"{_clock(part, facts.now)}  {to_go}"
    return Content.styled(said, "$text-error" if warns else "$text-muted")


def _clock(part: PartFacts, now: datetime) -> str:
    clock = part.piece.clock
    if clock is None:
        return ""
    if part.early_s:
        return f"{words.span(part.early_s, up=True)} at least"
    return f"laid {words.span((now - clock.laid_at).total_seconds())} ago"


class _Scroll(VerticalScroll, can_focus=False):
    """The parts, where there are more than fit."""


class SittingScreen(Lasting, ModalScreen[str]):
    """Shows what it is given; its keys go to the hands it was given."""

    BINDINGS: ClassVar[list[BindingType]] = [bindings.binding(key) for key in keys.SITTING]
    ONCE, TWICE = "coated", "not_yet"
    VERTICAL_BREAKPOINTS = [(0, "-short"), (_LOW_SCREEN, "-middling")]  # noqa: RUF012  # Textual's

    def __init__(self, facts: SittingFacts, hands: Hands) -> None:
        super().__init__()
        self.facts = facts
        self._hands = hands

    def compose(self) -> ComposeResult:
        """Lay out the part in hand, all parts, the account and the keys."""
        yield _Head(id="sitting-head")
        yield _InHand(id="in-hand")
        with _Scroll(id="sitting-parts"):
            yield _Rows()
        yield _Account(id="account")
        yield _Foot(id="sitting-keys")

    def on_mount(self) -> None:
        """Show what there is, once all of it is laid out."""
        fit(self)
        self.call_after_refresh(lambda: self.show(self.facts))

    def show(self, facts: SittingFacts) -> None:
        """Take new facts."""
        self.facts = facts
        if not self.query(_Rows):  # a beat may come before all of it is laid out
            return
        with self.app.batch_update():
            for kind in (_Head, _InHand, _Rows, _Account, _Foot):
                self.query_one(kind).show(facts)
        self.query_one(_Scroll).scroll_to(y=max(0, facts.turn - 1), animate=False)

    def action_coated(self) -> None:
        """Say that the part in hand is coated."""
        self._hands.coated()

    def action_not_yet(self) -> None:
        """Say that the pad does not glide on it yet."""
        self._hands.not_yet()

    def action_early(self) -> None:
        """Say that it is coated although it was not ready."""
        self._hands.early()

    def action_take(self, number: int) -> None:
        """Take another part in hand."""
        self._hands.take(number)

    def action_by(self, parts: int) -> None:
        """Take the part before or after in hand."""
        self._hands.take((self.facts.turn + parts) % len(self.facts.parts))

    def action_charged(self) -> None:
        """Say that the pad was charged anew."""
        self._hands.charged()

    def action_undo(self) -> None:
        """Take back what the last key did."""
        self._hands.undo()

    def action_end(self) -> None:
        """End the sitting."""
        self._hands.end()


class _Foot(Drawn[SittingFacts]):
    """The keys; that for a coat, and those that go about, are tapped where they are drawn."""

    def draw(self, _: SittingFacts, width: int) -> Content:
        """Return one line."""
        return as_fit(_FOOT, width, gap="  ")

    def taps(self) -> Sequence[Tap]:
        """Return all of them."""
        return _FOOT


class _Account(Drawn[SittingFacts]):
    """How far the pad and the jar go; hidden where nothing is known of them."""

    def show(self, facts: SittingFacts) -> None:
        """Take up no room for nothing."""
        self.display = bool(facts.account)
        super().show(facts)

    def draw(self, facts: SittingFacts, width: int) -> Content:
        """Return one line."""
        return Content.styled(facts.account, "$text-secondary").truncate(width, ellipsis=True)

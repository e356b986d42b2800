"""Sittings: coats on several parts, round and round, with one key for each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from finishsched.bench import words
from finishsched.bench.asking.desk import DOUBLE_PRESS_S, Desk, Refusal
from finishsched.bench.asking.door import Reach
from finishsched.bench.at_hand import sitting as rounds
from finishsched.bench.at_hand.next_thing import later_words, next_thing
from finishsched.bench.at_hand.sitting import Sitting
from finishsched.bench.host import REMARK_S, Doings, Host
from finishsched.bench.parts.beside import Beside
from finishsched.bench.parts.choosing import Act, Choosing
from finishsched.bench.parts.work import Work
from finishsched.model.names import natural
from finishsched.numerals import counted
from finishsched.workshop.base.entries import Entry, What

if TYPE_CHECKING:
    from finishsched.bench.screens.sitting import SittingFacts, SittingScreen
    from finishsched.bench.screens.sitting_card import SittingChoice
    from finishsched.workshop.base.answers import PieceView

SURE_S = 20.0
"""A second press so soon after 'too early' says that it was coated all the same."""


class Sittings:
    """Begins a sitting, and does what its keys say until all parts had their share."""

    def __init__(
        self, host: Host, desk: Desk, choosing: Choosing, work: Work, beside: Beside
    ) -> None:
        self._host = host
        self._beside = beside
        self._desk = desk
        self._choosing = choosing
        self._work = work
        self._sitting: Sitting | None = None
        self._screen: SittingScreen | None = None
        self._what = ""
        self._jar = self._short = ""
        self._first_told = ""
        """The jar that was told as the sitting began."""
        self._reach = Reach()
        self._laid: list[tuple[str, bool]] = []
        """What was logged here, by its piece, and whether it was a coat; the newest last."""
        self._charged_at = 0
        self._last = ""
        self._pressed_s = float("-inf")
        self._warned = ("", float("-inf"))
        self.doings: Doings = {"sitting": self.ask, "one-press": self.ask_or_do}

    def ask_or_do(self) -> None:
        """Begin a sitting where one is to be had, else do the next thing: for the one button."""
        piece = self._host.large_piece()
        alike = rounds.those_alike(piece, self._desk.view.pieces) if piece is not None else ()
        if len(alike) > 1 or any(rounds.coats_left(one) > 1 for one in alike):
            self.ask()
        else:
            self._work.next_thing()

    def ask(self) -> None:
        """Ask which parts, and how many coats."""
        from finishsched.bench.screens.sitting_card import SittingCard  # noqa: PLC0415

        piece = self._host.large_piece()
        if piece is None:
            return
        alike = rounds.those_alike(piece, self._desk.view.pieces)
        if not alike:
            why = next_thing(piece, self._host.now(), self._desk.view.zone).sentence
            self._host.say(f"no sitting on {piece.title} now: {why}")
            return
        card = SittingCard(_what(piece), self._choice(piece, alike))
        self._host.open_card(card, lambda _: self.begin(card.choice))

    def _choice(self, piece: PieceView, alike: tuple[PieceView, ...]) -> SittingChoice:
        from finishsched.bench.at_hand.reach import jars_for  # noqa: PLC0415
        from finishsched.bench.screens.sitting_card import SittingChoice  # noqa: PLC0415

        ordered = sorted(alike, key=lambda one: natural(one.ref))
        left = [rounds.coats_left(one) for one in ordered]
        stock = self._desk.stock(self._host.now())
        sheet = rounds.sheet_in_hand(piece)
        jars = () if isinstance(stock, Refusal) or sheet is None else jars_for(stock, sheet)
        refs = frozenset(one.ref for one in ordered)
        # From the jar that is told, so that what is logged is what was said.
        jar = sheet.jar_name if sheet is not None else ""
        short = jars[0] if jars and not jar else ""
        later = {one.ref: said for one in ordered if (said := self._why_later(one.ref))}
        return SittingChoice(tuple(ordered), refs, min(left), max(left), jars, jar, short, later)

    def _why_later(self, ref: str) -> str:
        """Say why a part is better left for later, such as dust that settles; else empty."""
        now = self._host.now()
        later = self._beside.side.later_at(now).get(ref)
        return later_words(later, now, self._desk.view.zone) if later is not None else ""

    def begin(self, choice: SittingChoice) -> None:
        """Begin a sitting on what was chosen."""
        from finishsched.bench.screens.sitting import SittingScreen  # noqa: PLC0415

        begun = rounds.begin(choice.chosen, choice.coats)
        self._sitting = rounds.at_the_readiest(begun, self._pieces(), self._host.now())
        self._what = _what(choice.chosen[0])
        self._jar = choice.jar
        self._short = choice.short if not choice.jar else ""
        sheet = rounds.sheet_in_hand(choice.chosen[0])
        self._first_told = sheet.jar_name if sheet is not None else ""
        self._laid, self._charged_at, self._last = [], 0, ""
        refs = [part.ref for part in self._sitting.parts]
        reach = self._desk.reach(refs, self._jar, self._host.now())
        self._reach = Reach() if isinstance(reach, Refusal) else reach
        facts = self._facts()
        if facts is not None:
            self._screen = SittingScreen(facts, self)
            self._host.open_card(self._screen)

    def follow(self) -> None:
        """Show how the sitting stands now, or end it where everything has had its share."""
        if self._screen is None or self._screen not in self._host.cards():
            self._screen = None
            return
        facts = self._facts()
        if facts is None:
            self._over()
        else:
            self._screen.show(facts)

    # What its keys do.

    def coated(self) -> None:
        """Log that the part in hand is coated, and take the next one in hand."""
        piece = self._in_hand()
        if piece is None or self._is_slip() or self._is_too_early(piece):
            return
        self._work.confirmed(piece, lambda: self._log(piece))

    def not_yet(self) -> None:
        """Log that the pad drags on the part in hand, and leave it for this round."""
        piece = self._in_hand()
        if piece is None or self._is_slip():
            return
        entry = rounds.not_yet_entry(piece)
        said = f"left for a round: {piece.title}"
        if entry is None or self._hand_in(entry, f"not yet: {piece.title}", is_coat=False):
            self._last = self._last if entry else said
            self._pass_on(piece.ref)

    def early(self) -> None:
        """Log that the part in hand is coated before it was ready, and why; nothing is learnt."""
        piece = self._in_hand()
        if piece is None or self._is_slip():
            return
        if rounds.early_entry(piece, "") is None:
            self._work.confirmed(piece, lambda: self._log(piece))
        else:
            self._work.ask_why_early(piece, lambda why: self._log_early(piece, why))

    def _log_early(self, piece: PieceView, why: str) -> None:
        entry = rounds.early_entry(piece, why)
        said = f"went on early: {piece.title}"
        if entry is not None and self._hand_in(entry, said, is_coat=False):
            self._work.confirmed(piece, lambda: self._log(self._desk.piece(piece.ref) or piece))

    def take(self, number: int) -> None:
        """Take another part in hand."""
        if self._sitting is not None:
            self._sitting = replace(self._sitting, turn=number)
            self._host.take_view()

    def charged(self) -> None:
        """Reckon with a full pad from here on."""
        self._charged_at = len(self._coats())
        self.follow()

    def undo(self) -> None:
        """Take back what the last key said, and take its part in hand again."""
        if not self._laid:
            self._last = "nothing of this sitting is left to take back"
            self.follow()
            return
        ref, _ = self._laid[-1]
        if self._desk.log(Entry(What.UNDO, ref), self._host.now()) is None:
            self._laid.pop()
            self._pressed_s = float("-inf")
            piece = self._desk.piece(ref)
            self._last = f"taken back: {piece.title if piece else ref}"
            if self._sitting is not None:
                self._sitting = rounds.back_to(self._sitting, ref)
        self._host.take_view()

    def end(self) -> None:
        """End the sitting before every part has had its share."""
        self._over()

    def _log(self, piece: PieceView) -> None:
        said = f"logged: {piece.title}, {rounds.coat_in_hand(piece)}"
        sheet = rounds.sheet_in_hand(piece)
        # The jar that is told goes without saying, so that after it comes the one told then.
        told = {self._first_told, sheet.jar_name if sheet is not None else ""}
        named = "" if self._jar in told else self._jar
        if self._hand_in(rounds.coat_entry(piece, named), said, is_coat=True):
            self._pass_on(piece.ref)

    def _hand_in(self, entry: Entry, said: str, *, is_coat: bool) -> bool:
        self._choosing.pressed(Act.ENTERED)
        refusal = self._desk.log(entry, self._host.now())
        if refusal is not None:
            self._host.say_refused(refusal)
            return False
        self._warned = ("", float("-inf"))
        self._laid.append((entry.piece, is_coat))
        undo = self._host.key_for("undo")
        self._last = words.plain(said) + (f"; {undo} takes it back" if undo else "")
        return True

    def _pass_on(self, ref: str) -> None:
        if self._sitting is not None:
            turned = rounds.turned(self._sitting, ref)
            self._sitting = rounds.at_the_readiest(turned, self._pieces(), self._host.now())
        self._host.take_view()

    def _is_slip(self) -> bool:
        """Tell whether a press came so soon that no hand can have coated a part since."""
        now_s = self._host.pressed_s()
        if now_s - self._pressed_s < DOUBLE_PRESS_S:
            return True
        self._pressed_s = now_s
        return False

    def _is_too_early(self, piece: PieceView) -> bool:
        """Say that it is too early, the first time; a second press knows."""
        if not rounds.too_early_s(piece, self._host.now()):
            return False
        if self._is_warned(piece.ref):
            return False
        self._warned = (piece.ref, self._host.monotonic_s())
        self._last = ""
        self._host.take_view()
        return True

    def _is_warned(self, ref: str) -> bool:
        """Tell whether it was said just now that it is too early for the part in hand."""
        warned, at_s = self._warned
        return warned == ref and self._host.monotonic_s() - at_s < SURE_S

    def _over(self) -> None:
        coats = self._coats()
        if self._screen is not None and self._screen in self._host.cards():
            self._screen.dismiss("")
        self._screen = self._sitting = None
        self._host.take_view()
        if coats:
            pieces = {each for ref in coats for each in self._desk.refs_of(ref)}
            on = counted(len(pieces), "piece")
            said = f"sitting over: {self._coats_laid(coats)} logged on {on}"
            self._host.say(said, seconds=REMARK_S)

    # How it stands.

    def _coats(self) -> list[str]:
        return [ref for ref, is_coat in self._laid if is_coat]

    def _coats_laid(self, refs: Sequence[str]) -> int:
        return sum(len(self._desk.refs_of(ref)) for ref in refs)

    def _pieces(self) -> dict[str, PieceView]:
        return {piece.ref: piece for piece in self._desk.view.pieces}

    def _in_hand(self) -> PieceView | None:
        return self._desk.piece(self._sitting.in_hand.ref) if self._sitting is not None else None

    def _facts(self) -> SittingFacts | None:
        """Return how it stands, with a part in hand that is to get a coat; None when it is over."""
        from finishsched.bench.at_hand.reach import reach_words  # noqa: PLC0415
        from finishsched.bench.screens.sitting import PartFacts, SittingFacts  # noqa: PLC0415
        from finishsched.bench.screens.sitting_card import TOO_LITTLE  # noqa: PLC0415

        pieces, now = self._pieces(), self._host.now()
        going = rounds.at_turn(self._sitting, pieces) if self._sitting is not None else None
        if going is None:
            return None
        self._sitting = going
        coats, unit = self._coats(), self._desk.view.units.volume
        reach = reach_words(self._reach, self._jar, unit, coats, coats[self._charged_at :])
        short = f"! {self._short} {TOO_LITTLE}" if self._short else ""
        parts = tuple(
            PartFacts(piece, rounds.to_go(part, piece), rounds.too_early_s(piece, now))
            for part in going.parts
            for piece in (pieces[part.ref],)
        )
        return SittingFacts(
            what=self._what,
            parts=parts,
            turn=going.turn,
            done=len(coats),
            account=" · ".join(filter(None, (reach, short))),
            later=self._why_later(going.in_hand.ref),
            last=self._last,
            is_warned=self._is_warned(going.in_hand.ref),
            now=now,
            zone=self._desk.view.zone,
            next_key=self._host.key_for("next-thing"),
        )


def _what(piece: PieceView) -> str:
    """Say what is done in a sitting: ``pad``, or ``level P400``, and with what."""
    step, sheet = piece.step, piece.sheet
    if step is None:
        return ""
    verb = " ".join(filter(None, (step.verb.value, step.grade)))
    product = sheet.product.rpartition(", ")[2] if sheet and sheet.product else ""
    return f"{verb}, {product}" if product else verb

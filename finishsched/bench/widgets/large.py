"""The large field: the chosen piece, readable from across the room; its key acts on it."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, tzinfo

from textual.content import Content

from finishsched.bench import words
from finishsched.bench.at_hand.next_thing import Doing, NextThing, next_thing, step_line
from finishsched.bench.at_hand.side import NOTHING, Side
from finishsched.bench.drawing import big_letters, state_marks
from finishsched.bench.widgets.drawn import Drawn, apart, lines
from finishsched.bench.widgets.taps import Tap
from finishsched.drying.clock import CureClock
from finishsched.workshop.base.answers import PieceView, State

_ROOMY_WIDTH, _LEAST_GAP, _AFAR_GAP = 100, 2, 8
"""Seen from afar, word and time need more than a letter between them."""
_BAR_HEIGHT, _STACKED_HEIGHT = 22, 40
_SENTENCE = re.compile(r"(?<=[.;]) ")
_BESIDE_LINES = 8
"""On a low screen: top line, notice, title, key, two lines beside the pieces, a row, the keys."""


@dataclass(frozen=True, slots=True)
class LargeFacts:
    """The chosen piece, and the key that does its next thing."""

    piece: PieceView | None
    now: datetime
    zone: tzinfo
    next_key: str
    side: Side = NOTHING


class Large(Drawn[LargeFacts]):
    """State and time in big letters, then what to do, then what can hurt."""

    GROWS = True

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002  # Textual's own name
        super().__init__(id=id)
        self._highest: dict[tuple[int, int], int] = {}
        """By the room that there was, how many lines were needed at most."""

    def show(self, facts: LargeFacts) -> None:
        """Take the facts, and the colour of the state for the edge."""
        piece = facts.piece
        shown = piece.state if piece is not None and not piece.is_for_later else None
        for state in State:
            self.set_class(shown is state, f"-{state.name}")
        super().show(facts)

    async def on_click(self) -> None:
        """Do what the key does."""
        await self.run_action("app.do('next-thing')")

    def taps(self) -> Sequence[Tap]:
        """Return the next thing, where there is one, with its sentence."""
        facts = self.facts
        if facts is None or facts.piece is None:
            return ()
        thing = next_thing(facts.piece, facts.now, facts.zone)
        if thing.doing is Doing.NOTHING:
            return ()
        return (Tap(facts.next_key, "next", "app.do('next-thing')", thing.sentence),)

    def draw(self, facts: LargeFacts, width: int) -> Content:
        """Return the field for ``width`` cells."""
        if facts.piece is None:
            return _empty_shop(width)
        thing = next_thing(facts.piece, facts.now, facts.zone)
        roomy = self.is_roomy and width >= _ROOMY_WIDTH
        room = max(1, self.app.size.height - _BESIDE_LINES) if self.is_lowest else None
        caution = _caution(facts.piece, facts.side, width, room)
        if room is not None and len(caution) > 1:
            parts = []  # what can hurt is told whole; the title has the state in its word
        elif self.is_seen_from_afar:
            parts = _from_afar(facts.piece, thing, width, self.app.size.height)
        else:
            parts = _banner(facts.piece, thing, width, roomy=roomy)
        gap = [Content("")] if roomy else []
        parts += [*gap, _title(facts.piece, thing, width), _action(facts, thing, width)]
        if facts.piece.clock is not None and self.app.size.height >= _BAR_HEIGHT:
            parts += [*gap, _bar(facts.piece.clock, facts.zone, width)]
        return self._as_high_as_before(lines(*parts, *gap, *caution), width)

    def _as_high_as_before(self, drawn: Content, width: int) -> Content:
        """Return it no lower than it was on this screen: under a finger the rows stay in place."""
        if not self.is_touched:
            return drawn
        room, high = (width, self.app.size.height), len(drawn.split(allow_blank=True))
        self._highest[room] = most = max(high, self._highest.get(room, 0))
        return lines(drawn, *[Content("")] * (most - high))


def _empty_shop(width: int) -> Content:
    said = (
        ("No pieces yet.", "bold"),
        ("b begins one: every question has an answer already.", ""),
        ("Or write a job in the folder jobs/; it shows here within two seconds.", "$text-muted"),
    )
    wrapped = [
        Content.styled(line, style) for text, style in said for line in words.wrap(text, width)
    ]
    return lines(*wrapped)


def _banner(piece: PieceView, thing: NextThing, width: int, *, roomy: bool) -> list[Content]:
    """Return word and time in the largest letters in which both fit, or the word alone."""
    word, style = state_marks.big_word(piece), f"bold {state_marks.colour(piece)}"
    for draw in ([big_letters.large] if roomy else []) + [big_letters.small]:
        if drawn := _beside(draw, word, thing.big_time, style, width):
            return drawn
    alone = big_letters.small(word)
    if len(alone[0]) <= width:
        return [Content.styled(row, style) for row in alone]
    return [Content.styled(f"{piece.mark} {word}", style)]


def _from_afar(piece: PieceView, thing: NextThing, width: int, height: int) -> list[Content]:
    """Return word and time in letters five lines high: wide ones, else narrow ones.

    The time stands below its word where that lets both be wide, and the screen is high.
    """
    word, style = state_marks.big_word(piece), f"bold {state_marks.colour(piece)}"
    if drawn := _beside(big_letters.large, word, thing.big_time, style, width, _AFAR_GAP):
        return drawn
    if height >= _STACKED_HEIGHT and (
        drawn := _stacked(big_letters.large, word, thing, style, width)
    ):
        return drawn
    for draw in (big_letters.tall, big_letters.small):
        if drawn := _beside(draw, word, thing.big_time, style, width, _AFAR_GAP):
            return drawn
    drawn = _stacked(big_letters.small, word, thing, style, width)
    return drawn or _banner(piece, thing, width, roomy=False)


def _stacked(
    draw: big_letters.Draw, word: str, thing: NextThing, style: str, width: int
) -> list[Content]:
    """Return the time below its word; nothing where either does not fit into ``width`` cells."""
    above, below = draw(word), draw(thing.big_time)
    gap = ("",) if below else ()
    rows = (*above, *gap, *below)
    return [Content.styled(row, style) for row in rows] if len(max(rows, key=len)) <= width else []


def _beside(
    draw: big_letters.Draw, word: str, time: str, style: str, width: int, gap: int = _LEAST_GAP
) -> list[Content]:
    """Return word and time at the two ends of ``width`` cells; nothing where they do not fit."""
    left, right = draw(word), draw(time)
    right = right or ("",) * len(left)
    if len(left[0]) + len(right[0]) + gap > width:
        return []
    return [
        apart(Content.styled(a, style), Content.styled(b, style), width)
        for a, b in zip(left, right, strict=True)
    ]


def _title(piece: PieceView, thing: NextThing, width: int) -> Content:
    """Return state and title, and as much of the step and the time as there is room for."""
    where, label = step_line(piece), Content.styled(thing.time_label, "$text-muted")
    state = f"{piece.mark} {piece.word}  "
    name = Content.assemble(
        (state, f"bold {state_marks.colour(piece)}"), (words.plain(piece.title), "bold")
    )
    if name.cell_length > width:
        return name.truncate(width, ellipsis=True)
    if where and name.cell_length + len(where) + label.cell_length + 6 <= width:
        name = Content.assemble(name, ("   " + where, "$text-muted"))
    return apart(name, label, width)


def _action(facts: LargeFacts, thing: NextThing, width: int) -> Content:
    if thing.doing is Doing.NOTHING:
        return Content.styled(thing.sentence, "bold")
    chip = Content.styled(f" {facts.next_key} ", "bold reverse")
    said = words.wrap(thing.sentence, width - chip.cell_length - 2)
    rest = " " * (chip.cell_length + 2)
    first = Content.assemble(chip, "  ", (said[0], "bold"))
    return lines(first, *(Content.styled(rest + line, "bold") for line in said[1:]))


def _bar(clock: CureClock, zone: tzinfo, width: int) -> Content:
    laid = f"laid {words.wall(clock.laid_at, clock.now, zone)} "
    slow = f" slow end {words.wall(clock.latest_at, clock.now, zone)}"
    gone, coming = words.wait_bar(clock, max(4, width - len(laid) - len(slow)))
    return Content.assemble(
        (laid, "$text-muted"),
        (gone, "$text-primary"),
        (coming, "$text-muted"),
        (slow, "$text-muted"),
    )


def _caution(piece: PieceView, side: Side, width: int, most: int | None) -> list[Content]:
    """Return what can hurt first of what was not read today; the sheet names the rest.

    Before a coat that would pass a limit of the air, that comes first. Of what takes more than
    ``most`` lines whole sentences stand there, and a sign that it goes on.
    """
    unread = side.unread(piece.sheet.cautions if piece.sheet else ())
    warned = side.before.get(piece.ref, ())[:1]
    said = [*warned, *(caution.text for caution in unread[:1])][:1]
    if not said:
        return []
    wrapped = _whole_sentences(words.plain(said[0]), width - 2, most)
    return [
        Content.styled(f"{'! ' if number == 0 else '  '}{line}", "bold $text-error")
        for number, line in enumerate(wrapped)
    ]


def _whole_sentences(text: str, width: int, most: int | None) -> list[str]:
    """Return a text in lines; where they are more than ``most``, as many sentences as fit, or one.

    A caution that is cut off in its midst may say the contrary of what it means.
    """
    wrapped = words.wrap(text, width)
    sentences = _SENTENCE.split(text)
    while most is not None and len(wrapped) > most and len(sentences) > 1:
        sentences.pop()
        wrapped = words.wrap(f"{' '.join(sentences)} …", width)
    return wrapped

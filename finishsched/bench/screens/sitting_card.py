"""Before a sitting: which parts, how many coats, from which jar; a digit begins at once."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content

from finishsched.bench import bindings, keys, words
from finishsched.bench.screens.card import Body, Card, Foot, line
from finishsched.bench.widgets.drawn import Drawn, lines
from finishsched.bench.widgets.in_or_out import in_or_out, piece_of
from finishsched.bench.widgets.taps import TapLine, tap
from finishsched.workshop.base.answers import PieceView

_COUNTS_COATS = ("sitting-more", "sitting-fewer")
NO_JAR = ""
TOO_LITTLE = "holds too little for a coat"


@dataclass(frozen=True, slots=True)
class SittingChoice:
    """What was chosen so far."""

    pieces: tuple[PieceView, ...]
    """All that could be worked together, the one in large letters among them."""
    refs: frozenset[str]
    """Those that are."""
    coats: int
    most_coats: int
    jars: tuple[str, ...] = ()
    """The jars that hold what is laid, the likeliest first."""
    jar: str = NO_JAR
    short: str = NO_JAR
    """The jar that would be told, and holds too little for a coat."""
    later: Mapping[str, str] = field(default_factory=dict)
    """By part, why it is better left for later and until when: dust that settles, a sitting that
    the hours have no room for."""

    @property
    def chosen(self) -> tuple[PieceView, ...]:
        """The parts that are worked."""
        return tuple(piece for piece in self.pieces if piece.ref in self.refs)


class _Parts(Drawn[SittingChoice]):
    """The sentence, then a line for each part, to be tapped in and out."""

    GROWS = True

    def draw(self, facts: SittingChoice, width: int) -> Content:
        """Return the sentence wrapped, and the parts."""
        said = words.wrap(_sentence(facts), width)
        if self.is_lowest:
            said = [words.fit(_sentence(facts), width).rstrip()]
        gap = [] if self.is_lowest else [Content("")]
        left = [line for why in _why_later(facts) for line in words.wrap(f"! {why}", width)]
        return lines(
            *(Content.styled(text, "bold $text-success") for text in said),
            *(Content.styled(text, "bold $text-warning") for text in left),
            *gap,
            *in_or_out(facts.pieces, facts.refs, width, high=self.is_touched),
        )


def _why_later(facts: SittingChoice) -> Sequence[str]:
    """Return why parts that are in are better left for later; named where not all are."""
    parts: dict[str, list[str]] = {}
    for piece in facts.chosen:
        if piece.ref in facts.later:
            parts.setdefault(facts.later[piece.ref], []).append(words.plain(piece.title))
    return [
        why if len(names) == len(facts.chosen) else f"{', '.join(names)}: {why}"
        for why, names in parts.items()
    ]


def _sentence(facts: SittingChoice) -> str:
    names = ", ".join(words.plain(piece.title) for piece in facts.chosen) or "no part yet"
    coats = "once" if facts.coats == 1 else f"{facts.coats} coats"
    jar = f", from {facts.jar}" if facts.jar else ""
    if facts.short and not facts.jar:
        jar = f"; {facts.short} {TOO_LITTLE}: mix first"
    return f"{coats} on {names}{jar}"


class SittingCard(Card):
    """Answers ``begin``; what was chosen is read from the card."""

    BINDINGS: ClassVar[list[BindingType]] = [bindings.binding(key) for key in keys.BEFORE_SITTING]
    ONCE, TWICE = "begin", "close"

    def __init__(self, title: str, choice: SittingChoice) -> None:
        super().__init__()
        self._title = title
        self.choice = choice

    def compose(self) -> ComposeResult:
        """Lay out the sentence, the parts and the keys."""
        begin, *others = keys.BEFORE_SITTING
        if not self.choice.jars:
            others = [key for key in others if key.id != "sitting-jar"]
        once = self.choice.most_coats == 1
        if once:
            others = [key for key in others if key.id not in _COUNTS_COATS]
        with Body():
            yield line(f"A sitting: {self._title}", "bold")
            if not once:
                yield line("a digit begins with so many coats", "$text-muted", classes="title hint")
            yield _Parts(id="parts")
            yield Foot(TapLine([tap(begin), *(tap(key) for key in others)]))

    def on_mount(self) -> None:
        """Show what is chosen to begin with."""
        self._show(self.choice)

    def on_key(self, event: events.Key) -> None:
        """Begin with as many coats as a digit says, or take a part in or out."""
        sign = event.character or ""
        if sign.isdecimal() and sign != "0":
            event.stop()
            self.choice = replace(self.choice, coats=min(int(sign), self.choice.most_coats))
            self.action_begin()
            return
        if found := piece_of(sign, self.choice.pieces):
            event.stop()
            self.action_with(found)

    def action_begin(self) -> None:
        """Begin."""
        if self.choice.refs:
            self.dismiss("begin")

    def action_with(self, ref: str) -> None:
        """Take a part in, or leave it out."""
        self._show(replace(self.choice, refs=self.choice.refs ^ {ref}))

    def action_more(self, coats: int) -> None:
        """Have more coats, or fewer."""
        wanted = min(max(1, self.choice.coats + coats), self.choice.most_coats)
        self._show(replace(self.choice, coats=wanted))

    def action_jar(self) -> None:
        """Take the next jar, or none."""
        self._show(replace(self.choice, jar=_after(self.choice.jar, self.choice.jars)))

    def _show(self, choice: SittingChoice) -> None:
        self.choice = choice
        self.query_one(_Parts).show(choice)


def _after(jar: str, jars: Sequence[str]) -> str:
    every = (*jars, NO_JAR)
    return every[(every.index(jar) + 1) % len(every)]

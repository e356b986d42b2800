"""The strip under the top line: the newest thing that somebody should know."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from textual.content import Content

from finishsched.bench import words
from finishsched.bench.widgets.drawn import LOW_SCREEN, Drawn, apart, lines
from finishsched.bench.widgets.taps import Tap, as_fit, tapped


@dataclass(frozen=True, slots=True)
class StripFacts:
    """The open notices, the newest first, and the keys that deal with them."""

    notices: tuple[str, ...]
    dismiss_key: str
    list_key: str


class NoticeStrip(Drawn[StripFacts]):
    """One notice in one line, in two where it needs them; hidden when there is none."""

    GROWS = True

    def show(self, facts: StripFacts) -> None:
        """Take the open notices; take up no room when there are none."""
        self.display = bool(facts.notices)
        super().show(facts)

    def draw(self, facts: StripFacts, width: int) -> Content:
        """Return the first notice, how many more there are, and the key that dismisses it."""
        if not facts.notices:
            return Content("")
        if self.is_touched:  # its keys are buttons of the page
            return self._high(facts.notices[0], width)
        taps = self.taps()
        tail = as_fit(taps, width // 2)
        if tail.cell_length < as_fit(taps, width).cell_length:
            tail = as_fit(taps[-1:], width // 2)
        room = width - tail.cell_length - 4
        text = words.plain(facts.notices[0])
        first = words.wrap(text, room)[0]
        rest = text[len(first) :].strip()
        if not rest or self.app.size.height < LOW_SCREEN:
            first, rest = words.fit(text, room).rstrip(), ""
        left = Content.assemble(("* ", "bold $text-warning"), (first, "bold"))
        drawn = apart(tapped(left, "app.do('notices')"), tail, width)
        more = Content.styled(f"  {words.fit(rest, width - 2).rstrip()}", "bold")
        return lines(drawn, tapped(more, "app.do('notices')")) if rest else drawn

    def _high(self, text: str, width: int) -> Content:
        """Return as much of a notice as two lines hold, which a tap shows whole."""
        first, *more = words.wrap(words.plain(text), max(8, width - 2))
        second = words.fit(" ".join(more), max(8, width - 2))
        drawn = lines(
            Content.assemble(("* ", "bold $text-warning"), (first, "bold")),
            Content.styled(f"  {second}", "bold"),
        )
        return tapped(drawn, "app.do('notices')")

    def taps(self) -> Sequence[Tap]:
        """Return the key that dismisses what shows, after that of the list of more."""
        facts = self.facts
        if facts is None or not facts.notices:
            return ()
        dismiss = Tap(facts.dismiss_key, "dismiss", "app.do('dismiss')")
        more = len(facts.notices) - 1
        return (Tap(facts.list_key, f"{more} more", "app.do('notices')"), dismiss)[not more :]

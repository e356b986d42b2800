"""The strip under the top line: the newest thing that somebody should know."""

from __future__ import annotations

from dataclasses import dataclass

from textual.content import Content

from finishsched.bench import words
from finishsched.bench.widgets.drawn import Drawn, apart
from finishsched.bench.widgets.taps import Tap, as_fit, tapped


@dataclass(frozen=True, slots=True)
class StripFacts:
    """The open notices, the newest first, and the keys that deal with them."""

    notices: tuple[str, ...]
    dismiss_key: str
    list_key: str


class NoticeStrip(Drawn[StripFacts]):
    """One notice in one line; hidden when there is none."""

    def show(self, facts: StripFacts) -> None:
        """Take the open notices; take up no room when there are none."""
        self.display = bool(facts.notices)
        super().show(facts)

    def draw(self, facts: StripFacts, width: int) -> Content:
        """Return the first notice, how many more there are, and the key that dismisses it."""
        if not facts.notices:
            return Content("")
        more = len(facts.notices) - 1
        taps = [Tap(facts.dismiss_key, "dismiss", "app.do('dismiss')")]
        if more:
            taps.insert(0, Tap(facts.list_key, f"{more} more", "app.do('notices')"))
        tail = as_fit(taps, width // 2)
        if tail.cell_length < as_fit(taps, width).cell_length:
            tail = as_fit(taps[-1:], width // 2)
        room = width - tail.cell_length - 4
        text = words.fit(words.plain(facts.notices[0]), room).rstrip()
        left = Content.assemble(("* ", "bold $text-warning"), (text, "bold"))
        return apart(tapped(left, "app.do('notices')"), tail, width)

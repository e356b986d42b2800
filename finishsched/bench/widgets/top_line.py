"""The top line: the shop, the local date and time, the air."""

from __future__ import annotations

from textual.content import Content

from finishsched.bench import words
from finishsched.bench.widgets.drawn import Drawn, apart
from finishsched.workshop.base.answers import BenchView


class TopLine(Drawn[BenchView]):
    """Where and when the bench is, and in what air."""

    async def on_click(self) -> None:
        """Ask for a reading of the air."""
        await self.run_action("app.do('air')")

    def draw(self, facts: BenchView, width: int) -> Content:
        """Return shop and time on the left, as much of the air as fits on the right."""
        clock = words.wall(facts.now, facts.now, facts.zone)
        moment = f"{words.today(facts.now, facts.zone)}  {clock}"
        shop = words.fit(words.plain(facts.shop), max(8, width // 3)).rstrip()
        left = Content.assemble((shop, "bold $text-primary"), "  ", (moment, "bold"))
        parts = words.air(facts.air, facts.now, facts.zone, facts.units.temperature)
        strip = words.join_to_fit(parts, width - left.cell_length - 2)
        return apart(left, Content.styled(strip, "$text-muted"), width)

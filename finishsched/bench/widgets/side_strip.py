"""What to do now by the plan, the vapour, rags that are about, a better plan: a line each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from textual.content import Content

from finishsched.bench import words
from finishsched.bench.at_hand.side import Side
from finishsched.bench.widgets.drawn import LOW_SCREEN, Drawn, lines
from finishsched.bench.widgets.taps import Tap, tapped

MOST_QUIET = 2
NARROW = 46
"""On a screen narrower than this, what can be begun is told without its quarter of an hour."""


@dataclass(frozen=True, slots=True)
class SideFacts:
    """What stands beside the pieces, with the keys that deal with it."""

    side: Side
    rags_key: str
    large: str = ""
    """The piece shown large, which itself says why it is left for later."""
    offer: str = ""
    """What a better plan would gain that was found; empty for none."""
    plan_key: str = ""


class SideStrip(Drawn[SideFacts]):
    """A few lines at most; hidden when there is nothing to say."""

    GROWS = True

    def show(self, facts: SideFacts) -> None:
        """Take what there is; take up no room for nothing."""
        self.display = bool(_lines(facts, 80, is_low=self._is_low))
        super().show(facts)

    def draw(self, facts: SideFacts, width: int) -> Content:
        """Return each line, cut to ``width``; what can hurt comes first."""
        drawn = _lines(facts, width, is_low=self._is_low)
        every = (part for line in drawn for part in line.split())
        return lines(*(part.truncate(width, ellipsis=True) for part in every))

    def taps(self) -> Sequence[Tap]:
        """Return where the rags went, and the better plan, while there is something to say."""
        facts = self.facts
        if facts is None:
            return ()
        rags = [Tap(facts.rags_key, "rags", "app.do('rags')")] if facts.side.rags else []
        plan = [Tap(facts.plan_key, "better plan", "app.do('plan')")] if facts.offer else []
        return (*rags, *plan)

    @property
    def _is_low(self) -> bool:
        return self.app.size.height < LOW_SCREEN


def _lines(facts: SideFacts, width: int, *, is_low: bool) -> list[Content]:
    side = facts.side
    drawn: list[Content] = []
    if side.rags:
        drawn.append(_rags(side.rags, facts.rags_key, width))
    if side.vapour.startswith("!"):
        told = words.wrap(side.vapour, width)
        drawn += [Content.styled(line, "bold $text-error") for line in told]
    ref, left = side.left
    reason = [left] if left and ref != facts.large else []
    now = (*side.now, *reason)[: 1 if is_low else 2]
    drawn += [tapped(_now(text, width, is_low=is_low), "app.do('first')") for text in now]
    if side.vapour and not side.vapour.startswith("!") and not is_low and len(now) < MOST_QUIET:
        drawn.append(Content.styled(side.vapour, "$text-muted"))
    if facts.offer and (not is_low or len(drawn) <= MOST_QUIET):
        drawn.append(_offer(facts.offer, facts.plan_key, width))
    return drawn


def _rags(text: str, key: str, width: int) -> Content:
    tail = f"; {key} logs where" if key else ""
    room = max(8, width - len(tail))
    danger, _, names = text.partition(":")
    # Names may be cut off, never what can happen.
    if len(f"! {danger}: ") < room or not names:
        said = words.fit(f"! {text}", room).rstrip() + tail
    else:
        said = f"! {danger.removesuffix(' by themselves')}{tail}"
    drawn = (Content.styled(line, "bold $text-error") for line in words.wrap(said, width))
    return tapped(lines(*drawn), "app.do('rags')")


def _offer(gain: str, key: str, width: int) -> Content:
    tail = f"; {key} shows it" if key else ""
    said = words.fit(f"better plan found: {gain}", max(8, width - len(tail))).rstrip()
    return tapped(Content.styled(said + tail, "$text-success"), "app.do('plan')")


def _now(text: str, width: int, *, is_low: bool) -> Content:
    """Return what can be begun, in two lines where one has no room for when and how long."""
    head, colon, rest = text.partition(": ")
    if width < NARROW:
        head = head.replace("begin within 15 min", "now")
    whole = f"{head}{colon}{rest}"
    first, *more = words.wrap(whole, width)
    begins = len(head + colon)
    if is_low or not more or len(first) <= begins:
        return Content.assemble((head + colon, "$text-muted"), (rest, "bold"))
    # At a comma, so that no number stands without its unit.
    comma = first.rfind(", ", begins)
    first = first[: comma + 1] if comma > 0 else first
    left = words.fit(whole[len(first) :].strip(), width - 2).rstrip()
    shown = Content.assemble((first[:begins], "$text-muted"), (first[begins:], "bold"))
    return lines(shown, Content.styled(f"  {left}", "bold"))

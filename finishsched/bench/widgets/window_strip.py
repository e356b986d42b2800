"""What closes soon: pot lives and open times always, limits for the next coat when they near."""

from __future__ import annotations

from textual.content import Content

from finishsched.bench import words
from finishsched.bench.widgets.drawn import Drawn, lines
from finishsched.bench.widgets.taps import tapped
from finishsched.workshop.base.answers import BenchView, Window, WindowKind

MOST_LINES = 2
_BAR_CELLS = 12
_BAR_FROM = 74
_LEAST_NAME, _ROOM_FOR_A_NAME = 4, 10
_STYLES = {"open": "$text-secondary", "closing": "bold $text-warning", "closed": "bold $text-error"}
_MARKS = {"open": " ", "closing": "~", "closed": "!"}


def _worth_a_line(view: BenchView) -> tuple[Window, ...]:
    """Return the windows that the strip shows."""
    shown = [w for w in view.windows if w.kind is not WindowKind.RECOAT or w.state == "closing"]
    return tuple(shown[:MOST_LINES])


class WindowStrip(Drawn[BenchView]):
    """A line for each window; hidden when nothing is about to close."""

    GROWS = True

    def show(self, facts: BenchView) -> None:
        """Take the view; take up no room while nothing closes."""
        self.display = bool(_worth_a_line(facts))
        super().show(facts)

    def draw(self, facts: BenchView, width: int) -> Content:
        """Return each window with its mark, its bar and its time."""
        return lines(*(_line(window, facts, width) for window in _worth_a_line(facts)))


def _line(window: Window, view: BenchView, width: int) -> Content:
    style, mark = _STYLES[window.state], _MARKS[window.state]
    name = words.window_name(window, view)
    kind, when = _fitting(window, view, width, len(name))
    gone = round(_BAR_CELLS * window.percent / 100)
    bar = "━" * gone + "─" * (_BAR_CELLS - gone) + "  " if width >= _BAR_FROM else ""
    head = f"{mark} {kind}"
    room = max(_LEAST_NAME, width - len(head) - len(bar) - len(when) - 2)
    drawn = Content.assemble(
        (head, style),
        (f"{words.fit(name, min(room, len(name)))}  ", "bold"),
        (bar, "$text-muted"),
        (when, style),
    )
    return tapped(drawn.truncate(width, ellipsis=True), _action(window))


def _fitting(window: Window, view: BenchView, width: int, name: int) -> tuple[str, str]:
    """Return the kind of a window and when it closes, as long as there is room beside its name.

    When it closes is never cut off: no number stands without its unit.
    """
    at = words.wall(window.closes_at, view.now, view.zone)
    left = f"closes in {words.span(window.left_s)}, {at}"
    kind, least = f"{window.kind.value}  ", f"closes {at}"
    ways = [(kind, left), (kind, least), ("", least)]
    if window.state == "closed":
        ways = [(kind, f"closed {at}"), ("", f"closed {at}")]
    wanted = min(name, _ROOM_FOR_A_NAME)
    fits = (way for way in ways if sum(map(len, way)) + wanted + 4 <= width)
    return next(fits, ways[-1])


def _action(window: Window) -> str:
    """Return what a tap does: see to the piece, or to what was mixed."""
    if window.kind is WindowKind.POT:
        return "app.do('mixing')"
    return f"app.choose('{window.name}')"

"""Windows that close, in words and as JSON values."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

from finishsched.journal.events import utc_text
from finishsched.workshop.base.spans import span, wall

if TYPE_CHECKING:
    from finishsched.workshop.base.answers import DueAnswer, Window


def window_lines(due: DueAnswer, *, why: bool) -> Iterable[str]:
    """Say every window that runs, the first to close first."""
    if due.windows:
        yield "windows"
    for window in due.windows:
        mark = {"open": " ", "closing": "~", "closed": "!"}[window.state]
        at = wall(window.closes_at, due.now, due.zone)
        gone = f"closed {at}, {span(-window.left_s)} ago"
        coming = f"closes in {span(window.left_s)}, {at}"
        yield (
            f"  {mark} {window.kind.value:<13} {window.name}  {window.title}: "
            f"{gone if window.left_s <= 0 else coming}"
        )
        if why:
            for reason in window.why:
                yield f"      why  {reason}"


def window_data(window: Window) -> dict[str, Any]:
    """Return a window as JSON values."""
    return {
        "kind": window.kind.value,
        "name": window.name,
        "title": window.title,
        "opened_at": utc_text(window.opened_at, "seconds"),
        "closes_at": utc_text(window.closes_at, "seconds"),
        "percent": round(window.percent, 1),
        "state": window.state,
        "why": list(window.why),
    }

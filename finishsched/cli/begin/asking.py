"""Ask a person at the terminal, one question a line; enter takes what is usual."""

from __future__ import annotations

from collections.abc import Callable, Iterable

import click

from finishsched.cli.common import say_folded, world
from finishsched.cli.outgoing import say
from finishsched.cli.working import stop


def can_ask() -> bool:
    """Tell whether somebody sits at a terminal to be asked."""
    return world().ask is not None


def ask(asks: str, meant: str = "", usual: str = "") -> str:
    """Return the answer to a question; what is usual for a bare enter.

    Raises:
        click.Abort: when the asking is left half way; nothing was written.

    """
    asker = world().ask
    assert asker is not None  # noqa: S101  # asked only where can_ask
    stop()
    say_folded(asks)
    if meant:
        say_folded(f"  {meant}")
    try:
        said = asker(f"  [{usual or 'leave it open'}] ").strip()
    except EOFError:
        raise click.Abort from None
    return said or usual


def ask_until(asks: str, meant: str, usual: str, fault_of: Callable[[str], str | None]) -> str:
    """Ask again until the answer has no fault; each fault is told with what would be right."""
    answer = ask(asks, meant, usual)
    while (fault := fault_of(answer)) is not None:
        say_folded(f"  {fault}")
        answer = ask(asks, "", usual)
    return answer


def agree(asks: str) -> bool:
    """Return whether a person says yes; a bare enter does."""
    return ask(asks, "", "yes").lower() in ("y", "yes")


def show_text(lines: Iterable[str]) -> None:
    """Print a document as it would be written, set in."""
    for line in lines:
        say(f"  | {line}" if line else "  |")

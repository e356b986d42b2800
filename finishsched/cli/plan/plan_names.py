"""The names in the options of ``plan``: pieces and schedules that there are not, all at once."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import TYPE_CHECKING, Any, TypeVar

from finishsched.cli.faults import CommandError

if TYPE_CHECKING:
    from finishsched.workshop.base.workshop import Workshop

Value = TypeVar("Value")


class Gathered:
    """Reads part after part of what is asked, and keeps every fault until all have been read."""

    def __init__(self) -> None:
        self._lines: list[str] = []

    def read(self, part: Callable[[], Value]) -> Value | None:
        """Return what a part reads; None where it has a fault."""
        try:
            return part()
        except CommandError as error:
            self._lines.extend(error.lines)
            return None

    def settle(self) -> None:
        """End the reading.

        Raises:
            CommandError: with every fault kept so far.

        """
        if self._lines:
            raise CommandError(*dict.fromkeys(self._lines))


def check_names(workshop: Workshop, options: Mapping[str, Any]) -> None:
    """Find every piece and schedule that a what-if names.

    Raises:
        CommandError: with each that there is not.

    """
    lines = tuple(_unknown(workshop, options))
    if lines:
        raise CommandError(*lines)


def _unknown(workshop: Workshop, options: Mapping[str, Any]) -> Iterator[str]:
    from finishsched.workshop.base.entries import RefusedError
    from finishsched.workshop.standing.several import find_several

    names = [("--drop", name) for name in options["drop"]]
    for option in ("--due", "--schedule"):
        pairs = (text.partition("=") for text in options[option.removeprefix("--")])
        names += [(option, name.strip()) for name, sign, _ in pairs if sign and name.strip()]
    for option, name in names:
        try:
            find_several(workshop, name)
        except RefusedError as error:
            yield from (f"{option}: {line}" for line in error.lines)
    yield from _unknown_schedules(workshop, options)


def _unknown_schedules(workshop: Workshop, options: Mapping[str, Any]) -> Iterator[str]:
    from finishsched.near import nearest

    known = workshop.papers.schedules
    names = [("--with-piece", text.partition("=")[0].strip()) for text in options["with_piece"]]
    names += [("--schedule", text.partition("=")[2].strip()) for text in options["schedule"]]
    for option, name in names:
        if name and name not in known:
            near = nearest(name, known)
            remedy = f"did you mean {near!r}?" if near else "see finishsched schedules"
            yield f"{option}: no schedule {name!r}; {remedy}"

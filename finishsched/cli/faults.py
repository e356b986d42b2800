"""Faults of use, each one line, all at once; and the exit status of every ending."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from enum import IntEnum
from typing import TypeVar

from finishsched.refusals import RefusalError, RefusalsError
from finishsched.units import ForeignUnitError, Measure, UnitFaultError, read

Value = TypeVar("Value")


class Exit(IntEnum):
    """How a command ends."""

    DONE = 0
    NO = 1
    """The answer is no: a check found faults."""
    WRONG_USE = 2
    """Wrong use or bad input."""
    BROKEN = 3
    """A fault of finishsched itself."""
    INTERRUPTED = 130


class CommandError(RefusalsError):
    """A command that cannot go on: one line for each reason."""

    def __init__(self, *lines: str, status: Exit = Exit.WRONG_USE) -> None:
        super().__init__(lines)
        self.status = status


class Words:
    """Reads a command's quantities and keeps every fault until all have been read."""

    def __init__(self) -> None:
        self._lines: list[str] = []

    def read(self, option: str, text: str | None, *measures: Measure) -> float | None:
        """Return the quantity in ``text`` in the kept unit of the first measure; None for none."""
        return None if text is None else self.read_any(option, text, measures)[1]

    def take(self, option: str, text: str | None, reader: Callable[[str], Value]) -> Value | None:
        """Return what ``reader`` makes of the text; None for none, or for what it refuses."""
        if text is None:
            return None
        try:
            return reader(text)
        except RefusalError as refusal:
            self.fault(f"{option}: {refusal}")
            return None

    def need(self, option: str, text: str | None, measure: Measure) -> float:
        """Return a quantity that the command cannot do without."""
        if text is None:
            self.fault(f"{option} is missing; write for example {option} '{measure.examples[0]}'")
            return 1.0
        return self.read_any(option, text, (measure,))[1]

    def read_any(
        self, option: str, text: str, measures: Sequence[Measure]
    ) -> tuple[Measure, float]:
        """Return which of ``measures`` the text is a quantity of, and the quantity."""
        first: UnitFaultError | None = None
        for measure in measures:
            try:
                return measure, read(text, measure)
            except ForeignUnitError as error:
                first = first or error
            except UnitFaultError as error:
                # That it is out of range says more than that it is of no other kind.
                first = error if isinstance(first, ForeignUnitError | None) else first
        self.fault(f"{option}: {first}")
        return measures[0], 1.0

    def fault(self, line: str) -> None:
        """Keep a fault."""
        self._lines.append(line)

    def settle(self) -> None:
        """End the reading.

        Raises:
            CommandError: with every fault kept so far.

        """
        if self._lines:
            raise CommandError(*self._lines)

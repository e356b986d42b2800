"""What is wrong with a document, where, and what would be right."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from finishsched.refusals import RefusalsError


@dataclass(frozen=True, slots=True, order=True)
class Fault:
    """One fault at one place. Faults sort in reading order.

    ``line`` and ``column`` count from 1, columns in characters. ``rule`` is a short word for
    programs to tell faults apart by: not-yaml, no-file, too-big, too-deep, alias, unknown-key,
    missing-key, duplicate-key, bad-value, no-unit, unknown-name,
    duplicate-name, unknown-kind or old-word.
    """

    file: str
    line: int
    column: int
    message: str
    remedy: str
    rule: str
    severity: str = "error"

    @property
    def without_place(self) -> str:
        """What is wrong and what would be right, for where the place is shown otherwise."""
        return f"{self.message}; {self.remedy}"

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}: {self.without_place}"


class DocumentFaultsError(RefusalsError, ValueError):
    """A document that cannot be used, with all of its faults in reading order."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(sorted(set(faults)))
        super().__init__(str(fault) for fault in self.faults)

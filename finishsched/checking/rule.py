"""What a rule is: what it finds, why that is wrong, what to do, and an example of either."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING, TypeAlias

if TYPE_CHECKING:
    from finishsched.checking.cases import PieceCase, ProductCase, ScheduleCase, ShopCase

PRACTICE = "common practice, no source"
"""What stands for the source of what every maker knows and nobody printed."""
Path: TypeAlias = tuple[str | int, ...]
"""Keys and positions down to a value in a document: ``('stages', 0, 'steps', 2, 'grade')``."""


class Severity(StrEnum):
    """How much a finding matters.

    A rule has one: an error for what sources agree on and no later step puts right, else advice.
    One finding of it weighs less where sources differ, and more where the work is far off.
    """

    ERROR = "error"
    """The work comes out wrong."""
    ADVICE = "advice"
    """It may come out wrong, or cannot be reckoned with."""


class Kind(StrEnum):
    """Which kind of document an example is of."""

    SCHEDULE = "schedule"
    PIECE = "piece"
    SHOP = "shop"
    PRODUCT = "product"


@dataclass(frozen=True, slots=True)
class Found:
    """One thing that a rule finds: where in its document, and what is wrong there."""

    path: Path
    message: str
    remedy: str = ""
    """What to do here; empty where the rule's own words say it."""
    contested: bool = False
    """True where sources differ, or nobody proved it: it only advises."""
    grave: bool = False
    """True where the work is so far off that it is an error, though the rule only advises."""
    about: str = ""
    """What of the work is wrong, as ``about.py`` names it, where several rules may see it: it is
    told once, by the one that asks for most."""
    needed_s: float = 0.0
    """The wait that it asks for, where it asks for one."""
    which: str = ""
    """Which of several faults of one step it is, where a rule may find more than one there."""
    follows: bool = False
    """True for what would not be there but for another fault about the same."""


@dataclass(frozen=True, slots=True)
class Example:
    """A piece of a document that a rule tells of, and what to write there instead.

    Of a schedule it is what stands under ``stages:``, of a piece its keys.
    """

    wrong: str
    instead: tuple[str, str]
    """A text in ``wrong``, and the text that takes its place."""
    kind: Kind = Kind.SCHEDULE
    shop: str = ""
    """Keys of the shop that it is in, where they matter."""
    stages: str = ""
    """What stands under ``stages:`` of the schedule ``mine``, where a piece has that one."""
    besides: str = ""
    """In words, what no document says."""

    @property
    def right(self) -> str:
        """The same as it should be."""
        return self.wrong.replace(*self.instead)


OnSchedule: TypeAlias = "Callable[[ScheduleCase], Iterable[Found]]"
OnPiece: TypeAlias = "Callable[[PieceCase], Iterable[Found]]"
OnShop: TypeAlias = "Callable[[ShopCase], Iterable[Found]]"
OnProduct: TypeAlias = "Callable[[ProductCase], Iterable[Found]]"


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule of the checker, with all that ``check --explain`` teaches of it."""

    code: str
    """Plain words with hyphens; written for good, since documents name it."""
    title: str
    severity: Severity
    why: str
    remedy: str
    """What to do, in a few words: the second half of the finding's line."""
    source: str
    """Where it is from, or 'common practice'."""
    example: Example
    on_schedule: OnSchedule | None = None
    on_piece: OnPiece | None = None
    on_shop: OnShop | None = None
    on_product: OnProduct | None = None

    @property
    def looks_at(self) -> tuple[str, ...]:
        """The kinds of documents that it looks at."""
        pairs = (
            ("schedules", self.on_schedule),
            ("jobs", self.on_piece),
            ("shops", self.on_shop),
            ("products", self.on_product),
        )
        return tuple(name for name, check in pairs if check is not None) or (
            "schedules",
            "jobs",
            "shops",
        )


@dataclass(frozen=True, slots=True)
class Finding:
    """One finding of one rule."""

    rule: Rule
    found: Found

    @property
    def code(self) -> str:
        """The code of its rule."""
        return self.rule.code

    @property
    def path(self) -> Path:
        """Where in its document."""
        return self.found.path

    @property
    def message(self) -> str:
        """What is wrong there."""
        return self.found.message

    @property
    def remedy(self) -> str:
        """What to do."""
        return self.found.remedy or self.rule.remedy

    @property
    def severity(self) -> Severity:
        """How much it matters."""
        if self.found.contested:
            return Severity.ADVICE
        return Severity.ERROR if self.found.grave else self.rule.severity

    @property
    def weight(self) -> tuple[bool, bool, float]:
        """The more, the sooner it is the one that is told of several about the same fault."""
        return self.severity is Severity.ERROR, not self.found.follows, self.found.needed_s

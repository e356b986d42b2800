"""What a rule is: what it finds, why that is wrong, what to do, and an example of either."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING, TypeAlias

if TYPE_CHECKING:
    from finishsched.checking.cases import PieceCase, ProductCase, ScheduleCase, ShopCase

Path: TypeAlias = tuple[str | int, ...]
"""Keys and positions down to a value in a document: ``('stages', 0, 'steps', 2, 'grade')``."""


class Severity(StrEnum):
    """How much a finding matters."""

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
    path: Path
    message: str
    remedy: str
    contested: bool = False
    """True where sources differ, or nobody proved it: it only advises."""

    @property
    def code(self) -> str:
        """The code of its rule."""
        return self.rule.code

    @property
    def severity(self) -> Severity:
        """How much it matters."""
        return Severity.ADVICE if self.contested else self.rule.severity

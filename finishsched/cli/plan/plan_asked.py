"""What ``plan`` is asked: what-ifs and days away, read from the options with every fault."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from datetime import date
from types import MappingProxyType
from typing import TYPE_CHECKING, TypeVar

from finishsched.cli.faults import Words
from finishsched.units import AREA

if TYPE_CHECKING:
    from finishsched.model.hours import Away
    from finishsched.workshop.plan.hands_and_hours import WhatIf

Value = TypeVar("Value")
Options = Mapping[str, tuple[str, ...]]
"""The texts of every option of a what-if that may be given again."""


def what_if(
    options: Options, air: str | None, by: str | None, people: Iterable[str], today: date
) -> WhatIf:
    """Return what is asked ``today`` without touching anything.

    Raises:
        CommandError: with every option that cannot be read.

    """
    from finishsched.documents.formats.hours import read_away, read_extra
    from finishsched.workshop.base.typed import read_air
    from finishsched.workshop.plan.hands_and_hours import WhatIf

    words = Words()
    names = frozenset(people)
    extras = tuple(_each("--extra", options["extra"], _by_days(read_extra, today), words))
    away = tuple(_each("--away", options["away"], _by_days(read_away, today), words))
    for option, whose in (("--extra", extras), ("--away", away)):
        known_names(option, (each.who for each in whose), names, words)
    found = WhatIf(
        pieces=tuple(_pieces(options["with_piece"], words)),
        due=MappingProxyType(
            {
                name: _day("--due", day, words, today)
                for name, day in _pairs("--due", options, words)
            }
        ),
        schedules=MappingProxyType(dict(_pairs("--schedule", options, words))),
        drop=frozenset(options["drop"]),
        extras=extras,
        away=away,
        air=words.take("--air", air, read_air),
        by=None if by is None else _day("--by", by, words, today),
    )
    words.settle()
    return found


def read_days_away(option: str, text: str, people: Iterable[str], today: date) -> Away:
    """Return the days from ``today`` on that somebody is away.

    Raises:
        CommandError: when they cannot be read, or nobody is called so.

    """
    from finishsched.documents.formats.hours import read_away

    words = Words()
    (found,) = tuple(_each(option, (text,), _by_days(read_away, today), words)) or (None,)
    if found is not None:
        known_names(option, [found.who], frozenset(people), words)
    words.settle()
    assert found is not None  # noqa: S101
    return found


def known_names(option: str, names: Iterable[str], people: frozenset[str], words: Words) -> None:
    """Note every name that nobody here has."""
    for name in names:
        if name and name not in people:
            there = f"there are {', '.join(sorted(people))}" if people else "leave the name out"
            words.fault(f"{option}: nobody here is called {name!r}; {there}")


def _by_days(read: Callable[[str], Value], today: date) -> Callable[[str], Value]:
    """Return a reader that takes days as people write them too: tomorrow, Dec 24 to 26."""
    from finishsched.documents.codec import BadValueError
    from finishsched.workshop.base.typed_spans import in_calendar_days

    def read_days(text: str) -> Value:
        said = in_calendar_days(text, today)
        try:
            return read(said)
        except BadValueError as fault:
            told = fault.message.replace(repr(said), repr(text))
            raise BadValueError(told, fault.remedy) from None

    return read_days


def _each(
    option: str, texts: Iterable[str], read: Callable[[str], Value], words: Words
) -> Iterable[Value]:
    for text in texts:
        found = words.take(option, text, read)
        if found is not None:
            yield found


def _pairs(option: str, options: Options, words: Words) -> Iterable[tuple[str, str]]:
    for text in options[option.removeprefix("--")]:
        name, sign, value = text.partition("=")
        if sign and name.strip() and value.strip():
            yield name.strip(), value.strip()
        else:
            words.fault(f"{option}: {text!r} is no PIECE=VALUE; write such as lid=2026-12-18")


def _pieces(texts: Iterable[str], words: Words) -> Iterable[tuple[str, str, float]]:
    for number, text in enumerate(texts, start=1):
        schedule, _, area = text.partition("=")
        area_m2 = words.read("--with-piece", area or "0.1 m2", AREA) or 0.1
        yield f"piece-{number}", schedule.strip(), area_m2


def _day(option: str, text: str, words: Words, today: date) -> date:
    from finishsched.workshop.base.typed_days import read_typed_day

    def read(day: str) -> date:
        return read_typed_day(day, today, ahead=True)

    return words.take(option, text, read) or date.min

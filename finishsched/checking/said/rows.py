"""The rows of what is unfit in the hand, read from the tables of ``unfit``."""

from __future__ import annotations

import operator
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from types import MappingProxyType

from finishsched.checking.rule import PRACTICE
from finishsched.checking.said.facts import Fact
from finishsched.checking.said.measures import measured_in
from finishsched.checking.said.unfit import unfit_blocks
from finishsched.tables import Block, several

HURTS = "can-hurt"
"""The code of rows about fire, vapour, dust, skin and vessels."""
_COMPARED = re.compile(r"(\w+) ?([<>]) ?(.+)")
_TOLD_BY = {"<": operator.lt, ">": operator.gt}


@dataclass(frozen=True, slots=True)
class Term:
    """One thing that a row asks for: a fact by its name, or words of its own in quotes."""

    name: str
    denied: bool = False
    """True where it has to be denied: ``!wiped``."""
    own_words: bool = False
    compares: Callable[[float, float], bool] | None = None
    than: float = 0.0
    later: bool = False
    """True where it has to be told after the term before it, anywhere in the step."""

    def in_(self, facts: Sequence[Fact], *, supposed_too: bool = False) -> Iterator[Fact]:
        """Give the facts that it asks for; what is only supposed, where that is asked for too."""
        for fact in facts:
            holds = fact.denied == self.denied and (supposed_too or not fact.supposed)
            fits = fact.name == self.name and holds
            if fits and (self.compares is None or self.compares(fact.value, self.than)):
                yield fact


@dataclass(frozen=True, slots=True)
class Row:
    """One way of working that something does not bear, and what is said of it."""

    name: str
    why: str
    instead: str
    says: tuple[tuple[tuple[Term, ...], ...], ...]
    """Alternatives; in each, groups that all have to be said; of each, terms said together."""
    unless: tuple[Term, ...]
    code: str = "unfit-tool"
    verbs: tuple[str, ...] = ()
    with_: tuple[str, ...] = ()
    over: tuple[str, ...] = ()
    under: tuple[str, ...] = ()
    place: str = ""
    of: tuple[str, ...] = ()
    """Words that the schedule says of what it is for."""
    not_of: tuple[str, ...] = ()
    """Such words that excuse it: what goes wrong elsewhere is meant there."""
    not_before: tuple[str, ...] = ()
    """Verbs of the next step that excuse it."""
    read: str = "how"
    source: str = PRACTICE
    heard: str = ""
    sound: str = ""

    @property
    def begins(self) -> frozenset[str]:
        """The names of facts of which one at least is told where it is heard."""
        return frozenset(groups[0][0].name for groups in self.says)

    def heard_in(self, facts: Sequence[Fact]) -> str:
        """Return the words that speak for it, empty where none do."""
        if any(any(term.in_(facts, supposed_too=True)) for term in self.unless):
            return ""
        for groups in self.says:
            told = [_together(facts, group) for group in groups]
            if all(told):
                return " ... ".join(dict.fromkeys(told))
        return ""


@lru_cache(maxsize=1)
def rows_by_fact() -> Mapping[str, Sequence[Row]]:
    """Return for each fact the rows that may be heard where it is told."""
    found: dict[str, list[Row]] = {}
    for row in rows():
        for name in row.begins:
            found.setdefault(name, []).append(row)
    return MappingProxyType(found)


@lru_cache(maxsize=1)
def rows() -> tuple[Row, ...]:
    """Return every row of the tables of ``unfit``, in their order."""
    return tuple(_row(block) for block in unfit_blocks())


def _row(block: Block) -> Row:
    return Row(
        name=block["name"],
        why=block["words"],
        instead=block["instead"],
        says=tuple(_alternative(one) for one in several(block["says"], ";")),
        unless=tuple(_term(one) for one in several(block.get("unless", ""), ";")),
        code=block.get("code", "unfit-tool"),
        verbs=several(block.get("does", "")),
        with_=several(block.get("with", "")),
        over=several(block.get("over", "")),
        under=several(block.get("under", "")),
        place=block.get("place", ""),
        of=several(block.get("of", "")),
        not_of=several(block.get("not of", "")),
        not_before=several(block.get("not before", "")),
        read=block.get("read", _read_for(block)),
        source=block.get("source", PRACTICE),
        heard=block.get("heard", ""),
        sound=block.get("sound", ""),
    )


def _read_for(block: Block) -> str:
    """Return what is read where a row does not say: what can hurt is often told as a caution."""
    return "cautions" if block.get("code") == HURTS else "how"


def _alternative(text: str) -> tuple[tuple[Term, ...], ...]:
    return tuple(tuple(_terms(group)) for group in several(text, "&"))


def _terms(group: str) -> Iterator[Term]:
    """Give the terms of a group: ``+`` asks for them side by side, ``>>`` for one after another."""
    for beside in several(group, "+"):
        first, *others = several(beside, ">>")
        yield _term(first)
        yield from (replace(_term(other), later=True) for other in others)


def _term(text: str) -> Term:
    denied, name = text.startswith("!"), text.removeprefix("!").strip()
    if name.startswith('"'):
        return Term(name, denied, own_words=True)
    compared = _COMPARED.fullmatch(name)
    if compared is None:
        return Term(name, denied)
    than = next(measured_in(compared[3]))
    return Term(compared[1], denied, compares=_TOLD_BY[compared[2]], than=than.value)


def _together(facts: Sequence[Fact], group: Sequence[Term]) -> str:
    """Return the words that tell all terms of a group in one clause, or in two side by side."""
    first, *others = group
    for one in first.in_(facts):
        near = [_near(one, term, facts) for term in others]
        if all(near):
            told = sorted((one, *(fact for fact in near if fact)), key=_place)
            return " ... ".join(dict.fromkeys(fact.words for fact in told))
    return ""


def _place(fact: Fact) -> tuple[int, int]:
    return fact.sentence, fact.clause


def _near(one: Fact, term: Term, facts: Sequence[Fact]) -> Fact | None:
    """Return the fact that a term asks for beside another one, or after it; None for none."""
    fits = _after if term.later else _beside
    return next((fact for fact in term.in_(facts) if fits(one, fact)), None)


def _beside(one: Fact, other: Fact) -> bool:
    return one.sentence == other.sentence and abs(one.clause - other.clause) <= 1


def _after(one: Fact, other: Fact) -> bool:
    return (one.sentence, one.span[1]) < (other.sentence, other.span[0])

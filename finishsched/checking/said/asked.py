"""What the words of each step are asked: which rows of ``unfit`` speak against it."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from functools import lru_cache
from types import MappingProxyType

from finishsched.checking.asked_once import asked_once
from finishsched.checking.cases import ScheduleCase
from finishsched.checking.layers.matter import is_a, matter_at, matter_of
from finishsched.checking.moves import Move
from finishsched.checking.rule import Found
from finishsched.checking.said.facts import facts_of, matters_in_words
from finishsched.checking.said.rows import Row, rows_by_fact
from finishsched.model.product import Mechanism, Product, RagHabit
from finishsched.model.verbs import Verb

BESIDE_THEIR_RULES = (
    "no-tack-off", "chemical-left", "solvent-lifts", "alcohol-lifts", "water-on-bare-wood",
    "no-bite", "coat-over-wax", "one-face", "lacquer-over-oil", "grade-skipped", "film-not-fit",
    "burnished-bare", "colour-uncovered", "oil-left-in", "scratches-left",
)  # fmt: skip
"""Codes of rules that look at the keys of a document: what words say is told under them too."""
_BY_THEIR_WORDS = (Verb.STAIN, Verb.BLEACH)
"""Steps whose words name what is on the brush where no product is given."""


def told_by_words(code: str) -> Callable[[ScheduleCase], Iterable[Found]]:
    """Return a check that tells what the rows of one code find."""
    return lambda case: said_against(case, code)


def said_against(case: ScheduleCase, code: str) -> Iterator[Found]:
    """Give what the words of a schedule's steps say that the rows of ``code`` speak against."""
    for move, row, words in _heard_by_code(case).get(code, ()):
        if _fits(case, move, row):
            yield Found(
                move.verb_path,
                f"'{move.step.title}'{_with_what(move)} says '{words}': {row.why}",
                row.instead,
                which=row.name,
            )


def says(move: Move, name: str) -> bool:
    """Tell whether the words of a step tell a fact of ``words.txt``, and do not deny it."""
    return any(fact.name == name and fact.told for fact in facts_of(_TEXTS["how"](move)))


@asked_once
def _heard_by_code(case: ScheduleCase) -> Mapping[str, Sequence[tuple[Move, Row, str]]]:
    """Return the rows that words of a schedule speak for, by their code, in the order of the work.

    Whether they are of such a step is asked by each code for itself.
    """
    found: dict[str, list[tuple[Move, Row, str]]] = {}
    for move in case.moves:
        for row, words in _heard(case, move):
            found.setdefault(row.code, []).append((move, row, words))
    return MappingProxyType(found)


def _heard(case: ScheduleCase, move: Move) -> Iterator[tuple[Row, str]]:
    """Give the rows that words speak for, of the step and of what it is for, with those words."""
    for read, words_of in _TEXTS.items():
        yield from _heard_in(words_of(move), read)
    yield from _heard_in(_what_for(case), "what for")


@lru_cache(maxsize=1024)
def _heard_in(text: str, read: str) -> tuple[tuple[Row, str], ...]:
    facts = facts_of(text)
    names = dict.fromkeys(fact.name for fact in facts)
    rows = dict.fromkeys(row for name in names for row in rows_by_fact().get(name, ()))
    heard = ((row, row.heard_in(facts)) for row in rows if row.read == read)
    return tuple((row, words) for row, words in heard if words)


def _fits(case: ScheduleCase, move: Move, row: Row) -> bool:
    """Tell whether a row is of such a step: what it does, with what, over and under what, where."""
    return (
        (not row.verbs or any(_does(move, one) for one in row.verbs))
        and (not row.with_ or any(_is_with(move, one) for one in row.with_))
        and (not row.over or _is_any(_below(case, move), row.over))
        and (not row.under or _is_any(_above(case, move), row.under))
        and (not row.place or move in _PLACES[row.place](case))
        and (not row.of or _is_for(case, row.of))
        and not _is_for(case, row.not_of)
        and not _is_followed_by(case, move, row.not_before)
    )


def _is_for(case: ScheduleCase, words: Sequence[str]) -> bool:
    """Tell whether a schedule says in words that it is for one of these."""
    said = re.findall(r"[a-z]+", _what_for(case).lower())
    return any(word in said for word in words)


def _what_for(case: ScheduleCase) -> str:
    schedule = case.schedule
    return f"{schedule.title}. {schedule.suits}. {schedule.notes}"


def _is_followed_by(case: ScheduleCase, move: Move, verbs: Sequence[str]) -> bool:
    return any(one.verb.value in verbs for one in case.moves[move.at + 1 : move.at + 2])


def _is_any(matter: str, wanted: Sequence[str]) -> bool:
    return any(is_a(matter, one) for one in wanted)


_DOES: Mapping[str, Callable[[Move], bool]] = MappingProxyType(
    {
        "coats": lambda move: move.verb.lays_coats,
        "lays": lambda move: move.lays,
        "rubs": lambda move: move.verb.abrades,
        "cleans": lambda move: move.verb.does.cleans,
        "wets": lambda move: bool(_matters(move)) and move.verb.does.must_dry,
        "gun": lambda move: move.step.by_gun,
        "hand": lambda move: not move.step.by_gun,
    }
)


def _does(move: Move, one: str) -> bool:
    """Tell whether a step does what a word of a row means: a verb, or a kind of them."""
    kinds = one.split()
    if all(kind in _DOES for kind in kinds):
        return all(_DOES[kind](move) for kind in kinds)
    return move.verb.value == one


def _is_with(move: Move, one: str) -> bool:
    """Tell whether what a step brings is what a word of a row means."""
    if one == "tape":
        return move.verb is Verb.MASK
    if one == "nothing":
        return not move.brings
    if one == "self-heating":
        return any(map(_heats_by_itself, move.brings))
    if one == "flammable":
        return any(product.is_flammable_liquid for product in move.brings)
    return any(is_a(matter, one) for matter in _matters(move))


def _heats_by_itself(product: Product) -> bool:
    """Tell whether its cloths do: what oxidises heats, though its document says nothing of it."""
    return product.rags is RagHabit.SELF_HEATING or product.mechanism is Mechanism.OXIDISING


def _matters(move: Move) -> tuple[str, ...]:
    """Return of what matter a step brings; of a stain or bleach without a product, by its words."""
    if move.product is None and move.verb in _BY_THEIR_WORDS:
        named = (fact.name for fact in facts_of(_words(move)) if fact.told)
        return tuple(dict.fromkeys(name for name in named if name in matters_in_words()))
    brought = move.brings[:1] if move.lays and move.product else move.brings
    return tuple(map(matter_of, brought))


def _below(case: ScheduleCase, move: Move) -> str:
    """Return of what matter lies below a step: ``bare`` for wood, ``old`` where nobody knows."""
    below = case.layer_below(move)
    if below is not None:
        return matter_at(below) or "old"
    return case.schedule.over.value if case.schedule.over is not None else "bare"


def _above(case: ScheduleCase, move: Move) -> str:
    above = case.next_layer(move)
    return matter_at(above) if above is not None else ""


def _last_scratches(case: ScheduleCase) -> Iterator[Move]:
    """Give what rubs last over the bare wood, and last over the last film."""
    first, last = case.first_layer, case.last_film
    if case.on_bare_wood and first is not None:
        yield from [one for one in case.before(first) if one.verb.abrades][-1:]
    if last is not None:
        yield from [one for one in case.after(last) if one.verb.rubs_film][-1:]


_PLACES: Mapping[str, Callable[[ScheduleCase], Iterable[Move]]] = MappingProxyType(
    {
        "last scratches": _last_scratches,
        "last film": lambda case: case.films[-1:],
    }
)


def _words(move: Move) -> str:
    """Return what is said of how and with what, and what its keys name beside a coat."""
    step = move.step
    parts = [step.how, step.tool, f"with {step.grade}" if step.grade else ""]
    beside = move.brings if not move.lays else move.brings[1:]
    parts += [f"with {product.title}" for product in beside]
    return ". ".join(part for part in parts if part)


_TEXTS: Mapping[str, Callable[[Move], str]] = MappingProxyType(
    {
        "how": _words,
        "check": lambda move: move.step.dry_check,
        "cautions": lambda move: f"{_words(move)}. {'. '.join(move.step.cautions)}",
    }
)


def _with_what(move: Move) -> str:
    return f" with {move.step.product}" if move.step.product else ""

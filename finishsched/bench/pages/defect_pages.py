"""A defect on the bench: what is seen, what likely made it, and the ways to put it right."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from finishsched.bench.screens.choice import Choice, ChoiceCard
from finishsched.bench.screens.narrowing import NarrowingCard
from finishsched.bench.screens.page import Paragraph
from finishsched.checking.defects.ranking import ODDS_WORDS, Ranked
from finishsched.checking.defects.seen import LOOKS, Seen
from finishsched.workshop.defects.defects import DefectAnswer, Option

IN_FULL = 1
"""Causes told in full before the ways; the others follow after them."""
UNLIKELY = ODDS_WORDS[-1][1]
OTHER = "other"
TRY_FIRST = "Try it on a sample board or a hidden place first."


def seen_card(title: str) -> NarrowingCard:
    """Ask what is seen on a piece, in the trade's words or one's own."""
    choices = [Choice(seen.value, seen.value) for seen in Seen]
    other = "something else, in your own words"
    return NarrowingCard(f"What do you see? {title}", "take it", choices, other)


def which_card(title: str, choices: Sequence[Seen]) -> ChoiceCard:
    """Ask which defect somebody's own words mean, each with what it looks like."""
    listed = [Choice(seen.value, seen.value, LOOKS[seen]) for seen in choices]
    other = Choice(OTHER, "none of these: only in my words")
    return ChoiceCard(f"Which is it most like? {title}", "take it", [*listed, other])


def defect_card(found: DefectAnswer, title: str, *, asks: bool = True) -> ChoiceCard:
    """Say what likely made a defect and what to look at; a digit takes a way to put it right.

    With ``asks`` two more keys answer what would tell the causes apart, where none is clear.
    """
    choices = [Choice(str(way.number), way.rework.title, _of_way(way)) for way in found.options]
    if asks and found.asks is not None:
        choices.append(Choice(found.asks.yes, "yes", found.asks.asks))
        choices.append(Choice(found.asks.no, "no"))
    return ChoiceCard(
        f"Logged: {found.seen.value}, {title}",
        "take that way" if choices else "",
        choices,
        before=tuple(_causes(found)),
        after=tuple(_more(found)),
    )


def _of_way(way: Option) -> str:
    """Say what is done, how long it takes, and what of the piece waits for it."""
    return "; ".join(filter(None, [way.words, way.time_words, way.held_words]))


def _causes(found: DefectAnswer) -> Iterator[Paragraph]:
    causes = found.diagnosis.worth_a_look
    for other in found.or_else:
        yield Paragraph("or it is", f"{other.value}, {LOOKS[other]}")
    if found.or_else:
        yield Paragraph("if it is", f"{found.seen.value}, what likely made it:")
    for ranked in causes[:IN_FULL]:
        yield Paragraph(ranked.odds, ranked.cause.words, "bold")
        yield Paragraph("look", ranked.cause.look)
    yield from (Paragraph("layers", one) for one in found.layers)
    for ranked in causes[IN_FULL:]:
        if ranked.odds != UNLIKELY:
            yield Paragraph(ranked.odds, ranked.cause.words)


def _more(found: DefectAnswer) -> Iterator[Paragraph]:
    if found.beyond:
        yield Paragraph("", found.beyond, "bold")
    yield Paragraph("", f"{TRY_FIRST} {found.deferral}", "$text-muted")
    yield Paragraph("", "")
    yield Paragraph("", found.diagnosis.defect.looks)
    for ranked in found.diagnosis.worth_a_look:
        yield from _in_full(ranked)


def _in_full(ranked: Ranked) -> Iterator[Paragraph]:
    yield Paragraph(ranked.odds, ranked.cause.words, "bold")
    if ranked.speaks_for:
        yield Paragraph("for", "; ".join(ranked.speaks_for))
    if ranked.speaks_against:
        yield Paragraph("against", "; ".join(ranked.speaks_against))
    yield Paragraph("look", ranked.cause.look)

"""``defect``: what likely made a defect, what to look at, and the rework that mends it."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, tzinfo
from typing import TYPE_CHECKING, Any

import click

from finishsched.cli.common import (
    answer,
    dry_run_option,
    json_option,
    of_several,
    say_folded,
    shop_option,
    why_data,
    why_lines,
    why_option,
)
from finishsched.cli.common import world as surroundings
from finishsched.cli.faults import Words
from finishsched.cli.shop_door import open_shop, tell_notices

if TYPE_CHECKING:
    from finishsched.checking.defects.ranking import Ranked
    from finishsched.checking.defects.seen import Seen
    from finishsched.journal.events import Event
    from finishsched.model.shop import ShownUnits
    from finishsched.workshop.base.answers import PieceView
    from finishsched.workshop.base.workshop import Workshop
    from finishsched.workshop.defects.defects import DefectAnswer, Option

LIKELY_ONES = 3
"""Causes told in full; the rest are named in a line."""


@click.command("defect")
@click.argument("piece", metavar="PIECES")
@click.argument("seen", nargs=-1, metavar="[SEEN]...")
@click.option("--step", metavar="N", help="Where it was seen; else where logged, or in hand.")
@click.option("--at", "where", default="", metavar="PLACE", help="Where: 'top edge', 'lid'.")
@click.option("--size", metavar="SIZE", help="How large: '8 x 12 mm', or '1/2 in' across.")
@click.option("--take", type=int, metavar="N", help="Enter the way number N into the work.")
@click.option("--by", default="", metavar="NAME", help="Whose hands.")
@dry_run_option
@shop_option
@why_option
@json_option
def command(  # one parameter for each option
    piece: str,
    seen: tuple[str, ...],
    step: str | None,
    where: str,
    size: str | None,
    take: int | None,
    by: str,
    shop: str | None,
    why: bool,
    as_json: bool,
) -> None:
    """Say what likely made a defect of PIECES, what to look at, and how to put it right.

    SEEN is what is seen: its name, such as blush, sag or 'dust nib', or words of your own; left
    out, it is the newest defect logged and not yet mended. Where words or causes are as likely, it
    asks at a terminal: two questions at most, a key each. With --at it is mended on that spot alone
    where that can be: by steps and a clock of its own, beside the piece's own work. Nothing is
    written until --take: that logs the defect, where it is not yet, and puts the steps of that way
    before the work that is left, or beside it. An undo takes them out again. Of several pieces it
    is all of them or none.
    """
    from finishsched.cli.begin.asking import can_ask
    from finishsched.journal.events import ReworkTaken
    from finishsched.workshop.base.typed import read_size
    from finishsched.workshop.defects.defects import defect_answer, take_reworks
    from finishsched.workshop.standing.several import find_several, of_each
    from finishsched.workshop.views.views import piece_view

    now = surroundings().now()
    reader = Words()
    area_m2 = reader.take("--size", size, read_size)
    reader.settle()
    with open_shop(shop, now) as workshop:
        pieces, units = find_several(workshop, piece), workshop.papers.shop.units
        refs = [one.ref for one in pieces]
        asks = can_ask() and not as_json
        words = " ".join(seen)
        if asks and words:
            words = _asked_about(workshop, refs[0], words, now, step)
        found = of_each(
            pieces,
            lambda one: defect_answer(
                workshop, one.ref, words, now, step, where=where, area_m2=area_m2
            ),
        )
        events = take_reworks(workshop, found, take, now, by) if take is not None else ()
        beside = {e.piece: e.what.beside for e in events if isinstance(e.what, ReworkTaken)}
        views = [piece_view(workshop, beside.get(ref) or ref, now) for ref in refs]
        tell_notices(workshop, now)
        data: list[dict[str, Any]] = []
        lines: list[str] = []
        for one, view in zip(found, views, strict=True):
            own = tuple(event for event in events if event.piece == one.ref)
            data.append(_data(one, own, view, units))
            lines += _taken(view, workshop.zone) if events else _lines(one, units, why=why)
        answer(as_json, lambda: of_several(data), lambda: lines)


def _asked_about(workshop: Workshop, ref: str, words: str, now: datetime, step: str | None) -> str:
    """Return somebody's words with what they answer: which defect it is, and what parts causes."""
    from finishsched.checking.defects.seen import LOOKS
    from finishsched.cli.begin.asking import ask
    from finishsched.workshop.defects.defects import defect_answer, seen_choices

    choices = seen_choices(workshop, ref, words, now, step)
    if choices:
        for number, one in enumerate(choices, start=1):
            say_folded(f"  {number}  {one.value}: {LOOKS[one]}")
        said = ask("which is it most like?", "its number", "none of these")
        if said.isdigit() and 0 < int(said) <= len(choices):
            words = f"{choices[int(said) - 1].value}: {words}"
    question = defect_answer(workshop, ref, words, now, step).asks
    if question is not None:
        answers = {"y": question.yes, "yes": question.yes, "n": question.no, "no": question.no}
        said = ask(f"to tell the causes apart: {question.asks}", "y or n", "cannot say").lower()
        words = f"{words}, {answers[said]}" if said in answers else words
    return words


def _taken(view: PieceView, zone: tzinfo) -> Iterable[str]:
    from finishsched.cli.work.piece_words import after_entry, sheet_lines

    yield from after_entry(view, f"logged {view.log[0].text}", zone)
    if view.sheet is not None:
        yield from (f"  {line}" for line in sheet_lines(view.sheet))


def _lines(found: DefectAnswer, units: ShownUnits, *, why: bool) -> Iterable[str]:
    from finishsched.checking.defects.seen import LOOKS

    where = f", seen at step {found.step.number}, {found.step.title}" if found.step else ""
    logged = "" if found.event else "; not logged yet"
    yield f"{found.ref}: {found.seen.value}{where}{_place_words(found)}{logged}"
    yield f"  {found.diagnosis.defect.looks}"
    for other in found.or_else:
        yield f"  or it is {other.value}, {LOOKS[other]}"
        yield f"     then say so: finishsched defect {found.ref} {_named(other, found)}"
    yield "what likely made it" + (f", if it is {found.seen.value}" if found.or_else else "")
    causes = found.diagnosis.worth_a_look
    for ranked in causes[:LIKELY_ONES]:
        yield from _cause_lines(ranked)
    rest = [ranked.cause.words for ranked in causes[LIKELY_ONES:]]
    if rest:
        yield f"  less likely: {'; '.join(rest)}"
    if found.asks is not None:
        yield f"  to tell them apart: {found.asks.asks}"
        yield f"     say so behind what is seen: '{found.asks.yes}', or '{found.asks.no}'"
    if found.layers:
        yield "what speaks against its layers, as they were logged"
        yield from (f"  - {one}" for one in found.layers)
    yield "how to put it right"
    yield from _way_lines(found, units)
    if why:
        yield from why_lines([found.diagnosis.reason], units)


def _way_lines(found: DefectAnswer, units: ShownUnits) -> Iterable[str]:
    for option in found.options:
        yield f"  {option.number}  {option.rework.title}"
        yield f"     {option.words}; {option.time_words}"
        if option.held_words:
            yield f"     {option.held_words}"
    if found.beyond:
        yield f"  {found.beyond}"
    if found.options:
        yield f"  take one: finishsched defect {found.ref} {_asked(found, units)} --take 1"
    yield f"  Try it on a sample board or a hidden place first. {found.deferral}"


def _place_words(found: DefectAnswer) -> str:
    place = found.place
    if place is None:
        return ""
    return f", at {place.where} ({place.zone})" if place.where else f" ({place.zone})"


def _asked(found: DefectAnswer, units: ShownUnits) -> str:
    """Return what asks for the same again; of what is logged its kind alone is enough."""
    from finishsched.workshop.base.shown import Shown

    said = found.said if found.event is None else ""
    asked = [_quoted(said or found.seen.value)]
    place = found.place
    if place is not None and found.event is None:
        asked += ["--at", _quoted(place.where)] if place.where and not place.read else []
        asked += ["--size", f"'{Shown(units).spot(place.area_m2)}'"] if place.measured else []
    return " ".join(asked)


def _named(other: Seen, found: DefectAnswer) -> str:
    """Return what says that the words mean another defect than the one they were taken for."""
    return _quoted(f"{other.value}: {found.said}")


def _quoted(name: str) -> str:
    plain = name.replace("'", "").replace('"', "")
    return f"'{plain}'" if " " in name else plain


def _cause_lines(ranked: Ranked) -> Iterable[str]:
    yield f"  {ranked.odds}: {ranked.cause.words}"
    if ranked.speaks_for:
        yield f"     for: {'; '.join(ranked.speaks_for)}"
    if ranked.speaks_against:
        yield f"     against: {'; '.join(ranked.speaks_against)}"
    yield f"     look: {ranked.cause.look}"


def _data(
    found: DefectAnswer, events: tuple[Event, ...], view: PieceView, units: ShownUnits
) -> dict[str, Any]:
    from finishsched.cli.work.piece_words import piece_data
    from finishsched.journal.events import as_json as event_json

    return {
        "piece": found.ref,
        "seen": found.seen.value,
        "looks": found.diagnosis.defect.looks,
        "or_else": [other.value for other in found.or_else],
        "step": found.step.number if found.step else None,
        "step_key": found.step.key if found.step else None,
        "logged": event_json(found.event) if found.event else None,
        "layers": list(found.layers),
        "asks": found.asks._asdict() if found.asks else None,
        "causes": [_cause_data(ranked) for ranked in found.diagnosis.causes],
        "place": _place_data(found),
        "options": [_option_data(option) for option in found.options],
        "beyond": found.beyond,
        "why": why_data([found.diagnosis.reason], units),
        "deferral": found.deferral,
        "events": [event_json(event) for event in events],
        "next": piece_data(view),
    }


def _place_data(found: DefectAnswer) -> dict[str, Any] | None:
    place = found.place
    if place is None:
        return None
    return {"where": place.where, "zone": place.zone, "area_m2": place.area_m2}


def _cause_data(ranked: Ranked) -> dict[str, Any]:
    return {
        "cause": ranked.cause.id,
        "words": ranked.cause.words,
        "chance": round(ranked.chance, 4),
        "odds": ranked.odds,
        "for": list(ranked.speaks_for),
        "against": list(ranked.speaks_against),
        "look": ranked.cause.look,
    }


def _option_data(option: Option) -> dict[str, Any]:
    from finishsched.checking.defects.options import source_of

    return {
        "number": option.number,
        "option": option.rework.option,
        "title": option.rework.title,
        "source": source_of(option.rework.option),
        "beside": option.rework.beside,
        "waits_for_it": option.held.key if option.held and option.rework.beside else None,
        "hands_on_minutes": round(option.hands_on_min, 1),
        "wait_minutes": round(option.waits_s / 60, 1),
        "steps": [
            {
                "key": step.key,
                "title": step.title,
                "how": step.how,
                "product": step.product,
                "cut_g_per_l": step.cut_g_per_l,
                "grade": step.grade,
                "likely_minutes": step.wait.likely_s / 60 if step.wait else None,
                "dry_check": step.dry_check,
                "cautions": list(step.cautions),
            }
            for step in option.steps
        ],
    }

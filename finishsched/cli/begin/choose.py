"""``choose``: the schedules that fit a piece, ranked, each with its reasons."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date, tzinfo
from functools import partial
from typing import TYPE_CHECKING, Any

import click

from finishsched.cli.common import answer, json_option, shop_named, shop_option, world
from finishsched.cli.faults import CommandError
from finishsched.cli.working import so_far
from finishsched.numerals import counted
from finishsched.refusals import RefusalError

if TYPE_CHECKING:
    from finishsched.model.shop import ShownUnits
    from finishsched.workshop.base.workshop import Workshop
    from finishsched.workshop.begin.offers import Offer, Wanted
    from finishsched.workshop.standing.standing import Standing

_USUAL_SHOWN = 4


@click.command("choose")
@click.argument("piece", required=False)
@click.option("--wood", help="The wood that shows: walnut, cherry and maple.")
@click.option("--veneer", metavar="LENGTH", help="How thick it is: '0.6 mm', '24 mil'.")
@click.option("--inlay", help="What is let into it: 'shell 0.3 mm in 0.6 mm veneer'.")
@click.option("--faces", help="'220 x 140 x 80 mm', '9 x 5 1/2 in', or an area: '0.1 m2'.")
@click.option("--sheen", help="How much it should shine: satin, gloss, high gloss.")
@click.option("--wear", help="What it will live through: handled, water, alcohol, heat.")
@click.option("--without", help="What is not wanted: 'spray, varnish, mineral spirits'.")
@click.option("--reversible", is_flag=True, help="It must come off again without harm.")
@click.option("--pale", is_flag=True, help="The wood must not turn darker or yellower.")
@click.option("--over", metavar="FINISH", help="The old finish that stays: shellac.")
@click.option("--due", metavar="DATE", help="When it is due: 2026-12-18.")
@click.option("--all", "every", is_flag=True, help="Show all of them, also what is refused.")
@shop_option
@json_option
def command(
    piece: str | None,
    wood: str | None,
    veneer: str | None,
    inlay: str | None,
    faces: str | None,
    sheen: str | None,
    wear: str | None,
    without: str | None,
    reversible: bool,
    pale: bool,
    over: str | None,
    due: str | None,
    every: bool,
    shop: str | None,
    as_json: bool,
) -> None:
    """Choose a schedule: those that fit what you say, or PIECE as its document says it.

    Each with what speaks for it and against it, the evenings and the day it would be finished by
    the real plan of this shop, the film, the solvent into the room, the material, and how it comes
    off again. What finishsched check would refuse on such a piece is never recommended.
    """
    now = world().now()
    folder = shop_named(shop)
    given = {"wood": wood, "veneer": veneer, "faces": faces, "sheen": sheen, "wear": wear,
             "over": over, "due": due}  # fmt: skip
    answers = {key: text for key, text in given.items() if text is not None}
    _refuse_unreadable(answers, now.astimezone().date())
    more = _more(without, reversible, pale)
    if folder is None:
        if piece is not None:
            raise CommandError(f"there is no shop here, so no piece {piece!r}; describe it instead")
        _choose(None, answers, more | _let_in(inlay, None), every=every, as_json=as_json)
        return
    from finishsched.workshop.base.workshop import Workshop

    with Workshop.open(folder, now) as workshop:
        if piece is not None:
            standing = _standing(workshop, piece)
            answers = {**_of_piece(standing), **answers}
            more["inlays"] = standing.piece.inlays
        more |= _let_in(inlay, workshop)
        _choose(workshop, answers, more, every=every, as_json=as_json)


def _more(without: str | None, reversible: bool, pale: bool) -> dict[str, Any]:
    words = (without or "").split(",")
    named = frozenset(word.strip().lower() for word in words if word.strip())
    return {"without": named, "reversible": reversible, "pale": pale}


def _let_in(inlay: str | None, workshop: Workshop | None) -> dict[str, Any]:
    """Return what is said to be let in, if anything; woods of the shop's own are known."""
    from finishsched.workshop.begin.inlay_words import read_inlays

    if inlay is None:
        return {}
    own = workshop.papers.shop.woods if workshop else ()
    try:
        return {"inlays": read_inlays(inlay, own)}
    except RefusalError as fault:
        raise CommandError(f"--inlay: {fault}") from fault


def _refuse_unreadable(answers: dict[str, str], today: date) -> None:
    """Tell every option that cannot be read; a wood may have any name."""
    from finishsched.workshop.begin.read_answers import READERS

    lines = []
    for key, reader in {**READERS, "due": _due_after(today)}.items():
        try:
            if key in answers:
                reader(answers[key])
        except RefusalError as fault:
            lines.append(f"--{key}: {fault}")
    if lines:
        raise CommandError(*lines)


def _due_after(today: date) -> Callable[[str], date]:
    from finishsched.workshop.base.typed_days import read_typed_day

    return lambda text: read_typed_day(text, today, ahead=True)


def _standing(workshop: Workshop, name: str) -> Standing:
    from finishsched.workshop.standing.several import find_several

    return find_several(workshop, name)[0]  # of pieces that are alike any will do


def _of_piece(standing: Standing) -> dict[str, str]:
    """Return a piece as answers to the questions."""
    piece = standing.piece
    due = piece.due or (standing.job.due if standing.job else None)
    found = {
        "title": piece.title,
        "wood": piece.species,
        "faces": f"{piece.area_m2} m2",
        "sheen": piece.sheen,
        "veneer": f"{piece.veneer_mm} mm" if piece.veneer_mm else "",
        "due": due.isoformat() if due else "",
    }
    return {key: text for key, text in found.items() if text}


def _choose(
    workshop: Workshop | None,
    answers: dict[str, str],
    more: dict[str, Any],
    *,
    every: bool,
    as_json: bool,
) -> None:
    from dataclasses import replace

    from finishsched.model.shop import ShownUnits
    from finishsched.workshop.begin.answers import wanted_of
    from finishsched.workshop.begin.choosing import offers, papers_without_a_shop

    if "due" in answers:
        more["due"] = _due_after(world().now().astimezone().date())(answers["due"])
    wanted = replace(wanted_of(answers), **more)
    papers = workshop.papers if workshop else papers_without_a_shop()
    found = offers(wanted, papers, workshop, world().now(), partial(so_far, at_once=True))
    zone = workshop.zone if workshop else None
    units = papers.shop.units if workshop else ShownUnits()
    answer(
        as_json,
        lambda: {"schedules": [_data(offer) for offer in found]},
        lambda: _lines(found, wanted, zone, units, every=every),
    )


def _data(offer: Offer) -> dict[str, Any]:
    from finishsched.journal.events import utc_text

    takes, film = offer.takes, offer.takes.film_um
    cost = {"amount": takes.cost[0], "currency": takes.cost[1]} if takes.cost else None
    return {
        "schedule": offer.schedule.id,
        "title": offer.schedule.title,
        "recommended": offer.recommended,
        "planned": offer.is_planned,
        "fits": list(offer.fits),
        "against": list(offer.against),
        "refused": list(offer.refused),
        "evenings": takes.evenings,
        "hands_on_minutes": takes.hands_on_min,
        "waits_h": takes.waits_s / 3600,
        "finish": utc_text(takes.finish) if takes.finish else None,
        "late_days": offer.late_days,
        "film_um": {"low": film.low, "likely": film.likely, "high": film.high} if film else None,
        "solvent_ml": takes.solvent_ml,
        "material": [
            {"product": product, "amount": amount, "unit": unit}
            for product, amount, unit in takes.material
        ],
        "cost": cost,
        "comes_off": offer.comes_off,
    }


def _lines(
    found: tuple[Offer, ...],
    wanted: Wanted,
    zone: tzinfo | None,
    units: ShownUnits,
    *,
    every: bool,
) -> Iterable[str]:
    good = [offer for offer in found if not offer.refused]
    if not good:
        yield "no schedule fits: each has something that comes out wrong; see --all"
    if good and not any(offer.recommended for offer in good):
        untried = "without a shop no plan says how long they take, so none is recommended: "
        yield (
            f"{untried}finishsched new DIR makes one"
            if zone is None
            else "none of them can be recommended as things are: see what speaks against each"
        )
    shown = found if every else good[:_USUAL_SHOWN]
    for number, offer in enumerate(shown, start=1):
        mark = " (recommended)" if offer.recommended else ""
        yield f"{number}. {offer.schedule.id}: {offer.schedule.title}{mark}"
        yield from _offer_lines(offer, wanted, zone, units)
    planned = sum(offer.is_planned for offer in found)
    if zone is not None and any(not offer.is_planned for offer in good if offer.points > 0):
        best = f"the best {planned}"
        yield f"days are by this shop's plan for {best}; the others were not tried in it"
    left = len(found) - len(shown)
    if left > 0:
        yield f"{left} more with --all"


def _offer_lines(
    offer: Offer, wanted: Wanted, zone: tzinfo | None, units: ShownUnits
) -> Iterable[str]:
    for says in offer.refused:
        yield f"   refused: {says}"
    for says in offer.fits:
        yield f"   for      {says}"
    for says in offer.against:
        yield f"   against  {says}"
    yield f"   takes    {_time_words(offer, zone)}"
    if offer.late_days and wanted.due:
        days = counted(offer.late_days, "day")
        yield f"   late     {days} after {wanted.due.isoformat()}"
    yield f"   lays     {_material_words(offer, units)}"
    yield f"   off      {offer.comes_off}"


def _time_words(offer: Offer, zone: tzinfo | None) -> str:
    from finishsched.workshop.base.spans import span

    takes = offer.takes
    work = f"{span(takes.hands_on_min * 60, up=True)} of work"
    if takes.finish is None or zone is None:
        untried = "; not tried in the plan" if zone is not None else ""
        return f"{work}, {span(takes.waits_s)} of waits{untried}"
    evenings = counted(takes.evenings or 0, "evening")
    return f"{evenings}, {work}; finished {takes.finish.astimezone(zone):%a %d %b}"


def _material_words(offer: Offer, units: ShownUnits) -> str:
    from finishsched.units import MASS, VOLUME, show
    from finishsched.workshop.base.shown import um_number

    takes = offer.takes
    parts = []
    if takes.film_um is not None:
        low, high = (um_number(um, units) for um in (takes.film_um.low, takes.film_um.high))
        parts.append(f"{low} to {high} {units.film} of film")
    for product, amount, unit in takes.material:
        by_mass = unit == "g"
        shown = show(amount, MASS if by_mass else VOLUME, units.mass if by_mass else units.volume)
        parts.append(f"{shown} {product}")
    if takes.cost is not None:
        parts.append(f"{takes.cost[0]:.2f} {takes.cost[1]} in packs")
    else:
        parts.append("price unknown: packs in shop.yaml say it")
    solvent = show(takes.solvent_ml, VOLUME, units.volume, digits=2)
    return f"{'; '.join(parts)}; {solvent} of solvent goes into the room"

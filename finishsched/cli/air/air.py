"""``air``: what the air does to wood and film, and the readings of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import click

from finishsched.cli.common import (
    answer,
    dry_run_option,
    json_option,
    only_tries,
    shop_named,
    shop_option,
    why_option,
    world,
)
from finishsched.cli.faults import CommandError, Exit, Words
from finishsched.cli.shop_door import open_shop, read_instant
from finishsched.units import SPEED
from finishsched.workshop.base.shown import shown_of, tell_in

if TYPE_CHECKING:
    from finishsched.cli.air.air_limits import Limits
    from finishsched.drying.air import AirAnswer
    from finishsched.model.said import Teller
    from finishsched.model.shop import ShownUnits
    from finishsched.workshop.air.hygrometer.times import Order
    from finishsched.workshop.base.workshop import Workshop


@dataclass(frozen=True, slots=True)
class _Asked:
    """The options as they were written."""

    temperature: str | None
    humidity: str | None
    movement: str | None
    how: str
    add: bool
    surface: str | None
    at: str | None
    undo: bool
    product: str | None
    files: tuple[str, ...]
    watch: str | None
    dates: Order | None
    pieces: str | None = None

    def by_hand(self) -> dict[str, object]:
        """Return what belongs to one reading by hand, None for what was not given."""
        return {
            "--temperature": self.temperature,
            "--humidity": self.humidity,
            "--movement": self.movement,
            "--surface": self.surface,
            "--at": self.at,
            "--add": self.add or None,
            "--product": self.product,
            "PIECES": self.pieces,
        }


@click.command("air")
@click.argument("pieces", metavar="[PIECES]", required=False)
@click.option("--temperature", metavar="T", help="Of the air: '19 degC', '66 degF'.")
@click.option("--humidity", metavar="H", help="Relative humidity: '55 %'.")
@click.option(
    "--movement", metavar="V", help="Of the air, for a reading: '0.1 m/s' is a still room."
)
@click.option(
    "--how",
    type=click.Choice(["pad", "wipe", "brush", "spray"]),
    default="pad",
    show_default=True,
    help="How the next coat is applied.",
)
@click.option("--add", is_flag=True, help="Log this reading in the shop's journal.")
@click.option("--surface", metavar="T", help="Of the floor or the work, for --add.")
@click.option("--at", metavar="TIME", help="When it was read, for --add.")
@click.option("--undo", is_flag=True, help="Take back the reading that was logged last.")
@click.option(
    "--product", metavar="PRODUCT", help="Whose coating limits to tell; else those in hand."
)
@click.option(
    "--import",
    "files",
    metavar="CSV",
    multiple=True,
    help="Log the readings in a hygrometer's file; may be given again for another.",
)
@click.option(
    "--watch",
    metavar="CSV",
    help="Log readings as a logger appends them to a file, until ctrl-C.",
)
@click.option(
    "--dates",
    type=click.Choice(["day-first", "month-first"]),
    help="How to read 03/04/2026, where a file leaves it open.",
)
@dry_run_option
@shop_option
@why_option
@json_option
def command(shop: str | None, why: bool, as_json: bool, **options: Any) -> int:
    """Say dew point, wet bulb, wood moisture and the risk of blush.

    Without values it takes the shop's last reading, or the usual air of its document. With PIECES
    it tells the limits of their next coats: one, a list with commas, a job, a pattern or all.
    """
    asked = _Asked(**options)
    words = Words()
    if asked.undo:
        others = {"--import": asked.files or None, "--watch": asked.watch}
        _alone(words, "--undo", {**asked.by_hand(), **others})
        return _undo(shop, as_json=as_json)
    if asked.files or asked.watch is not None:
        _from_files_alone(words, asked)
        return _from_files(shop, asked, as_json=as_json)
    if asked.dates is not None:
        words.fault("--dates goes with --import or --watch; leave it out")
    return _by_hand(words, shop, asked, why=why, as_json=as_json)


def _by_hand(words: Words, shop: str | None, asked: _Asked, *, why: bool, as_json: bool) -> Exit:
    """Answer for the values that are given, or for the shop's own."""
    from finishsched.cli.air.air_limits import limit_data, limit_lines
    from finishsched.cli.air.air_words import air_data, air_lines
    from finishsched.drying.air import air_answer
    from finishsched.drying.laws import HUMIDITY_CAVEAT

    given, surface_c = _given(words, shop, asked)
    here = _here(shop, given, surface_c)
    reading = _refusing_impossible(lambda: air_answer(*here.values, asked.how))
    limits = _limits(shop, asked, here)
    origin = "logged" if asked.add else here.origin
    said = ", ".join(filter(None, (origin, here.age)))
    answer(
        as_json,
        lambda: {
            **air_data(reading, here.tell),
            "origin": origin,
            "read_at": here.read_at,
            "too_old": here.is_old,
            "surface_read_c": here.surface_c,
            "limits": [limit_data(limit) for limit in limits],
            "caveat": HUMIDITY_CAVEAT,
        },
        lambda: (*air_lines(reading, said, here.tell, why=why), *limit_lines(limits, here.tell)),
    )
    return Exit.DONE


def _given(
    words: Words, shop: str | None, asked: _Asked
) -> tuple[tuple[float, float] | None, float | None]:
    """Return the air as given, if it is, and the floor or the work; log them where asked to."""
    from finishsched.cli.air.air_read import read_air, read_surface

    temperature_c, humidity_percent = read_air(words, asked.temperature, asked.humidity)
    movement_m_per_s = words.read("--movement", asked.movement, SPEED)
    surface_c = read_surface(words, asked.surface)
    if asked.product is not None and asked.pieces is not None:
        words.fault("--product and PIECES both say whose limits; give one of them")
    if surface_c is not None and not asked.add:
        words.fault("--surface belongs to a reading that is logged; add --add")
    _both_or_neither(words, (temperature_c, humidity_percent), add=asked.add)
    words.settle()
    if temperature_c is None or humidity_percent is None:
        return None, surface_c
    given = (temperature_c, humidity_percent)
    if asked.add:
        _add(shop, given, movement_m_per_s, surface_c, asked.at)
    return given, surface_c


def _from_files_alone(words: Words, asked: _Asked) -> None:
    option = "--import" if asked.files else "--watch"
    for name, value in asked.by_hand().items():
        if value is not None:
            words.fault(f"{name} is for one reading by hand; leave it out beside {option}")
    if asked.watch is not None and only_tries():
        words.fault("--watch goes on until it is ended; see --import with --dry-run")
    if asked.files and asked.watch is not None:
        words.fault("--watch takes what is in its file too; give --import or --watch")
    words.settle()


def _from_files(shop: str | None, asked: _Asked, *, as_json: bool) -> Exit:
    from finishsched.cli.air.air_files import import_files, watch_file

    if asked.watch is not None:
        return watch_file(shop, asked.watch, asked.dates, as_json=as_json)
    return import_files(shop, asked.files, asked.dates, as_json=as_json)


def _both_or_neither(words: Words, given: tuple[float | None, float | None], *, add: bool) -> None:
    if (given[0] is None) != (given[1] is None):
        words.fault("--temperature and --humidity go together; give both, or neither")
    elif add and given[0] is None:
        words.fault("--add needs a reading; give --temperature '19 degC' --humidity '55 %'")


def _refusing_impossible(reading: Callable[[], AirAnswer]) -> AirAnswer:
    try:
        return reading()
    except ValueError as error:
        raise CommandError(str(error)) from None


@dataclass(frozen=True, slots=True)
class _Here:
    """The air asked about, and where it is from."""

    values: tuple[float, float]
    tell: Teller
    """In the shop's units."""
    origin: str = "as given"
    read_at: str | None = None
    is_old: bool = False
    surface_c: float | None = None
    age: str = ""
    """In words, for people."""


def _here(shop: str | None, given: tuple[float, float] | None, surface_c: float | None) -> _Here:
    """Return the air that is given, or the shop's last reading, or its usual air."""
    if given is not None:
        return _Here(given, tell_in(_units(shop)), surface_c=surface_c)
    if shop_named(shop) is None:
        raise CommandError(
            "no values and no shop here; give --temperature '19 degC' --humidity '55 %'"
        )
    from finishsched.journal.events import utc_text
    from finishsched.workshop.base.spans import span

    now = world().now()
    from finishsched.workshop.views.views import bench_view

    with open_shop(shop, now) as workshop:
        air = bench_view(workshop, now).air
        tell = tell_in(workshop.papers.shop.units)
    values = (air.answer.temperature_c, air.answer.humidity_percent)
    if air.read_at is None:
        return _Here(values, tell, "the shop's usual air", age="no reading yet")
    age = f"{span((now - air.read_at).total_seconds())} ago"
    age = f"{age}: too old, read it anew" if air.is_old else age
    read_at = utc_text(air.read_at, "seconds")
    return _Here(values, tell, "last reading", read_at, air.is_old, air.surface_c, age)


def _limits(shop: str | None, asked: _Asked, here: _Here) -> tuple[Limits, ...]:
    """Return the limits of the product that is named, else of those of the coats in hand."""
    from finishsched.cli.air.air_limits import limits_of

    if shop_named(shop) is None and asked.product is None and asked.pieces is None:
        return ()
    if shop_named(shop) is None and asked.pieces is None:
        from finishsched.documents.library import shipped_products

        known = shipped_products()
        named = [asked.product or ""]
        return limits_of(known, named, here.values, here.surface_c, asked.how, here.tell)
    with open_shop(shop, world().now()) as workshop:
        named = [asked.product] if asked.product is not None else _laid(workshop, asked.pieces)
        known = workshop.papers.products
        return limits_of(known, named, here.values, here.surface_c, asked.how, here.tell)


def _laid(workshop: Workshop, pieces: str | None) -> list[str]:
    """Return the products of the coats in hand; of pieces that are named, of their next coats."""
    from finishsched.workshop.standing.several import find_several
    from finishsched.workshop.standing.sitting import next_laid
    from finishsched.workshop.views.views import due_answer

    if pieces is not None:
        steps = [next_laid(standing) for standing in find_several(workshop, pieces)]
    else:
        at_hand = due_answer(workshop, world().now()).at_hand
        steps = [view.step for view in at_hand if view.step and view.step.verb.lays_coats]
    return list(dict.fromkeys(step.product for step in steps if step and step.product))


def _alone(words: Words, option: str, others: dict[str, object]) -> None:
    for name, value in others.items():
        if value is not None:
            words.fault(f"{option} stands alone; leave out {name}")
    words.settle()


def _undo(shop: str | None, *, as_json: bool) -> Exit:
    from finishsched.journal.events import utc_text
    from finishsched.workshop.air.reading_entries import undo_air
    from finishsched.workshop.base.spans import wall

    now = world().now()
    with open_shop(shop, now) as workshop:
        reading = undo_air(workshop.append, now)
        shown, zone = shown_of(workshop.papers.shop), workshop.zone
    air = reading.air
    words = f"{shown.degrees(air.temperature_c)}, {air.humidity_percent:g} %"
    answer(
        as_json,
        lambda: {
            "undone": {
                "at": utc_text(reading.at, "seconds"),
                "temperature_c": air.temperature_c,
                "humidity_percent": air.humidity_percent,
            }
        },
        lambda: (f"undone: the reading of {wall(reading.at, now, zone)}, {words}",),
    )
    return Exit.DONE


def _add(
    shop: str | None,
    given: tuple[float, float],
    movement_m_per_s: float | None,
    surface_c: float | None,
    at: str | None,
) -> None:
    from finishsched.model.shop import Air
    from finishsched.workshop.air.reading_entries import add_air

    now = world().now()
    with open_shop(shop, now) as workshop:
        usual = workshop.papers.shop.usual_air.movement_m_per_s
        air = Air(
            given[0],
            given[1],
            movement_m_per_s if movement_m_per_s is not None else usual,
            read_instant(at, workshop.zone),
        )
        add_air(workshop, air, now, surface_c=surface_c)


def _units(shop: str | None) -> ShownUnits:
    folder = shop_named(shop)
    if folder is None:
        from finishsched.model.shop import ShownUnits

        return ShownUnits()
    from finishsched.workshop.base.documents import shop_document

    return shop_document(folder).units

"""``air``: what the air does to wood and film, and the readings of it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, Any

import click

from finishsched.cli.common import answer, json_option, shop_named, shop_option, why_option, world
from finishsched.cli.faults import CommandError, Exit, Words
from finishsched.cli.shop_door import open_shop, read_instant
from finishsched.units import HUMIDITY, SPEED, TEMPERATURE, show

if TYPE_CHECKING:
    from finishsched.drying.air import AirAnswer
    from finishsched.workshop.hygrometer.times import Order


@click.command("air")
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
@click.option("--at", metavar="TIME", help="When it was read, for --add.")
@click.option(
    "--import",
    "files",
    metavar="CSV",
    multiple=True,
    help="Log the readings in a hygrometer's file; may be given again for another.",
)
@click.option(
    "--watch", metavar="CSV", help="Log readings as a logger appends them to a file, until ctrl-C."
)
@click.option(
    "--dates",
    type=click.Choice(["day-first", "month-first"]),
    help="How to read 03/04/2026, where a file leaves it open.",
)
@shop_option
@why_option
@json_option
def command(  # one parameter for each option
    temperature: str | None,
    humidity: str | None,
    movement: str | None,
    how: str,
    add: bool,
    at: str | None,
    files: tuple[str, ...],
    watch: str | None,
    dates: Order | None,
    shop: str | None,
    why: bool,
    as_json: bool,
) -> int:
    """Say dew point, wet bulb, wood moisture and the risk of blush.

    Without values it takes the shop's last reading, or the usual air of its document.
    """
    from finishsched.drying.air import air_answer

    words = Words()
    if files or watch is not None:
        by_hand = {"--temperature": temperature, "--humidity": humidity, "--movement": movement}
        _from_files_alone(words, {**by_hand, "--at": at, "--add": add or None}, files, watch)
        return _from_files(shop, files, watch, dates, as_json=as_json)
    if dates is not None:
        words.fault("--dates goes with --import or --watch; leave it out")
    given = (
        words.read("--temperature", temperature, TEMPERATURE),
        words.read("--humidity", humidity, HUMIDITY),
    )
    movement_m_per_s = words.read("--movement", movement, SPEED)
    _both_or_neither(words, given, add=add)
    words.settle()
    origin = "as given"
    if given[0] is None or given[1] is None:
        found, origin = _from_shop(shop)
    else:
        found = (given[0], given[1])
    reading = _refusing_impossible(lambda: air_answer(*found, how))
    if add:
        _add(shop, reading, movement_m_per_s, at)
        origin = "logged"
    answer(
        as_json,
        lambda: {**_data(reading), "origin": origin},
        lambda: _lines(reading, origin, _unit(shop), why=why),
    )
    return Exit.DONE


def _from_files_alone(
    words: Words, by_hand: dict[str, object], files: tuple[str, ...], watch: str | None
) -> None:
    option = "--import" if files else "--watch"
    for name, value in by_hand.items():
        if value is not None:
            words.fault(f"{name} is for one reading by hand; leave it out beside {option}")
    if files and watch is not None:
        words.fault("--watch takes what is in its file too; give --import or --watch")
    words.settle()


def _from_files(
    shop: str | None,
    files: tuple[str, ...],
    watch: str | None,
    dates: Order | None,
    *,
    as_json: bool,
) -> Exit:
    from finishsched.cli.air_files import import_files, watch_file

    if watch is not None:
        return watch_file(shop, watch, dates, as_json=as_json)
    return import_files(shop, files, dates, as_json=as_json)


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


def _from_shop(shop: str | None) -> tuple[tuple[float, float], str]:
    if shop_named(shop) is None:
        raise CommandError(
            "no values and no shop here; give --temperature '19 degC' --humidity '55 %'"
        )
    with open_shop(shop, world().now()) as workshop:
        air = workshop.bench_view(world().now()).air
        values = (air.answer.temperature_c, air.answer.humidity_percent)
        return values, "last reading" if air.read_at else "the shop's usual air"


def _add(
    shop: str | None, reading: AirAnswer, movement_m_per_s: float | None, at: str | None
) -> None:
    from finishsched.model.shop import Air

    now = world().now()
    with open_shop(shop, now) as workshop:
        usual = workshop.papers.shop.usual_air.movement_m_per_s
        air = Air(
            reading.temperature_c,
            reading.humidity_percent,
            movement_m_per_s if movement_m_per_s is not None else usual,
            read_instant(at, workshop.zone),
        )
        workshop.add_air(air, now)


def _unit(shop: str | None) -> str:
    folder = shop_named(shop)
    if folder is None:
        return "degC"
    from finishsched.workshop.folder import shop_document

    return shop_document(folder).units.temperature


def _data(reading: AirAnswer) -> dict[str, Any]:
    return {
        "temperature_c": reading.temperature_c,
        "humidity_percent": reading.humidity_percent,
        "dew_point_c": round(reading.dew_point_c, 3),
        "wet_bulb_c": round(reading.wet_bulb_c, 3),
        "emc_percent": round(reading.emc_percent, 3),
        "surface_c": round(reading.surface_c, 3),
        "blush_risk": reading.blush_risk.value,
        "blush_margin_c": round(reading.blush_margin_k, 3),
        "how": reading.how,
        "reason": reading.reason,
    }


def _lines(reading: AirAnswer, origin: str, unit: str, *, why: bool) -> Iterable[str]:
    def degrees(value: float) -> str:
        return show(value, TEMPERATURE, unit)

    yield f"{degrees(reading.temperature_c)}, {reading.humidity_percent:g} % humidity ({origin})"
    yield f"  dew point {degrees(reading.dew_point_c)}, wet bulb {degrees(reading.wet_bulb_c)}"
    yield f"  wood comes to {reading.emc_percent:.1f} % moisture"
    yield f"  blush {reading.blush_risk.value}: {reading.reason}"
    if why:
        yield "  why  dew point and wet bulb by Hyland-Wexler: ASHRAE Fundamentals 2017, chapter 1"
        yield "  why  wood moisture: USDA Wood Handbook, chapter 4"
        yield f"  why  film at {degrees(reading.surface_c)}: cooled towards alcohol's own wet bulb"

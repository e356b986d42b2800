"""``log``: an entry about a piece, or the undoing of the last one."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import click

from finishsched.cli.common import answer, json_option, shop_option, world
from finishsched.cli.faults import CommandError, Words
from finishsched.cli.shop_door import open_shop, read_instant, tell
from finishsched.units import SHARE
from finishsched.workshop.base.entries import ENTRY_NAMES, Entry

if TYPE_CHECKING:
    from datetime import datetime

    from finishsched.journal.events import Event
    from finishsched.model.shop import Air
    from finishsched.workshop.base.answers import LogLine, PieceView
    from finishsched.workshop.base.entries import What
    from finishsched.workshop.base.workshop import Workshop


@click.command("log")
@click.argument("piece")
@click.argument("words", nargs=-1, metavar="[STEP] ENTRY [TEXT]...")
@click.option(
    "--at", metavar="TIME", help="When it happened: 18:30, yesterday 18:30, or a date and time."
)
@click.option("--by", default="", metavar="NAME", help="Whose hands.")
@click.option("--batch", default="", metavar="NAME", help="Which batch or jar was used.")
@click.option("--used", metavar="VOLUME|MASS", help="How much was used, such as '18 ml'.")
@click.option("--temperature", metavar="T", help="Of the air at this coat, such as '19 degC'.")
@click.option("--humidity", metavar="H", help="Of the air at this coat, such as '55 %'.")
@click.option("--moisture", metavar="M", help="Of the wood, measured at 'done': '11 %'.")
@click.option("--kind", default="", metavar="SEEN", help="Of a defect: blush, sag, 'dust nib'.")
@shop_option
@json_option
def command(
    piece: str, words: tuple[str, ...], shop: str | None, as_json: bool, **options: Any
) -> None:
    """Log an entry about PIECE.

    ENTRY is one of start, done, ready, not ready, skipped, defect, note, adopt, undo, anew. STEP
    is a number or 'now'; left out, it is the step in hand. TEXT is the reason, the note or the
    defect. 'anew' begins a piece that was stripped at its first step again; the record keeps both.
    """
    from finishsched.workshop.log.log import log_entry
    from finishsched.workshop.standing.views import bench_view, piece_view

    what, step, text = _entry(words)
    entry = _read(Entry(what, piece, step, text), options)
    now = world().now()
    with open_shop(shop, now) as workshop:
        entry = replace(entry, at=read_instant(options["at"], workshop.zone))
        before = piece_view(workshop, piece, now).log
        event = log_entry(workshop, entry, now)
        tell(bench_view(workshop, now).notices)
        _answer(workshop, event, before, now, as_json=as_json)


def _read(entry: Entry, options: dict[str, Any]) -> Entry:
    """Return the entry with what the options say of it; every fault in them is told."""
    reader = Words()
    amount_ml, amount_g = _used(reader, options["used"])
    air = _air(reader, options["temperature"], options["humidity"])
    moisture_percent = reader.read("--moisture", options["moisture"], SHARE)
    reader.settle()
    return replace(
        entry,
        by=options["by"],
        batch=options["batch"],
        amount_ml=amount_ml,
        amount_g=amount_g,
        air=air,
        seen=options["kind"],
        moisture_percent=moisture_percent,
    )


def _answer(
    workshop: Workshop, event: Event, before: tuple[LogLine, ...], now: datetime, *, as_json: bool
) -> None:
    """Say what was logged, what is next, and what to mind."""
    from finishsched.cli.safety.rags import rags_data
    from finishsched.cli.work.piece_words import after_entry
    from finishsched.journal.events import StepDone
    from finishsched.journal.events import as_json as event_json
    from finishsched.workshop.base.words import one_line
    from finishsched.workshop.log.log import remarks_on
    from finishsched.workshop.safety.rags import open_rags
    from finishsched.workshop.standing.views import piece_view

    view = piece_view(workshop, event.piece or "", now)
    warnings = remarks_on(workshop, event, now)
    done = isinstance(event.what, StepDone)
    data: dict[str, Any] = {
        "event": event_json(event),
        "warnings": list(warnings),
        "rags": rags_data(open_rags(workshop, now))["rags"] if done else [],
    }
    answer(
        as_json,
        lambda: data,
        lambda: (
            *after_entry(view, _logged(event, view, before), workshop.zone),
            *(f"  mind: {one_line(warning)}" for warning in warnings),
            *_after_defect(view.ref, data["event"]),
            *_after_oil([one for one in data["rags"] if view.ref in one["pieces"]]),
        ),
    )


def _logged(event: Event, view: PieceView, before: tuple[LogLine, ...]) -> str:
    """Return in words what was logged; of an undo, what it took back."""
    from finishsched.journal.events import Undone

    if isinstance(event.what, Undone):
        note = f" ({event.what.note})" if event.what.note else ""
        return f"undone {before[0].text}{note}" if before else f"undone{note}"
    return f"logged {view.log[0].text}" if view.log else f"logged {event.what.kind}"


def _after_defect(ref: str, event: dict[str, Any]) -> tuple[str, ...]:
    """Say where to ask on, after a defect that has a name."""
    if not event.get("seen") or event["kind"] != "defect":
        return ()
    return (f"  what made it, and how to put it right: finishsched defect {ref}",)


def _after_oil(rags: list[dict[str, Any]]) -> tuple[str, ...]:
    """Say what to do with the rags of a step just logged, where they heat by themselves."""
    if not rags:
        return ()
    from finishsched.safety.cautions import DEFERRAL

    words = dict.fromkeys(one["words"] for one in rags)
    return (*(f"  rags: {text}" for text in words), f"        {DEFERRAL}")


def _entry(words: tuple[str, ...]) -> tuple[What, str | None, str]:
    """Return the kind of entry, its step and its text from the words after the piece."""
    for start in (0, 1):
        for length in (2, 1):
            name = " ".join(words[start : start + length]).lower()
            if len(words) >= start + length and name in ENTRY_NAMES:
                step = words[0] if start and words[0].lower() != "now" else None
                return ENTRY_NAMES[name], step, " ".join(words[start + length :])
    given = f"{words[min(1, len(words) - 1)]!r} is no entry" if words else "the entry is missing"
    raise CommandError(
        f"{given}; write done, ready, not ready, skipped, defect, note, start, adopt, anew or undo"
    )


def _used(reader: Words, used: str | None) -> tuple[float | None, float | None]:
    from finishsched.cli.mixing.mixing_words import volume_or_mass

    return (None, None) if used is None else volume_or_mass(reader, "--used", used)


def _air(reader: Words, temperature: str | None, humidity: str | None) -> Air | None:
    from finishsched.cli.air.air_read import read_air
    from finishsched.model.shop import Air

    temperature_c, humidity_percent = read_air(reader, temperature, humidity)
    if (temperature_c is None) != (humidity_percent is None):
        reader.fault("the air of a coat needs both; give --temperature and --humidity")
    if temperature_c is None or humidity_percent is None:
        return None
    return Air(temperature_c, humidity_percent)

"""``log``: an entry about a piece, or the undoing of the last one."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from finishsched.cli.common import answer, json_option, shop_option, world
from finishsched.cli.faults import CommandError, Words
from finishsched.cli.shop_door import open_shop, read_instant, tell
from finishsched.units import HUMIDITY, SHARE, TEMPERATURE

if TYPE_CHECKING:
    from finishsched.model.shop import Air
    from finishsched.workshop.answers import LogLine, PieceView
    from finishsched.workshop.entries import What

_NAMES = {
    "start": "start",
    "done": "done",
    "ready": "ready",
    "not ready": "not ready",
    "not-ready": "not ready",
    "not yet": "not ready",
    "not-yet": "not ready",
    "skipped": "skipped",
    "skip": "skipped",
    "defect": "defect",
    "note": "note",
    "adopt": "adopt",
    "undo": "undo",
}


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
def command(  # one parameter for each option
    piece: str,
    words: tuple[str, ...],
    at: str | None,
    by: str,
    batch: str,
    used: str | None,
    temperature: str | None,
    humidity: str | None,
    moisture: str | None,
    kind: str,
    shop: str | None,
    as_json: bool,
) -> None:
    """Log an entry about PIECE.

    ENTRY is one of start, done, ready, not ready, skipped, defect, note, adopt, undo. STEP is a
    number or 'now'; left out, it is the step in hand. TEXT is the reason, the note or the defect.
    """
    from finishsched.workshop.entries import Entry

    step, what, text = _entry(words)
    reader = Words()
    amount_ml, amount_g = _used(reader, used)
    air = _air(reader, temperature, humidity)
    moisture_percent = reader.read("--moisture", moisture, SHARE)
    reader.settle()
    now = world().now()
    with open_shop(shop, now) as workshop:
        entry = Entry(
            what=what,
            piece=piece,
            step=step,
            text=text,
            at=read_instant(at, workshop.zone),
            by=by,
            batch=batch,
            amount_ml=amount_ml,
            amount_g=amount_g,
            air=air,
            seen=kind,
            moisture_percent=moisture_percent,
        )
        before = workshop.piece(piece, now).log
        event = workshop.log(entry, now)
        view = workshop.piece(piece, now)
        tell(workshop.bench_view(now).notices)
        from finishsched.cli.piece_words import after_entry
        from finishsched.cli.rags import rags_data
        from finishsched.journal.events import as_json as event_json
        from finishsched.workshop.entries import What
        from finishsched.workshop.safety_rags import open_rags
        from finishsched.workshop.words import one_line

        warnings = workshop.remarks(event, now)
        data: dict[str, Any] = {
            "event": event_json(event),
            "warnings": list(warnings),
            "rags": rags_data(open_rags(workshop, now))["rags"] if entry.what is What.DONE else [],
        }
        answer(
            as_json,
            lambda: data,
            lambda: (
                *after_entry(view, _logged(what.value, view, before), workshop.zone),
                *(f"  mind: {one_line(warning)}" for warning in warnings),
                *_after_defect(view.ref, data["event"]),
                *_after_oil([one for one in data["rags"] if view.ref in one["pieces"]]),
            ),
        )


def _logged(what: str, view: PieceView, before: tuple[LogLine, ...]) -> str:
    """Return in words what was logged; of an undo, what it took back."""
    if what == "undo":
        return f"undone {before[0].text}" if before else "undone"
    return f"logged {view.log[0].text}" if view.log else f"logged {what}"


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


def _entry(words: tuple[str, ...]) -> tuple[str | None, What, str]:
    """Return the step, the kind of entry and its text from the words after the piece."""
    for start in (0, 1):
        for length in (2, 1):
            name = " ".join(words[start : start + length]).lower()
            if len(words) >= start + length and name in _NAMES:
                step = words[0] if start and words[0].lower() != "now" else None
                return step, _what(name), " ".join(words[start + length :])
    given = f"{words[min(1, len(words) - 1)]!r} is no entry" if words else "the entry is missing"
    raise CommandError(
        f"{given}; write done, ready, not ready, skipped, defect, note, start, adopt or undo"
    )


def _what(name: str) -> What:
    from finishsched.workshop.entries import What

    return What(_NAMES[name])


def _used(reader: Words, used: str | None) -> tuple[float | None, float | None]:
    from finishsched.cli.mixing_words import volume_or_mass

    return (None, None) if used is None else volume_or_mass(reader, "--used", used)


def _air(reader: Words, temperature: str | None, humidity: str | None) -> Air | None:
    from finishsched.model.shop import Air

    temperature_c = reader.read("--temperature", temperature, TEMPERATURE)
    humidity_percent = reader.read("--humidity", humidity, HUMIDITY)
    if (temperature_c is None) != (humidity_percent is None):
        reader.fault("the air of a coat needs both; give --temperature and --humidity")
    if temperature_c is None or humidity_percent is None:
        return None
    return Air(temperature_c, humidity_percent)

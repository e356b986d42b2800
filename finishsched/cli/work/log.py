"""``log``: an entry about one piece or several, a sitting told afterwards, or taking one back."""

from __future__ import annotations

from contextlib import nullcontext
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import click

from finishsched.cli.common import answer, json_option, shop_option, world
from finishsched.cli.faults import CommandError, Words
from finishsched.cli.shop_door import (
    keep_as_told,
    news_among,
    open_shop,
    read_ahead,
    read_instant,
    tell_notices,
)
from finishsched.units import DURATION, SHARE
from finishsched.workshop.base.entries import ENTRY_NAMES, Entry, What

if TYPE_CHECKING:
    from datetime import datetime
    from pathlib import Path

    from finishsched.model.shop import Air
    from finishsched.workshop.base.workshop import Workshop
    from finishsched.workshop.log.log import Taken
    from finishsched.workshop.log.sitting import Sat


@click.command("log")
@click.argument("piece", metavar="PIECES")
@click.argument("words", nargs=-1, metavar="[STEP] ENTRY [TEXT]...")
@click.option(
    "--at", metavar="TIME", help="When it happened: 18:30, yesterday 18:30, or a date and time."
)
@click.option("--by", default="", metavar="NAME", help="Whose hands.")
@click.option("--batch", default="", metavar="NAME", help="Which batch or jar was used.")
@click.option("--used", metavar="VOLUME|MASS", help="How much, for all: '18 ml', '1 tsp'.")
@click.option("--took", metavar="TIME", help="Hands-on at 'done', for all together: '25 min'.")
@click.option("--temperature", metavar="T", help="Of the air at this coat: '19 degC', '66 degF'.")
@click.option("--humidity", metavar="H", help="Of the air at this coat, such as '55 %'.")
@click.option("--moisture", metavar="M", help="Of the wood, measured at 'done': '11 %'.")
@click.option("--kind", default="", metavar="SEEN", help="Of a defect: blush, sag, 'dust nib'.")
@click.option(
    "--measured",
    default="",
    metavar="WHAT",
    help="'veneer 0.42 mm at the top edge', 'holly 0.2 mm proud'.",
)
@click.option(
    "--reading", default="", metavar="WHAT", help="'gloss 60: 42', 'colour 42 18 22', 'pencil 2H'."
)
@click.option(
    "--picture", multiple=True, metavar="FILE", help="Of the step: before and after, if two."
)
@click.option("--caption", default="", metavar="TEXT", help="With --picture: what it shows.")
@click.option("--coats", type=int, metavar="N", help="A sitting told afterwards: coats on each.")
@click.option("--every", metavar="SPAN", help="With --coats: how far apart on a piece, '6 min'.")
@click.option("--from", "since", metavar="TIME", help="With --coats: when the first was laid.")
@click.option("--for", "span", metavar="SPAN", help="Of wait and extra: how long, '20 min'.")
@click.option("--until", metavar="TIME", help="Of wait: when it is over, 'tomorrow 8:00'.")
@click.option("--size", metavar="SIZE", help="Of a defect: '8 x 12 mm', or '1/2 in' across.")
@click.option("--entry", type=int, metavar="N", help="Of undo and amend: the entry's number.")
@click.option("--and-later", is_flag=True, help="Of undo: take back what hangs on it as well.")
@click.option("--to", default="", metavar="PIECE", help="Of amend: the piece that was meant.")
@click.option("--dry-run", is_flag=True, help="Say what would be logged, and log nothing.")
@shop_option
@json_option
def command(
    piece: str,
    words: tuple[str, ...],
    shop: str | None,
    as_json: bool,
    dry_run: bool,
    **options: Any,
) -> None:
    """Log an entry about PIECES; or list those of a piece with their numbers.

    PIECES is a piece, or several: a list with commas, the name of those alike, a job, a pattern
    such as 'front-*', a span such as 'front-3 to 7', all, or LIST,together for what is at the same
    step; a minus leaves one out. It is all of it or nothing, and one undo takes it back as it was
    given.

    ENTRY is one of start, done, ready, not ready, early, go on, skipped, defect, note, adopt, undo,
    amend, anew, join, part, wait, extra. STEP is a number or 'now'; left out, it is the step in
    hand. TEXT is the reason, the note or the defect. 'early' goes on before it was found ready,
    with the reason: the record shows it, and no wait is learnt from it. 'go on' is the next coat of
    a sitting: the one before had dried. 'undo' takes back the newest entry, or the one that STEP or
    --entry names; 'amend' tells it otherwise. 'join' has pieces worked together for the evening,
    'part' ends it. 'anew' begins a piece that was stripped at its first step again; the record
    keeps both. 'wait' and 'extra' give this piece a clock or a step beside its schedule: wait patch
    glued --until 'tomorrow 8:00'.

    'entries' lists what was logged, with numbers. For example:

    finishsched log lid,front,back done --coats 5 --every '6 min'.
    """
    now = world().now()
    if words == ("entries",):
        _list(piece, shop, now, as_json=as_json)
        return
    if options["measured"] or options["reading"]:
        _log_measured(piece, words, options, shop, now, as_json=as_json)
        return
    what, step, text = _entry(piece, words)
    entry, sat = _read(Entry(what, piece, step, text), options)
    with open_shop(shop, now) as workshop:
        entry = replace(
            entry,
            at=read_instant(options["at"], workshop.zone),
            until=read_ahead(options["until"], workshop.zone, "--until"),
        )
        if sat is not None:
            sat = replace(sat, began_at=read_instant(options["since"], workshop.zone, "--from"))
        # What an undo takes back is told from how it was before.
        before = workshop.book()
        pictures = _pictures(workshop, options["picture"]) if options["picture"] else ()
        # An entry and its pictures are one: whatever stops the program, there are both or neither.
        with workshop.in_one_write() if pictures and not dry_run else nullcontext():
            taken = _take(workshop, entry, sat, now, trial=dry_run)
            if pictures and not dry_run:
                from finishsched.workshop.papers.picture_entries import attach_at_step

                caption = options["caption"] or (text if what is What.NOTE else "")
                attach_at_step(workshop, taken.events, pictures, caption, now)
        from finishsched.cli.work.log_words import taken_data, taken_lines
        from finishsched.workshop.safety.rags import open_rags, rags_made

        rags = open_rags(workshop, now)
        if rags_made(workshop, rags, taken.events):
            keep_as_told(workshop, rags.notices, now)
        tell_notices(workshop, now)

        answer(
            as_json,
            lambda: taken_data(workshop, taken, now),
            lambda: taken_lines(
                workshop,
                taken,
                before,
                now,
                lambda texts: news_among(workshop, texts, now, options["by"]),
            ),
        )


def _log_measured(
    piece: str,
    words: tuple[str, ...],
    options: dict[str, Any],
    shop: str | None,
    now: datetime,
    *,
    as_json: bool,
) -> None:
    """Take what was measured of veneer or inlay, or read of the surface: an entry by itself."""
    if words or (options["measured"] and options["reading"]):
        given = "--measured" if options["measured"] else "--reading"
        raise CommandError(f"{given} is an entry by itself; leave the rest out, or the option")
    with open_shop(shop, now) as workshop:
        from finishsched.journal.events import as_json as event_json
        from finishsched.model.readings import read_reading
        from finishsched.workshop.base.shown import shown_of
        from finishsched.workshop.base.words import entry_words
        from finishsched.workshop.film.gauge_entries import left_of, log_film
        from finishsched.workshop.film.surfaces import surface_words
        from finishsched.workshop.standing.where import find

        at = read_instant(options["at"], workshop.zone)
        read = options["reading"]
        entry = read_reading(read) if read else left_of(options["measured"])
        event = log_film(workshop, piece, entry, now, at=at, by=options["by"])
        said = entry_words(event.what, {}, shown_of(workshop.papers.shop))

        def _surface() -> tuple[tuple[str, str], ...]:
            if not read:
                return ()
            book = workshop.book()
            return tuple(surface_words(find(workshop, event.piece or piece, book), book))

        answer(
            as_json,
            lambda: {"event": event_json(event), "surface": dict(_surface())},
            lambda: (
                f"{event.piece}: logged {said}",
                *(f"  {name}: {said}" for name, said in _surface()),
            ),
        )


def _pictures(workshop: Workshop, names: tuple[str, ...]) -> tuple[Path, ...]:
    """Return the pictures named, once all of them can be attached: before anything is logged."""
    from finishsched.workshop.papers.picture_entries import picture_path

    files = tuple(world().cwd / name for name in names)
    for file in files:
        picture_path(workshop, file)
    return files


def _take(
    workshop: Workshop, entry: Entry, sat: Sat | None, now: datetime, *, trial: bool
) -> Taken:
    if sat is not None:
        from finishsched.workshop.log.sitting import log_sitting

        return log_sitting(workshop, entry, sat, now, trial=trial)
    from finishsched.workshop.log.log import log_entries

    return log_entries(workshop, entry, now, trial=trial)


def _list(piece: str, shop: str | None, now: datetime, *, as_json: bool) -> None:
    from finishsched.cli.work.log_words import listed_data, listed_lines

    with open_shop(shop, now) as workshop:
        answer(
            as_json,
            lambda: listed_data(workshop, piece),
            lambda: listed_lines(workshop, piece, now),
        )


def _read(entry: Entry, options: dict[str, Any]) -> tuple[Entry, Sat | None]:
    """Return the entry with what the options say of it; every fault in them is told."""
    from finishsched.workshop.base.typed import read_size

    reader = Words()
    amount_ml, amount_g = _used(reader, options["used"])
    air = _air(reader, options["temperature"], options["humidity"])
    moisture_percent = reader.read("--moisture", options["moisture"], SHARE)
    every_s = reader.read("--every", options["every"], DURATION)
    took_s = reader.read("--took", options["took"], DURATION)
    span_s = reader.read("--for", options["span"], DURATION)
    area_m2 = reader.take("--size", options["size"], read_size)
    if (span_s is not None or options["until"]) and not entry.what.is_own_step:
        reader.fault("--for and --until belong to 'wait' and 'extra'; leave them out")
    if area_m2 is not None and entry.what is not What.DEFECT:
        reader.fault("--size belongs to 'defect'; leave it out")
    if options["coats"] is None and (options["every"] or options["since"]):
        reader.fault("--every and --from tell a sitting; give --coats too")
    if options["and_later"] and entry.what is not What.UNDO:
        reader.fault("--and-later belongs to 'undo'; leave it out")
    if options["to"] and entry.what is not What.AMEND:
        reader.fault("--to belongs to 'amend'; leave it out, or write amend")
    if options["entry"] is not None and entry.what not in (What.UNDO, What.AMEND):
        reader.fault("--entry belongs to 'undo' and 'amend'; leave it out")
    reader.settle()
    told = replace(
        entry,
        by=options["by"],
        batch=options["batch"],
        amount_ml=amount_ml,
        amount_g=amount_g,
        air=air,
        seen=options["kind"],
        moisture_percent=moisture_percent,
        took_min=None if took_s is None else took_s / 60,
        number=options["entry"],
        and_later=options["and_later"],
        to=options["to"],
        span_s=span_s,
        area_m2=area_m2,
    )
    if options["coats"] is None:
        return told, None
    from finishsched.workshop.log.sitting import Sat

    return told, Sat(options["coats"], every_s)


def _entry(piece: str, words: tuple[str, ...]) -> tuple[What, str | None, str]:
    """Return the kind of entry, its step and its text from the words after the piece."""
    for start in (0, 1):
        for length in (2, 1):
            name = " ".join(words[start : start + length]).lower()
            if len(words) >= start + length and name in ENTRY_NAMES:
                step = words[0] if start and words[0].lower() != "now" else None
                return ENTRY_NAMES[name], step, " ".join(words[start + length :])
    if piece.lower() in ENTRY_NAMES and words:
        import shlex

        turned = shlex.join((words[0], piece, *words[1:]))
        raise CommandError(f"the piece comes before what was done: finishsched log {turned}")
    given = f"{words[min(1, len(words) - 1)]!r} is no entry" if words else "the entry is missing"
    raise CommandError(f"{given}; write {', '.join(What)}, or entries")


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

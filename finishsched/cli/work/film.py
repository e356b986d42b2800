"""``film``: film, relief and veneer of a piece, coat by coat, and how far it may be levelled."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from finishsched.cli.common import (
    answer,
    dry_run_option,
    json_option,
    of_several,
    shop_option,
    why_option,
    world,
)
from finishsched.cli.faults import CommandError, Exit, Words
from finishsched.cli.shop_door import open_shop, read_instant, tell_notices
from finishsched.units import AREA, FILM, MASS

if TYPE_CHECKING:
    from datetime import datetime

    from finishsched.journal.events import Event
    from finishsched.model.film import Reach
    from finishsched.workshop.base.workshop import Workshop
    from finishsched.workshop.film.gauge_entries import FilmEntry
    from finishsched.workshop.film.shown import FilmAnswer, LevelQuestion

_REACHES = ("scuff", "level", "flush", "cut back")


@click.command("film")
@click.argument("piece", metavar="PIECES")
@click.option("--grade", metavar="GRADE", help="May I level with it now? P400, 'CAMI 400', 400.")
@click.option("--reach", metavar="REACH", help="How far: scuff, level (usual), flush or cut back.")
@click.option("--wet", is_flag=True, help="With a lubricant; without it, dry.")
@click.option("--gauge", metavar="FILM", help="Log what a film gauge reads now, such as '45 um'.")
@click.option(
    "--weighed", metavar="'BEFORE: AFTER'", help="Log the bottle's weights: '512 g: 498 g'."
)
@click.option("--learn", metavar="TEST", help="Strokes on a test piece: '10 strokes: 12 mg'.")
@click.option("--area", metavar="AREA", help="Of the test piece, such as '100 cm2'.")
@click.option("--on", default="film", metavar="WHAT", help="It is of film (usual), wood or inlay.")
@click.option("--step", metavar="STEP", help="The coat that was weighed; without it, the last.")
@click.option("--coats", metavar="N", help="How many coats went between the two weights.")
@click.option("--at", metavar="TIME", help="When it was read or weighed.")
@click.option("--by", default="", metavar="NAME", help="Whose hands.")
@dry_run_option
@shop_option
@why_option
@json_option
def command(  # one parameter for each option
    piece: str,
    grade: str | None,
    reach: str | None,
    wet: bool,
    gauge: str | None,
    weighed: str | None,
    learn: str | None,
    area: str | None,
    on: str,
    step: str | None,
    coats: str | None,
    at: str | None,
    by: str,
    shop: str | None,
    why: bool,
    as_json: bool,
) -> Exit:
    """Say film, relief and veneer of PIECES, as done and as their schedule goes on.

    With --grade it says whether that grade may go over each now, and how far; the status is 1 when
    it may not on one of them. --gauge and --weighed log what was measured on one piece, which then
    goes before the defaults; --learn logs what strokes of that grade took off a test piece of
    --area, so that this hand's own rate says how many more a face bears.
    """
    words = Words()
    if grade is None and (reach is not None or wet):
        words.fault("--reach and --wet say how a grade is used; give --grade too")
    if weighed is None and (step is not None or coats is not None):
        words.fault("--step and --coats belong to a weighing; give --weighed too")
    if gauge is None and weighed is None and learn is None and (at is not None or by):
        words.fault("--at and --by belong to an entry; give --gauge or --weighed too")
    area_m2 = words.read("--area", area, AREA)
    if learn is not None and (grade is None or area is None):
        words.fault("--learn wants the grade and the test piece's area; give --grade and --area")
    if learn is None and area is not None:
        words.fault("--area is of a test piece; give --learn too")
    wanted = _reach(words, reach)
    entries = _entries(words, gauge, weighed, step, coats)
    words.settle()
    now = world().now()
    with open_shop(shop, now) as workshop:
        from finishsched.cli.work.film_words import film_data, film_lines
        from finishsched.journal.events import as_json as event_json
        from finishsched.workshop.base.shown import shown_of
        from finishsched.workshop.base.words import entry_words
        from finishsched.workshop.film.films import film_answer
        from finishsched.workshop.standing.several import find_several, of_each

        question = _question(workshop, grade, wanted, wet=wet)
        pieces = find_several(workshop, piece, finished=True)
        refs = [one.ref for one in pieces]
        if entries and len(refs) > 1:
            raise CommandError("a gauge or a bottle tells of one piece; name that one")
        taken = _log(workshop, refs[0], entries, now, at, by)
        if learn is not None and area_m2 is not None and question is not None:
            from finishsched.workshop.film.hand import HandTest, log_hand_test

            test = HandTest(learn, area_m2 * 1e6, question.grade, wet, on)
            taken.append(log_hand_test(workshop, refs[0], test, now, by=by))
        found = of_each(pieces, lambda one: film_answer(workshop, one.ref, now, question))
        tell_notices(workshop, now)
        logged = [entry_words(event.what, {}, shown_of(workshop.papers.shop)) for event in taken]
        asked = question is not None and learn is None
        told = {"events": [event_json(event) for event in taken]}
        data = [film_data(one) | told for one in found]
        lines = [line for one in found for line in film_lines(one, logged, asked=asked, why=why)]
        answer(as_json, lambda: of_several(data), lambda: lines)
    return Exit.NO if asked and not all(map(_may, found)) else Exit.DONE


def _may(found: FilmAnswer) -> bool:
    level = found.level_now
    from finishsched.workshop.film.shown import may_go

    return level is not None and may_go(level)


def _reach(words: Words, reach: str | None) -> Reach | None:
    from finishsched.model.film import Reach

    if reach is None:
        return None
    if reach not in _REACHES:
        words.fault(f"--reach: {reach!r} is no reach; write scuff, level, flush or cut back")
        return None
    return Reach(reach)


def _entries(
    words: Words, gauge: str | None, weighed: str | None, step: str | None, coats: str | None
) -> list[FilmEntry]:
    from finishsched.workshop.film.gauge_entries import Read, Weighed

    entries: list[FilmEntry] = []
    if weighed is not None:
        before, colon, after = weighed.partition(":")
        if colon:
            before_g = words.need("--weighed", before.strip(), MASS)
            after_g = words.need("--weighed", after.strip(), MASS)
            entries.append(Weighed(before_g, after_g, step, _coats(words, coats)))
        else:
            words.fault(f"--weighed: {weighed!r} is one weight; write for example '512 g: 498 g'")
    film_um = words.read("--gauge", gauge, FILM)
    if film_um is not None:
        entries.append(Read(film_um))
    return entries


def _coats(words: Words, coats: str | None) -> int:
    if coats is None:
        return 1
    if not (coats.isascii() and coats.isdigit() and 1 <= int(coats[:9]) <= 200):
        words.fault(f"--coats: {coats!r} is no number of coats; write a whole number from 1 to 200")
        return 1
    return int(coats[:9])


def _log(
    workshop: Workshop,
    piece: str,
    entries: list[FilmEntry],
    now: datetime,
    at: str | None,
    by: str,
) -> list[Event]:
    from finishsched.workshop.film.gauge_entries import log_film

    instant = read_instant(at, workshop.zone)
    return [log_film(workshop, piece, entry, now, at=instant, by=by) for entry in entries]


def _question(
    workshop: Workshop, grade: str | None, reach: Reach | None, *, wet: bool
) -> LevelQuestion | None:
    from finishsched.model.grades import UnknownGradeError, grade_of
    from finishsched.workshop.film.shown import LevelQuestion

    if grade is None:
        return None
    try:
        found = grade_of(grade, workshop.papers.shop.film.bare_grades)
    except UnknownGradeError as error:
        raise CommandError(f"--grade: {error}") from None
    return LevelQuestion(found, reach, wet)

"""What a piece's film comes to, in sentences: the same on every face."""

from __future__ import annotations

from collections.abc import Iterator

from finishsched.film.dishing import FLAT_UM
from finishsched.film.limits import Bears
from finishsched.film.odds import MENDS, Stake
from finishsched.film.outlook import Bearing, VeneerUse, veneer_use
from finishsched.mixing.amount import Range
from finishsched.model.said import told
from finishsched.model.shop import ShownUnits
from finishsched.numerals import counted
from finishsched.workshop.base.shown import film_told, tell_in, um_told
from finishsched.workshop.film.before import NO_LOSS, before_levelling, odds_words
from finishsched.workshop.film.shown import FilmAnswer, Levelling, SpotTold, may_go

LOOK_AT = {
    Stake.FILM: ("look at the powder and wipe often", "where wood shows dull, stop"),
    Stake.COLOUR: ("wipe it wet and look for a pale line, first at the edges", "stop at the first"),
    Stake.SEAL: ("wipe it wet and look for a place that goes dark", "stop, and seal it again"),
    Stake.FILLER: ("look across the light", "where a pore opens again, stop"),
    Stake.VENEER: (
        "look for a line of glue or a colour that changes, first at the edges",
        "where it shows, stop: what is left there is a hair",
    ),
    Stake.INLAY: (
        "feel for its edge with a nail, look for a shadow or for glue",
        "where a shadow shows, stop",
    ),
}
"""What to look at, and where to stop (common practice, no source)."""


UNMEASURED = "strokes not known yet: film --learn"


def standing_sentences(answer: FilmAnswer) -> Iterator[str]:
    """Say what is there now: film, relief to fill, veneer left, and how much of it is used."""
    units = answer.units
    film, relief = film_told(answer.film_um, units), film_told(answer.relief_um, units)
    yield f"film {film}; relief still to fill {relief}"
    yield from _veneer_lines(answer)
    yield from _zone_sentences(answer)
    yield from spot_sentences(answer)


def answer_sentences(answer: FilmAnswer) -> Iterator[str]:
    """Say what is in hand and what follows: the paper, how many coats more, what it ends as."""
    if answer.hand:
        yield f"in hand: {answer.hand}"
    if answer.coats == 0:
        yield "this schedule lays no film"
        return
    yield from _now_lines(answer)
    before = before_levelling(answer)
    if before.needs_confirmation:
        yield f"confirm first: {' '.join(before.words)}"
    yield from _level_lines(answer)
    yield _filled_line(answer)
    yield _end_line(answer)


def _zone_sentences(answer: FilmAnswer) -> Iterator[str]:
    """Say of edges and inlays what is left there, and how they stand."""
    steps = answer.now.steps_um()
    for part in answer.now.parts[1:]:
        left = part.left_um
        if left is None or part.zone.is_mended:
            continue
        step = steps.get(part.zone.name)
        units, film_um = answer.units, part.state.film_um
        stands = f", {_stands(step, units)}" if step is not None else ""
        film = f", film {film_told(film_um, units)}" if film_um.high >= 1 else ""
        yield f"{part.zone.name}: {film_told(left, units)} left{stands}{film}"


def spot_sentences(answer: FilmAnswer) -> Iterator[str]:
    """Say of each spot that is mended what lies there, and what the next paper does to it."""
    for spot in answer.spots:
        bare = spot.film_um.high < 1
        units = answer.units
        film = "bare" if bare else f"film {film_told(spot.film_um, units)}"
        left = f", {film_told(spot.left_um, units)} of veneer" if spot.left_um else ""
        lies = f"{film}, {_stands(spot.stands_um, units)}{left}"
        yield f"{spot.name} at the {spot.beside} ({spot.ref}): {lies}"
        if spot.paper:
            yield f"{spot.name}: {_next_there(spot, units)}"


def _next_there(spot: SpotTold, units: ShownUnits) -> str:
    """Say what the next paper on the whole piece does at a spot."""
    if spot.takes_um.high < 0.5:
        return f"{spot.paper}, which comes next, does not reach it"
    takes = f"{spot.paper}, which comes next, takes {film_told(spot.takes_um, units)} there"
    if spot.loss is None:
        return takes
    through = odds_words(100 * spot.loss.odds)
    return f"{takes}, and goes through the {spot.loss.stake.value} {through}"


def _stands(step: Range, units: ShownUnits) -> str:
    if abs(step.likely) <= FLAT_UM:
        return "level with the face"
    how = "proud" if step.likely > 0 else "low"
    if step.low < 0 < step.high:
        return f"{um_told(abs(step.likely), units)} {how}"
    low, high = sorted((abs(step.low), abs(step.high)))
    return f"{how} by {film_told(Range(low, abs(step.likely), high), units)}"


def _veneer_lines(answer: FilmAnswer) -> Iterator[str]:
    veneer, at_first_um = answer.veneer_um, answer.veneer_at_first_um
    if veneer is None or at_first_um is None:
        return
    at_first = um_told(at_first_um, answer.units)
    yield f"veneer left {film_told(veneer, answer.units)} of {at_first}"
    now, end = veneer_use(answer.now), veneer_use(answer.end)
    if now is not None:
        yield from _use_line("used so far", now)
    if end is not None and now is not None and end.used_percent > now.used_percent + 0.5:
        yield from _use_line("used at the end", end)


def _use_line(what: str, use: VeneerUse) -> Iterator[str]:
    used = f"veneer {what}: {use.used_percent:.0f} %"
    if use.stop:
        yield f"{used}, half or more: stop, and go on only if you are sure"
    elif use.warn:
        yield f"{used}, a good part of it: go lightly"


def _now_lines(answer: FilmAnswer) -> Iterator[str]:
    level = answer.level_now
    if level is None:
        yield "nothing is levelled from here on"
        return
    most = answer.rules.cut_through_odds_percent
    units = answer.units
    grade = told(level.grade.words, tell_in(units))
    asked = f"{_when(level)}, {_reach(level)} {grade}, {'wet' if level.wet else 'dry'}"
    if level.odds is None and level.reach is not None:
        yield f"{asked}: there is no film yet, at most a seal; no further than a scuff"
        return
    shows = _shows(level, most)
    yield f"{asked}: takes {film_told(level.takes_um, units)}{shows}"
    yield from _takes_lines(answer, level)
    percent = 100 * level.worst.odds if level.worst else 0.0
    if level.worst is not None:
        yield (
            f"it goes through the {level.worst.stake.value}, first at the {level.worst.zone}, "
            f"{odds_words(percent)}"
        )
        mend = MENDS[level.worst.stake]
        yield f"that costs about {mend.hands_on_min:.0f} min and {mend.wait_h:.0f} h: {mend.how}"
    verdict = "within" if percent <= most else "more than"
    far = f"go no further than {level.allowed.value}" if level.allowed else "not even a scuff"
    if may_go(level):
        far = "go on"
    elif level.reach is None:
        far = "take a finer grade, a hard block, or keep off the edges"
    verdict = f"that is {verdict}"
    if level.worst is None and shows:
        verdict = "nothing is lost for good by it, which is within"
    yield f"{verdict} the {most:g} % that this shop goes without asking: {far}"
    yield from _paper_lines(level, units)
    if level.reach is None:
        return
    if level.more_coats:
        coats = counted(level.more_coats, "more coat")
        yield f"{coats} like the last ({level.coat}) would make it safe"
    elif level.more_coats is None and percent > most:
        yield "no number of such coats makes it safe: take a finer grade, or a shorter reach"


def _takes_lines(answer: FilmAnswer, level: Levelling) -> Iterator[str]:
    """Say what comes off the other zones, where there is veneer or inlay to lose."""
    known = {part.zone.name for part in answer.now.parts if part.left_um or part.zone.is_mended}
    told = [
        f"{film_told(um, answer.units)} at the {name}"
        if um.high >= 0.5
        else f"nothing at the {name}"
        for name, um in level.takes_in
        if name in known
    ]
    if told:
        yield f"it takes {', '.join(told)}"


def _level_lines(answer: FilmAnswer) -> Iterator[str]:
    """Say from when on an inlay is level with the face, or how it ends."""
    spots = {spot.name for spot in answer.spots}
    for one in answer.level_from:
        if one.zone in spots:
            continue
        if one.place:
            yield f"the {one.zone} is likely level from {one.place}, on"
        else:
            low = one.end_um.likely < 0
            mend = "fill it drop by drop" if low else "take it down with a scraper or a file first"
            yield (
                f"the {one.zone} is likely never level: {_stands(one.end_um, answer.units)} at the "
                f"end; {mend}, "
                "or let it be"
            )


def _paper_lines(level: Levelling, units: ShownUnits) -> Iterator[str]:
    """Say what to do before the paper touches: where, how many strokes, what to look at."""
    bearing = level.bearing
    if bearing is not None:
        rate = _rate(bearing)
        yield (
            f"nearest to going through: {bearing.loss.stake.value} at the {bearing.loss.zone}; "
            f"{film_told(bearing.bears_um, units)} lies there; {rate}"
        )
        yield ": ".join(LOOK_AT[bearing.loss.stake])
    coarse, fine = level.coarsest, level.finest
    if coarse is not None:
        levels = f"; the finest that still levels is {fine.name}" if fine else ""
        yield f"the coarsest that is safe so is {coarse.name}{levels}"


def _rate(bearing: Bearing) -> str:
    """Say how many strokes the nearest zone bears, where this hand was measured."""
    if not bearing.measured:
        return "for strokes, measure this hand once: film PIECE --grade GRADE --learn"
    strokes = bearing.strokes
    return (
        f"about {_about(strokes.likely)} strokes over the whole face "
        f"({_about(strokes.low)} to {_about(strokes.high)})"
    )


def _odds(bearing: Bearing) -> str:
    percent = 100 * bearing.loss.odds
    return "under 1 %" if percent < 1 else f"{percent:.0f} %"


def before_the_paper(level: Levelling, units: ShownUnits) -> Iterator[tuple[str, str]]:
    """Give what to know before the paper touches, each under a label of one word.

    The one zone that is nearest to going through, what it bears, what to look at, where to stop,
    and which papers serve.
    """
    bearing = level.bearing
    if bearing is not None:
        stake, zone = bearing.loss.stake, bearing.loss.zone
        look, stop = LOOK_AT[stake]
        harm = ", no loss here" if stake is Stake.FILM and level.worst is None else ""
        lies = film_told(bearing.bears_um, units)
        yield "nearest", f"{stake.value} at the {zone}, {lies}: {_odds(bearing)}{harm}"
        yield "look", look
        yield "stop", stop
        yield "bears", _rate(bearing) if bearing.measured else UNMEASURED
    proud = [(name, um) for name, um in level.stands if abs(um.likely) > FLAT_UM]
    stands = [f"{name} {_stands(um, units)}" for name, um in proud]
    if stands:
        yield "inlay", "; ".join(stands)
    if level.coarsest is not None:
        levels = f"; finest that levels {level.finest.name}" if level.finest else ""
        yield "papers", f"coarsest safe {level.coarsest.name}{levels}"


def _about(count: float) -> str:
    """Return a number of strokes no finer than it is known."""
    if count < 10:
        return f"{count:.0f}"
    digits = 10 ** (len(str(int(count))) - 1)
    return f"{round(count / digits) * digits:.0f}"


def _shows(level: Levelling, most: float) -> str:
    """Say that wood shows, where that is no loss."""
    lost = level.worst is not None and level.worst.stake is Stake.FILM
    if lost or level.odds is None or 100 * level.odds <= most:
        return ""
    return f"; it shows the wood in places, {odds_words(100 * level.odds)}: {NO_LOSS}"


def _filled_line(answer: FilmAnswer) -> str:
    likely, at_worst = answer.filled
    if likely:
        worst = f"at worst in {at_worst}" if at_worst else "at worst not by the end"
        worst = "at worst there too" if at_worst == likely else worst
        return f"the relief is likely filled in {likely}; {worst}"
    left = answer.end.relief_um
    if left.likely < 0.5:
        most = um_told(left.high, answer.units)
        return f"the relief is only just filled by the end: at worst {most} is left"
    more = answer.more_to_fill
    words = f"; {counted(more, 'coat')} more like the last would fill it" if more else ""
    lies = film_told(left, answer.units)
    return f"the relief is likely not filled by the end: {lies} is left{words}"


def _end_line(answer: FilmAnswer) -> str:
    limit = answer.limit
    verdict = {
        Bears.WITHIN: "within",
        Bears.NEAR: "likely within, and at its thickest beyond,",
        Bears.BEYOND: "beyond",
    }[answer.bears]
    return (
        f"film at the end {film_told(answer.end.film_um, answer.units)}: {verdict} the "
        f"{tell_in(answer.units)(limit.film_um, 'um', 2)} that a {limit.what} bears"
    )


def _when(level: Levelling) -> str:
    """Say when the paper comes: now, or with a later step."""
    return f"the next levelling is step {level.number}; taken now" if level.number else "now"


def _reach(level: Levelling) -> str:
    return level.reach.value if level.reach else "sand"

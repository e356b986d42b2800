"""What a piece's film comes to, in sentences: the same on every face."""

from __future__ import annotations

from collections.abc import Iterator

from finishsched.film.dishing import FLAT_UM
from finishsched.film.limits import Bears
from finishsched.film.odds import MENDS, Stake
from finishsched.film.outlook import Bearing, VeneerUse, veneer_use
from finishsched.mixing.amount import Range
from finishsched.workshop.base.shown import film_told
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
    film = film_told(answer.film_um, answer.units)
    yield f"film {film}; relief still to fill {_um_words(answer.relief_um)}"
    yield from _veneer_lines(answer)
    yield from _zone_sentences(answer)
    yield from spot_sentences(answer)


def answer_sentences(answer: FilmAnswer) -> Iterator[str]:
    """Say what follows: how far to go now, how many coats more, when it fills, what it ends as."""
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
        stands = f", {_stands(step)}" if step is not None else ""
        film = f", film {_um_words(part.state.film_um)}" if part.state.film_um.high >= 1 else ""
        yield f"{part.zone.name}: {_um_words(left)} left{stands}{film}"


def spot_sentences(answer: FilmAnswer) -> Iterator[str]:
    """Say of each spot that is mended what lies there, and what the next paper does to it."""
    for spot in answer.spots:
        bare = spot.film_um.high < 1
        film = "bare" if bare else f"film {_um_words(spot.film_um)}"
        left = f", {_um_words(spot.left_um)} of veneer" if spot.left_um else ""
        lies = f"{film}, {_stands(spot.stands_um)}{left}"
        yield f"{spot.name} at the {spot.beside} ({spot.ref}): {lies}"
        if spot.paper:
            yield f"{spot.name}: {_next_there(spot)}"


def _next_there(spot: SpotTold) -> str:
    """Say what the next paper on the whole piece does at a spot."""
    if spot.takes_um.high < 0.5:
        return f"{spot.paper}, which comes next, does not reach it"
    takes = f"{spot.paper}, which comes next, takes {_um_words(spot.takes_um)} there"
    if spot.loss is None:
        return takes
    through = odds_words(100 * spot.loss.odds)
    return f"{takes}, and goes through the {spot.loss.stake.value} {through}"


def _stands(step: Range) -> str:
    if abs(step.likely) <= FLAT_UM:
        return "level with the face"
    how = "proud" if step.likely > 0 else "low"
    ends = sorted((abs(step.low), abs(step.high)))
    if step.low < 0 < step.high:
        return f"{abs(step.likely):.0f} um {how}"
    return f"{abs(step.likely):.0f} um {how} ({ends[0]:.0f} to {ends[1]:.0f})"


def _veneer_lines(answer: FilmAnswer) -> Iterator[str]:
    veneer, at_first_um = answer.veneer_um, answer.veneer_at_first_um
    if veneer is None or at_first_um is None:
        return
    yield f"veneer left {film_told(veneer, answer.units)} of {at_first_um:.0f} um"
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
    asked = f"{_reach(level)} {level.grade.words}, {'wet' if level.wet else 'dry'}"
    if level.odds is None and level.reach is not None:
        yield f"now, {asked}: there is no film yet, at most a seal; no further than a scuff"
        return
    yield f"now, {asked}: takes {_um_words(level.takes_um)}{_shows(level, most)}"
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
    yield f"that is {verdict} the {most:g} % that this shop goes without asking: {far}"
    yield from _paper_lines(level)
    if level.reach is None:
        return
    if level.more_coats:
        coats = "1 more coat" if level.more_coats == 1 else f"{level.more_coats} more coats"
        yield f"{coats} like the last ({level.coat}) would make it safe"
    elif level.more_coats is None and percent > most:
        yield "no number of such coats makes it safe: take a finer grade, or a shorter reach"


def _takes_lines(answer: FilmAnswer, level: Levelling) -> Iterator[str]:
    """Say what comes off the other zones, where there is veneer or inlay to lose."""
    known = {part.zone.name for part in answer.now.parts if part.left_um or part.zone.is_mended}
    told = [
        f"{um.likely:.0f} um ({um.low:.0f} to {um.high:.0f}) at the {name}"
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
                f"the {one.zone} is likely never level: {_stands(one.end_um)} at the end; {mend}, "
                "or let it be"
            )


def _paper_lines(level: Levelling) -> Iterator[str]:
    """Say what to do before the paper touches: where, how many strokes, what to look at."""
    bearing = level.bearing
    if bearing is not None:
        rate = _rate(bearing)
        yield (
            f"nearest to going through: {bearing.loss.stake.value} at the {bearing.loss.zone}; "
            f"{_um_words(bearing.bears_um)} lies there; {rate}"
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


def before_the_paper(level: Levelling) -> Iterator[tuple[str, str]]:
    """Give what to know before the paper touches, each under a label of one word.

    The one zone that is nearest to going through, what it bears, what to look at, where to stop,
    and which papers serve.
    """
    bearing = level.bearing
    if bearing is not None:
        stake, zone = bearing.loss.stake, bearing.loss.zone
        look, stop = LOOK_AT[stake]
        harm = ", no loss here" if stake is Stake.FILM and level.worst is None else ""
        lies = _um_words(bearing.bears_um)
        yield "nearest", f"{stake.value} at the {zone}, {lies}: {_odds(bearing)}{harm}"
        yield "look", look
        yield "stop", stop
        yield "bears", _rate(bearing) if bearing.measured else UNMEASURED
    stands = [f"{name} {_stands(um)}" for name, um in level.stands if abs(um.likely) > FLAT_UM]
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
        return f"the relief is only just filled by the end: at worst {left.high:.0f} um is left"
    more = answer.more_to_fill
    coats = "1 coat" if more == 1 else f"{more} coats"
    words = f"; {coats} more like the last would fill it" if more else ""
    return f"the relief is likely not filled by the end: {_um_words(left)} is left{words}"


def _end_line(answer: FilmAnswer) -> str:
    limit = answer.limit
    verdict = {
        Bears.WITHIN: "within",
        Bears.NEAR: "likely within, and at its thickest beyond,",
        Bears.BEYOND: "beyond",
    }[answer.bears]
    return (
        f"film at the end {film_told(answer.end.film_um, answer.units)}: {verdict} the "
        f"{limit.film_um:g} um "
        f"that a {limit.what} bears"
    )


def _reach(level: Levelling) -> str:
    return level.reach.value if level.reach else "sand"


def _um_words(amount: Range) -> str:
    """Return a range in words, such as ``13 um (8 to 20)``."""
    return f"{amount.likely:.0f} um ({amount.low:.0f} to {amount.high:.0f})"

"""What is said before paper touches a film, and whether somebody must confirm it first."""

from __future__ import annotations

from finishsched.film.face import FaceState
from finishsched.model.film import FilmRules
from finishsched.model.shop import ShownUnits
from finishsched.workshop.base.shown import film_told
from finishsched.workshop.film.shown import BeforeLevelling, FilmAnswer, FilmRow, RowKind

NO_LOSS = "clear wood under clear film, and the coats that follow fill it"
"""Why cutting through is no loss where more coats follow and nothing else lies there."""
NOTHING_TO_SAY = BeforeLevelling(needs_confirmation=False, odds_percent=None, words=())


def before_levelling(answer: FilmAnswer) -> BeforeLevelling:
    """Return what to say before the step in hand, and whether somebody must confirm it first.

    It is confirmed when the odds of a loss pass the shop's limit, or when half of the veneer is
    then used.
    """
    row = answer.in_hand
    if row is None:
        return NOTHING_TO_SAY
    return said_before(row, answer.before, answer.rules, answer.units)


def said_before(
    row: FilmRow, before: FaceState, rules: FilmRules, units: ShownUnits
) -> BeforeLevelling:
    """Return what to say before the step of ``row``, on the film as it is ``before`` it."""
    if row.step is None or row.kind is not RowKind.AHEAD or not row.changes:
        return NOTHING_TO_SAY
    if not row.step.verb.abrades:
        return NOTHING_TO_SAY
    most = rules.cut_through_odds_percent
    percent = None if row.worst is None else 100 * row.worst.odds
    takes, lies = (film_told(um, units) for um in (row.taken_um, before.film_um))
    words = [f"{row.title} takes {takes} of a film of {lies}."]
    risky = percent is not None and percent > most
    if risky:
        words.append(f"{risk_words(row, rules)}; this shop is asked above {most:g} %.")
    elif row.odds is not None and 100 * row.odds > most:
        words.append(f"It shows the wood in places, {odds_words(100 * row.odds)}: {NO_LOSS}.")
    veneer = row.veneer if row.wood_um.likely > 0 else None
    if veneer is not None and (veneer.warn or veneer.stop):
        words.append(f"{veneer.used_percent:.0f} % of the veneer is likely used after it.")
    stop = veneer is not None and veneer.stop
    return BeforeLevelling(risky or stop, percent, tuple(words))


def risk_words(row: FilmRow, rules: FilmRules) -> str:
    """Say what a step likely goes through and where first; empty within what the shop allows."""
    if row.worst is None or 100 * row.worst.odds <= rules.cut_through_odds_percent:
        return ""
    through = f"It goes through the {row.worst.stake.value}, first at the {row.worst.zone}"
    return f"{through}, {odds_words(100 * row.worst.odds)}"


def odds_words(percent: float) -> str:
    """Return odds in words, no finer than they are known."""
    if percent < 1:
        return "with odds under 1 %"
    return f"with odds of about {percent:.0f} %" if percent < 99 else "almost surely"

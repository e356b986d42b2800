"""Rules about abrasives: the dust they leave, and the film they need under them."""

from __future__ import annotations

from collections.abc import Iterator

from finishsched.checking import about
from finishsched.checking.cases import ScheduleCase
from finishsched.checking.cutting import Cut, about_cut, bare_colour, coats_cut_off, cuts
from finishsched.checking.moves import Move
from finishsched.checking.rule import Example, Found, Rule, Severity
from finishsched.checking.said.asked import says
from finishsched.model.film import Reach
from finishsched.model.product import ProductKind
from finishsched.model.schedule import Verb


def _no_tack_off(case: ScheduleCase) -> Iterator[Found]:
    for move in case.moves:
        following = case.next_layer(move)
        if following is None or not _leaves_dust(move):
            continue
        between = case.between(move, following)
        if not (says(move, "dusted") or any(map(_takes_dust_off, between))):
            yield Found(
                move.verb_path,
                f"'{following.step.title}' goes on over the dust of '{move.step.title}'",
            )


def _takes_dust_off(move: Move) -> bool:
    """Tell whether dust goes: by a step for it, a wash, what cuts next, or as its words say."""
    dusts = move.verb.does.cleans or move.verb is Verb.SCRAPE or move.verb.cuts
    return dusts or says(move, "dusted")


def _leaves_dust(move: Move) -> bool:
    return move.verb.abrades and move.is_dry and move.kind is not ProductKind.WAX


NOT_CUT_BACK = "level it there and leave a film, or colour and seal after what is cut back"
"""What to do where all the film is taken off what may not be lost: more coats would not help."""
ONLY_SCUFF = "only scuff it with P320, or lay more coats before it is levelled"


def _too_few_coats(case: ScheduleCase) -> Iterator[Found]:
    told = set()
    for cut in cuts(case, case.ledger, of_the_wood=False):
        told.add(cut.move.at)
        if not cut.edges_only and bare_colour(case, cut.move) is None:
            yield _cut(case, cut)
    for off in coats_cut_off(case):
        move = off.move
        if move.at not in told:
            yield Found(
                move.key("grade"),
                f"'{move.step.title}' {off.words}",
                ONLY_SCUFF,
                contested=not off.is_certain,
                about=about.cutting(move),
            )


def _cut(case: ScheduleCase, cut: Cut) -> Found:
    move = cut.move
    return Found(
        move.key("grade") if move.step.grade else move.verb_path,
        f"'{move.step.title}' {cut.words}",
        _more_film(cut),
        contested=not cut.is_certain,
        about=about_cut(case, cut),
        follows=True,
    )


def _more_film(cut: Cut) -> str:
    """Return what to do about a cut; where the film is meant to go, more of it would not help."""
    return NOT_CUT_BACK if cut.move.reach is Reach.CUT_BACK else ""


def _no_grade(case: ScheduleCase) -> Iterator[Found]:
    for move in case.moves:
        if move.verb.cuts and not move.step.grade and move.product is None:
            yield Found(
                move.verb_path,
                f"'{move.step.title}' names no grade: nobody can tell what it takes off",
            )


PAPER_RULES = (
    Rule(
        "no-tack-off",
        "Dust of dry paper under a coat",
        Severity.ADVICE,
        "Dry swarf that is not taken off is varnished in: nibs in the film, and pores full of "
        "pale dust.",
        "add 'tack off:' between: brush, vacuum, then a clean cloth",
        "common practice",
        Example(
            """\
- stage: prepare
  steps:
    - {sand: block, grade: P240, lubricant: dry}
- stage: body
  steps:
    - {brush: with the grain, product: oil-varnish}
""",
            (
                "lubricant: dry}\n",
                "lubricant: dry}\n    - {tack off: 'vacuum, then a clean cloth'}\n",
            ),
        ),
        on_schedule=_no_tack_off,
    ),
    Rule(
        "too-few-coats",
        "Too few coats for the grade",
        Severity.ERROR,
        "Levelling takes the ridges of the coats and a share of its grain besides, at an edge "
        "twice as much. Where less film lies there than that, it goes through. Clear film over "
        "clear wood is filled again by the coats that follow; colour, filler, the seal of an oily "
        "wood and a film that nothing follows are lost.",
        "lay more coats first, use a finer grade or a hard block, or keep off the edges",
        "our ledger of film: amounts from the schedule, shares of the grain our assumption",
        Example(
            """\
- stage: body
  steps:
    - pad: thin ovals
      product: shellac-dewaxed-blonde
      cut: 2 lb
      coats: 3
      amount: 15 ml/m2
      wait: {earliest: 12 h, likely: 20 h}
      dry_check: lifts dry powder
    - {level: block, grade: P400, reach: level, lubricant: dry}
""",
            ("grade: P400, reach: level", "grade: P1000, reach: scuff"),
        ),
        on_schedule=_too_few_coats,
    ),
    Rule(
        "no-grade",
        "Paper without a grade",
        Severity.ADVICE,
        "What a paper takes off film or veneer goes by its grain. Without it neither the film "
        "that is left nor the order of grades can be told.",
        "add 'grade:', such as P240",
        "common practice",
        Example(
            """\
- stage: prepare
  steps:
    - {sand: 'block, with the grain', lubricant: dry}
""",
            ("lubricant", "grade: P180, lubricant"),
        ),
        on_schedule=_no_grade,
    ),
)

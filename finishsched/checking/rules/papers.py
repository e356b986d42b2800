"""Rules about abrasives: their order, the dust they leave, and the film they need under them."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from finishsched.checking.cases import Move, ScheduleCase
from finishsched.checking.cutting import cuts, on_film
from finishsched.checking.rule import Example, Found, Rule, Severity
from finishsched.film.abrading import usual_reach
from finishsched.film.grade_steps import WIDEST_RATIO, Change, step_between
from finishsched.model.film import Reach
from finishsched.model.grades import ROUGH_UM
from finishsched.model.product import ProductKind
from finishsched.model.schedule import Verb

COARSEST_UNDER_FILM_UM = 82.0
"""P180: coarser scratches show through a clear film (common practice)."""

COARSER = 1.15
"""Grain that much larger counts as coarser: makers of wool and powders differ (our assumption)."""


def _grade_skipped(case: ScheduleCase) -> Iterator[Found]:
    for before, coarse, move, fine in case.pairs_of_papers():
        change = step_between(coarse, fine)
        if change.change is Change.SKIPPED and not case.is_covered(before, move):
            passed = ", ".join(change.between)
            yield Found(
                move.key("grade"),
                f"{fine.name} follows {coarse.name} and cannot take out its scratches: its grain "
                f"is {change.ratio:.2g} times finer, {WIDEST_RATIO:g} is the most",
                f"put {passed} between, or one of them" if passed else "",
            )


def _grade_leap(case: ScheduleCase) -> Iterator[Found]:
    for before, coarse, move, fine in case.pairs_of_papers():
        if not (on_film(case, before) and on_film(case, move)):
            continue
        change = step_between(coarse, fine)
        scuffs = _scuffs(before) or _scuffs(move)
        if change.change is Change.SKIPPED and case.is_covered(before, move) and not scuffs:
            yield Found(
                move.key("grade"),
                f"{fine.name} is the next paper after {coarse.name}, over new coats: its grain is "
                f"{change.ratio:.2g} times finer, and the old scratches print through",
            )


def _scuffs(move: Move) -> bool:
    """Tell whether a step only gives tooth: it levels nothing, and hides no scratch of another."""
    reach = move.step.reach or usual_reach(move.verb, move.step.stage)
    return reach is Reach.SCUFF


def _grade_reversed(case: ScheduleCase) -> Iterator[Found]:
    yield from _rubbed_backwards(case)
    for before, fine, move, coarse in case.pairs_of_papers():
        turned = step_between(fine, coarse).change is Change.REVERSED
        if turned and not case.is_covered(before, move) and not _begins_a_spot(before, move):
            yield Found(
                move.key("grade"),
                f"{coarse.name} follows {fine.name}, which is finer: it scratches again what was "
                "just made smooth",
            )


def _begins_a_spot(before: Move, move: Move) -> bool:
    """Tell whether work on one spot alone begins: what was made smooth there is to go."""
    return move.step.on_a_spot and not before.step.on_a_spot


def _rubbed_backwards(case: ScheduleCase) -> Iterator[Found]:
    last = case.films[-1] if case.films else None
    rubbed = [(one, _grain_of(case, one)) for one in case.after(last)] if last else []
    known = [(one, grain) for one, grain in rubbed if grain is not None]
    for (before, fine), (move, coarse) in pairwise(known):
        both_papers = before.verb.cuts and move.verb.cuts
        backwards = fine[1] * COARSER < coarse[1] and not both_papers
        if backwards and not _begins_a_spot(before, move):
            yield Found(
                move.key("grade" if move.step.grade else "product"),
                f"{coarse[0]} follows {fine[0]}, which is finer: it scratches again what was just "
                "made smooth",
            )


def _grain_of(case: ScheduleCase, move: Move) -> tuple[str, float] | None:
    """Return the name and grain of what abrades, paper, wool or powder."""
    if not move.verb.abrades:
        return None
    grade = case.grade(move)
    if grade is not None:
        return grade.name, grade.grain_um
    powder = (move.step.product or "").replace("-", " ")
    name = next((name for name in ROUGH_UM if name in powder), None)
    return (name, ROUGH_UM[name]) if name else None


def _coarser_over_film(case: ScheduleCase) -> Iterator[Found]:
    for before, fine, move, coarse in case.pairs_of_papers():
        if not (on_film(case, before) and on_film(case, move)):
            continue
        turned = step_between(fine, coarse).change is Change.REVERSED
        if turned and case.is_covered(before, move):
            yield Found(
                move.key("grade"),
                f"{coarse.name} is coarser than the {fine.name} of the coats before it",
            )


def _bare_wood_too_coarse(case: ScheduleCase) -> Iterator[Found]:
    first = next((move for move in case.moves if move.lays), None)
    sanded = [
        (m, g) for m, g in case.papers if m.verb is Verb.SAND and (not first or m.at < first.at)
    ]
    if first is None or not first.is_film or not sanded:
        return
    move, grade = sanded[-1]
    if grade.grain_um > COARSEST_UNDER_FILM_UM:
        yield Found(
            move.key("grade"),
            f"the last paper on bare wood is {grade.name}: its scratches show under a clear film",
        )


def _no_tack_off(case: ScheduleCase) -> Iterator[Found]:
    for move in case.moves:
        if not move.verb.abrades or not move.is_dry:
            continue
        if move.kind is ProductKind.WAX:
            continue
        following = case.next_layer(move)
        if following is None:
            continue
        wiped = any(one.verb is Verb.TACK_OFF for one in case.between(move, following))
        again = any(one.verb.cuts for one in case.between(move, following))
        if not wiped and not again:
            yield Found(
                move.verb_path,
                f"'{following.step.title}' goes on over the dust of '{move.step.title}'",
            )


NOT_CUT_BACK = "level it there and leave a film, or colour and seal after what is cut back"
"""What to do where all the film is taken off what may not be lost: more coats would not help."""


def _too_few_coats(case: ScheduleCase) -> Iterator[Found]:
    for cut in cuts(case, case.ledger, of_the_wood=False):
        if cut.edges_only:
            continue
        move = cut.move
        yield Found(
            move.key("grade") if move.step.grade else move.verb_path,
            f"'{move.step.title}' {cut.words}",
            NOT_CUT_BACK if move.step.reach is Reach.CUT_BACK else "",
            contested=not cut.is_certain,
        )


def _no_grade(case: ScheduleCase) -> Iterator[Found]:
    for move in case.moves:
        if move.verb.cuts and not move.step.grade and move.product is None:
            yield Found(
                move.verb_path,
                f"'{move.step.title}' names no grade: nobody can tell what it takes off",
            )


PAPER_RULES = (
    Rule(
        "grade-skipped",
        "A grade skipped",
        Severity.ERROR,
        "Each paper only takes out the scratches of the one before. Where its grain is less than "
        "half as large it polishes the ridges between deep scratches, and they come back under "
        "the finish.",
        "put a grade between",
        "printed step rule: never skip more than one standard grade; ratio of grains 2.0 at most, "
        "good 1.3 to 1.6. Grain sizes: ISO 6344 and ANSI B74.18",
        Example(
            """\
- stage: prepare
  steps:
    - {sand: block, grade: P120, lubricant: dry}
    - {sand: block, grade: P320, lubricant: dry}
""",
            (
                "    - {sand: block, grade: P320",
                (
                    "    - {sand: block, grade: P180, lubricant: dry}\n"
                    "    - {sand: block, grade: P240, lubricant: dry}\n"
                    "    - {sand: block, grade: P320"
                ),
            ),
        ),
        on_schedule=_grade_skipped,
    ),
    Rule(
        "grade-leap",
        "A leap in grade from one levelling to the next",
        Severity.ADVICE,
        "Shellac and lacquer melt into what is below and show it. A levelling that is much finer "
        "than the last cannot cut the new coats flat, and leaves the old scratches to print.",
        "level with a grade between the two",
        "printed step rule for papers, applied from one levelling to the next: our assumption",
        Example(
            """\
- stage: body
  steps:
    - {pad: ovals, mark: one, product: shellac-dewaxed-blonde, cut: 2 lb, coats: 10}
    - {level: block, mark: first, grade: P400, lubricant: dry}
    - {pad: ovals, mark: two, product: shellac-dewaxed-blonde, cut: 2 lb, coats: 10}
    - {level: block, mark: second, grade: P1500, lubricant: dry}
""",
            ("P1500", "P600"),
        ),
        on_schedule=_grade_leap,
    ),
    Rule(
        "grade-reversed",
        "Grades in the wrong order",
        Severity.ERROR,
        "A coarser paper after a finer one undoes its work, and takes off more than the surface "
        "has to give.",
        "put them in order, coarse to fine",
        "common practice; grain sizes: ISO 6344 and ANSI B74.18",
        Example(
            """\
- stage: prepare
  steps:
    - {sand: block, grade: P240, lubricant: dry}
    - {sand: block, grade: P180, lubricant: dry}
""",
            (
                "P240, lubricant: dry}\n    - {sand: block, grade: P180",
                "P180, lubricant: dry}\n    - {sand: block, grade: P240",
            ),
        ),
        on_schedule=_grade_reversed,
    ),
    Rule(
        "coarser-over-film",
        "A coarser paper over later coats",
        Severity.ADVICE,
        "Later rounds lay less film than the first, and are levelled with finer papers. A coarser "
        "one cuts deeper than they are thick.",
        "use the same grade or a finer one",
        "common practice",
        Example(
            """\
- stage: body
  steps:
    - {pad: ovals, mark: one, product: shellac-dewaxed-blonde, cut: 2 lb, coats: 10}
    - {level: block, mark: first, grade: P600, lubricant: dry}
    - {pad: ovals, mark: two, product: shellac-dewaxed-blonde, cut: 2 lb, coats: 10}
    - {level: block, mark: second, grade: P400, lubricant: dry}
""",
            ("P400", "P800"),
        ),
        on_schedule=_coarser_over_film,
    ),
    Rule(
        "bare-wood-too-coarse",
        "The last paper on bare wood is coarse",
        Severity.ADVICE,
        "A clear film is a lens: scratches coarser than P180 show under it, across the grain most.",
        "go on to P180 or finer before the first coat",
        "common practice",
        Example(
            """\
- stage: prepare
  steps:
    - {sand: block, grade: P120, lubricant: dry}
- stage: body
  steps:
    - {brush: with the grain, product: oil-varnish}
""",
            ("P120", "P180"),
        ),
        on_schedule=_bare_wood_too_coarse,
    ),
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
            (
                "lubricant: dry}\n",
                "lubricant: dry}\n    - {pad: more, product: shellac-dewaxed-blonde, coats: 8}\n",
            ),
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

"""Rules about grades: their order on wood and film, and how coarse the last of them may be."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from finishsched.checking import about
from finishsched.checking.cases import ScheduleCase
from finishsched.checking.cutting import on_film
from finishsched.checking.layers.matter import is_a, matter_at
from finishsched.checking.moves import Move
from finishsched.checking.rule import Example, Found, Rule, Severity
from finishsched.film.grade_steps import WIDEST_RATIO, WIDEST_TO_POWDER, Change, step_between
from finishsched.model.doing import Lays
from finishsched.model.film import Reach
from finishsched.model.grades import Grade
from finishsched.model.kinds import COLOURS
from finishsched.model.product import ProductKind

COARSEST_UNDER_FILM_UM = 82.0
"""P180: coarser scratches show through a clear film (common practice)."""

COARSEST_UNDER_OIL_UM = 126.0
"""P120: makers of hard oils ask for P120 to P150, so that the wood drinks (their data sheets)."""

FAR_COARSER = 1.6
"""Times that grain: from P120 on the scratches show to everybody (our assumption)."""

MANY = 3
"""Grades passed over, from which on one between them is not enough."""

COARSER = 1.15
"""Grain that much larger counts as coarser: makers of wool and powders differ (our assumption)."""


def _grade_skipped(case: ScheduleCase) -> Iterator[Found]:
    for before, coarse, move, fine in case.pairs_of_papers():
        change = step_between(coarse, fine)
        if change.change is Change.SKIPPED and not case.is_covered(before, move):
            yield Found(
                move.key("grade"),
                f"{fine.name} follows {coarse.name} and cannot take out its scratches: its grain "
                f"is {change.ratio:.2g} times finer, {WIDEST_RATIO:g} is the most",
                _one_of(change.between),
                about=about.grade(move),
            )
    yield from _powder_too_fine(case)


def _one_of(grades: tuple[str, ...]) -> str:
    """Return the remedy that names the middle one of the grades that were passed over."""
    if not grades:
        return ""
    middle = grades[len(grades) // 2]
    return f"put {middle} between" if len(grades) < MANY else f"put {middle} between, at least"


def _powder_too_fine(case: ScheduleCase) -> Iterator[Found]:
    """Tell of a powder that is to take out scratches of a paper far coarser than itself."""
    for (_, coarse), (move, fine) in pairwise(_rubbed(case)):
        ratio = coarse.grain_um / fine.grain_um
        after_paper = not coarse.rough and move.kind is ProductKind.POWDER
        if after_paper and ratio > WIDEST_TO_POWDER:
            yield Found(
                move.key("product"),
                f"{fine.name} follows {coarse.name} and only shines up its scratches: its grain is "
                f"{ratio:.2g} times finer",
                "go on with finer papers first, to P1000 before rottenstone",
                contested=True,
                about=about.grade(move),
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
                about=about.grade(move),
            )


def _scuffs(move: Move) -> bool:
    """Tell whether a step only gives tooth: it levels nothing, and hides no scratch of another."""
    return move.reach is Reach.SCUFF


def _grade_reversed(case: ScheduleCase) -> Iterator[Found]:
    yield from _rubbed_backwards(case)
    for before, fine, move, coarse in case.pairs_of_papers():
        turned = step_between(fine, coarse).change is Change.REVERSED
        if turned and not case.is_covered(before, move) and not _begins_again(before, move):
            yield Found(
                move.key("grade"),
                f"{coarse.name} follows {fine.name}, which is finer: it scratches again what was "
                "just made smooth",
                about=about.grade(move),
            )


def _begins_again(before: Move, move: Move) -> bool:
    """Tell whether a rework begins: what was made smooth there is to go."""
    own, other = (one.step.key.partition("/")[0] for one in (move, before))
    return move.step.is_rework and own != other


def _rubbed_backwards(case: ScheduleCase) -> Iterator[Found]:
    for (before, fine), (move, coarse) in pairwise(_rubbed(case)):
        both_papers = before.verb.cuts and move.verb.cuts
        backwards = fine.grain_um * COARSER < coarse.grain_um and not both_papers
        if backwards and not _begins_again(before, move):
            yield Found(
                move.key("grade" if move.step.grade else "product"),
                f"{coarse.name} follows {fine.name}, which is finer: it scratches again what was "
                "just made smooth",
                about=about.grade(move),
            )


def _rubbed(case: ScheduleCase) -> list[tuple[Move, Grade]]:
    """Return what rubs the last film, paper, wool or powder, each with its grade."""
    last = case.last_film
    after = case.after(last) if last else ()
    rubbed = [(one, case.abrasive(one)) for one in after if one.verb.abrades]
    return [(one, grade) for one, grade in rubbed if grade is not None]


def _coarser_over_film(case: ScheduleCase) -> Iterator[Found]:
    for before, fine, move, coarse in case.pairs_of_papers():
        if not (on_film(case, before) and on_film(case, move)):
            continue
        turned = step_between(fine, coarse).change is Change.REVERSED
        if turned and case.is_covered(before, move):
            yield Found(
                move.key("grade"),
                f"{coarse.name} is coarser than the {fine.name} of the coats before it",
                about=about.grade(move),
            )


def _bare_wood_too_coarse(case: ScheduleCase) -> Iterator[Found]:
    first = next((move for move in case.moves if _shows_scratches(move)), None)
    if first is None or not case.on_bare_wood:
        return
    abraded = [move for move in case.before(first) if move.verb.abrades]
    grade = case.grade(abraded[-1]) if abraded else None
    soaks = first.kind is ProductKind.OIL
    coarsest_um = COARSEST_UNDER_OIL_UM if soaks else COARSEST_UNDER_FILM_UM
    if grade is None or grade.rough or grade.grain_um <= coarsest_um:
        return
    yield Found(
        abraded[-1].key("grade"),
        f"the last paper on bare wood is {grade.name}: its scratches show under a clear film, and "
        "take up colour",
        grave=grade.grain_um > FAR_COARSER * COARSEST_UNDER_FILM_UM,
        about=about.grade(abraded[-1]),
    )


def _shows_scratches(move: Move) -> bool:
    """Tell whether a step lays film or colour, through which the wood's scratches show.

    Paint lies over them and hides them.
    """
    if is_a(matter_at(move), "paint"):
        return False
    return move.is_film or move.verb.does.lays is Lays.COLOUR or move.kind in COLOURS


def _coarse_on_film(case: ScheduleCase) -> Iterator[Found]:
    for move, grade in case.papers:
        meant = move.reach is Reach.CUT_BACK or move.step.strips
        coarse = grade.grain_um > COARSEST_UNDER_FILM_UM
        if coarse and not meant and on_film(case, move):
            yield Found(
                move.key("grade"),
                f"'{move.step.title}' leaves scratches in the film that the next coats show",
                grave=grade.grain_um > FAR_COARSER * COARSEST_UNDER_FILM_UM,
                about=about.cutting(move),
            )


def _two_rounds(first: str, second: str) -> str:
    """Return an example of coats levelled with one grade, and more of them with another."""
    rounds = (("one", "first", first), ("two", "second", second))
    laid = "product: shellac-dewaxed-blonde, cut: 2 lb, coats: 10"
    steps = (
        f"    - {{pad: ovals, mark: {coats}, {laid}}}\n"
        f"    - {{level: block, mark: {paper}, grade: {grade}, lubricant: dry}}\n"
        for coats, paper, grade in rounds
    )
    return "- stage: body\n  steps:\n" + "".join(steps)


GRADE_RULES = (
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
            _two_rounds("P400", "P1500"),
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
            _two_rounds("P600", "P400"),
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
        "coarse-on-film",
        "Coarse paper on a film",
        Severity.ADVICE,
        "A clear coat is a lens over what lies below. Scratches of paper coarser than P180 fill "
        "with finish and stay to be seen, and such paper takes more than a coat lays.",
        "scuff with P220 to P320, level with P320 or finer",
        "A. Noel, Reversible vs. non-reversible finishing, dealer's newsletter, 2013: coarser "
        "than P220 shows under gloss",
        Example(
            """\
- stage: body
  steps:
    - {brush: with the grain, mark: first, product: oil-varnish, coats: 3}
    - {level: block, grade: P120, lubricant: dry}
    - {brush: with the grain, mark: last, product: oil-varnish, coats: 2}
""",
            ("P120", "P320"),
        ),
        on_schedule=_coarse_on_film,
    ),
)

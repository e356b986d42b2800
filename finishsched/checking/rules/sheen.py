"""The rule of sheen: what the last thing that touches a film lets it shine like."""

from __future__ import annotations

import re
from collections.abc import Iterator

from finishsched.checking.cases import PieceCase, ScheduleCase
from finishsched.checking.moves import Move
from finishsched.checking.rule import Example, Found, Rule, Severity
from finishsched.model.film import Reach
from finishsched.model.product import Product, ProductKind
from finishsched.model.readings import GLOSSES, LOOKS
from finishsched.model.schedule import Verb

TO_GLOSS_BELOW_UM = 11.0
"""What is rubbed with a finer grain than this is rubbed to gloss."""
THIN_POLISH_UM = 12.0
"""A padded film that is thinner follows the wood and shines as it does, from satin on (our
assumption)."""
COARSEST_LAST_UM = 33.0
"""P500 and finer may be left as a flat sheen (common practice, no source)."""
COARSEST_FLAT_UM = 36.0
"""P400 too, where a flat look is asked for and no other (common practice, no source)."""
MOST_MATTED_COATS = 3
"""Some see no harm in more, most build with gloss from the third on (common practice)."""
_MATTED = r"\b(?:satin|matte?|matted|matting|flat|flatting|eggshell|silk)\b"
_RUBBED = (
    (20.0, "flat", "satin"),
    (TO_GLOSS_BELOW_UM, "satin", "semi-gloss"),
    (6.5, "semi-gloss", "gloss"),
)
"""A grain of so many um and more leaves a film from dull to bright. Rubbed sheens are practice:
0000 wool and P400 to P600 satin, P1000 to P1500 semi-gloss, P2000 and powder gloss."""


def _schedule_sheen(case: ScheduleCase) -> Iterator[Found]:
    if case.schedule.look:
        yield from (
            Found(("look",), message, contested=near)
            for message, near in _misses(case, case.schedule.look, "the look")
        )


def _piece_sheen(case: PieceCase) -> Iterator[Found]:
    wanted = case.piece.sheen
    if wanted and wanted != case.schedule.schedule.look:
        for message, near in _misses(case.schedule, wanted, f"'{case.piece.title}'"):
            yield Found(case.key("sheen"), message, contested=near)


def _misses(case: ScheduleCase, wanted: str, what: str) -> Iterator[tuple[str, bool]]:
    """Give how the sheen misses, and whether by one name only, which is in the beholder's eye."""
    found = _leaves(case)
    if found is None or wanted not in LOOKS:
        return
    last, dull, bright = found
    place = LOOKS.index(wanted)
    above, below = place - LOOKS.index(bright), LOOKS.index(dull) - place
    if above > 0:
        yield f"{what} is to be {wanted}, and {last} leaves it {bright} at the most", False
    elif below > 0:
        yield f"{what} is to be {wanted}, and {last} leaves it {dull} or brighter", below == 1


def _leaves(case: ScheduleCase) -> tuple[str, str, str] | None:
    """Return what decides the sheen, in words, and how dull and how bright it may come out."""
    last = case.last_film
    if last is None:
        return None
    rubs = [move for move in case.after(last) if move.verb.rubs_film]
    graded = [(move, grade) for move in rubs if (grade := case.abrasive(move)) is not None]
    if graded:
        move, grade = graded[-1]
        for least_um, dull, bright in _RUBBED:
            if grade.grain_um >= least_um:
                return f"'{_named(move)}'", dull, bright
        return f"'{_named(move)}'", "gloss", "high gloss"
    if last.kind is ProductKind.OIL:
        return f"{last.step.product}, wiped off", "flat", "satin"
    if last.is_shellac and last.verb is Verb.PAD:
        return "padded shellac as it is laid", _dullest_polish(case, last), "high gloss"
    return None


def _dullest_polish(case: ScheduleCase, last: Move) -> str:
    """Return how dull padded shellac may come out: thin it follows the wood, and wax dulls it."""
    if case.ledger[last.at][1].after.film_um.likely < THIN_POLISH_UM:
        return "satin"
    waxed = any(move.verb is Verb.WAX for move in case.after(last))
    return "semi-gloss" if waxed else "gloss"


def _scratches_left(case: ScheduleCase) -> Iterator[Found]:
    last = case.last_film
    rubs = [move for move in case.after(last) if move.verb.rubs_film] if last else []
    grade = case.grade(rubs[-1]) if rubs else None
    if grade is None or grade.rough or rubs[-1].step.reach is Reach.SCUFF:
        return
    coarsest_um = COARSEST_FLAT_UM if case.schedule.look == "flat" else COARSEST_LAST_UM
    if grade.grain_um > coarsest_um:
        yield Found(
            rubs[-1].key("grade"),
            f"'{rubs[-1].step.title}' is the last that touches the film: its scratches stay, grey "
            "in every light",
        )


def _matting_builds_up(case: ScheduleCase) -> Iterator[Found]:
    matted = [move for move in case.films if move.product and _is_matted(move.product)]
    wanted = case.schedule.look
    if wanted in GLOSSES and matted and matted[-1] is case.last_film:
        yield Found(
            matted[-1].verb_path,
            f"the look is to be {wanted}, and {matted[-1].step.product} is the last coat: what "
            "dulls it stays in it, however it is rubbed",
            "lay the gloss of the same finish last",
        )
    elif len(matted) > MOST_MATTED_COATS:
        yield Found(
            matted[-1].verb_path,
            f"{len(matted)} coats of {matted[-1].step.product} lie over each other: what dulls "
            "them lies between eye and wood in every one, and the figure clouds over",
        )


def _is_matted(product: Product) -> bool:
    """Tell whether a finish holds powder that dulls it, by its title."""
    return re.search(_MATTED, product.title.lower()) is not None


def _named(move: Move) -> str:
    return f"{move.step.title} {move.step.product}" if not move.step.grade else move.step.title


SHEEN_RULES = (
    Rule(
        "sheen-not-reached",
        "A sheen that the last grade cannot give",
        Severity.ERROR,
        "How a film shines is decided by the last thing that rubs it: wool leaves satin, the "
        "finest paper semi-gloss, powder gloss. Padded shellac shines by itself, and a wiped oil "
        "never does.",
        "change the last grade, or what is asked for",
        "gloss units of ASTM D523 and ISO 2813 as class names use them; rubbed sheens are common "
        "practice",
        Example(
            """\
- stage: body
  steps:
    - {brush: last coat, product: oil-varnish}
- stage: cure
  steps:
    - {rest: on pins}
    - {rub out: straight strokes, grade: 0000 wool, lubricant: soapy water}
""",
            (
                "grade: 0000 wool, lubricant: soapy water",
                "product: rottenstone, lubricant: mineral-oil",
            ),
            besides="in a schedule whose look is gloss",
        ),
        on_schedule=_schedule_sheen,
        on_piece=_piece_sheen,
    ),
    Rule(
        "scratches-left",
        "Levelled, and left so",
        Severity.ADVICE,
        "Paper that levels leaves scratches that everybody sees: they are there for the next coat, "
        "or for the finer papers after it. Left as the last, the film is grey and feels rough.",
        "go on to P600 and finer, wool or powder, or lay a last coat",
        "B. Flexner, Rubbing for a 'perfect' finish, Popular Woodworking 123, 2001; common "
        "practice",
        Example(
            "- stage: body\n  steps:\n    - {brush: last coat, product: oil-varnish}\n"
            "- stage: cure\n  steps:\n    - {rest: on pins}\n"
            "    - {level: straight strokes, grade: P320, lubricant: soapy water}\n",
            ("P320", "P600"),
        ),
        on_schedule=_scratches_left,
    ),
    Rule(
        "matting-builds-up",
        "Matting laid coat over coat",
        Severity.ADVICE,
        "A satin or matt finish is a gloss one with powder in it. The last coat alone decides how "
        "it shines; the powder of those below only veils the figure, on dark wood most.",
        "build with the gloss of the same finish, and lay the matt one last",
        "common practice; some writers see no difference",
        Example(
            """\
- stage: body
  steps:
    - brush: tip off
      product: satin-varnish
      coats: 5
      wait: {earliest: 8 h, likely: 12 h}
      dry_check: no tack
""",
            ("coats: 5", "coats: 2"),
            besides="with a product satin-varnish of the kind varnish",
        ),
        on_schedule=_matting_builds_up,
    ),
)

"""Rules about a piece of wood and its schedule: pores, oil, veneer, relief, faces."""

from __future__ import annotations

import re
from collections.abc import Iterator

from finishsched.checking import about
from finishsched.checking.cases import PieceCase
from finishsched.checking.cutting import PROVES_IT, cuts, goes_through
from finishsched.checking.rule import Example, Found, Kind, Rule, Severity
from finishsched.checking.rules.examples import lid
from finishsched.checking.rules.timber import told_of_wood
from finishsched.checking.said.asked import says
from finishsched.film.abrading import STOP_USED_PERCENT, WARN_USED_PERCENT
from finishsched.film.odds import Stake
from finishsched.film.outlook import veneer_use
from finishsched.film.species import wants_filling
from finishsched.model.product import ProductKind
from finishsched.model.readings import GLOSSES
from finishsched.model.schedule import Verb
from finishsched.model.woods import woods_of

SINKS_UM = 5.0
"""Relief that an eye sees in a gloss (our assumption)."""


def _is_to_shine(case: PieceCase) -> bool:
    wanted = case.piece.sheen or case.schedule.schedule.look
    return wanted in GLOSSES and bool(case.schedule.films)


def _wants_filler(case: PieceCase) -> bool:
    """Tell whether a wood has open pores that the schedule leaves open."""
    moves = case.schedule.moves
    filled = any(one.verb is Verb.FILL or says(one, "pores as meant") for one in moves)
    return bool(wants_filling(case.piece.made_of)) and not filled


def _pores_unfilled(case: PieceCase) -> Iterator[Found]:
    if case.schedule.on_bare_wood and _is_to_shine(case) and _wants_filler(case):
        names = ", ".join(w.name for w in woods_of(case.piece.made_of) if w.fill)
        yield Found(
            case.key("schedule"),
            f"{names} is open-pored and '{case.piece.title}' is to shine like glass, but "
            f"{case.piece.schedule} fills no pores: every pore prints through",
        )


def _relief_left(case: PieceCase) -> Iterator[Found]:
    if not _is_to_shine(case) or not case.schedule.on_bare_wood:
        return
    if not woods_of(case.piece.made_of) or _wants_filler(case):
        return
    left_um = case.ledger[-1][1].after.relief_um.likely
    if left_um > SINKS_UM:
        left = case.schedule.shop.units.tell(left_um, "um", 2)
        yield Found(
            case.key("schedule"),
            f"'{case.piece.title}' is to shine like glass, and about {left} of relief is "
            "likely left at the end",
        )


def _veneer_thin(case: PieceCase) -> Iterator[Found]:
    use = veneer_use(case.ledger[-1][1].after) if case.ledger else None
    if use is not None and use.warn and not use.stop:
        yield Found(
            case.key("veneer"),
            f"sanding likely uses {use.used_percent:.0f} % of the veneer of '{case.piece.title}'",
            about=about.veneer(case),
        )


def _veneer_through(case: PieceCase) -> Iterator[Found]:
    use = veneer_use(case.ledger[-1][1].after) if case.ledger else None
    if use is not None and use.stop:
        yield Found(
            case.key("veneer"),
            f"sanding likely uses {use.used_percent:.0f} % of the veneer of '{case.piece.title}'; "
            f"{STOP_USED_PERCENT:g} % is the most",
            about=about.veneer(case),
        )


def _cuts_through(case: PieceCase) -> Iterator[Found]:
    for cut in cuts(case.schedule, case.ledger, of_the_wood=False):
        if cut.edges_only:
            continue
        if goes_through(case.schedule):
            return  # the schedule tells of it by itself
        yield Found(
            case.key("schedule"),
            f"on '{case.piece.title}' the step '{cut.move.words}' {cut.words}",
            contested=not cut.is_certain,
        )
        return


def _through_the_wood(case: PieceCase) -> Iterator[Found]:
    """Tell of the likeliest cut through veneer or inlay; one at its edges alone only advises."""
    found = tuple(cuts(case.schedule, case.ledger, of_the_wood=True))
    if not found:
        return
    cut = max(found, key=lambda one: one.loss.odds)
    key = "inlay" if cut.loss.stake is Stake.INLAY else "veneer"
    yield Found(
        case.key(key),
        f"on '{case.piece.title}' the step '{cut.move.words}' {cut.words}"
        + ("; the face itself bears it" if cut.edges_only else ""),
        "keep off the edges, begin with a finer paper, or scrape" if cut.edges_only else "",
        contested=cut.edges_only or cut.loss.odds < PROVES_IT,
        about=about.veneer(case) if cut.loss.stake is Stake.VENEER else "",
    )


_SEVERAL = re.compile(r"\b(?:both|all|faces|sides|round|outside|and)\b")
"""What a face is called that stands for more than one: both faces, all round."""


def _one_face(case: PieceCase) -> Iterator[Found]:
    faces = sum(face.count for face in case.piece.faces)
    if any(_SEVERAL.search(face.name) for face in case.piece.faces):
        return
    laid = case.schedule.films or any(m.verb is Verb.GLUE_UP for m in case.schedule.moves)
    if case.piece.veneer_mm and faces == 1 and laid:
        yield Found(
            case.key("faces"),
            f"'{case.piece.title}' is veneered and one face of it is worked: what one side alone "
            "gets, it cups by",
        )


def _oil_on_pale_face(case: PieceCase) -> Iterator[Found]:
    first = next(iter(case.schedule.films), None)
    if first is None or not case.schedule.on_bare_wood or not case.piece.veneer_mm:
        return
    pale = [wood.name for wood in woods_of(case.piece.made_of) if wood.is_pale]
    if pale and first.kind is ProductKind.OIL:
        yield Found(
            case.key("schedule"),
            f"{', '.join(pale)} is pale, and {first.step.product} on a thin face of it goes "
            "yellow and blotched",
        )


WOOD_RULES = (
    Rule(
        "pores-unfilled",
        "Open pores under a glass finish",
        Severity.ADVICE,
        "Film shrinks into every open pore for weeks. On oak, walnut or mahogany no number of "
        "coats makes a sheet of glass unless the pores are filled first.",
        "choose a schedule that fills, or a duller sheen",
        "wood handbooks, in reprint: pores and the need to fill them",
        Example(
            lid("padded-shellac-closed-pored", "species: mahogany\nsheen: gloss\n"),
            ("padded-shellac-closed-pored", "padded-shellac-open-pored"),
            Kind.PIECE,
        ),
        on_piece=_pores_unfilled,
    ),
    Rule(
        "relief-left",
        "Relief that the film does not fill",
        Severity.ADVICE,
        "What hollows are deeper than the film over them still show in a gloss, as sunken seams "
        "and pores.",
        "lay more coats before the last levelling, or fill twice",
        "our ledger of film; depths of hollows are our assumption",
        Example(
            lid("padded-shellac-closed-pored", "species: maple\nrelief: 80 um\n"),
            ("relief: 80 um", "relief: 8 um"),
            Kind.PIECE,
        ),
        on_piece=_relief_left,
    ),
    Rule(
        "oily-wood",
        "Oily wood without a barrier",
        Severity.ERROR,
        "The oils of rosewood, teak and their like keep oxidising finishes from drying: the first "
        "coat stays sticky for good.",
        "seal with dewaxed shellac first",
        "the table of layers: M. Spagnuolo, Finishing oily woods, online, 2011; J. Jewitt, "
        "Finishing oily woods, Fine Woodworking, undated",
        Example(
            lid("wiped-oil", "species: teak\n"),
            ("wiped-oil", "oil-varnish-over-shellac"),
            Kind.PIECE,
        ),
        on_piece=told_of_wood("oily-wood"),
    ),
    Rule(
        "veneer-thin",
        "Sanding that uses much of the veneer",
        Severity.ADVICE,
        "Each paper takes about half its grain off to clear the scratch before it. Past a third "
        "of the face, an edge or a repair has nothing left to give.",
        f"begin with a finer paper, or use a thicker face; mind it from {WARN_USED_PERCENT:g} %",
        "half a grain of wood for each paper, our assumption; the limits common practice",
        Example(
            lid("padded-shellac-pattern", "species: maple\nveneer: 0.4 mm\n"),
            ("0.4 mm", "0.7 mm"),
            Kind.PIECE,
        ),
        on_piece=_veneer_thin,
    ),
    Rule(
        "veneer-through",
        "Sanding through the veneer",
        Severity.ERROR,
        "With half of the face gone on paper, somewhere it is gone in fact: the glue shows, and "
        "no coat hides it.",
        "scrape instead, begin with a finer paper, or use a thicker face",
        "half a grain of wood for each paper, our assumption; the limits common practice",
        Example(
            lid("padded-shellac-pattern", "species: maple\nveneer: 0.25 mm\n"),
            ("0.25 mm", "0.7 mm"),
            Kind.PIECE,
        ),
        on_piece=_veneer_through,
    ),
    Rule(
        "cuts-through",
        "A levelling that cuts through on this piece",
        Severity.ERROR,
        "Thirsty wood drinks the first coats, and an oily one has a seal to lose that another "
        "has not, so that what is safe by the schedule alone goes through here.",
        "lay more coats, use a finer grade, only scuff, or keep off the edges",
        "our ledger of film, zone by zone; spreads are our assumption",
        Example(
            lid("mine", "species: rosewood\n"),
            ("rosewood", "walnut"),
            Kind.PIECE,
            stages="""\
- stage: body
  steps:
    - {pad: ovals, mark: seal, product: shellac-dewaxed-blonde, cut: 2 lb, amount: 25 ml/m2}
    - {brush: flow on, mark: first, product: oil-varnish, amount: 80 ml/m2}
    - {level: block, grade: P320, lubricant: dry}
    - {brush: flow on, mark: last, product: oil-varnish, amount: 80 ml/m2}
""",
        ),
        on_piece=_cuts_through,
    ),
    Rule(
        "through-the-wood",
        "Paper that goes through veneer or inlay",
        Severity.ERROR,
        "Edges and corners lose two to five times what the face does, and what stands proud goes "
        "first. A veneer that bears a paper in the middle may not bear it there.",
        "use a hard block, begin with a finer paper, or keep off the edges",
        "our ledger zone by zone; edge pressure from pad mechanics, our assumption within it",
        Example(
            lid("mine", "species: maple\nveneer: 0.5 mm\n"),
            ("0.5 mm", "1.5 mm"),
            Kind.PIECE,
            stages="""\
- stage: prepare
  steps:
    - {sand: block, mark: coarse, grade: P80, lubricant: dry}
    - {sand: block, mark: fine, grade: P120, lubricant: dry}
""",
        ),
        on_piece=_through_the_wood,
    ),
    Rule(
        "one-face",
        "One face only",
        Severity.ADVICE,
        "Veneer, glue and finish pull at the side they are on, and slow its water. A panel that "
        "gets them on one face only cups towards it or away from it with the seasons.",
        "give the other face the same, or accept the rule and say why it holds flat",
        "common practice",
        Example(
            lid(
                "padded-shellac-closed-pored",
                "veneer: 0.6 mm\n",
                "faces:\n  - {face: front, length: 300 mm, width: 200 mm}\n",
            ),
            ("200 mm}\n", "200 mm}\n  - {face: back, length: 300 mm, width: 200 mm}\n"),
            Kind.PIECE,
        ),
        on_piece=_one_face,
    ),
    Rule(
        "oil-on-pale-face",
        "Oil on a thin pale face",
        Severity.ADVICE,
        "Oil darkens and yellows pale woods, and through a thin veneer it reaches the glue and "
        "comes up in blotches.",
        "seal pale veneer with blonde shellac first",
        "common practice",
        Example(
            lid("wiped-oil", "species: holly\nveneer: 0.6 mm\n"),
            ("species: holly", "species: walnut"),
            Kind.PIECE,
        ),
        on_piece=_oil_on_pale_face,
    ),
)

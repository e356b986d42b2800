"""Rules about what a wood does to a finish: oil, resin, tannin, colour that runs, blotches."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator

from finishsched.checking.cases import PieceCase
from finishsched.checking.layers.bare import FIGURED, on_wood
from finishsched.checking.layers.matter import matter_at
from finishsched.checking.moves import Move
from finishsched.checking.rule import Example, Found, Kind, Rule, Severity
from finishsched.checking.rules.examples import lid_of
from finishsched.checking.rules.water import steel_rusts
from finishsched.model.doing import Lays
from finishsched.model.how import tells
from finishsched.model.kinds import CHEMICALS
from finishsched.model.product import ProductKind
from finishsched.model.verbs import Verb
from finishsched.model.woods import Degree, Wood, woods_of


def told_of_wood(code: str) -> Callable[[PieceCase], Iterator[Found]]:
    """Return what tells the layers on bare wood of one rule, by the table of layers."""

    def find(case: PieceCase) -> Iterator[Found]:
        figured = tells(f"{case.piece.species} {case.piece.title}", FIGURED)
        for found in on_wood(case.schedule, case.piece.made_of):
            meant = figured and code == "colour-blotches"
            if found.pair.rule == code and not meant:
                yield Found(
                    case.key("schedule"),
                    f"{_names(found.woods)}: {found.move.step.product} goes on it bare, and "
                    f"{found.pair.why}",
                    found.pair.mend,
                    contested=not found.pair.is_certain,
                )

    return find


def _names(names: Iterable[str]) -> str:
    return ", ".join(names)


def _colour_runs(case: PieceCase) -> Iterator[Found]:
    woods = woods_of(case.piece.shows)
    pale = [wood.name for wood in woods if wood.is_pale]
    if not pale or not case.schedule.on_bare_wood:
        return
    for move in case.schedule.moves:
        liquid = _liquid_of(move)
        runs = [wood.name for wood in woods if liquid in wood.bleeds_in]
        stained = [name for name in pale if name not in runs]
        if runs and stained:
            yield Found(
                case.key("schedule"),
                f"{liquid} carries the colour of {_names(runs)} into {_names(stained)} at "
                f"'{move.step.title}'",
            )
            return
        if move.is_film:
            return


def _liquid_of(move: Move) -> str:
    """Return the liquid that a step moves about on bare wood; empty for none that is rubbed."""
    if move.step.by_gun:
        return ""
    if move.is_shellac or move.kind is ProductKind.ALCOHOL:
        return "alcohol"
    # A wrung sponge carries no colour about; what floods the face does.
    floods = (*CHEMICALS, ProductKind.DYE)
    return "water" if move.kind in floods and _brings_water(move) else ""


def _iron_on_tannin(case: PieceCase) -> Iterator[Found]:
    tannin = [w.name for w in woods_of(case.piece.made_of) if w.tannin is Degree.HIGH]
    if not tannin or not case.schedule.on_bare_wood:
        return
    if case.beside_its_schedule and any(steel_rusts(case.schedule)):
        return  # the schedule tells of it by itself
    steel: Move | None = None
    for move in case.schedule.moves:
        if move.verb.does.lays is not Lays.NOTHING and not _brings_water(move):
            return
        if steel is not None and _brings_water(move):
            yield Found(
                case.key("schedule"),
                f"'{steel.step.title}' leaves crumbs of steel in {_names(tannin)}, and "
                f"'{move.step.title}' wets them: blue-black stains",
            )
            return
        if move.rubs_with_steel:
            steel = move


def _brings_water(move: Move) -> bool:
    if move.is_wetted:
        return True
    mechanism = move.product.mechanism if move.product else None
    return move.verb.lays and mechanism is not None and mechanism.is_by_water


def _powder_in_pores(case: PieceCase) -> Iterator[Found]:
    open_pored = [wood.name for wood in woods_of(case.piece.made_of) if wood.fill]
    moves = case.schedule.moves
    filled = any(move.verb is Verb.FILL for move in moves) or not case.schedule.on_bare_wood
    if not open_pored or filled:
        return
    for move in moves:
        if move.verb is Verb.RUB_OUT and move.kind is ProductKind.POWDER:
            yield Found(
                case.key("schedule"),
                f"'{move.step.title}' works {move.step.product} into the open pores of "
                f"{_names(open_pored)}: it dries there white or grey",
            )
            return


def _filler_needless(case: PieceCase) -> Iterator[Found]:
    woods = woods_of(case.piece.made_of)
    fills = [move for move in case.schedule.moves if move.is_filler]
    if fills and woods and case.schedule.on_bare_wood and not any(_has_pores(one) for one in woods):
        yield Found(
            case.key("schedule"),
            f"{_names(wood.name for wood in woods)}: it has no pores to fill, and "
            f"'{fills[0].step.title}' leaves a veil on it",
        )


def _has_pores(wood: Wood) -> bool:
    return wood.fill or wood.pores == "softwood"


def _pale_coloured(case: PieceCase) -> Iterator[Found]:
    woods = woods_of(case.piece.shows)
    pale = [wood.name for wood in woods if wood.is_pale]
    dark = [wood.name for wood in woods if not wood.is_pale]
    if not pale or not dark or not case.schedule.on_bare_wood:
        return
    for move in case.schedule.moves:
        if move.is_film or move.verb is Verb.MASK:
            return
        if move.verb.does.lays is Lays.COLOUR and not move.step.on_a_spot:
            yield Found(
                case.key("schedule"),
                f"'{move.step.title}' colours the whole face: {_names(pale)} takes it as "
                f"{_names(dark)} does, and the pattern is gone",
            )
            return


def _oil_through_burr(case: PieceCase) -> Iterator[Found]:
    burr = re.search(r"\bbur[rl]\b", f"{case.piece.species} {case.piece.title}".lower())
    glued = [one for one in case.schedule.moves if matter_at(one) == "glue.hide"]
    oil = case.schedule.first_layer
    if not (burr and glued and oil and oil.kind is ProductKind.OIL):
        return
    yield Found(
        case.key("schedule"),
        f"{oil.step.product} goes through the open burr of '{case.piece.title}' to its "
        f"{glued[0].step.product}: the veneer blisters",
    )


_SHELLAC = "product: shellac-dewaxed-blonde, cut: 1 lb"


def _example(species: str, other: str, stages: str, besides: str = "") -> Example:
    instead = (f"species: {species}", f"species: {other}")
    return Example(lid_of(species), instead, Kind.PIECE, stages=stages, besides=besides)


TIMBER_RULES = (
    Rule(
        "powder-in-pores",
        "Rubbing powder on open pores",
        Severity.ADVICE,
        "Pumice and rottenstone are pale. Over pores that nothing filled they go in with the oil "
        "and stay when it has gone: a grey veil, worst on dark wood.",
        "fill the pores first, rub with paper or a pad, or take dark wax along",
        "common practice, no source",
        _example(
            "oak",
            "maple",
            f"- stage: body\n  steps:\n    - {{pad: ovals, {_SHELLAC}}}\n- stage: cure\n  steps:\n"
            "    - {rub out: on felt, product: rottenstone, lubricant: mineral-oil}\n",
        ),
        on_piece=_powder_in_pores,
    ),
    Rule(
        "epoxy-on-oily",
        "Epoxy on bare oily wood",
        Severity.ADVICE,
        "Epoxy cures on oily wood, since it needs no oxygen, but it may not hold: the oil lies "
        "between. Some say that a wipe with acetone clears it, others that it draws more oil up.",
        "wipe with a fast solvent and fill at once, or put a wash coat of dewaxed shellac first",
        "J. Heavey, Finishing oily exotic woods, WOOD magazine, undated; contested",
        _example(
            "rosewood",
            "mahogany",
            "- stage: fill\n  steps:\n    - {fill: pack, product: two-part-epoxy}\n",
        ),
        on_piece=told_of_wood("epoxy-on-oily"),
    ),
    Rule(
        "resin-bleeds",
        "Resin with no shellac over it",
        Severity.ADVICE,
        "Resin that was never set by heat stays liquid at the warmth of a room and creeps through "
        "any film. Two coats of shellac hold it back best, though not for ever.",
        "scrape, wipe with spirits, and seal with dewaxed shellac, knots twice",
        "Wood Handbook, ch. 16, USDA Forest Products Laboratory, 2010",
        _example(
            "pine",
            "maple",
            "- stage: body\n  steps:\n    - {brush: full coat, product: oil-varnish}\n",
        ),
        on_piece=told_of_wood("resin-bleeds"),
    ),
    Rule(
        "colour-blotches",
        "Colour on a wood that takes it unevenly",
        Severity.ADVICE,
        "Pine, cherry, maple, birch and their like are dense here and open there: a stain or dye "
        "on the bare wood comes out in blotches that no paper takes out.",
        "a wash coat of shellac first, let it dry through, or a glaze or gel; try it on an offcut",
        "B. Flexner, Battling blotching, Popular Woodworking 140, 2004",
        _example(
            "cherry",
            "walnut",
            "- stage: prepare\n  steps:\n    - {wipe: colour, product: walnut-stain}\n",
            "with a product walnut-stain of the kind stain",
        ),
        on_piece=told_of_wood("colour-blotches"),
    ),
    Rule(
        "colour-runs",
        "A wood whose colour runs into a pale one",
        Severity.ADVICE,
        "Padauk, rosewoods, cocobolo and others give their colour to alcohol, some to water. A pad "
        "carries it across the seam, and a pale wood never lets it go again.",
        "mist the first coats, or seal each wood by itself with a small brush, away from the pale",
        "common practice",
        _example(
            "padauk and holly",
            "walnut and holly",
            f"- stage: body\n  steps:\n    - {{pad: ovals, {_SHELLAC}}}\n",
        ),
        on_piece=_colour_runs,
    ),
    Rule(
        "iron-on-tannin",
        "Steel wool before water on a wood with tannin",
        Severity.ERROR,
        "Iron, tannin and water make ink. A crumb of steel wool in a pore of oak or chestnut turns "
        "blue-black with the first wet coat.",
        "use bronze wool or a grey or white pad, vacuum and a magnet",
        "M. Knaebe, Iron stain on wood, FinishLine, USDA Forest Products Laboratory, 2013",
        _example(
            "oak",
            "maple",
            "- stage: prepare\n  steps:\n    - {rub out: light, grade: 0000 "
            "wool}\n    - {wipe: colour, product: walnut-stain}\n",
            "with a product walnut-stain, a water stain",
        ),
        on_piece=_iron_on_tannin,
    ),
    Rule(
        "alkali-without-tannin",
        "Alkali or iron as a colour on a wood without tannin",
        Severity.ADVICE,
        "Lye and ammonia turn tannin brown, iron turns it black, and nothing else. Maple, holly, "
        "ash and birch have next to none: they yellow a little, and all the risk was for nothing.",
        "dye it, or lay a wash of tannin first",
        "the table of layers: W. Noyes, Handwork in Wood, Manual Arts Press, 1910",
        _example(
            "maple",
            "oak",
            "- stage: prepare\n  steps:\n    - {stain: wet it, product: wood-lye}\n",
            "with a product wood-lye of the kind alkali",
        ),
        on_piece=told_of_wood("alkali-without-tannin"),
    ),
    Rule(
        "filler-needless",
        "Filler on a wood without open pores",
        Severity.ADVICE,
        "Filler locks into open pores. Maple, cherry, holly and pear have none: it lies on the "
        "face as a grey veil, and colour comes out muddy.",
        "leave it out: sand, seal and build",
        "common practice, no source",
        _example(
            "maple",
            "mahogany",
            "- stage: fill\n  steps:\n    - {fill: pack, product: oil-paste-filler}\n",
        ),
        on_piece=_filler_needless,
    ),
    Rule(
        "pale-coloured",
        "One stain over pale and dark woods",
        Severity.ADVICE,
        "Pattern lives by its contrast. Stain or dye over the whole face darkens pale lines most, "
        "and they never come back.",
        "tape or seal what is to stay pale first, or colour the dark wood by itself",
        "common practice, no source",
        _example(
            "walnut, holly stringing",
            "walnut",
            "- stage: prepare\n  steps:\n    - {stain: wipe, product: walnut-stain}\n",
            "with a product walnut-stain of the kind stain",
        ),
        on_piece=_pale_coloured,
    ),
    Rule(
        "oil-through-burr",
        "Oil on a burr that hide glue holds",
        Severity.ADVICE,
        "Burr veneer is open like a sieve. Oil goes through it, softens the glue, and small "
        "blisters come up weeks later.",
        "seal it with thin shellac first, and use next to no oil",
        "R. Bitmead, French Polishing and Enamelling, 1910",
        _example(
            "walnut burr",
            "walnut",
            "- stage: prepare\n  steps:\n    - {glue up: lay it, product: hot-hide-glue}\n"
            "- stage: body\n  steps:\n    - {wipe: flood, product: boiled-linseed-oil}\n",
        ),
        on_piece=_oil_through_burr,
    ),
    Rule(
        "alkali-on-tannin",
        "Alkali on a wood with tannin",
        Severity.ADVICE,
        "Lye, ammonia and soda brown oak, chestnut and walnut at once. Meant so it is a colour; "
        "else it is a stain. A waterborne finish, alkaline too, draws a cast. Accept the rule "
        "where the colour is wanted, and say so.",
        "use an acid bleach, or keep alkali off it",
        "W. Noyes, Handwork in Wood, Manual Arts Press, 1910",
        _example(
            "oak",
            "maple",
            "- stage: prepare\n  steps:\n    - {bleach: wet it, product: wood-lye}\n",
            "with a product wood-lye of the kind alkali",
        ),
        on_piece=told_of_wood("alkali-on-tannin"),
    ),
)

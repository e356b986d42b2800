"""Rules about what lies beside the wood, and what may be sold: inlay, its dust, protected kinds."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from finishsched.checking.cases import PieceCase
from finishsched.checking.layers.matter import matter_of
from finishsched.checking.layers.passing import brings_acid
from finishsched.checking.moves import Move
from finishsched.checking.rule import Example, Found, Kind, Rule, Severity
from finishsched.checking.rules.examples import lid_of
from finishsched.checking.said.asked import says
from finishsched.model.doing import Lays
from finishsched.model.inlays import Inlay, inlays_in
from finishsched.model.job import Piece
from finishsched.model.kinds import CHEMICALS, ProductKind
from finishsched.model.verbs import Verb
from finishsched.model.woods import woods_of

_NO_TRADE = "I"
"""The appendix of what is not traded at all; what needs papers only, the record names."""


def _inlays_of(piece: Piece) -> tuple[Inlay, ...]:
    """Return the kinds of inlay of a piece, as its document names them."""
    return tuple(inlays_in(piece.shows))


def _liquids_of(move: Move) -> frozenset[str]:
    """Return what a step brings to the face, by the words of ``Inlay.lifted_by``."""
    brought = {matter_of(one) for one in move.brings}
    found = {word for matter, words in _BRINGS.items() if matter in brought for word in words}
    if move.is_shellac or ProductKind.ALCOHOL in (one.kind for one in move.brings):
        found.add("alcohol")
    fast = ("lacquer", "acetone")
    if any(word in f"{one.id} {one.title}".lower() for one in move.brings for word in fast):
        found.add("acetone")
    if move.is_wetted:
        found.add("water")
    if move.verb.does.lays is Lays.COLOUR:
        found.add("colour")
    if brings_acid(move):
        found.add("acid")
    if move.verb in (Verb.STEAM, Verb.BURN_IN):
        found.add("heat")
    return frozenset(found)


_BRINGS = {
    "bleach.oxalic": ("acid", "water"),
    "bleach.peroxide": ("alkali", "water"),
    "bleach.chlorine": ("alkali", "water"),
    "alkali": ("alkali", "water"),
}
"""What bleaches do to shell, bone and metal (common practice, no source)."""


def _lifted(case: PieceCase) -> Iterator[Found]:
    for inlay in _inlays_of(case.piece):
        for move in _uncovered(case.schedule.moves):
            liquid = next((one for one in inlay.lifted_by if one in _liquids_of(move)), None)
            if liquid is not None:
                yield Found(
                    case.key("schedule"),
                    f"'{move.step.title}' brings {liquid} to the {inlay.name}, which it "
                    f"{_HARMS.get(liquid, 'softens or carries about')}",
                    _INSTEAD.get(liquid, ""),
                )
                break


def _uncovered(moves: Iterable[Move]) -> Iterator[Move]:
    """Give the steps that reach what is laid in: none while tape lies over it.

    A film keeps colour from it, and no liquid: what dissolves that film goes through.
    """
    masked = sealed = False
    for move in moves:
        if move.verb in (Verb.MASK, Verb.STRIP_TAPE):
            masked = move.verb is Verb.MASK
        colours = move.verb.does.lays is Lays.COLOUR
        if not masked and not (sealed and colours):
            yield move
        sealed = sealed or move.is_film


_HARMS = {
    "heat": "warps, blisters or burns",
    "acid": "eats or stains",
    "alkali": "eats or stains",
    "colour": "stains for good",
}
_SHUT_IN = "bleach the wood before it is let in, or shut it in with two coats of shellac first"
_INSTEAD = {
    "heat": "keep iron and hot knife a hand away from it, or fill the dent cold",
    "acid": _SHUT_IN,
    "alkali": _SHUT_IN,
    "colour": "tape it over, or shut it in by itself with two coats of shellac first",
}


def _veneer_flooded(case: PieceCase) -> Iterator[Found]:
    for move in case.schedule.moves:
        cleans = move.verb.does.cleans or move.kind in CHEMICALS
        water = move.product is None or not move.product.is_solvent or move.wets_with_water
        if (
            case.piece.veneer_mm
            and cleans
            and water
            and (says(move, "flood") or says(move, "boiling"))
        ):
            yield Found(
                case.key("veneer"),
                f"'{move.step.title}' floods the veneer of '{case.piece.title}': water, and hot "
                "water most, lets its glue go",
            )
            return


def _soils(case: PieceCase) -> Iterator[Found]:
    pale = [wood.name for wood in woods_of(case.piece.shows) if wood.is_pale]
    if not pale or not case.schedule.on_bare_wood:
        return
    soiling = [inlay.name for inlay in _inlays_of(case.piece) if inlay.soils]
    black = [wood.name for wood in woods_of(case.piece.shows) if wood.colour == "black"]
    for move in case.schedule.moves:
        if move.lays:
            return
        by_paper = black if move.verb.cuts else []  # a scraper makes shavings, and no dust
        if move.verb.abrades and (soiling or by_paper):
            yield Found(
                case.key("schedule"),
                f"'{move.step.title}' rubs {', '.join([*soiling, *by_paper])} into bare "
                f"{', '.join(pale)}: its dust sticks in pale pores",
            )
            return


def _listed(case: PieceCase) -> Iterator[Found]:
    woods = [wood for wood in woods_of(case.piece.shows) if wood.trade_listed == _NO_TRADE]
    listed = [f"{wood.name}: CITES {wood.trade_listed}" for wood in woods]
    listed += [f"{one.name}: {one.trade}" for one in _inlays_of(case.piece) if one.trade]
    if listed:
        yield Found(
            case.key("species"),
            f"trade in what '{case.piece.title}' is made of is restricted ({'; '.join(listed)})",
        )


_PADS = "- stage: body\n  steps:\n    - {pad: ovals, product: shellac-garnet, cut: 1 lb}\n"

BESIDE_RULES = (
    Rule(
        "veneer-flooded",
        "Water in quantity on a veneer",
        Severity.ADVICE,
        "Old veneer lies on hide glue, which hot water lets go within minutes; every other water "
        "glue swells. Blisters and open seams come up as it dries.",
        "a wrung cloth and little at a time, dried at once; alcohol for shellac, a mild stripper "
        "for the rest",
        "common practice, no source",
        Example(
            lid_of("walnut\nveneer: 0.7 mm"),
            ("veneer: 0.7 mm\n", ""),
            Kind.PIECE,
            stages="- stage: prepare\n  steps:\n"
            "    - {wash: boiling water and hosed down, product: water}\n" + _PADS,
        ),
        on_piece=_veneer_flooded,
    ),
    Rule(
        "inlay-lifted",
        "A liquid that softens what is laid in",
        Severity.ADVICE,
        "Celluloid goes soft in alcohol and acetone, plastics in acetone; water swells bone and "
        "horn, which take up stain and dye as wood does, and dyed veneer gives its colour to both "
        "alcohol and water.",
        "mist the first coats, keep the wet off it, or shut it in by itself with a small brush",
        "common practice, no source",
        Example(
            lid_of("walnut, celluloid inlay"),
            ("walnut, celluloid inlay", "walnut"),
            Kind.PIECE,
            stages=_PADS,
        ),
        on_piece=_lifted,
    ),
    Rule(
        "inlay-soils",
        "Metal, dyed veneer or black wood sanded beside bare pale wood",
        Severity.ADVICE,
        "Brass goes grey-green into the pores of holly and maple, ebony goes black, and dust of "
        "dyed veneer brings its colour along. Once there, no paper takes it out.",
        "scrape it level, or seal the face with a mist of dewaxed shellac before the paper comes, "
        "and vacuum at once",
        "common practice, no source",
        Example(
            lid_of("maple, brass stringing"),
            ("maple, brass stringing", "maple"),
            Kind.PIECE,
            stages="- stage: prepare\n  steps:\n    - {sand: block, grade: P180, lubricant: dry}\n"
            + _PADS,
        ),
        on_piece=_soils,
    ),
    Rule(
        "trade-listed",
        "A wood, shell or ivory that is not traded",
        Severity.ADVICE,
        "Selling, lending or carrying it over a border needs papers that prove its age, and for "
        "some kinds there are none. Woods that need papers only are named in the record. What is "
        "listed changes every few years.",
        "look it up under CITES and the law of the place before it is sold, and keep its papers",
        "appendices of CITES, state of 2023, from memory",
        Example(
            lid_of("Brazilian rosewood"),
            ("Brazilian rosewood", "walnut"),
            Kind.PIECE,
            stages=_PADS,
        ),
        on_piece=_listed,
    ),
)

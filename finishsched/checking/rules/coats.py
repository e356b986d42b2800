"""Rules about coats: amounts, thinning, cuts in a row, and how much film they make together."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from finishsched.checking import about
from finishsched.checking.cases import ScheduleCase
from finishsched.checking.cutting import cuts, on_film
from finishsched.checking.layers.matter import HARDENS_IN_DAMP, matter_at
from finishsched.checking.layers.thin import seals_under_wax
from finishsched.checking.moves import Move
from finishsched.checking.rule import Example, Found, Rule, Severity
from finishsched.checking.rules.strengths import HAIR
from finishsched.checking.words import cut, duration
from finishsched.factors import G_PER_L_IN_A_POUND_CUT
from finishsched.film.face import LEAST_UM
from finishsched.film.ledger import SEAL_UM
from finishsched.film.limits import limit_of
from finishsched.mixing.keeping import life_of
from finishsched.model.doing import Abrades
from finishsched.model.how import tells
from finishsched.model.product import ProductKind
from finishsched.model.readings import GLOSSES
from finishsched.model.said import Teller
from finishsched.model.schedule import StageName, Verb

HEAVIEST_LAST_G_PER_L = 1.5 * G_PER_L_IN_A_POUND_CUT
"""A last coat by pad that leaves no ridges (common practice)."""
FAR_TOO_MUCH = 1.5
"""Times the most: that runs, wrinkles or stays soft under its skin (our assumption)."""
NEAR_LIMIT = 1.2
"""Times its limit: up to there a film may be within it, since hands lay a fifth more or less (our
assumption)."""
TOLD_OVER = 1.1
"""Times its limit, from which on it is worth a word: makers print 76 to 100 um (3 to 4 mil)."""
FAR_OVER_LIMIT = 2.0
"""Times its limit: no hand makes that good (our assumption)."""
THINNEST_WHERE_WET_UM = 40.0
"""Two full brushed coats, or five wiped ones, where water stands on it (common practice)."""
_WET_PLACES = (
    r"\b(?:gets? wet|wet (?:daily|use|hands)|water stands"
    r"|(?:coffee|tea|serving|drinks|kitchen) tray|coasters?"
    r"|bathroom|outdoors?|garden|sink|shower|boat)\b"
)
THINNEST_RUBBED_UM = 15.0
"""Below it pad on, do not rub (our assumption: P2000 goes through in one face
of twenty)."""
MOST_GLAZE_ML_PER_M2 = 60.0
"""Laid as a stain is; more stays soft under what covers it (our assumption)."""


def _last_cut_heavy(case: ScheduleCase) -> Iterator[Found]:
    pads = [move for move in case.films if move.verb is Verb.PAD and move.step.cut_g_per_l]
    if not pads or pads[-1] is not case.last_film or case.schedule.look not in GLOSSES:
        return
    last = pads[-1]
    if (last.step.cut_g_per_l or 0.0) > HEAVIEST_LAST_G_PER_L * HAIR:
        yield Found(
            last.key("cut"),
            f"the last coat is padded with a {cut(last.step.cut_g_per_l or 0)}: its ridges stay "
            "in the shine",
        )


def _cut_rising(case: ScheduleCase) -> Iterator[Found]:
    """Tell of a coat stronger than those under it; over a seal it is the body, and as it should."""
    strengths: list[float] = []
    for below, move in pairwise(case.films):
        weak, strong = below.step.cut_g_per_l, move.step.cut_g_per_l
        if not weak or not strong or below.step.stage is StageName.SEAL:
            continue
        strengths.append(weak)
        one_run = not any(one.verb.abrades or one.is_filler for one in case.between(below, move))
        over = weak if one_run else max(strengths)
        thin = max(strengths) == weak and case.ledger[below.at][1].after.film_um.likely < SEAL_UM
        if strong > over * HAIR and not thin:
            yield Found(
                move.key("cut"),
                f"'{move.step.title}' is a {cut(strong)}, and the coats under it were a "
                f"{cut(over)}: stronger over weaker, it pulls up what is below",
            )
            return


def _coat_amount(case: ScheduleCase) -> Iterator[Found]:
    for move in case.films:
        amount = move.amount_ml_per_m2
        usual = move.verb.does.coat
        if amount is None or usual is None or matter_at(move) == HARDENS_IN_DAMP:
            continue  # tree lacquer is laid by the hairbrush, as thin as a pad lays shellac
        low, high = usual.amount_ml_per_m2
        soaks_up = move.kind.row.most_ml_per_m2 if move.kind else None
        most = min(high, soaks_up or high)
        if amount < low or amount > most:
            yield _amount(move, amount, low, most, case.shop.units.tell)


def _stands_on_it(case: ScheduleCase) -> Iterator[Found]:
    """Tell of colour, filler, wax, glue or spirit of which more is brought than the face takes."""
    for move in case.moves:
        most = move.verb.does.most_ml_per_m2
        amount = move.amount_ml_per_m2
        if most is None or amount is None:
            continue
        if matter_at(move) == "glaze":
            most = min(most, MOST_GLAZE_ML_PER_M2)
        if amount > most:
            given, upper = (case.shop.units.tell(ml, "ml/m2", 2) for ml in (amount, most))
            yield Found(
                move.key("amount"),
                f"{given} is much for '{move.step.title}' in one go: {move.verb.does.too_much}",
                f"{upper} is the most; wipe off what is too much",
                grave=amount > FAR_TOO_MUCH * most and move.verb is Verb.SPIRIT_OFF,
            )


def _amounts(case: ScheduleCase) -> Iterator[Found]:
    yield from _coat_amount(case)
    yield from _stands_on_it(case)


def _amount(move: Move, amount: float, low: float, most: float, tell: Teller) -> Found:
    """Return a coat of too little or too much; far too much runs and stays soft for certain."""
    much = "little" if amount < low else "much"
    soaks = move.kind is not None and move.kind.row.most_ml_per_m2 == most
    kind = move.kind.value if move.kind and soaks else ""
    what = f"one coat of {kind}" if kind else f"one coat by {move.verb.value}"
    least, given, upper = (tell(ml, "ml/m2", 2) for ml in (low, amount, most))
    remedy = f"{least.partition(' ')[0]} to {upper} is what hands lay; lay several coats for more"
    if kind:
        remedy = f"{upper} is the most that wood takes; wipe off what stands on it, dry"
    return Found(
        move.key("amount"),
        f"{given} is {much} for {what}",
        remedy,
        grave=amount > FAR_TOO_MUCH * most,
    )


def _no_amount(case: ScheduleCase) -> Iterator[Found]:
    for move in case.films:
        if move.step.spread is None and move.verb is not Verb.DIP:  # a bath gives what it gives
            yield Found(
                move.verb_path,
                f"'{move.step.title}' states no amount: film and need are reckoned by a usual coat",
            )


def _thinned_too_far(case: ScheduleCase) -> Iterator[Found]:
    for move in case.films:
        kind = move.kind
        most = kind.row.most_thinned_percent if kind else None
        share = move.step.thinned_percent or 0.0
        if kind is not None and most is not None and share > most * HAIR:
            yield Found(
                move.key("thinned"),
                f"{move.step.product} is thinned by {share:g} %, and {most:g} % is the most that "
                f"{kind.value} bears",
            )


def _film_too_thick(case: ScheduleCase) -> Iterator[Found]:
    products = tuple(move.product for move in case.films if move.product)
    limit = limit_of(products)
    over = [(move, um) for move, um in _films(case) if um > limit.film_um]
    if all(um <= limit.film_um * TOLD_OVER for _, um in over):
        return
    # A little over may be within it; where far more follows, it is told where that is past doubt.
    far = [(move, um) for move, um in over if um > limit.film_um * FAR_OVER_LIMIT]
    for move, film_um in (far or over)[:1]:
        yield Found(
            move.key("coats") if move.step.coats > 1 else move.verb_path,
            f"at '{move.step.title}' the film comes to about "
            f"{case.shop.units.tell(film_um, 'um', 2)}; {limit.what} bears "
            f"{case.shop.units.tell(limit.film_um, 'um', 2)} and cracks when it is thicker",
            # Of an old film nobody knows how much is there.
            contested=film_um <= limit.film_um * NEAR_LIMIT or not case.on_bare_wood,
        )


def _films(case: ScheduleCase) -> Iterator[tuple[Move, float]]:
    for move in case.films:
        yield move, case.ledger[move.at][1].after.film_um.likely


def _film_too_thin(case: ScheduleCase) -> Iterator[Found]:
    built = [move for move in case.films if move.kind is not ProductKind.OIL]
    if not built or built[-1] is not case.last_film or seals_under_wax(case):
        return
    if any(cut.is_certain for cut in cuts(case, case.ledger, of_the_wood=False)):
        return  # too-few-coats tells where it went
    film_um = case.ledger[-1][1].after.film_um.likely
    rubbed = any(move.verb.does.abrades is Abrades.SHINE for move in case.after(built[-1]))
    least_um = THINNEST_RUBBED_UM if rubbed else SEAL_UM
    levels = [move for move in case.moves if on_film(case, move)]
    if film_um < least_um and levels:
        tell = case.shop.units.tell
        yield Found(
            built[-1].verb_path,
            f"{_left(film_um, tell)} of film is left at the end: {tell(least_um, 'um', 2)} is the "
            + ("least that bears rubbing out" if rubbed else "least that lasts"),
            about=about.cutting(levels[-1]),
        )


def _thin_where_wet(case: ScheduleCase) -> Iterator[Found]:
    last = case.last_film
    film_um = case.ledger[-1][1].after.film_um.likely
    if last is not None and _gets_wet(case) and film_um < THINNEST_WHERE_WET_UM:
        tell = case.shop.units.tell
        yield Found(
            last.verb_path,
            f"{_left(film_um, tell)} of film is left at the end, and it is for where water stands: "
            f"{tell(THINNEST_WHERE_WET_UM, 'um', 2)} is the least there",
        )


def _left(film_um: float, tell: Teller) -> str:
    return f"about {tell(film_um, 'um', 2)}" if film_um >= LEAST_UM else "next to nothing"


def _too_little_film(case: ScheduleCase) -> Iterator[Found]:
    yield from _film_too_thin(case)
    yield from _thin_where_wet(case)


def _gets_wet(case: ScheduleCase) -> bool:
    """Tell whether a schedule says that it suits a thing that gets wet."""
    return tells(case.schedule.suits, _WET_PLACES)


def _jar_outlived(case: ScheduleCase) -> Iterator[Found]:
    seen: dict[str, Move] = {}
    for move in case.films:
        product = move.product
        first = seen.setdefault(move.step.product or "", move)
        life = life_of(product, mixed=True).typical_s if product else None
        if life is not None and case.likely_s(first, move) > life:
            yield Found(
                move.key("product"),
                f"{move.step.product} is wanted {duration(case.likely_s(first, move))} after its "
                f"first coat as a rule, and keeps {duration(life)} once mixed or opened",
            )


_BODY = "product: shellac-dewaxed-blonde"

COAT_RULES = (
    Rule(
        "last-cut-heavy",
        "The last coats are not thinned",
        Severity.ADVICE,
        "The last pads only smooth what is there. With a body cut each of them leaves ridges of "
        "its own, and no spirit takes those out.",
        "thin the last coats, to 1 lb and less: thin_to",
        "common practice",
        Example(
            "- stage: body\n  steps:\n    - {pad: ovals, " + _BODY + ", cut: 2 lb, coats: 6}\n",
            ("cut: 2 lb", "cut: 2 lb, thin_to: 1 lb"),
            besides="in a schedule whose look is gloss",
        ),
        on_schedule=_last_cut_heavy,
    ),
    Rule(
        "cut-rising",
        "The cut rises within a run of coats",
        Severity.ADVICE,
        "Each coat softens the one below. A stronger one over a film of weaker ones holds its "
        "alcohol longer, bites deeper and shrinks more than what it lies on. A thin seal under a "
        "stronger body is no such film.",
        "lay the strong coats first, and make the last ones the thinnest",
        "common practice",
        Example(
            f"- stage: body\n  steps:\n"
            f"    - {{pad: ovals, mark: first, {_BODY}, cut: 1 lb, coats: 8}}\n"
            f"    - {{pad: straight, mark: last, {_BODY}, cut: 2 lb}}\n",
            ("cut: 2 lb", "cut: 0.5 lb"),
        ),
        on_schedule=_cut_rising,
    ),
    Rule(
        "coat-amount",
        "An amount that no hand lays",
        Severity.ADVICE,
        "Too much in one coat sags, stays soft and takes longer than its wait; too little tears "
        "or never joins. A slip of the pen here also upsets film and shopping list.",
        "write what one coat takes",
        "padded and wiped 10 to 30 ml/m2, our assumption; brushed 60 to 110, common practice; "
        "sprayed 125 to 250 um wet, found in print, mists a fifth of it, common practice",
        Example(
            f"- stage: body\n  steps:\n    - {{pad: ovals, {_BODY}, cut: 2 lb, "
            "amount: 150 ml/m2}\n",
            ("150 ml/m2", "15 ml/m2"),
        ),
        on_schedule=_amounts,
    ),
    Rule(
        "no-amount",
        "A coat without an amount",
        Severity.ADVICE,
        "Film, the need of a job and the vapour in the room are all reckoned from what a coat "
        "takes. Without it a usual coat is taken, and the ranges are wide.",
        "add 'amount:', such as 15 ml/m2",
        "our own rule",
        Example(
            f"- stage: body\n  steps:\n    - {{pad: ovals, {_BODY}, cut: 2 lb}}\n",
            ("cut: 2 lb", "cut: 2 lb, amount: 15 ml/m2"),
        ),
        on_schedule=_no_amount,
    ),
    Rule(
        "thinned-too-far",
        "Thinned beyond what it bears",
        Severity.ERROR,
        "A waterborne finish thinned too far no longer coalesces, and varnish falls apart into "
        "oil and resin. The film stays soft, dull or full of craters.",
        "thin less and lay it thinner",
        "makers' data sheets: waterborne 5 to 10 % of water, varnish about one to one",
        Example(
            "- stage: body\n  steps:\n"
            "    - {brush: full and quick, product: waterborne-clear, thinned: 25 %}\n",
            ("25 %", "5 %"),
        ),
        on_schedule=_thinned_too_far,
    ),
    Rule(
        "film-too-thick",
        "More film than the finish bears",
        Severity.ERROR,
        "A thick film is a stiff one: it cannot follow the wood, and cracks within months. Brittle "
        "lacquer first.",
        "lay fewer or thinner coats, or level more off between them",
        "makers' data sheets: nitrocellulose 76 um (3 mil), catalysed 150 um; furniture finishing "
        "texts: clear finish about 150 um in all",
        Example(
            "- stage: body\n  steps:\n    - {spray: even passes, product: nitrocellulose-lacquer, "
            "coats: 8, amount: 130 ml/m2}\n",
            ("coats: 8", "coats: 3"),
        ),
        on_schedule=_film_too_thick,
    ),
    Rule(
        "film-too-thin",
        "Too little film in the end",
        Severity.ADVICE,
        "What is levelled away with one hand has to be laid with the other. A French polish is 10 "
        "to 50 um thick; below that it is a seal, which wears through with the first year's "
        "wiping, and which no rubbing out spares.",
        "lay more coats after the last levelling, or level less far",
        "thickness of French polish from memory; the least is our assumption",
        Example(
            f"- stage: body\n  steps:\n    - {{pad: ovals, {_BODY}, cut: 2 lb, coats: 3}}\n"
            "    - {level: light, grade: P600, reach: scuff, lubricant: dry}\n"
            f"    - {{pad: straight, mark: last, {_BODY}, cut: 1 lb, coats: 2}}\n",
            ("coats: 2", "coats: 9"),
        ),
        on_schedule=_too_little_film,
    ),
    Rule(
        "jar-outlived",
        "One jar for longer than it keeps",
        Severity.ADVICE,
        "Mixed shellac loses its hardness with age, and a tin once opened skins over. The last "
        "coats, which matter most, would come from the oldest jar.",
        "mix less, and mix fresh for the last coats",
        "the product's own document; printed lives of mixed shellac run from 3 to 12 months",
        Example(
            f"- stage: body\n  steps:\n    - {{pad: ovals, mark: first, {_BODY}, cut: 2 lb}}\n"
            "    - {rest: put by, wait: {earliest: 24 weeks, likely: 40 weeks}, "
            "dry_check: no dent}\n"
            f"    - {{pad: straight, mark: last, {_BODY}, cut: 1 lb}}\n",
            ("earliest: 24 weeks, likely: 40 weeks", "earliest: 2 weeks, likely: 4 weeks"),
        ),
        on_schedule=_jar_outlived,
    ),
)

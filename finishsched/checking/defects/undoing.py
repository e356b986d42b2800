"""Ways that take away what made a defect before anything is laid again, the film first.

A row of ``UNDOING`` is one way: its title, its steps and its source. Each is made for what lies
there: on bare wood nothing is taken off, and what the work still brings is left to it. What is laid
again is asked of the table of what goes on what, as all that is offered. Rests are our assumption.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType

from finishsched.checking.defects import recipes as r
from finishsched.checking.defects import wood_recipes as w
from finishsched.checking.defects.colour_ways import COLOUR_WAYS
from finishsched.checking.defects.relaying import (
    Undoing,
    coloured_again,
    fibres_cut,
    key,
    laid_again,
    put_back,
    rest_below,
    sand_last,
    sanded,
    taken_off,
    washed_twice,
)
from finishsched.checking.defects.rework import Plans
from finishsched.checking.defects.worked_with import WorkedWith
from finishsched.factors import HOUR_S
from finishsched.model.film import Reach
from finishsched.model.schedule import HandsOn, StepPlan, Verb, Wait, Waits

BLEACH_CAUTION = (
    "Poisonous, and bad for eyes and lungs: gloves, goggles, no dry dust. The data sheet and local "
    "codes come first."
)


def _strip(used: WorkedWith) -> Plans | None:
    return None if used.bare else put_back(used)


def _strip_fewer(used: WorkedWith) -> Plans | None:
    if used.bare:
        return None
    off = taken_off(used)
    return (*off, *laid_again(used, coats=max(1, used.coats_laid // 2)))


def _strip_wash(used: WorkedWith) -> Plans | None:
    return put_back(used, *washed_twice(used)) if used.spirits else None


def _strip_key(used: WorkedWith) -> Plans | None:
    if used.bare or used.coat is None:
        return None
    return (*taken_off(used), key(used), r.tack_off(), *laid_again(used, sealed=False))


def _strip_oily(used: WorkedWith) -> Plans | None:
    if used.seal is None or used.spirits is None or (used.oiled and used.coats_next):
        # Oil never dries on such wood, and over a seal it stays a skin.
        return None
    drawn = replace(
        r.clean(used),
        how="a wet white cloth, again with a fresh one until no colour comes up; seal it at once",
        waits=Waits(Wait(0.5 * HOUR_S, HOUR_S)),
        dry_check="no smell, no shine of oil; then seal before it comes up again",
    )
    if used.oiled:
        how = "thin quick passes, each dry first, until it is even: it is the finish from now on"
        return drawn, r.seal(used, how)
    if used.bare:
        return drawn, r.seal(used, "one thin quick pass over all, before any oil or varnish")
    return put_back(used, drawn)


def _strip_rest(used: WorkedWith) -> Plans | None:
    return None if used.bare else put_back(used, rest_below())


def _strip_dry(used: WorkedWith) -> Plans | None:
    return put_back(used, r.dry_out())


def _strip_sand(used: WorkedWith) -> Plans | None:
    if not used.sands:
        return None
    again = (*coloured_again(used), *_filled_again(used))
    return put_back(used, *sanded(used), r.tack_off(), *again)


def _filled_again(used: WorkedWith) -> Plans:
    """Return the filling of the pores once more: paper goes through a filler."""
    return (r.again(used.filler),) if used.filler_laid and used.filler is not None else ()


def _colour_again(used: WorkedWith) -> Plans | None:
    again = coloured_again(used)
    if not again or used.filler_laid:
        # Colour takes unevenly over a filler.
        return None
    return put_back(used, *again)


def _bleach_iron(used: WorkedWith) -> Plans | None:
    if used.bleach is None or used.water is None or used.filler_laid:
        # It eats at a filler; colour it takes along, and that is laid again.
        return None
    again = coloured_again(used)
    return put_back(used, _bleach(used), *_rinsed(used), *fibres_cut(used), *again)


def _rinse_off(used: WorkedWith) -> Plans | None:
    if used.water is None or used.filler_laid:
        return None
    return put_back(used, *_rinsed(used), *fibres_cut(used), *coloured_again(used))


def _glue_off(used: WorkedWith) -> Plans | None:
    if used.filler_laid:
        return None
    scraped = StepPlan(
        "scrape",
        Verb.SCRAPE,
        "the glue and no more, with the grain; wet the wood with spirits to see what is left",
        hands_on=HandsOn(6.0),
        cautions=("On veneer a few light strokes, and stop when its colour changes.",),
    )
    young = StepPlan(
        "rest",
        Verb.REST,
        "let the glue set hard first, out of its press; young glue smears",
        waits=Waits(r.GLUE_REST),
        dry_check="it chips off and does not roll",
    )
    first = (young,) if used.bare else ()
    return put_back(used, *first, scraped, sand_last(used), r.tack_off(), *coloured_again(used))


def _wash_coat(used: WorkedWith) -> Plans | None:
    if used.spirits is None:
        return None
    if used.bare or used.coat is None:
        return washed_twice(used)
    flat = "the craters only, light, until no rim stands; stay off what is bare"
    return (
        *washed_twice(used),
        r.level(used, flat, "dry", Reach.SCUFF, spot=True),
        r.tack_off(),
        *(() if used.fills_ahead else (r.coats(used),)),
    )


def _rest_coat(used: WorkedWith) -> Plans | None:
    if used.coat is None or used.bare:
        return None
    washed = (r.clean(used),) if used.spirits else ()
    coats = () if used.fills_ahead else (r.coats(used),)
    return (*washed, rest_below(), key(used), r.tack_off(), *coats)


def _water_wash(used: WorkedWith) -> Plans | None:
    if used.water is None:
        return None
    washed = replace(
        r.clean(used),
        how="clean water on a wrung cloth and a white pad, turned often; dry it off at once",
        product=used.water,
        dry_check="a drop of water lies flat on it; as warm to the cheek as dry wood",
    )
    return (washed,)


def _wash_rest(used: WorkedWith) -> Plans | None:
    return (r.clean(used), rest_below()) if used.spirits else None


def _brush_out(used: WorkedWith) -> Plans | None:
    if used.spirits is None:
        return None
    brushed = replace(
        r.clean(used),
        how="spirits and a soft brush, along and across the pores; dab it up; again until no white "
        "shows while it is wet nor when it is dry",
        tool="soft brush, clean cloths",
    )
    if not used.waxed or used.wax is None:
        return (brushed,)
    dark = replace(
        r.again(used.wax), how="a wax of the wood's darkest colour, thin, buffed at once"
    )
    return brushed, dark


def _work_in(used: WorkedWith) -> Plans | None:
    if used.bare or not used.shellac or used.thinner is None:
        return None
    how = "barely damp, small circles where it is white, until the specks turn clear; then leave it"
    coats = () if used.fills_ahead else (r.coats(used),)
    return r.rest(used, "leave it until it is hard"), r.spirit_off(used, how), *coats


def _cut_fibres(used: WorkedWith) -> Plans | None:
    return fibres_cut(used) if used.nothing_lies else None


def _refill(used: WorkedWith) -> Plans | None:
    own = used.filler
    if own is None or not used.filler_laid:
        return _strip(used)
    scraped = StepPlan(
        "scrape",
        Verb.SCRAPE,
        "all that a nail marks, out of the pores too; pick, blade, then alcohol on a swab",
        hands_on=HandsOn(10.0, 30.0),
        cautions=("What is half cured sensitises skin: gloves, and no dry dust of it.",),
    )
    anew = replace(r.again(own), how=f"{r.otherwise(used.again)} where it was scraped out")
    return put_back(replace(used, again=""), scraped, r.tack_off(), anew)


def _bleach(used: WorkedWith) -> StepPlan:
    return StepPlan(
        "bleach",
        Verb.BLEACH,
        "warm, over the whole face, so that no rim is left; again where it is still dark",
        product=used.bleach,
        tool="synthetic brush, gloves and goggles",
        hands_on=HandsOn(10.0, 20.0),
        waits=Waits(Wait(0.5 * HOUR_S, HOUR_S, 4 * HOUR_S)),
        dry_check="the dark has gone, or moves no more",
        cautions=(BLEACH_CAUTION,),
    )


def _rinsed(used: WorkedWith) -> Plans:
    rinsed = StepPlan(
        "rinse",
        Verb.NEUTRALISE,
        "clean water on a wrung sponge, three times over, and dry it off at once",
        product=used.water,
        tool="sponge, clean cloths",
        hands_on=HandsOn(5.0, 15.0),
        waits=Waits(Wait(24 * HOUR_S, 48 * HOUR_S)),
        dry_check="as warm to the cheek as dry wood; no crystals under a lens",
        cautions=("On veneer as little water as can be: it swells seams and lets glue go.",),
    )
    return (rinsed,)


UNDOING: Mapping[str, Undoing] = MappingProxyType(
    {
        "strip": Undoing("take the film off and lay it again", _strip),
        "strip-fewer": Undoing("take the film off and lay half as many coats", _strip_fewer),
        "strip-wash": Undoing(
            "take the film off, wash off what lies under it, seal, lay it again",
            _strip_wash,
            'B. Flexner, "Finishing over waxed wood", trade column, undated',
            where_bare="wash off what lies there",
        ),
        "strip-key": Undoing(
            "take off all that is loose, rub dull what is sound, lay it again",
            _strip_key,
            'B. Flexner, "Coating over an existing finish: a risky business", trade column, 2016',
        ),
        "strip-oily": Undoing(
            "take the film off, draw the wood's oil out, seal with dewaxed shellac",
            _strip_oily,
            'J. Jewitt, "Finishing oily woods", Fine Woodworking, undated (synopsis)',
            where_bare="draw the wood's oil out, seal with dewaxed shellac",
        ),
        "strip-rest": Undoing(
            "take the film off, let what lies below dry, lay it again", _strip_rest
        ),
        "strip-dry": Undoing(
            "take the film off, let the wood dry out, lay it again",
            _strip_dry,
            where_bare="let the wood dry out before more is done",
        ),
        "strip-sand": Undoing(
            "go back to the wood, sand it through its grades, lay it again",
            _strip_sand,
            where_bare="sand the wood through its grades once more",
        ),
        "bleach-iron": Undoing(
            "go back to the wood, take the iron out with oxalic acid, rinse, lay it again",
            _bleach_iron,
            'M. Knaebe, "Iron stain on wood", FinishLine, USDA Forest Products Laboratory, 2013',
        ),
        "rinse-off": Undoing("go back to the wood, rinse the salts out, lay it again", _rinse_off),
        "glue-off": Undoing(
            "scrape the glue off down to clean wood, colour and coat again",
            _glue_off,
            'C. Schwarz, "Best glue for furniture", Popular Woodworking, undated',
        ),
        "wash-coat": Undoing(
            "wash it off twice, flatten the craters, coat over it",
            _wash_coat,
            'B. Flexner, "Fish eye & silicone", Popular Woodworking no. 208, 2013',
        ),
        "colour-again": Undoing(
            "take the film off, lay the colour once more, lay it again",
            _colour_again,
            where_bare="lay the colour once more",
        ),
        "balance": Undoing("let it come level, then finish the other face as this one", w.balance),
        "come-level": Undoing("let it dry on edge until it comes level", w.come_level),
        "freeze": Undoing(
            "bag it, freeze it for two weeks, look for new dust",
            w.freeze,
            'T. J. K. Strang, "Controlling insect pests with low temperature", CCI Notes 3/3, '
            "1997, from memory",
        ),
        "mould-off": Undoing("dry it out, take the mould off, keep the air dry", w.mould_off),
        "water-wash": Undoing("wash it with water, and dry it off at once", _water_wash),
        "wash-rest": Undoing("wash it off, and let what stays dry through", _wash_rest),
        "brush-out": Undoing("brush it out of the pores with spirits", _brush_out),
        "work-in": Undoing(
            "let it harden, work the grit in with a damp alcohol pad, coat over it",
            _work_in,
            "R. Bitmead, French Polishing and Enamelling, Crosby Lockwood, 1910",
        ),
        "cut-fibres": Undoing("cut the raised fibres back, and no more", _cut_fibres),
        "refill": Undoing("take out all that is soft, and fill anew", _refill),
        "rest-coat": Undoing(
            "wash it clean, let what lies below dry, rub it dull, coat over it",
            _rest_coat,
            'B. Flexner, "Water-based finish over oil stain", trade column, 2016',
        ),
    }
    | COLOUR_WAYS
)
"""Every such way by its short name."""

"""Ways that take away what made a defect before anything is laid again, the film first.

A row of ``UNDOING`` is one way: its title, its steps and its source. Each is made for what lies
there: on bare wood nothing is taken off, and what the work still brings is left to it. What is laid
again is asked of the table of what goes on what, as all that is offered. Rests are our assumption.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import NamedTuple

from finishsched.checking.defects import recipes as r
from finishsched.checking.defects import wood_recipes as w
from finishsched.checking.defects.rework import Plans
from finishsched.checking.defects.worked_with import WorkedWith
from finishsched.checking.rule import PRACTICE
from finishsched.factors import DAY_S, HOUR_S
from finishsched.model.film import Reach
from finishsched.model.schedule import HandsOn, StepPlan, Verb, Wait, Waits

BELOW_REST = Wait(3 * DAY_S, 7 * DAY_S, 14 * DAY_S)
"""For oil, stain or filler that was covered before it was dry; the table of layers asks three days
under most finishes (B. Flexner, "Water-based finish over oil stain", trade column, 2016)."""
BLEACH_CAUTION = (
    "Poisonous, and bad for eyes and lungs: gloves, goggles, no dry dust. The data sheet and local "
    "codes come first."
)


class Undoing(NamedTuple):
    """One way: what it is called, its steps, and where it is from."""

    title: str
    recipe: Callable[[WorkedWith], Plans | None]
    source: str = PRACTICE
    where_bare: str = ""
    """What it is called where no film of this work lies yet, so that none is taken off."""

    def title_for(self, used: WorkedWith) -> str:
        """Return what it is called, by what its steps do there."""
        return self.where_bare if self.where_bare and not _off(used) else self.title


def _off(used: WorkedWith) -> Plans:
    """Return the taking off of the film and of its dust; nothing where there is none."""
    if used.bare or used.coat is None:
        return ()
    return (r.strip(used),) if used.melts else (r.strip(used), r.tack_off())


def _laid_again(used: WorkedWith, *, sealed: bool = True) -> Plans:
    """Return what was taken off, laid anew; nothing on bare wood, whose coats are still to come.

    Oil goes into wood, and lies on a seal as a sticky skin.
    """
    if used.bare or used.coat is None:
        return ()
    seals = sealed and used.seal is not None and not used.oiled and not used.fills_ahead
    seal = (r.seal(used, "one thin quick pass over all"),) if seals else ()
    return (*seal, *(() if used.fills_ahead else (r.coats(used, used.coats_laid),)))


def _after(used: WorkedWith, *between: StepPlan, sealed: bool = True) -> Plans | None:
    """Return film off, what is done to the wood, and the film laid again; None for nothing."""
    plans = (*_off(used), *between, *_laid_again(used, sealed=sealed))
    return plans or None


def _strip(used: WorkedWith) -> Plans | None:
    return None if used.bare else _after(used)


def _strip_wash(used: WorkedWith) -> Plans | None:
    return _after(used, *_washed_twice(used)) if used.spirits else None


def _strip_key(used: WorkedWith) -> Plans | None:
    if used.bare or used.coat is None:
        return None
    return (*_off(used), _key(used), r.tack_off(), *_laid_again(used, sealed=False))


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
    return _after(used, drawn)


def _strip_rest(used: WorkedWith) -> Plans | None:
    return None if used.bare else _after(used, _rest_below())


def _strip_dry(used: WorkedWith) -> Plans | None:
    return _after(used, r.dry_out())


def _strip_sand(used: WorkedWith) -> Plans | None:
    if not used.sands:
        return None
    again = (*_coloured_again(used), *_filled_again(used))
    return _after(used, *_sanded(used), r.tack_off(), *again)


def _filled_again(used: WorkedWith) -> Plans:
    """Return the filling of the pores once more: paper goes through a filler."""
    return (r.again(used.filler),) if used.filler_laid and used.filler is not None else ()


def _colour_again(used: WorkedWith) -> Plans | None:
    again = _coloured_again(used)
    if not again or used.filler_laid:
        # Colour takes unevenly over a filler.
        return None
    return _after(used, *again)


def _bleach_iron(used: WorkedWith) -> Plans | None:
    if used.bleach is None or used.water is None or used.filler_laid:
        # It eats at a filler; colour it takes along, and that is laid again.
        return None
    again = _coloured_again(used)
    return _after(used, _bleach(used), *_rinsed(used), *_fibres_cut(used), *again)


def _rinse_off(used: WorkedWith) -> Plans | None:
    if used.water is None or used.filler_laid:
        return None
    return _after(used, *_rinsed(used), *_fibres_cut(used), *_coloured_again(used))


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
    return _after(used, *first, scraped, _sand_last(used), r.tack_off(), *_coloured_again(used))


def _wash_coat(used: WorkedWith) -> Plans | None:
    if used.spirits is None:
        return None
    if used.bare or used.coat is None:
        return _washed_twice(used)
    flat = "the craters only, light, until no rim stands; stay off what is bare"
    return (
        *_washed_twice(used),
        r.level(used, flat, "dry", Reach.SCUFF, spot=True),
        r.tack_off(),
        *(() if used.fills_ahead else (r.coats(used),)),
    )


def _rest_coat(used: WorkedWith) -> Plans | None:
    if used.coat is None or used.bare:
        return None
    washed = (r.clean(used),) if used.spirits else ()
    coats = () if used.fills_ahead else (r.coats(used),)
    return (*washed, _rest_below(), _key(used), r.tack_off(), *coats)


def _washed_twice(used: WorkedWith) -> Plans:
    again = replace(r.clean(used), how="once more, fresh cloths and fresh spirits, all over")
    return r.clean(used), again


def _key(used: WorkedWith) -> StepPlan:
    """Return the rubbing dull of what is sound, for the next coat to hold on to."""
    how = "all that is sound, until it is one even grey; no shine is left anywhere"
    return replace(r.level(used, how, "dry", Reach.SCUFF), id="key", grade=("P320",))


def _rest_below() -> StepPlan:
    return StepPlan(
        "rest",
        Verb.REST,
        "warm, dry, moving air, until what lay below is hard",
        waits=Waits(BELOW_REST),
        dry_check="no smell of oil, a white cloth stays clean, a nail leaves no mark",
    )


def _sanded(used: WorkedWith) -> Plans:
    """Return the piece's own sanding of the wood, grade by grade."""
    how = "with the grain, on a block, until the last scratch is gone; look in a low light"
    grades = dict.fromkeys(filter(None, (step.grade for step in used.sands)))
    return tuple(replace(_sand_last(used), how=how, grade=(grade,)) for grade in grades)


def _sand_last(used: WorkedWith) -> StepPlan:
    own = used.sand
    return StepPlan(
        "sand",
        Verb.SAND,
        "with the grain, on a block, light and even",
        grade=(own.grade if own and own.grade else "P240",),
        lubricant="dry",
        hands_on=HandsOn(3.0, 20.0),
        cautions=(r.VENEER_CAUTION,),
    )


def _coloured_again(used: WorkedWith) -> Plans:
    own = used.stain
    if own is None or not used.stained:
        return ()
    again = StepPlan(
        "stain",
        own.verb,
        "as before, all of it; a trial on a hidden place first",
        product=own.product,
        tool=own.tool,
        spread=own.spread,
        hands_on=own.hands_on,
        waits=Waits(own.wait) if own.wait else Waits(r.SEAL_REST),
        dry_check=own.dry_check or r.NO_COLOUR,
    )
    return (again,)


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


def _fibres_cut(used: WorkedWith) -> Plans:
    how = "the raised fibres only, two or three strokes with the grain"
    return replace(_sand_last(used), how=how, reach=(Reach.SCUFF,)), r.tack_off()


UNDOING: Mapping[str, Undoing] = MappingProxyType(
    {
        "strip": Undoing("take the film off and lay it again", _strip),
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
            "go back to the wood, sand it through its grades, lay it again", _strip_sand
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
        "freeze": Undoing(
            "bag it, freeze it for two weeks, look for new dust",
            w.freeze,
            'T. J. K. Strang, "Controlling insect pests with low temperature", CCI Notes 3/3, '
            "1997, from memory",
        ),
        "mould-off": Undoing("dry it out, take the mould off, keep the air dry", w.mould_off),
        "rest-coat": Undoing(
            "wash it clean, let what lies below dry, rub it dull, coat over it",
            _rest_coat,
            'B. Flexner, "Water-based finish over oil stain", trade column, 2016',
        ),
    }
)
"""Every such way by its short name."""

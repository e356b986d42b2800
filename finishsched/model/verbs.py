"""What a step can do, as the trade says it, and all that every room has to know of it.

One row for each verb in ``VERBS``, its columns in ``doing.py``. A new verb is a word in ``Verb``
and a row: amounts, film, checks, cautions, plans and papers ask the row, and
``tests/model/test_verbs_everywhere.py`` walks every row through all of them.

Shares of loss: brush 10 to 15 %, conventional spray up to 50 %, at low pressure about 30 % are
figures of coatings texts (no title at hand); those of pad and cloth, what a pad holds and whatever
a row says of film are our assumption.
"""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from types import MappingProxyType
from typing import TYPE_CHECKING

from finishsched.model.doing import Abrades, Care, CoatFigures, Doing, Lays, Wets
from finishsched.model.film import Reach
from finishsched.model.kinds import CHEMICALS, ProductKind
from finishsched.model.ranges import Range
from finishsched.model.stages import StageName

if TYPE_CHECKING:
    from finishsched.model.product import Product


class Verb(StrEnum):
    """What a step does, as the trade says it."""

    SAND = "sand"
    TACK_OFF = "tack off"
    FILL = "fill"
    STRIP_TAPE = "strip tape"
    GLUE_UP = "glue up"
    PAD = "pad"
    BRUSH = "brush"
    WIPE = "wipe"
    SPRAY = "spray"
    LEVEL = "level"
    SPIRIT_OFF = "spirit off"
    RUB_OUT = "rub out"
    WAX = "wax"
    REST = "rest"
    SCRAPE = "scrape"
    RAISE_GRAIN = "raise grain"
    BLEACH = "bleach"
    NEUTRALISE = "neutralise"
    STAIN = "stain"
    GLAZE = "glaze"
    TONE = "tone"
    WASH = "wash"
    MASK = "mask"
    STEAM = "steam"
    BURN_IN = "burn in"
    DIP = "dip"
    BURNISH = "burnish"
    CUT_BACK = "cut back"

    @property
    def does(self) -> Doing:
        """Its row in the table of verbs."""
        return VERBS[self]

    @property
    def lays_coats(self) -> bool:
        """True for the ways of applying a finish."""
        return VERBS[self].lays is Lays.COAT

    @property
    def lays(self) -> bool:
        """True for whatever leaves something on the face: a coat, colour, filler, wax."""
        return VERBS[self].lays in (Lays.COAT, Lays.COLOUR, Lays.FILLER, Lays.WAX)

    @property
    def abrades(self) -> bool:
        """True for whatever takes wood, film or shine away."""
        return VERBS[self].abrades is not Abrades.NOTHING

    @property
    def rubs_film(self) -> bool:
        """True for whatever goes over a film and leaves its scratches there, for bite or sheen."""
        return VERBS[self].abrades in (Abrades.FILM, Abrades.SHINE)

    @property
    def cuts(self) -> bool:
        """True for abrading that a grade of paper is named for: not rubbing out, nor scraping."""
        does = VERBS[self]
        return does.abrades in (Abrades.WOOD, Abrades.FILM) and does.graded


_TEXTS = "coatings texts"

VERBS: Mapping[Verb, Doing] = MappingProxyType(
    {
        Verb.SAND: Doing(
            tool="paper on a cork block",
            abrades=Abrades.WOOD,
            grade="P180",
            care=(Care.DUST,),
        ),
        Verb.TACK_OFF: Doing(
            tool="a clean cloth", cleans=True, damps_ml_per_m2=Range(8.0, 15.0, 30.0)
        ),
        Verb.FILL: Doing(
            tool="a stiff card or a coarse cloth",
            lays=Lays.FILLER,
            uses=(ProductKind.FILLER,),
            told_by_product=True,
            stage=StageName.FILL,
            most_ml_per_m2=300.0,
            too_much="what stands over the pores stays soft, and is a veil",
            one_coat="a coat of filler",
            clear_up_min=3,
            clear_up="clean the card, lay the cloth out flat",
        ),
        Verb.STRIP_TAPE: Doing(
            tool="a damp sponge and a dull scraper",
            wets=Wets.WATER,
            cleans=True,
            care=(Care.WATER_UNDER_VENEER,),
        ),
        Verb.GLUE_UP: Doing(
            tool="a glue brush or roller, cauls and clamps",
            lays=Lays.GLUE,
            uses=(ProductKind.GLUE,),
            told_by_product=True,
            care=(Care.HOT_GLUE,),
            most_ml_per_m2=400.0,
            too_much="it squeezes out, swells the face and bleeds through a thin one",
            one_coat="a coat of glue",
            clear_up_min=5,
            clear_up="wash out the brush or roller",
        ),
        Verb.PAD: Doing(
            tool="a pad",
            lays=Lays.COAT,
            coat=CoatFigures(
                amount_ml_per_m2=(5.0, 40.0),
                usual_wet_um=Range(10.0, 15.0, 30.0),
                most_cut_lb=3.0,
                make_good=4,
                uneven=Range(0.2, 0.4, 0.65),
                hollows_take=Range(1.0, 1.15, 1.3),
            ),
            lost=Range(0.05, 0.10, 0.20),
            holds_ml=10.0,
            one_coat="a padded coat",
            damps_ml_per_m2=Range(0.3, 1.0, 3.0),
            clear_up_min=2,
            clear_up="shut the pad in its jar",
        ),
        Verb.BRUSH: Doing(
            tool="a brush",
            lays=Lays.COAT,
            coat=CoatFigures(
                amount_ml_per_m2=(40.0, 130.0),
                usual_wet_um=Range(50.0, 70.0, 100.0),
                most_cut_lb=3.5,
                uneven=Range(0.15, 0.3, 0.5),
                hollows_take=Range(1.0, 1.05, 1.1),
            ),
            lost=Range(0.10, 0.15, 0.20),
            lost_source=_TEXTS,
            one_coat="a brushed coat",
            clear_up_min=5,
            clear_up="clean the brush",
        ),
        Verb.WIPE: Doing(
            tool="a lint-free cloth",
            lays=Lays.COAT,
            coat=CoatFigures(
                amount_ml_per_m2=(5.0, 60.0),
                usual_wet_um=Range(10.0, 20.0, 30.0),
                most_cut_lb=2.5,
                uneven=Range(0.15, 0.3, 0.5),
                hollows_take=Range(1.0, 1.15, 1.3),
            ),
            lost=Range(0.05, 0.10, 0.20),
            holds_ml=5.0,
            one_coat="a wiped coat",
            with_cloths=True,
            clear_up_min=3,
            clear_up="lay the cloths out flat, apart",
        ),
        Verb.SPRAY: Doing(
            tool="a spray gun",
            lays=Lays.COAT,
            coat=CoatFigures(
                amount_ml_per_m2=(20.0, 250.0),  # mists too
                usual_wet_um=Range(60.0, 120.0, 180.0),
                most_cut_lb=2.5,
                uneven=Range(0.1, 0.2, 0.4),
            ),
            lost=Range(0.30, 0.50, 0.65),
            lost_source=_TEXTS,
            care=(Care.MIST,),
            one_coat="a sprayed coat",
            clear_up_min=15,
            clear_up="clean the gun",
        ),
        Verb.LEVEL: Doing(
            tool="paper on a hard block",
            abrades=Abrades.FILM,
            grade="P400",
            care=(Care.DUST,),
        ),
        Verb.SPIRIT_OFF: Doing(
            tool="a clean pad, barely damp",
            wets=Wets.ALCOHOL,
            uses=(ProductKind.ALCOHOL,),
            stage=StageName.POLISH,
            cleans=True,
            lost=Range(0.05, 0.10, 0.20),
            holds_ml=5.0,
            most_ml_per_m2=25.0,
            too_much="a wet pad burns the polish and drags it down to the wood",
            one_coat="a spiriting-off pass",
            clear_up_min=2,
            clear_up="shut the pad in its jar",
        ),
        Verb.RUB_OUT: Doing(
            tool="fine paper, wool or powder on felt",
            abrades=Abrades.SHINE,
            stage=StageName.CURE,
            care=(Care.DUST,),
            damps_ml_per_m2=Range(8.0, 15.0, 30.0),
        ),
        Verb.WAX: Doing(
            tool="a soft cloth",
            lays=Lays.WAX,
            uses=(ProductKind.WAX,),
            told_by_product=True,
            stage=StageName.CURE,
            most_ml_per_m2=40.0,
            too_much="it dries to a smear that no cloth clears",
            one_coat="a coat of wax",
            with_cloths=True,
            clear_up_min=3,
            clear_up="lay the cloths out flat, apart",
        ),
        Verb.REST: Doing(tool="", rests=True, stage=StageName.CURE),
        Verb.SCRAPE: Doing(
            tool="a card scraper",
            abrades=Abrades.WOOD,
            grade="card scraper",
            graded=False,
            stage=StageName.PREPARE,
            care=(Care.DUST, Care.BLADE),
        ),
        Verb.RAISE_GRAIN: Doing(
            tool="a damp sponge",
            wets=Wets.WATER,
            stage=StageName.PREPARE,
            care=(Care.WATER_UNDER_VENEER,),
        ),
        Verb.BLEACH: Doing(
            tool="a synthetic brush or swab, in rubber gloves",
            wets=Wets.WATER,
            uses=CHEMICALS,
            told_by_product=True,
            stage=StageName.PREPARE,
            care=(Care.CAUSTIC, Care.WATER_UNDER_VENEER),
            clear_up_min=5,
            clear_up="rinse brush and gloves",
        ),
        Verb.NEUTRALISE: Doing(
            tool="a sponge, wrung out often",
            wets=Wets.WATER,
            cleans=True,
            stage=StageName.PREPARE,
            care=(Care.CAUSTIC, Care.WATER_UNDER_VENEER),
        ),
        Verb.STAIN: Doing(
            tool="a cloth or a brush, and a dry cloth",
            lays=Lays.COLOUR,
            lost=Range(0.05, 0.10, 0.30),
            holds_ml=5.0,
            uses=(ProductKind.STAIN, ProductKind.DYE),
            told_by_product=True,
            stage=StageName.PREPARE,
            most_ml_per_m2=150.0,
            too_much="what the wood does not drink stays on it, and lifts under the next coat",
            one_coat="a coat of stain",
            with_cloths=True,
            clear_up_min=3,
            clear_up="lay the cloths out flat, apart",
        ),
        Verb.GLAZE: Doing(
            tool="a brush, and a dry brush to soften it",
            lays=Lays.COLOUR,
            lost=Range(0.10, 0.15, 0.30),
            uses=(ProductKind.STAIN, ProductKind.PIGMENT),
            most_ml_per_m2=60.0,
            too_much="it stays soft under what covers it",
            one_coat="a coat of glaze",
            with_cloths=True,
            clear_up_min=5,
            clear_up="clean the brushes",
        ),
        Verb.TONE: Doing(
            tool="a spray gun",
            lays=Lays.COAT,
            coat=CoatFigures(
                amount_ml_per_m2=(20.0, 150.0),
                usual_wet_um=Range(30.0, 60.0, 120.0),
                most_cut_lb=2.5,
                uneven=Range(0.1, 0.2, 0.4),
            ),
            lost=Range(0.30, 0.50, 0.65),
            lost_source=_TEXTS,
            care=(Care.MIST,),
            one_coat="a coat of toner",
            clear_up_min=15,
            clear_up="clean the gun",
        ),
        Verb.WASH: Doing(
            tool="clean cloths, turned often", cleans=True, damps_ml_per_m2=Range(20.0, 40.0, 80.0)
        ),
        Verb.MASK: Doing(tool="low-tack tape and paper"),
        Verb.STEAM: Doing(
            tool="a damp cloth and a hot iron",
            wets=Wets.WATER,
            stage=StageName.PREPARE,
            care=(Care.SCALD, Care.WATER_UNDER_VENEER),
        ),
        Verb.BURN_IN: Doing(tool="a hot knife and a stick of hard shellac", care=(Care.HOT_KNIFE,)),
        Verb.DIP: Doing(
            tool="a bath and a rack to drip on",
            lays=Lays.COAT,
            coat=CoatFigures(
                amount_ml_per_m2=(30.0, 200.0),
                usual_wet_um=Range(40.0, 80.0, 150.0),
                most_cut_lb=2.5,
                uneven=Range(0.2, 0.4, 0.6),
            ),
            lost=Range(0.05, 0.10, 0.25),
            one_coat="a dipped coat",
            clear_up_min=5,
            clear_up="cover the bath",
        ),
        Verb.BURNISH: Doing(tool="a smooth bone or a hard dry cloth", stage=StageName.CURE),
        Verb.CUT_BACK: Doing(
            tool="paper on a hard block",
            abrades=Abrades.FILM,
            grade="P400",
            reach=Reach.CUT_BACK,
            care=(Care.DUST,),
        ),
    }
)
"""Every verb's row."""

ABRADES = tuple(verb for verb in Verb if verb.abrades)
LAYS_COATS = tuple(verb for verb in Verb if verb.lays_coats)


def washes(verb: Verb, product: Product | None) -> bool:
    """Tell whether what is done with ``product`` takes oil and wax off a face."""
    by_itself = verb.does.wets is Wets.ALCOHOL
    return by_itself or (verb.does.cleans and product is not None and product.is_solvent)

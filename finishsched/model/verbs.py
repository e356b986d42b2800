"""What a step can do, as the trade says it, and all that every room has to know of it.

One row for each verb in ``VERBS``. A new verb is a word in ``Verb`` and a row: amounts, film,
checks, cautions, plans and papers ask the row, and ``tests/model/test_verbs_everywhere.py`` walks
every row through all of them.

Shares of loss: brush 10 to 15 %, conventional spray up to 50 %, at low pressure about 30 % are
figures of coatings texts (no title at hand); those of pad and cloth, what a pad holds and whatever
a row says of film are our assumption.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType

from finishsched.model.film import Reach
from finishsched.model.kinds import ProductKind
from finishsched.model.ranges import Range
from finishsched.model.stages import StageName

AS_MUCH = Range(1.0, 1.0, 1.0)


class Lays(StrEnum):
    """What a verb leaves on the face."""

    NOTHING = "nothing"
    COAT = "a coat"
    COLOUR = "colour"
    FILLER = "filler"
    WAX = "wax"
    GLUE = "glue"


class Abrades(StrEnum):
    """What a verb takes away, when all goes well."""

    NOTHING = "nothing"
    WOOD = "wood"
    FILM = "film"
    SHINE = "shine"
    """Only the scratches of a film, for its sheen."""


class Wets(StrEnum):
    """What a verb brings onto the face by itself, whatever product its step names."""

    NOTHING = "nothing"
    WATER = "water"
    ALCOHOL = "alcohol"


class Care(StrEnum):
    """What a verb can do to the one who does it; ``safety/cautions.py`` has the words for each."""

    DUST = "dust"
    MIST = "mist"
    HOT_GLUE = "hot glue"
    WATER_UNDER_VENEER = "water under veneer"
    CAUSTIC = "caustic"
    SCALD = "scald"
    HOT_KNIFE = "hot knife"
    BLADE = "blade"


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
    def cuts(self) -> bool:
        """True for abrading that a grade of paper is named for: not rubbing out, nor scraping."""
        does = VERBS[self]
        return does.abrades in (Abrades.WOOD, Abrades.FILM) and does.graded


@dataclass(frozen=True, slots=True)
class CoatFigures:
    """What a coat laid in one way is like."""

    amount_ml_per_m2: tuple[float, float]
    """Between which it is laid by hand; less or more is worth a question. Wiped and padded 10 to 30
    ml/m2 (our assumption), brushed 60 to 110 (common practice), sprayed 125 to 250 (found); a
    margin round each (our assumption)."""
    usual_wet_um: Range
    """Laid by one coat whose schedule states no amount."""
    uneven: Range
    """Share of the film since it was last levelled that stands up as ridges and orange peel."""
    make_good: int = 2
    """Coats that make good what one levelling takes (our assumption)."""
    hollows_take: Range = AS_MUCH
    """Film in hollows over film on high spots: a pad presses it in, a brush lets it run."""


@dataclass(frozen=True, slots=True)
class Doing:
    """One row of the table of verbs."""

    tool: str
    """In the hand, where a step names none."""
    lays: Lays = Lays.NOTHING
    abrades: Abrades = Abrades.NOTHING
    wets: Wets = Wets.NOTHING
    rests: bool = False
    """True for letting time pass, with nothing in the hand."""
    cleans: bool = False
    """True for taking away what does not belong on the face."""
    lost: Range | None = None
    """Share of what is used that never reaches the surface; none where amounts are as stated."""
    lost_source: str = "our assumption"
    holds_ml: float = 0.0
    """What stays in the pad or cloth at the end of a sitting."""
    coat: CoatFigures | None = None
    """For what lays coats, and nothing else."""
    grade: str = ""
    """Reckoned with where a step that abrades states no grade."""
    graded: bool = True
    """False for what abrades without a grade, as a scraper does."""
    reach: Reach | None = None
    """How far it goes where its step does not say; none where stage and grade tell."""
    uses: tuple[ProductKind, ...] = ()
    """The kinds of product that it is done with, where it cannot do without one."""
    stage: StageName | None = None
    """Where it belongs once there is film, if it lays no coat; none: where the work then is."""
    care: tuple[Care, ...] = ()
    one_coat: str = ""
    """What one of it is called: ``a padded coat``."""

    @property
    def must_dry(self) -> bool:
        """True for what leaves something wet, and for a rest: a dry check ends it."""
        return self.rests or self.lays is not Lays.NOTHING or self.wets is not Wets.NOTHING

    @property
    def most_lost_share(self) -> float:
        """The upper end of what never reaches the surface, pad and gun at their worst."""
        return self.lost.high if self.lost else 0.0

    @property
    def lost_share(self) -> float:
        """What likely never reaches the surface, on the side on which no coat runs short."""
        return self.lost.likely if self.lost else 0.0

    @property
    def least_lost_share(self) -> float:
        """The lower end of what never reaches the surface."""
        return self.lost.low if self.lost else 0.0


_TEXTS = "coatings texts"

VERBS: Mapping[Verb, Doing] = MappingProxyType(
    {
        Verb.SAND: Doing(
            tool="paper on a cork block",
            abrades=Abrades.WOOD,
            grade="P180",
            care=(Care.DUST,),
        ),
        Verb.TACK_OFF: Doing(tool="a clean cloth", cleans=True),
        Verb.FILL: Doing(
            tool="a stiff card or a coarse cloth",
            lays=Lays.FILLER,
            uses=(ProductKind.FILLER,),
            stage=StageName.FILL,
            one_coat="a coat of filler",
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
            care=(Care.HOT_GLUE,),
            one_coat="a coat of glue",
        ),
        Verb.PAD: Doing(
            tool="a pad",
            lays=Lays.COAT,
            coat=CoatFigures(
                amount_ml_per_m2=(5.0, 40.0),
                usual_wet_um=Range(10.0, 15.0, 30.0),
                make_good=4,
                uneven=Range(0.2, 0.4, 0.65),
                hollows_take=Range(1.0, 1.15, 1.3),
            ),
            lost=Range(0.05, 0.10, 0.20),
            holds_ml=10.0,
            one_coat="a padded coat",
        ),
        Verb.BRUSH: Doing(
            tool="a brush",
            lays=Lays.COAT,
            coat=CoatFigures(
                amount_ml_per_m2=(40.0, 130.0),
                usual_wet_um=Range(50.0, 70.0, 100.0),
                uneven=Range(0.15, 0.3, 0.5),
                hollows_take=Range(1.0, 1.05, 1.1),
            ),
            lost=Range(0.10, 0.15, 0.20),
            lost_source=_TEXTS,
            one_coat="a brushed coat",
        ),
        Verb.WIPE: Doing(
            tool="a lint-free cloth",
            lays=Lays.COAT,
            coat=CoatFigures(
                amount_ml_per_m2=(5.0, 60.0),
                usual_wet_um=Range(10.0, 20.0, 30.0),
                uneven=Range(0.15, 0.3, 0.5),
                hollows_take=Range(1.0, 1.15, 1.3),
            ),
            lost=Range(0.05, 0.10, 0.20),
            holds_ml=5.0,
            one_coat="a wiped coat",
        ),
        Verb.SPRAY: Doing(
            tool="a spray gun",
            lays=Lays.COAT,
            coat=CoatFigures(
                amount_ml_per_m2=(40.0, 250.0),
                usual_wet_um=Range(60.0, 120.0, 180.0),
                uneven=Range(0.1, 0.2, 0.4),
            ),
            lost=Range(0.30, 0.50, 0.65),
            lost_source=_TEXTS,
            care=(Care.MIST,),
            one_coat="a sprayed coat",
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
            one_coat="a spiriting-off pass",
        ),
        Verb.RUB_OUT: Doing(
            tool="fine paper, wool or powder on felt",
            abrades=Abrades.SHINE,
            stage=StageName.CURE,
            care=(Care.DUST,),
        ),
        Verb.WAX: Doing(
            tool="a soft cloth",
            lays=Lays.WAX,
            uses=(ProductKind.WAX,),
            stage=StageName.CURE,
            one_coat="a coat of wax",
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
            uses=(ProductKind.BLEACH, ProductKind.ALKALI),
            stage=StageName.PREPARE,
            care=(Care.CAUSTIC, Care.WATER_UNDER_VENEER),
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
            stage=StageName.PREPARE,
            one_coat="a coat of stain",
        ),
        Verb.GLAZE: Doing(
            tool="a brush, and a dry brush to soften it",
            lays=Lays.COLOUR,
            lost=Range(0.10, 0.15, 0.30),
            uses=(ProductKind.STAIN, ProductKind.PIGMENT),
            one_coat="a coat of glaze",
        ),
        Verb.TONE: Doing(
            tool="a spray gun",
            lays=Lays.COAT,
            coat=CoatFigures(
                amount_ml_per_m2=(20.0, 150.0),
                usual_wet_um=Range(30.0, 60.0, 120.0),
                uneven=Range(0.1, 0.2, 0.4),
            ),
            lost=Range(0.30, 0.50, 0.65),
            lost_source=_TEXTS,
            care=(Care.MIST,),
            one_coat="a coat of toner",
        ),
        Verb.WASH: Doing(tool="clean cloths, turned often", cleans=True),
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
                uneven=Range(0.2, 0.4, 0.6),
            ),
            lost=Range(0.05, 0.10, 0.25),
            one_coat="a dipped coat",
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

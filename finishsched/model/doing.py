"""The columns of the table of verbs: what a step can do to a face, and to who does it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

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
    most_cut_lb: float | None = None
    """The strongest shellac that is laid so, pounds in a gallon of alcohol; none: any (common
    practice)."""
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
    told_by_product: bool = False
    """True where a product of those kinds alone tells that this is what is done with it."""
    stage: StageName | None = None
    """Where it belongs once there is film, if it lays no coat; none: where the work then is."""
    care: tuple[Care, ...] = ()
    with_cloths: bool = False
    """True for what is done with a cloth that is used up, beside all that cleans."""
    damps_ml_per_m2: Range | None = None
    """What wets its cloth, pad or paper where no amount is stated; none: as wet paper is wetted
    (our assumption)."""
    most_ml_per_m2: float | None = None
    """Of what is no coat, in one go: more of it stands on the face (our assumption); none: any."""
    too_much: str = ""
    """What comes of more than that."""
    clear_up_min: int = 0
    """Whole minutes of clearing up when the sitting is over, where the shop says nothing else
    (common practice, no source)."""
    clear_up: str = "clear up"
    """What that is, to whoever does it: ``clean the brush``."""
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

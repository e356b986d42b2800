"""What a piece's own log says about the coat in question. Nothing here is guessed: None is unknown.

All of it is plain: the same evidence gives the same answer, whoever collected it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from finishsched.model.product import ProductKind
from finishsched.model.said import Teller, in_kept_units
from finishsched.model.schedule import Verb


@dataclass(frozen=True, slots=True)
class Evidence:
    """The coat before the defect was seen, what it went on, the air it had, and what was done."""

    tell: Teller = field(default=in_kept_units, compare=False)
    """By which its figures are told: how, and not what, so no part of what is known."""

    verb: Verb | None = None
    """How the coat in question was laid."""
    kind: ProductKind | None = None
    """What was laid."""
    doing: Verb | None = None
    """The step in hand when the defect was seen."""

    said: str = ""
    """What the maker said of the defect and its place, and in notes of the work."""
    said_here: str | None = None
    """The same without what notes tell of other coats; None where that is the same."""
    wrongs: Mapping[str, str] | None = None
    """What the checker finds in the work as it was logged, by its rule; None where not asked."""

    temperature_c: float | None = None
    """Of the air at that coat."""
    humidity_percent: float | None = None
    dew_margin_k: float | None = None
    """How far the wet film stayed above the dew point; below zero water settles in it."""
    movement_m_per_s: float | None = None
    """Of the air at that coat: 0.1 is a still room."""
    worst_humidity_percent: float | None = None
    """The dampest air from that coat until the defect was seen."""
    coldest_c: float | None = None
    """The coldest air in that time."""
    humidity_fall_percent: float | None = None
    """How much drier the air grew since the first coat, in percent of humidity."""

    dried_share: float | None = None
    """Drying from that coat until the defect was seen, over what its wait needs; 1 is ready."""
    rested_share: float | None = None
    """The same of the rests after that coat, up to what was done next; the least."""
    waited_share: float | None = None
    """The same of the wait before that coat."""
    soonest_share: float | None = None
    """The same of any coat before it; the least."""
    found_ready: bool | None = None
    """True where a dry check of it, or of a rest after it, found it ready, or work went on."""
    dry_checks_failed: int | None = None
    """Dry checks of that coat that said 'not yet'."""
    days_since_coat: float | None = None
    days_since_work: float | None = None
    """Since whatever was done last."""

    laid: bool | None = None
    """Whether anything was laid on the face yet; False for bare wood."""
    coats: int | None = None
    """Coats of finish laid so far, seal coats among them."""
    coats_since_level: int | None = None
    """Coats laid since the film was last levelled."""
    coats_in_a_day: int | None = None
    """Coats laid in the 24 hours up to that coat."""
    film_um: float | None = None
    """Likely dry film over the high spots."""
    amount_share: float | None = None
    """Material used for the coat over what the schedule gives it, loss taken off."""
    most_amount_share: float | None = None
    """The same of any coat before it; the most."""
    cut_g_per_l: float | None = None
    """Of what was laid, the batch's own where it is known."""
    thinned_percent: float | None = None
    batch_age_share: float | None = None
    """Age of the batch at that coat over how long such a batch keeps."""

    film_below: bool | None = None
    """A film of another product lies under the coat."""
    oxidising_below: bool | None = None
    """An oil or varnish lies under the coat."""
    waxy_below: bool | None = None
    """Shellac with its wax, or wax, lies under the coat."""
    green_below_share: float | None = None
    """Of any layer below: drying before the next kind of coat over what it needed; the least."""
    covered: bool | None = None
    """Something of another kind lies under the coat."""
    slow_oil: bool | None = None
    """The coat is a raw oil, or one that never dries."""
    waxed: bool | None = None
    """Wax was laid on top."""
    powder_used: bool | None = None
    """A powder rubbed the film after its last coat."""
    rubbed: bool | None = None
    """The film was rubbed out after its last coat."""
    spirited: bool | None = None
    """Alcohol flashed over it after its last coat."""
    spirit_share: float | None = None
    """What that took over what the schedule gives it."""
    spirit_waited_share: float | None = None
    """The wait before that, over what was due."""
    two_part: bool | None = None
    """A resin of two parts is in it: epoxy, or a catalysed film."""
    hot_glue: bool | None = None
    """It was glued with glue that gels as it cools."""
    steel_wool: bool | None = None
    """Wool of steel was used on it."""
    oil_used: bool | None = None
    """Oil on the pad or under the paper since the film was last cleaned of it."""
    spirits_used: bool | None = None
    """Mineral spirits under the paper or on the cloth since the coat before."""
    water_used: bool | None = None
    """Water came on the piece since the coat before."""
    redried_share: float | None = None
    """Drying after that water over what it needs; 1 is dry again."""
    moisture_percent: float | None = None
    """Of the wood, the most that was measured."""
    stained: bool | None = None
    """A stain or dye is on the wood."""
    colour_cut: bool | None = None
    """An abrasive came since the colour was laid; None where there is no colour on the wood."""
    bleached: bool | None = None
    """A bleach or an alkali came on the wood."""
    amber: bool | None = None
    """The coat has a colour of its own, from honey to garnet."""
    patterned: bool | None = None
    """Woods of several colours lie side by side."""
    sealed: bool | None = None
    """A seal coat of dewaxed shellac lies next to the wood."""

    papered: bool | None = None
    """An abrasive came on it after the last coat, or is in hand."""
    abraded: bool | None = None
    """An abrasive came on it at any time, on wood or film, or is in hand."""
    grade: str = ""
    """The abrasive last used on the film, else on the wood, by its name."""
    grade_um: float | None = None
    """Mean grain of the abrasive last used on the film, else on the wood."""
    finest_on_wood_um: float | None = None
    """Mean grain of the finest abrasive that the bare wood was sanded with."""
    grade_jump: float | None = None
    """The widest ratio of mean grain between two grades that followed each other on the film."""
    lubricated: bool | None = None
    """The film was levelled with something wet; False for dry paper."""
    levellings: int | None = None
    """How often the film was levelled so far."""
    wood_sandings: int | None = None
    """How often the wood was sanded."""
    dust_made: bool | None = None
    """Something dry abraded it after the coat before, or before the first."""
    tacked: bool | None = None
    """Dust was tacked off after the last abrasive and before the coat; None when none was used."""
    dust_near: bool | None = None
    """Somebody sanded dry in the shop within half an hour before the coat or while it was wet."""

    open_pores: bool | None = None
    filled: bool | None = None
    """A pore filler is in the wood."""
    filler_share: float | None = None
    """Drying of the filler when it was coated, over what it needed."""
    pumiced: bool | None = None
    """The pores were filled with pumice."""
    pumiced_now: bool | None = None
    """That was the last that was laid."""
    oily_wood: bool | None = None
    resinous_wood: bool | None = None
    tannin_wood: bool | None = None
    blotching_wood: bool | None = None
    pale_wood: bool | None = None
    glue_share: float | None = None
    """Drying after glue or its tape when it was worked on, over what it needed; the least."""
    taped: bool | None = None
    """Tape of the veneering was stripped from its face."""
    veneer_mm: float | None = None
    at_edge: bool | None = None
    """Whoever saw it said that it lies at an edge or a corner; None where nobody said where."""
    cleaned: bool | None = None
    """Oil and spirits were wiped or flashed off after they were last used."""

"""How each sign is read from the evidence.

The limits are common practice and our assumptions unless a source stands beside them; what the log
does not know gives no sign at all.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from finishsched.checking.defects.evidence import Evidence
from finishsched.checking.defects.lexicon import Meaning, meanings
from finishsched.checking.defects.sign_readers import (
    SEPARATE_KINDS,
    SLOW_KINDS,
    SignReader,
    after_another,
    by_kind,
    by_verb,
    cold_air,
    damp_air,
    dry_paper,
    fact,
    green_below,
    heavy_cut,
    last_or_earlier,
    left_on,
    not_thinned,
    oily_wood,
    open_pores,
    papered,
    scale,
    stays_soft,
    thick_film,
    thin_film,
    water_under,
)
from finishsched.checking.defects.signs import Reading, Sign
from finishsched.model.kinds import SHELLACS
from finishsched.model.product import ProductKind
from finishsched.model.schedule import Verb

SOON = ((0.5, 1.0), (0.75, 0.6), (0.9, 0.2), (1.0, 0.0), (1.5, -0.5))
"""By the share of a wait that was taken, how much too soon it was."""
LAST_GRADE = "a last grade of {grade} ({told})"
HEAVY = ((0.75, -1.0), (0.9, -0.6), (1.2, -0.3), (1.5, 0.6))
"""By how many times the schedule's amount were laid, how heavy it was."""

SIGNS: Mapping[Sign, SignReader] = MappingProxyType(
    {
        Sign.DAMP_AIR: damp_air,
        Sign.DAMP_SINCE: scale(
            "worst_humidity_percent",
            "up to {:.0f} % humidity since",
            (60, -1.0),
            (66, -0.5),
            (76, 0.5),
            above=1,
        ),
        Sign.DRIER_SINCE: scale(
            "humidity_fall_percent",
            "{:.0f} % drier since",
            (3, -1.0),
            (10, -0.7),
            (20, 0.3),
            above=1.0,
        ),
        Sign.COLD_AIR: cold_air,
        Sign.FROST_SINCE: scale(
            "coldest_c",
            "{told} since",
            (5, 1.0),
            (10, 0.5),
            (15, -0.7),
            above=-1.0,
            kept="degC",
        ),
        Sign.HOT_AIR: scale(
            "temperature_c",
            "{told} at that coat",
            (22.0, -1.0),
            (25.0, -0.7),
            (28.0, 0.5),
            above=1.0,
            kept="degC",
        ),
        Sign.DRAUGHT: scale(
            "movement_m_per_s",
            "air moving at {told}",
            (0.15, -1.0),
            (0.2, -0.5),
            (0.35, 0.2),
            (0.5, 0.7),
            above=1.0,
            kept="m/s",
        ),
        Sign.TOO_SOON: after_another(
            last_or_earlier(
                scale(
                    "waited_share",
                    "{percent:.0f} % of the wait before that coat",
                    *SOON,
                    above=-1.0,
                ),
                scale("soonest_share", "{percent:.0f} % of an earlier wait", *SOON, above=-1.0),
            )
        ),
        Sign.TOO_LATE: scale(
            "waited_share",
            "{:.1f} times the wait before that coat went by",
            (2.0, -0.7),
            (4.0, 0.2),
            above=1.0,
        ),
        Sign.NOT_DRY: scale(
            "dried_share",
            "{capped:.0f} % of the drying done when it was seen",
            (0.6, 1.0),
            (0.95, 0.7),
            (1.1, 0.0),
            (1.5, -0.6),
            above=-1.0,
        ),
        Sign.REST_SHORT: scale(
            "rested_share",
            "{percent:.0f} % of the rest after the last coat",
            (0.5, 1.0),
            (0.9, 0.6),
            (1.0, 0.0),
            above=-1.0,
        ),
        Sign.STAYS_SOFT: stays_soft,
        Sign.WAS_HARD: fact("found_ready", "it was found dry since", "not found dry", if_no=0.0),
        Sign.YOUNG_FILM: scale(
            "days_since_coat",
            "{:.0f} days since the last coat",
            (4.0, 1.0),
            (15.0, 0.5),
            (31.0, -0.3),
            above=-1.0,
        ),
        Sign.SEEN_LATE: scale(
            "days_since_work", "{:.0f} days after the last work", (2, -0.7), (7, 0.2), above=1.0
        ),
        Sign.AT_ONCE: scale(
            "days_since_work", "{:.1f} days after the last work", (0.25, 1.0), (1, 0.3), above=-0.5
        ),
        Sign.HEAVY_COAT: last_or_earlier(
            scale("amount_share", "{:.1f} times the amount for that coat", *HEAVY, above=1.0),
            scale("most_amount_share", "{:.1f} times an earlier coat's amount", *HEAVY, above=1.0),
        ),
        Sign.LEAN_COAT: scale(
            "amount_share",
            "{:.1f} times the amount for that coat",
            (0.6, 1.0),
            (0.8, 0.6),
            above=-0.5,
        ),
        Sign.HEAVY_CUT: heavy_cut,
        Sign.THINNED_FAR: scale(
            "thinned_percent", "{:.0f} % thinned", (5.0, -1.0), (20.0, -0.5), (40.0, 0.2), above=1.0
        ),
        Sign.NOT_THINNED: not_thinned,
        Sign.MANY_COATS: scale(
            "coats_in_a_day",
            "coats within a day: {}",
            (2, -1),
            (4, -0.5),
            (6, 0),
            (9, 0.5),
            above=1,
        ),
        Sign.COAT_BELOW: scale("coats", "coats laid in all: {}", (2, -1.0), above=1.0),
        Sign.FILM_BELOW: fact(
            "film_below", "a film of another kind lies under it", "no film of another kind under it"
        ),
        Sign.THICK_FILM: thick_film,
        Sign.THIN_FILM: thin_film,
        Sign.OLD_BATCH: scale(
            "batch_age_share",
            "the batch had {percent:.0f} % of its life behind it",
            (0.5, -1.0),
            (0.8, -0.2),
            (1.0, 0.3),
            (1.5, 0.8),
            above=1.0,
        ),
        Sign.SLOW_OIL: fact("slow_oil", "an oil that dries in weeks or never", "an oil that dries"),
        Sign.OIL_BELOW: fact(
            "oxidising_below", "an oil or varnish lies under it", "no oil or varnish under it"
        ),
        Sign.WAX_BELOW: fact("waxy_below", "wax lies under it", "nothing with wax under it"),
        Sign.WAXED: fact("waxed", "it was waxed", "it was not waxed"),
        Sign.OIL_USED: left_on("oil_used", "oil", -1.0),
        Sign.SPIRITS_USED: left_on("spirits_used", "mineral spirits", -1.0),
        Sign.GREEN_BELOW: green_below,
        Sign.POWDER: fact("powder_used", "rubbed with powder", "no powder used"),
        Sign.DAMP_WOOD: scale(
            "moisture_percent", "the wood at {:.0f} %", (10, -0.7), (12, 0.3), above=1.0
        ),
        Sign.STEEL_WOOL: fact("steel_wool", "steel wool was used on it", "no steel wool was used"),
        Sign.WATER_UNDER: water_under,
        Sign.WET_WORK: fact(
            "water_used", "water since the coat before", "no water since the coat before"
        ),
        Sign.STAINED: fact("stained", "a stain is on the wood", "no stain on the wood"),
        Sign.COLOUR_CUT: fact(
            "colour_cut", "an abrasive came on the colour", "no abrasive came on the colour"
        ),
        Sign.BLEACHED: fact("bleached", "it was bleached", "no bleach or alkali was used"),
        Sign.AMBER: fact("amber", "a finish with a colour of its own", "a finish without colour"),
        Sign.PALE_WOOD: fact("pale_wood", "a pale wood", "no pale wood", if_no=-0.7),
        Sign.PATTERNED: fact("patterned", "woods of several colours side by side", "one wood only"),
        Sign.UNSEALED: fact(
            "sealed", "the wood was sealed first", "the wood was not sealed", if_yes=-0.7, if_no=1.0
        ),
        Sign.COARSE: scale(
            "grade_um",
            LAST_GRADE,
            (21.0, -0.7),
            (32.0, -0.2),
            (42.0, 0.3),
            (60.0, 0.8),
            above=1.0,
            kept="um",
        ),
        Sign.COARSE_FOR_WOOD: scale(
            "grade_um",
            LAST_GRADE,
            (60.0, -1.0),
            (83.0, -0.7),
            (101.0, 0.2),
            above=1.0,
            kept="um",
        ),
        Sign.FINE: scale("grade_um", LAST_GRADE, (19.0, 1.0), (27.0, 0.3), above=-0.6, kept="um"),
        Sign.FINE_FOR_WOOD: scale(
            "finest_on_wood_um",
            "the wood sanded down to a grain of {told}",
            (30.0, 1.0),
            (40.0, 0.7),
            (50.0, 0.0),
            above=-0.7,
            kept="um",
        ),
        Sign.JUMP: scale(
            "grade_jump",
            "a step between grades of {:.1f} times the grain",
            (1.65, -0.7),
            (2.01, 0.2),
            above=1.0,
        ),
        Sign.PAPERED: papered,
        Sign.DRY_PAPER: dry_paper,
        Sign.MANY_LEVELLINGS: scale(
            "levellings", "levelled {} times", (1, -1.0), (2, -0.3), (3, 0.3), above=1.0
        ),
        Sign.FEW_COATS: scale(
            "coats_since_level",
            "coats since it was last levelled: {}",
            (4, 1.0),
            (6, 0.5),
            (9, -0.2),
            above=-0.7,
        ),
        Sign.MANY_SANDINGS: scale(
            "wood_sandings", "the wood was sanded {} times", (2, -1), (3, -0.7), (5, 0.2), above=1
        ),
        Sign.DUST_MADE: fact("dust_made", "paper came before it", "no dry paper came before it"),
        Sign.NOT_TACKED: fact(
            "tacked",
            "dust was tacked off before it",
            "no tacking off between the paper and the coat",
            if_yes=-0.6,
            if_no=1.0,
        ),
        Sign.DUST_NEAR: fact(
            "dust_near",
            "somebody sanded dry in the shop at that time",
            "nobody sanded dry at that time",
            if_no=-0.5,
        ),
        Sign.OPEN_PORES: open_pores,
        Sign.FILLED: fact("filled", "a filler is in the pores", "no filler in the wood"),
        Sign.FILLER_GREEN: scale(
            "filler_share",
            "the filler had {percent:.0f} % of its drying when it was coated",
            (0.5, 1.0),
            (0.9, 0.6),
            (1.1, 0.0),
            above=-0.5,
        ),
        Sign.PUMICED: fact("pumiced", "filled with pumice", "no pumice used"),
        Sign.PUMICED_NOW: fact(
            "pumiced_now", "pumice came last", "pumice did not come last", if_no=0.0
        ),
        Sign.OILY_WOOD: oily_wood,
        Sign.RESINOUS_WOOD: fact("resinous_wood", "a resinous wood", "no resinous wood"),
        Sign.TANNIN_WOOD: fact("tannin_wood", "a wood with tannin", "a wood without tannin"),
        Sign.BLOTCHING_WOOD: fact(
            "blotching_wood", "a wood that blotches", "an even wood", if_no=-0.5
        ),
        Sign.VENEER: scale("veneer_mm", "a veneer of {told}", above=1.0, kept="mm"),
        Sign.GLUE_YOUNG: scale(
            "glue_share",
            "{percent:.0f} % of the wait after glue or tape",
            (0.6, 1.0),
            (0.9, 0.6),
            (1.1, 0.0),
            above=-0.5,
        ),
        Sign.TAPED: fact("taped", "tape was stripped from it", "no tape was stripped from it"),
        Sign.THIN_VENEER: scale(
            "veneer_mm",
            "a veneer of {told}",
            (0.5, 1.0),
            (0.7, 0.3),
            (1.0, -0.3),
            above=-1.0,
            kept="mm",
        ),
        Sign.SPRAYED: by_verb(Verb.SPRAY, "it was sprayed", "it was not sprayed"),
        Sign.PADDED: by_verb(Verb.PAD, "it was padded", "it was not padded"),
        Sign.SPIRITED: fact("spirited", "alcohol flashed over it", "no flashing off"),
        Sign.WET_SPIRIT: scale(
            "spirit_share", "{:.1f} times the alcohol for that pass", *HEAVY, above=1.0
        ),
        Sign.SPIRIT_SOON: scale(
            "spirit_waited_share",
            "{percent:.0f} % of the wait before the alcohol",
            *SOON,
            above=-0.5,
        ),
        Sign.RUBBED: fact("rubbed", "it was rubbed out", "it was not rubbed out"),
        Sign.SLOW_KIND: by_kind(
            SLOW_KINDS, "a finish that stays open for hours", "a finish that sets soon", -0.5
        ),
        Sign.SEPARATE_COATS: by_kind(
            SEPARATE_KINDS,
            "its coats do not melt into each other",
            "its coats melt into each other",
            -1.0,
        ),
        Sign.WATERBORNE: by_kind(
            frozenset({ProductKind.WATERBORNE}), "a waterborne finish", "no waterborne finish", -1.0
        ),
        Sign.SHELLAC: by_kind(frozenset(SHELLACS), "shellac", "no shellac", -1.0),
        Sign.TWO_PART: fact("two_part", "a resin of two parts is in it", "no resin of two parts"),
        Sign.HOT_GLUE: fact("hot_glue", "hot glue was used", "no hot glue was used"),
        Sign.BARE: fact("laid", "something is laid", "nothing is laid yet", if_yes=0.0, if_no=1.0),
        Sign.AT_EDGE: fact("at_edge", "it lies at an edge or a corner", "it lies in the field"),
    }
)
"""How each sign is read. The limits are in the code beside it, and nowhere else."""


SAME_THING: Mapping[Sign, Sign] = MappingProxyType({Sign.WET_WORK: Sign.WATER_UNDER})
"""Signs that tell of one thing: who says the first is not answered by a log without the second."""


def read_signs(evidence: Evidence) -> dict[Sign, Reading]:
    """Return every sign that the evidence knows something of, in the order of ``Sign``.

    What a maker said or noted of a thing stands before what the log has of it.
    """
    told = meanings(evidence.said)
    found = {sign: _told(told.get(sign.value)) or SIGNS[sign](evidence) for sign in Sign}
    known = {sign: reading for sign, reading in found.items() if reading is not None}
    for said, same in SAME_THING.items():
        denied = same in known and known[same].grade < 0
        if denied and said in known and known[said].is_said:
            # What a maker says of water stands alone: the log cannot deny it by another name.
            del known[same]
    return known


def _told(meaning: Meaning | None) -> Reading | None:
    if meaning is None or meaning.denied:
        return None
    return Reading(1.0, f"said or noted: '{meaning.words}'", is_said=True)

"""How each sign is read from the evidence.

The limits are common practice and our assumptions unless a source stands beside them; what the log
does not know gives no sign at all.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import TypeAlias

from finishsched.checking.defects.evidence import Evidence
from finishsched.checking.defects.signs import Reading, Sign
from finishsched.model.kinds import SHELLACS
from finishsched.model.product import ProductKind
from finishsched.model.schedule import Verb

SignReader: TypeAlias = Callable[[Evidence], "Reading | None"]

SLOW_KINDS = frozenset({ProductKind.OIL, ProductKind.VARNISH})
SEPARATE_KINDS = frozenset({ProductKind.OIL, ProductKind.VARNISH, ProductKind.WATERBORNE})

HUMIDITY_LIMIT_PERCENT = 65.0
"""No coat of alcohol or lacquer above it (coatings guides)."""
DEW_MARGIN_K = 3.0
"""ISO 8502-4, as coatings guides cite it."""
DRY_ENOUGH_PERCENT = 55.0


def read_signs(evidence: Evidence) -> dict[Sign, Reading]:
    """Return every sign that the evidence knows something of, in the order of ``Sign``."""
    found = {sign: SIGNS[sign](evidence) for sign in Sign}
    return {sign: reading for sign, reading in found.items() if reading is not None}


def _scale(name: str, words: str, *bands: tuple[float, float], above: float) -> SignReader:
    """Return a look at one figure: each band's grade holds below its limit, ``above`` after all."""

    def read(evidence: Evidence) -> Reading | None:
        value: float | None = getattr(evidence, name)
        if value is None:
            return None
        grade = next((grade for limit, grade in bands if value < limit), above)
        return Reading(grade, words.format(value, percent=100 * value))

    return read


def _fact(name: str, yes: str, no: str, *, if_yes: float = 1.0, if_no: float = -1.0) -> SignReader:
    """Return a look at something that is so or not."""

    def read(evidence: Evidence) -> Reading | None:
        value: bool | None = getattr(evidence, name)
        if value is None:
            return None
        return Reading(if_yes, yes) if value else Reading(if_no, no)

    return read


def _verb(verb: Verb, yes: str, no: str, if_no: float = -0.7) -> SignReader:
    def read(evidence: Evidence) -> Reading | None:
        if evidence.verb is None:
            return None
        return Reading(1.0, yes) if evidence.verb is verb else Reading(if_no, no)

    return read


def _kind(kinds: frozenset[ProductKind], yes: str, no: str, if_no: float) -> SignReader:
    def read(evidence: Evidence) -> Reading | None:
        if evidence.kind is None:
            return None
        return Reading(1.0, yes) if evidence.kind in kinds else Reading(if_no, no)

    return read


def _damp_air(evidence: Evidence) -> Reading | None:
    humidity, margin = evidence.humidity_percent, evidence.dew_margin_k
    if humidity is None:
        return None
    words = f"{humidity:.0f} % humidity at that coat"
    if margin is not None:
        where = "above" if margin >= 0 else "below"
        words += f", the wet film {abs(margin):.0f} K {where} the dew point"
        if margin < 0:
            return Reading(1.0, words)
    if margin is not None and margin < DEW_MARGIN_K:
        return Reading(0.8, words)
    if humidity > HUMIDITY_LIMIT_PERCENT:
        return Reading(0.6, words)
    return Reading(0.0 if humidity > DRY_ENOUGH_PERCENT else -1.0, words)


def _cold_air(evidence: Evidence) -> Reading | None:
    known = [c for c in (evidence.temperature_c, evidence.coldest_c) if c is not None]
    if not known:
        return None
    coldest = min(known)
    bands = ((12.0, 1.0), (15.0, 0.7), (18.0, 0.0))
    grade = next((grade for limit, grade in bands if coldest < limit), -0.7)
    return Reading(grade, f"{coldest:.0f} degC at its coldest")


def _stays_soft(evidence: Evidence) -> Reading | None:
    failed, dried = evidence.dry_checks_failed, evidence.dried_share
    if failed is None and dried is None:
        return None
    share = dried or 0.0
    if (failed or 0) >= 2:
        return Reading(1.0, f"{failed} dry checks said 'not yet'")
    if share > 1.5:
        return Reading(1.0, f"{share:.1f} times its drying time has gone by")
    return Reading(0.3, "one dry check said 'not yet'") if failed else Reading(-0.5, "not overdue")


def _thin_film(evidence: Evidence) -> Reading | None:
    if evidence.film_um is not None:
        bands = ((15.0, 1.0), (25.0, 0.5), (40.0, 0.0))
        grade = next((grade for limit, grade in bands if evidence.film_um < limit), -0.7)
        return Reading(grade, f"about {evidence.film_um:.0f} um of film")
    if evidence.coats is None:
        return None
    bands = ((3, 1.0), (5, 0.5), (8, 0.0))
    grade = next((grade for limit, grade in bands if evidence.coats < limit), -0.7)
    return Reading(grade, f"coats laid in all: {evidence.coats}")


def _heavy_cut(evidence: Evidence) -> Reading | None:
    """Look at the cut; 1 lb per US gallon is 120 g/l, and a pad likes 1 to 2 lb (practice)."""
    if evidence.cut_g_per_l is None:
        return None
    pounds = evidence.cut_g_per_l / 119.826427
    bands = ((1.6, -0.7), (2.2, 0.0), (2.8, 0.6))
    grade = next((grade for limit, grade in bands if pounds < limit), 1.0)
    return Reading(grade, f"a {pounds:.1f}-lb cut")


def _left(name: str, what: str, if_no: float) -> SignReader:
    """Return a look at something that should have been cleaned off."""

    def read(evidence: Evidence) -> Reading | None:
        used: bool | None = getattr(evidence, name)
        if used is None:
            return None
        if not used:
            return Reading(if_no, f"no {what} was left")
        if evidence.cleaned:
            return Reading(0.1, f"{what} was used, and cleaned off")
        return Reading(1.0, f"{what} was used, and no step cleaned it off")

    return read


def _water_under(evidence: Evidence) -> Reading | None:
    if evidence.water_used is None:
        return None
    if not evidence.water_used:
        return Reading(-1.0, "no water since the coat before")
    if evidence.redried_share is None:
        return Reading(0.5, "water came on the piece since the coat before")
    words = f"wetted, and {100 * evidence.redried_share:.0f} % of its drying done when coated"
    bands = ((0.7, 1.0), (1.0, 0.6), (1.3, -0.2))
    return Reading(next((g for limit, g in bands if evidence.redried_share < limit), -0.6), words)


def _open_pores(evidence: Evidence) -> Reading | None:
    if evidence.open_pores is None:
        return None
    if not evidence.open_pores:
        return Reading(-1.0, "a closed-pored wood")
    if evidence.filled is None:
        return Reading(0.4, "an open-pored wood")
    if evidence.filled:
        return Reading(-0.5, "an open-pored wood, filled")
    return Reading(1.0, "an open-pored wood without a filler")


def _oily_wood(evidence: Evidence) -> Reading | None:
    if evidence.oily_wood is None:
        return None
    if not evidence.oily_wood:
        return Reading(-1.0, "no oily wood")
    if evidence.sealed:
        return Reading(0.4, "an oily wood, sealed first")
    return Reading(1.0, "an oily wood without a seal")


def _dry_paper(evidence: Evidence) -> Reading | None:
    if evidence.lubricated is None:
        return None
    if evidence.lubricated:
        return Reading(-0.8, "the paper was wet")
    return Reading(1.0, "the paper was dry")


SIGNS: Mapping[Sign, SignReader] = MappingProxyType(
    {
        Sign.DAMP_AIR: _damp_air,
        Sign.DAMP_SINCE: _scale(
            "worst_humidity_percent",
            "up to {:.0f} % humidity since",
            (66, -0.5),
            (76, 0.5),
            above=1,
        ),
        Sign.COLD_AIR: _cold_air,
        Sign.HOT_AIR: _scale(
            "temperature_c", "{:.0f} degC at that coat", (25.0, -0.7), (28.0, 0.5), above=1.0
        ),
        Sign.DRAUGHT: _scale(
            "movement_m_per_s",
            "air moving at {:.1f} m/s",
            (0.2, -0.5),
            (0.35, 0.2),
            (0.5, 0.7),
            above=1.0,
        ),
        Sign.TOO_SOON: _scale(
            "waited_share",
            "{percent:.0f} % of the wait before that coat was taken",
            (0.6, 1.0),
            (0.9, 0.6),
            (1.0, 0.2),
            (1.5, -0.5),
            above=-1.0,
        ),
        Sign.TOO_LATE: _scale(
            "waited_share",
            "{:.1f} times the wait before that coat went by",
            (2.0, -0.7),
            (4.0, 0.2),
            above=1.0,
        ),
        Sign.NOT_DRY: _scale(
            "dried_share",
            "{percent:.0f} % of the drying done when it was seen",
            (0.6, 1.0),
            (0.95, 0.7),
            (1.1, 0.0),
            (1.5, -0.6),
            above=-1.0,
        ),
        Sign.STAYS_SOFT: _stays_soft,
        Sign.YOUNG_FILM: _scale(
            "days_since_coat",
            "{:.0f} days since the last coat",
            (4.0, 1.0),
            (15.0, 0.5),
            (31.0, -0.3),
            above=-1.0,
        ),
        Sign.HEAVY_COAT: _scale(
            "amount_share",
            "{:.1f} times the material that the schedule gives that coat",
            (0.9, -0.6),
            (1.2, -0.3),
            (1.5, 0.6),
            above=1.0,
        ),
        Sign.LEAN_COAT: _scale(
            "amount_share",
            "{:.1f} times the material that the schedule gives that coat",
            (0.6, 1.0),
            (0.8, 0.6),
            above=-0.5,
        ),
        Sign.HEAVY_CUT: _heavy_cut,
        Sign.THINNED_FAR: _scale(
            "thinned_percent", "{:.0f} % thinned", (20.0, -0.5), (40.0, 0.2), above=1.0
        ),
        Sign.MANY_COATS: _scale(
            "coats_in_a_day", "coats within a day: {}", (4, -0.5), (6, 0.0), (9, 0.5), above=1.0
        ),
        Sign.THICK_FILM: _scale(
            "film_um", "about {:.0f} um of film", (60.0, -0.7), (100.0, 0.4), above=1.0
        ),
        Sign.THIN_FILM: _thin_film,
        Sign.OLD_BATCH: _scale(
            "batch_age_share",
            "the batch had {percent:.0f} % of its life behind it",
            (0.5, -1.0),
            (0.8, -0.2),
            (1.0, 0.3),
            (1.5, 0.8),
            above=1.0,
        ),
        Sign.OIL_BELOW: _fact(
            "oxidising_below", "an oil or varnish lies under it", "no oil or varnish under it"
        ),
        Sign.WAX_BELOW: _fact("waxy_below", "wax lies under it", "nothing with wax under it"),
        Sign.OIL_USED: _left("oil_used", "oil", -1.0),
        Sign.SPIRITS_USED: _left("spirits_used", "mineral spirits", -0.3),
        Sign.GREEN_BELOW: _scale(
            "green_below_share",
            "a layer below had {percent:.0f} % of its drying when it was coated",
            (0.5, 1.0),
            (0.9, 0.6),
            (1.0, 0.2),
            above=-0.7,
        ),
        Sign.STEEL_WOOL: _fact(
            "steel_wool", "steel wool was used on it", "no steel wool was used", if_no=-0.8
        ),
        Sign.WATER_UNDER: _water_under,
        Sign.WET_WORK: _fact(
            "water_used",
            "water since the coat before",
            "no water since the coat before",
            if_no=-0.5,
        ),
        Sign.STAINED: _fact("stained", "a stain is on the wood", "no stain on the wood"),
        Sign.PATTERNED: _fact(
            "patterned", "woods of several colours side by side", "one wood only"
        ),
        Sign.UNSEALED: _fact(
            "sealed", "the wood was sealed first", "the wood was not sealed", if_yes=-0.7, if_no=1.0
        ),
        Sign.COARSE: _scale(
            "grade_um",
            "a last grade of {:.0f} um grain",
            (21.0, -0.7),
            (32.0, -0.2),
            (42.0, 0.3),
            (60.0, 0.8),
            above=1.0,
        ),
        Sign.COARSE_FOR_WOOD: _scale(
            "grade_um", "a last grade of {:.0f} um grain", (83.0, -0.7), (101.0, 0.2), above=1.0
        ),
        Sign.FINE: _scale(
            "grade_um", "a last grade of {:.0f} um grain", (19.0, 1.0), (27.0, 0.3), above=-0.6
        ),
        Sign.JUMP: _scale(
            "grade_jump",
            "a step between grades of {:.1f} times the grain",
            (1.65, -0.7),
            (2.01, 0.2),
            above=1.0,
        ),
        Sign.DRY_PAPER: _dry_paper,
        Sign.MANY_LEVELLINGS: _scale(
            "levellings", "levelled {} times", (1, -1.0), (2, -0.3), (3, 0.3), above=1.0
        ),
        Sign.FEW_COATS: _scale(
            "coats_since_level",
            "coats since it was last levelled: {}",
            (3, 1.0),
            (5, 0.5),
            (8, -0.2),
            above=-0.7,
        ),
        Sign.MANY_SANDINGS: _scale(
            "wood_sandings", "the wood was sanded {} times", (3, -0.7), (5, 0.2), above=1.0
        ),
        Sign.NOT_TACKED: _fact(
            "tacked",
            "dust was tacked off before it",
            "no tacking off between the paper and the coat",
            if_yes=-0.6,
            if_no=1.0,
        ),
        Sign.DUST_NEAR: _fact(
            "dust_near",
            "somebody sanded dry in the shop at that time",
            "nobody sanded dry at that time",
            if_no=-0.5,
        ),
        Sign.OPEN_PORES: _open_pores,
        Sign.FILLED: _fact("filled", "a filler is in the pores", "no filler in the wood"),
        Sign.OILY_WOOD: _oily_wood,
        Sign.THIN_VENEER: _scale(
            "veneer_mm", "a veneer of {:.1f} mm", (0.5, 1.0), (0.7, 0.3), (1.0, -0.3), above=-1.0
        ),
        Sign.SPRAYED: _verb(Verb.SPRAY, "it was sprayed", "it was not sprayed"),
        Sign.PADDED: _verb(Verb.PAD, "it was padded", "it was not padded"),
        Sign.SPIRITED: _verb(
            Verb.SPIRIT_OFF, "alcohol was the last thing on it", "no flashing off just before", -0.8
        ),
        Sign.SLOW_KIND: _kind(
            SLOW_KINDS, "a finish that stays open for hours", "a finish that sets soon", -0.5
        ),
        Sign.SEPARATE_COATS: _kind(
            SEPARATE_KINDS,
            "its coats do not melt into each other",
            "its coats melt into each other",
            -0.8,
        ),
        Sign.SHELLAC: _kind(frozenset(SHELLACS), "shellac", "no shellac", -0.7),
        Sign.AT_EDGE: _fact("at_edge", "it lies at an edge or a corner", "it lies in the field"),
    }
)
"""How each sign is read. The limits are in the code beside it, and nowhere else."""

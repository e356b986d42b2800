"""The ways in which a sign is read from the evidence: by a figure, a fact, or several."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TypeAlias

from finishsched.checking.defects.evidence import Evidence
from finishsched.checking.defects.signs import Reading
from finishsched.drying.air import BLUSH_MARGIN_K, MOST_HUMIDITY_FOR_ALCOHOL_PERCENT
from finishsched.factors import G_PER_L_IN_A_POUND_CUT
from finishsched.model.kinds import MELTING, SHELLACS
from finishsched.model.product import Mechanism, ProductKind
from finishsched.model.said import Kept
from finishsched.model.schedule import Verb

SignReader: TypeAlias = Callable[[Evidence], "Reading | None"]
Bands: TypeAlias = Sequence[tuple[float, float]]
"""Limits from low to high, each with the grade that holds below it."""

FINISHES = frozenset(kind for kind in ProductKind if kind.row.film_solids)
SLOW_KINDS = frozenset(kind for kind in FINISHES if kind.row.mechanism is Mechanism.OXIDISING)
"""Finishes that stay open for hours."""
SEPARATE_KINDS = FINISHES.difference(MELTING)
"""Finishes whose coats do not melt into each other."""

DRY_ENOUGH_PERCENT = 55.0
"""Up to it no film turns white (common practice)."""
EARLIER = 0.8
"""How much an earlier coat's fault counts beside the last one's own (our assumption)."""
BEFORE = -0.5
"""How much paper before the last coat speaks against what paper does (our assumption)."""


def scale(
    name: str, words: str, *bands: tuple[float, float], above: float, kept: Kept | None = None
) -> SignReader:
    """Return a look at one figure: each band's grade holds below its limit, ``above`` after all.

    What is ``kept`` in a unit stands in ``words`` as ``{told}``.
    """

    def read(evidence: Evidence) -> Reading | None:
        value: float | None = getattr(evidence, name)
        if value is None:
            return None
        grade = _grade(value, bands, above)
        percent, named = 100 * value, evidence.grade or "its grade"
        told = evidence.tell(value, kept, 2) if kept else ""
        capped = min(100.0, percent)
        said = words.format(value, percent=percent, capped=capped, grade=named, told=told)
        return Reading(grade, said)

    return read


def _grade(value: float, bands: Bands, above: float) -> float:
    """Return the grade of the first band whose limit a value is below, or that ``above`` all."""
    return next((grade for limit, grade in bands if value < limit), above)


def fact(name: str, yes: str, no: str, *, if_yes: float = 1.0, if_no: float = -1.0) -> SignReader:
    """Return a look at something that is so or not."""

    def read(evidence: Evidence) -> Reading | None:
        value: bool | None = getattr(evidence, name)
        if value is None:
            return None
        return Reading(if_yes, yes) if value else Reading(if_no, no)

    return read


def by_verb(verb: Verb, yes: str, no: str, if_no: float = -0.7) -> SignReader:
    """Return a look at how the coat was laid."""

    def read(evidence: Evidence) -> Reading | None:
        if evidence.verb is None:
            return None
        return Reading(1.0, yes) if evidence.verb is verb else Reading(if_no, no)

    return read


def by_kind(kinds: frozenset[ProductKind], yes: str, no: str, if_no: float) -> SignReader:
    """Return a look at what was laid."""

    def read(evidence: Evidence) -> Reading | None:
        if evidence.kind is None:
            return None
        return Reading(1.0, yes) if evidence.kind in kinds else Reading(if_no, no)

    return read


def damp_air(evidence: Evidence) -> Reading | None:
    """Look at the air of the coat: its humidity, and how near the film came to the dew point."""
    humidity, margin = evidence.humidity_percent, evidence.dew_margin_k
    if humidity is None:
        return None
    words = f"{humidity:.0f} % humidity at that coat"
    if margin is not None:
        where = "above" if margin >= 0 else "below"
        words += f", the wet film {evidence.tell(abs(margin), 'K', 1)} {where} the dew point"
    if humidity <= DRY_ENOUGH_PERCENT:
        return Reading(-1.0, words)
    if humidity > MOST_HUMIDITY_FOR_ALCOHOL_PERCENT:
        return Reading(1.0 if margin is not None and margin < BLUSH_MARGIN_K else 0.7, words)
    return Reading(0.3 if margin is not None and margin < 0 else 0.0, words)


def cold_air(evidence: Evidence) -> Reading | None:
    """Look at the coldest air, of the coat or since."""
    known = [c for c in (evidence.temperature_c, evidence.coldest_c) if c is not None]
    if not known:
        return None
    coldest = min(known)
    bands = ((12.0, 1.0), (15.0, 0.7), (18.0, 0.0), (20.0, -0.7))
    grade = _grade(coldest, bands, -1.0)
    return Reading(grade, f"{evidence.tell(coldest, 'degC', 1)} at its coldest")


def after_another(read_wait: SignReader) -> SignReader:
    """Return a look at a wait, for whatever was laid after another coat: a first one has none."""

    def read(evidence: Evidence) -> Reading | None:
        found = read_wait(evidence)
        if found is None and evidence.coats == 1 and evidence.covered is False:
            return Reading(-1.0, "it was the first coat")
        return found

    return read


def green_below(evidence: Evidence) -> Reading | None:
    """Look at how dry each layer below was when something of another kind came over it."""
    if evidence.covered is False:
        return Reading(-1.0, "nothing of another kind lies under it")
    share = evidence.green_below_share
    if share is None:
        return None
    bands = ((0.5, 1.0), (0.9, 0.6), (1.0, 0.2), (1.5, -0.7))
    grade = _grade(share, bands, -1.0)
    said = f"a layer below had {100 * share:.0f} % of its drying when it was coated"
    return Reading(grade, said)


def last_or_earlier(last: SignReader, earlier: SignReader) -> SignReader:
    """Return a look at the last coat, or at any before it where that speaks louder."""

    def read(evidence: Evidence) -> Reading | None:
        own, other = last(evidence), earlier(evidence)
        if other is None or other.grade <= 0:
            return own
        faded = Reading(EARLIER * other.grade, other.words)
        return faded if own is None or own.grade < faded.grade else own

    return read


def thick_film(evidence: Evidence) -> Reading | None:
    """Look at the film: padded shellac is thick at 60 um, any other at 100 (makers of lacquer)."""
    if evidence.film_um is None:
        return None
    most = 60.0 if evidence.kind in SHELLACS else 100.0
    bands = ((0.3, -1.0), (0.6, -0.7), (0.85, 0.0), (1.0, 0.5))
    grade = _grade(evidence.film_um / most, bands, 1.0)
    return Reading(grade, f"about {evidence.tell(evidence.film_um, 'um', 2)} of film")


def stays_soft(evidence: Evidence) -> Reading | None:
    """Look at dry checks that failed, and time that went by long since."""
    failed, dried = evidence.dry_checks_failed, evidence.dried_share
    if failed is None and dried is None:
        return None
    share = dried or 0.0
    if (failed or 0) >= 2:
        return Reading(1.0, f"{failed} dry checks said 'not yet'")
    if share > 1.5 and evidence.found_ready:
        return None  # It was dry by then, and has only grown older since.
    if share > 1.5:
        times = f"{share:.1f}" if share < 10 else f"{share:.0f}"
        return Reading(1.0, f"{times} times its drying time has gone by")
    return Reading(0.3, "one dry check said 'not yet'") if failed else Reading(-0.5, "not overdue")


def thin_film(evidence: Evidence) -> Reading | None:
    """Look at the film: oil leaves none, padded shellac a third of what a brush leaves."""
    coats, film_um = evidence.coats, evidence.film_um
    if coats is None or film_um is None:
        return None
    if evidence.kind is ProductKind.OIL:
        grade = 1.0 if coats < 2 else 0.5 if coats < 3 else -0.7
        return Reading(grade, f"coats laid in all: {coats}")
    times = 0.35 if evidence.kind in SHELLACS else 1.0
    bands = ((15.0, 1.0), (25.0, 0.5), (40.0, 0.0))
    grade = _grade(film_um / times, bands, -0.7)
    return Reading(grade, f"about {evidence.tell(film_um, 'um', 2)} of film")


def heavy_cut(evidence: Evidence) -> Reading | None:
    """Look at the cut; 1 lb per US gallon is 120 g/l, and a pad likes 1 to 2 lb (practice)."""
    if evidence.cut_g_per_l is None:
        return None
    pounds = evidence.cut_g_per_l / G_PER_L_IN_A_POUND_CUT
    bands = ((1.1, -1.0), (1.6, -0.7), (2.2, 0.0), (2.8, 0.6))
    grade = _grade(pounds, bands, 1.0)
    return Reading(grade, f"a {pounds:.1f}-lb cut")


def not_thinned(evidence: Evidence) -> Reading | None:
    """Look at whether lacquer or varnish was sprayed as it comes, which few flow out from."""
    thick = evidence.kind in (ProductKind.LACQUER, ProductKind.VARNISH)
    if evidence.verb is not Verb.SPRAY or not thick:
        return None
    share = evidence.thinned_percent or 0.0
    grade = _grade(share, ((5.0, 1.0), (15.0, 0.3)), -0.7)
    return Reading(grade, f"sprayed with {share:.0f} % of thinner")


def left_on(name: str, what: str, if_no: float) -> SignReader:
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


def water_under(evidence: Evidence) -> Reading | None:
    """Look at water that came on before the coat, and how far it had dried."""
    if evidence.water_used is None:
        return None
    if not evidence.water_used:
        return Reading(-1.0, "no water since the coat before")
    if evidence.redried_share is None:
        return Reading(0.5, "water came on the piece since the coat before")
    words = f"wetted, and {100 * evidence.redried_share:.0f} % of its drying done when coated"
    bands = ((0.7, 1.0), (1.0, 0.6), (1.3, -0.2))
    return Reading(_grade(evidence.redried_share, bands, -0.6), words)


def open_pores(evidence: Evidence) -> Reading | None:
    """Look at the wood's pores, and whether they were filled."""
    if evidence.open_pores is None:
        return None
    if not evidence.open_pores:
        return Reading(-1.0, "a closed-pored wood")
    if evidence.filled is None:
        return Reading(0.4, "an open-pored wood")
    if evidence.filled:
        return Reading(-0.5, "an open-pored wood, filled")
    return Reading(1.0, "an open-pored wood without a filler")


def oily_wood(evidence: Evidence) -> Reading | None:
    """Look at the wood's oil, and whether it was sealed."""
    if evidence.oily_wood is None:
        return None
    if not evidence.oily_wood:
        return Reading(-1.0, "no oily wood")
    if evidence.sealed:
        return Reading(0.4, "an oily wood, sealed first")
    return Reading(1.0, "an oily wood without a seal")


def dry_paper(evidence: Evidence) -> Reading | None:
    """Look at the paper that came on the film."""
    if evidence.lubricated is None:
        return None
    if evidence.lubricated:
        return Reading(-1.0, "the paper was wet")
    return Reading(1.0, "the paper was dry")


def papered(evidence: Evidence) -> Reading | None:
    """Look at whether an abrasive came on it since the last coat, or before."""
    if evidence.papered is None:
        return None
    if evidence.papered:
        return Reading(1.0, "an abrasive came on it")
    if evidence.abraded:
        return Reading(BEFORE, "no abrasive came on it since the last coat")
    return Reading(-1.0, "no abrasive came on it")

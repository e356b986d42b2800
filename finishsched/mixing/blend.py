"""What jars of different cuts make together, and how to reach a cut from them.

A plan pours from the jars, then adds flakes and alcohol for what they lack. It uses the least new
flakes and at once the least new alcohol (``pouring`` shows that one plan does both), so also the
least of any sum of the two. Where that leaves a choice of jars, the oldest goes first.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from finishsched.factors import G_PER_L_IN_A_POUND_CUT
from finishsched.mixing.alcohol import alcohol_g_per_ml
from finishsched.mixing.cut import DISSOLVED_G_PER_ML, heavy_warnings
from finishsched.mixing.keeping import (
    DROP_TEST,
    LONGEST_SHARE,
    MONTH_S,
    SHELLAC_KEEPS_S,
    SHORTEST_SHARE,
)
from finishsched.mixing.pouring import (
    ALCOHOL,
    RESIN,
    Contents,
    contents,
    most_of,
    oldest_first,
    reachable_share,
    together,
)
from finishsched.model.reason import Reason
from finishsched.model.said import Quantity, said
from finishsched.model.shop import Alcohol

STATED_ERROR = 1e-4
"""New material that is less than this share of what the batch holds is left out: no scale on a
bench shows it."""


@dataclass(frozen=True, slots=True)
class Jar:
    """A solution on the shelf."""

    name: str
    cut_g_per_l: float
    have_ml: float
    waxy: bool | None = None
    """None where it is not said."""
    kind: str = "shellac"
    mixed_on: date | None = None

    @property
    def cut_lb_per_gal(self) -> float:
        """The cut in pounds per US gallon of alcohol."""
        return self.cut_g_per_l / G_PER_L_IN_A_POUND_CUT


@dataclass(frozen=True, slots=True)
class Pour:
    """What is taken from one jar."""

    jar: Jar
    use_ml: float

    @property
    def left_ml(self) -> float:
        """What stays in the jar."""
        return max(0.0, self.jar.have_ml - self.use_ml)


@dataclass(frozen=True, slots=True)
class Blend:
    """What goes together, and what it makes."""

    pours: tuple[Pour, ...]
    """One for each jar, in the order given; of nothing where a jar is not used."""
    add_alcohol_ml: float
    add_alcohol_g: float
    add_flakes_g: float
    cut_g_per_l: float
    """Zero when there is nothing in it."""
    makes_ml: float
    cannot: str | None
    """Why the target cannot be reached as asked; None when it is."""
    warnings: tuple[str, ...]
    reasons: tuple[Reason, ...]

    @property
    def cut_lb_per_gal(self) -> float:
        """The cut in pounds per US gallon of alcohol."""
        return self.cut_g_per_l / G_PER_L_IN_A_POUND_CUT


def blend_all(jars: Sequence[Jar], today: date) -> Blend:
    """Return what ``jars`` make when all of them are poured together.

    Raises:
        ValueError: for no jars, or a cut or a volume that is not above zero.

    """
    _refuse_empty(jars)
    pours = tuple(Pour(jar, jar.have_ml) for jar in jars)
    warnings = (*_quarrels(jars), *_ages(jars, today))
    return _blend(pours, (0.0, 0.0), Alcohol(), None, warnings)


def blend_to(
    jars: Sequence[Jar],
    to_g_per_l: float,
    makes_ml: float,
    alcohol: Alcohol,
    today: date,
    *,
    nothing_new: bool = False,
    dewaxed: bool = False,
) -> Blend:
    """Return how to make ``makes_ml`` of ``to_g_per_l`` from ``jars`` with the least new material.

    Shellac older than a year is left out. Reached to within ``STATED_ERROR``.

    Source: TT-S-300A, Shellac, Cut, 1977; the balance of masses and volumes.

    Args:
        jars: on the shelf, at least one, each with a cut and a volume above 0.
        to_g_per_l: g of flakes per litre of alcohol, above 0.
        makes_ml: ml, above 0.
        alcohol: its strength in %vol, 0 to 100, and its own temperature, -20 to 40 degC.
        today: for the age of the jars.
        nothing_new: True to allow no flakes and no alcohol: where the jars cannot do it alone, the
            blend says why, and is the most that they can.
        dewaxed: True to leave waxy jars out.

    Raises:
        ValueError: for no jars, or a cut or a volume that is not above zero.

    """
    _refuse_empty(jars)
    if not (0 < to_g_per_l < math.inf and 0 < makes_ml < math.inf):
        raise ValueError(f"{makes_ml:g} ml of {to_g_per_l:g} g/L; both must be more than zero")
    left_out = {
        index: why for index, jar in enumerate(jars) if (why := _unusable(jar, today, dewaxed))
    }
    usable = [index for index in range(len(jars)) if index not in left_out]
    usable.sort(key=lambda index: jars[index].mixed_on or date.max)
    held = [contents(jars[index].cut_g_per_l, jars[index].have_ml) for index in usable]
    wanted = contents(to_g_per_l, makes_ml)
    poured = most_of(held, wanted)
    new = _lacking(poured, wanted)
    cannot = None
    if nothing_new and any(new):
        share = reachable_share(held, wanted)
        cannot = _why_not([jars[i] for i in usable], to_g_per_l, float(share))
        poured, new = (wanted[ALCOHOL] * share, wanted[RESIN] * share), (0.0, 0.0)
    shares = dict(zip(usable, oldest_first(held, poured), strict=True))
    pours = tuple(_pour(jar, shares.get(index)) for index, jar in enumerate(jars))
    used = [pour.jar for pour in pours if pour.use_ml > 0]
    warnings = (*left_out.values(), *_quarrels(used), *_ages(used, today))
    if dewaxed:
        warnings = (*warnings, *_still_dewaxed(used, new))
    return _blend(pours, new, alcohol, cannot, (*warnings, *heavy_warnings(to_g_per_l)))


def _pour(jar: Jar, share: Fraction | None) -> Pour:
    return Pour(jar, float(share * Fraction(jar.have_ml)) if share else 0.0)


def _lacking(poured: Contents, wanted: Contents) -> tuple[float, float]:
    """Return the alcohol in ml and the flakes in g that are lacking, nothing where too little."""
    lacking = [wanted[part] - poured[part] for part in (ALCOHOL, RESIN)]
    alcohol_ml, flakes_g = (
        0.0 if amount < wanted[part] * Fraction(STATED_ERROR) else float(amount)
        for part, amount in enumerate(lacking)
    )
    return alcohol_ml, flakes_g


def _blend(
    pours: tuple[Pour, ...],
    new: tuple[float, float],
    alcohol: Alcohol,
    cannot: str | None,
    warnings: tuple[str, ...],
) -> Blend:
    add_alcohol_ml, add_flakes_g = new
    poured = together(contents(pour.jar.cut_g_per_l, pour.use_ml) for pour in pours)
    alcohol_ml = float(poured[ALCOHOL]) + add_alcohol_ml
    flakes_g = float(poured[RESIN]) + add_flakes_g
    density = alcohol_g_per_ml(alcohol.strength_percent_vol, alcohol.at_c)
    return Blend(
        pours=pours,
        add_alcohol_ml=add_alcohol_ml,
        add_alcohol_g=add_alcohol_ml * density,
        add_flakes_g=add_flakes_g,
        cut_g_per_l=1000 * flakes_g / alcohol_ml if alcohol_ml > 0 else 0.0,
        makes_ml=alcohol_ml + flakes_g / DISSOLVED_G_PER_ML,
        cannot=cannot,
        warnings=warnings,
        reasons=(_reason(pours),),
    )


def _refuse_empty(jars: Sequence[Jar]) -> None:
    if not jars:
        raise ValueError("no jar to blend from; give at least one")
    for jar in jars:
        if not (0 < jar.cut_g_per_l < math.inf and 0 < jar.have_ml < math.inf):
            raise ValueError(
                f"{jar.name}: {jar.have_ml:g} ml of {jar.cut_g_per_l:g} g/L; "
                "both must be more than zero"
            )


def _unusable(jar: Jar, today: date, dewaxed: bool) -> str | None:  # noqa: FBT001  # one caller
    if dewaxed and jar.waxy:
        return f"{jar.name} is left out: it is waxy, and dewaxed is called for"
    if _older(jar, today, SHELLAC_KEEPS_S * LONGEST_SHARE):
        return (
            f"{jar.name} is left out: mixed {jar.mixed_on}, and mixed shellac keeps 12 months at "
            "most; if a drop of it on glass dries hard, give it without its date"
        )
    return None


def _older(jar: Jar, today: date, than_s: float) -> bool:
    """Tell whether a jar of shellac is past an age; of other kinds nothing is known here."""
    if jar.mixed_on is None or jar.kind != "shellac":
        return False
    return (today - jar.mixed_on).total_seconds() > than_s


def _quarrels(jars: Sequence[Jar]) -> Iterable[str]:
    kinds = sorted({jar.kind for jar in jars})
    if len(kinds) > 1:
        yield f"{' and '.join(kinds)} do not mix: the film may curdle, or never harden"
    waxy = [jar.name for jar in jars if jar.waxy]
    if waxy and any(jar.waxy is False for jar in jars):
        yield (
            f"{' and '.join(waxy)} is waxy, so all of it becomes waxy: "
            "no seal under varnish, lacquer or a waterborne finish"
        )


def _ages(jars: Iterable[Jar], today: date) -> Iterable[str]:
    for jar in jars:
        if _older(jar, today, SHELLAC_KEEPS_S * SHORTEST_SHARE):
            months = (today - jar.mixed_on).total_seconds() / MONTH_S if jar.mixed_on else 0.0
            yield f"{jar.name} is {months:.0f} months old: {DROP_TEST}"


def _still_dewaxed(jars: Iterable[Jar], new: tuple[float, float]) -> Iterable[str]:
    for jar in jars:
        if jar.waxy is None:
            yield f"{jar.name}: not said whether it is dewaxed; taken as dewaxed"
    if new[1] > 0:
        yield "the new flakes must be dewaxed too"


def _why_not(jars: Sequence[Jar], to_g_per_l: float, share: float) -> str:
    wanted = f"a {to_g_per_l / G_PER_L_IN_A_POUND_CUT:.3g}-lb cut"
    if not jars:
        return "no jar is left to pour from"
    cuts = [jar.cut_g_per_l for jar in jars]
    for extreme, word, remedy in (
        (max(cuts) if max(cuts) < to_g_per_l else None, "weaker", "flakes"),
        (min(cuts) if min(cuts) > to_g_per_l else None, "stronger", "alcohol"),
    ):
        if extreme is not None:
            nearest = f"{extreme / G_PER_L_IN_A_POUND_CUT:.3g} lb"
            return f"every jar is {word} than {wanted}, the nearest {nearest}; it takes {remedy}"
    return f"the jars alone make {100 * share:.0f} % of that much of {wanted}, no more"


def _reason(pours: Sequence[Pour]) -> Reason:
    return Reason(
        "least new flakes and at once least new alcohol; of equal plans, the oldest jar first",
        (
            *(
                said(
                    "{} {}, {}",
                    pour.jar.name,
                    Quantity(pour.jar.cut_g_per_l, "g/l", 4),
                    Quantity(pour.use_ml, "ml", 4),
                )
                for pour in pours
            ),
            said("dissolved density {}", Quantity(DISSOLVED_G_PER_ML, "g/ml")),
        ),
        "balance of resin and alcohol, solved exactly; 3, 6 and 12 months of keeping: trade texts",
    )

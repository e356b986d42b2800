"""Models of every kind of document, drawn for the laws that hold for all of them."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import replace
from datetime import date
from types import MappingProxyType

from hypothesis import strategies as st

from finishsched import units
from finishsched.model.accepted import Accepted
from finishsched.model.film import BareGrades, FilmRules, Reach
from finishsched.model.job import Face, Inlay, Job, Piece
from finishsched.model.product import DryingTimes, Mechanism, Product, ProductKind, RagHabit
from finishsched.model.schedule import (
    HandsOn,
    Rounds,
    Schedule,
    Spread,
    Stage,
    StageName,
    StepPlan,
    Verb,
    Wait,
    Waits,
)
from finishsched.model.settings import Quiet, Settings, Theme
from finishsched.model.shop import (
    Air,
    Alcohol,
    KitchenUnits,
    Pack,
    Price,
    Shop,
    ShownUnits,
    Steady,
    Tools,
)
from finishsched.model.solvent import (
    FlameClass,
    Liquid,
    LocalLimit,
    SolventShare,
    StorageLimit,
)
from finishsched.model.woods_described import OwnWood

LOOKS = ["flat", "velvet", "eggshell", "satin", "semi-gloss", "gloss", "high gloss"]

# Any text that a document can hold; control characters and lone surrogates are refused in reading.
_signs = st.sampled_from(list("aB1é𝄞 :-#'\"\\{}[],&*!|>%@`?~.\n")) | st.characters(
    blacklist_categories=("Cc", "Cs", "Cn", "Zl", "Zp"), blacklist_characters="\ufeff"
)
_tricky = st.sampled_from(["yes", "no", "null", "~", "1:30", "010", "1e3", "2026-12-18", "=", "<<"])
prose = (st.text(_signs, min_size=1, max_size=200) | _tricky).map(str.strip).filter(bool)
lines = prose.map(lambda text: " ".join(text.split())).filter(bool)
ids = st.from_regex(r"[a-z0-9]{1,5}(-[a-z0-9]{1,5}){0,2}", fullmatch=True)


def kept(measure: units.Measure, top: float | None = None):
    """Return floats that a measure allows, the round ones often."""
    high = min(measure.maximum, top or math.inf)
    floats = st.floats(
        measure.minimum, high, exclude_min=measure.above_minimum, allow_subnormal=False
    )
    rounds = st.integers(1, max(1, int(min(high, 1000)))).map(float)
    return st.one_of(rounds, rounds.map(lambda value: value / 8), floats).filter(
        lambda value: value <= high
    )


def maybe(strategy):
    """Return None sometimes."""
    return st.none() | strategy


def tuples(strategy, most: int = 3, least: int = 0):
    """Return tuples of a few."""
    return st.lists(strategy, min_size=least, max_size=most).map(tuple)


accepted = st.lists(
    st.builds(Accepted, rule=ids, because=lines), max_size=2, unique_by=lambda one: one.rule
).map(tuple)
"""Rules that a schedule, a job or a shop is silent about; of none twice."""

times = kept(units.DURATION)
liquids = st.sampled_from(Liquid)
half = kept(units.SHARE, 50.0)
shares = st.builds(SolventShare, liquid=liquids, by_volume_percent=half) | st.builds(
    SolventShare, liquid=liquids, by_mass_percent=half
)
some_sources = (
    "dissolved_density", "density", "volume_solids", "pot_life", "open_time", "keeps",
    "touch", "recoat", "sand", "cured", "hazards", "rags", "solvents",
)  # fmt: skip
products = st.builds(
    Product,
    id=ids, title=lines, kind=st.sampled_from(ProductKind),
    mechanism=maybe(st.sampled_from(Mechanism)), waxy=maybe(st.booleans()),
    dissolved_density_g_per_ml=maybe(kept(units.DENSITY)),
    density_g_per_ml=maybe(kept(units.DENSITY)),
    volume_solids_percent=maybe(kept(units.SHARE)), thinner=maybe(ids),
    dries=maybe(
        st.builds(
            DryingTimes, touch_s=maybe(times), recoat_s=maybe(times), sand_s=maybe(times),
            cured_s=maybe(times), at_c=kept(units.TEMPERATURE),
            at_humidity_percent=kept(units.HUMIDITY),
        )
    ),
    pot_life_s=maybe(times), open_s=maybe(times), keeps_s=maybe(times),
    hazards=tuples(st.from_regex(r"H[234][0-9]{2}[A-Za-z]{0,2}", fullmatch=True)),
    rags=st.sampled_from(RagHabit), solvents=maybe(tuples(shares, 2)), cautions=tuples(prose),
    notes=prose | st.just(""),
    sources=st.fixed_dictionaries(dict.fromkeys(some_sources, lines)).map(MappingProxyType),
)  # fmt: skip


@st.composite
def waits(draw):
    """Draw waits with their times in order."""

    def wait():
        low, middle, high, last = sorted(draw(times) for _ in range(4))
        return Wait(low, middle, draw(maybe(st.just(high))), draw(maybe(st.just(last))))

    first = wait() if draw(st.booleans()) else None
    between = wait() if draw(st.booleans()) else None
    return Waits(wait(), first, between)


@st.composite
def steps(draw, turns: int, *, in_rounds: bool):
    """Draw a step with one value, or one for each of its turns, wherever both are allowed."""

    def each(strategy):
        return tuple(draw(strategy) for _ in range(draw(st.sampled_from([1, turns]))))

    coats = each(st.integers(1, 200)) if in_rounds else (turns,)
    cut = each(kept(units.CUT)) if draw(st.booleans()) else ()
    may_thin = cut and max(coats) > 1 and (in_rounds or len(cut) == 1)
    wait = draw(maybe(waits()))
    work = kept(units.PACE) | st.just(0.0)
    spread = draw(
        maybe(
            st.builds(Spread, ml_per_m2=kept(units.SPREAD))
            | st.builds(Spread, g_per_m2=kept(units.SPREAD_MASS))
        )
    )
    return StepPlan(
        id="", verb=draw(st.sampled_from(Verb)), how=draw(lines), product=draw(ids),
        tool=draw(lines | st.just("")),
        lubricant=draw(maybe(st.sampled_from(["dry", "water", "soapy water"]) | ids)),
        cut_g_per_l=cut,
        thin_to_g_per_l=draw(kept(units.CUT, min(cut))) if may_thin else None,
        thinned_percent=each(kept(units.SHARE)) if draw(st.booleans()) else (),
        grade=each(st.sampled_from(["P80", "CAMI 320", "0000 wool", "grey pad"])),
        coats=coats, spread=spread, hands_on=HandsOn(draw(work), draw(work)), waits=wait,
        dry_check=draw(lines) if wait else "", cautions=draw(tuples(prose, 2)),
        reach=each(st.sampled_from(Reach)) if draw(st.booleans()) else (),
    )  # fmt: skip


@st.composite
def stages(draw, name: StageName):
    """Draw a stage of steps and groups, each step with an id."""
    items: list[StepPlan | Rounds] = []
    for _ in range(draw(st.integers(1, 3))):
        count = draw(st.integers(2, 4))
        if draw(st.booleans()):
            group = tuples(steps(count, in_rounds=True), 2, 1)
            items.append(Rounds(count, draw(group)))
        else:
            items.append(draw(steps(draw(st.integers(1, 3)), in_rounds=False)))
    return _with_ids(Stage(name, tuple(items)), draw)


def _with_ids(stage: Stage, draw) -> Stage:
    """Give each step the id it gets by itself, or one of its own."""
    counts: Counter[Verb] = Counter()

    def named(step: StepPlan) -> StepPlan:
        counts[step.verb] += 1
        plain, count = step.verb.value.replace(" ", "-"), counts[step.verb]
        usual = plain if count == 1 else f"{plain}-{count}"
        own = f"own-{sum(counts.values())}"
        return replace(step, id=own if draw(st.booleans()) else usual)

    items = [
        Rounds(item.rounds, tuple(named(step) for step in item.steps))
        if isinstance(item, Rounds)
        else named(item)
        for item in stage.steps
    ]
    return Stage(stage.name, tuple(items))


schedules = st.lists(st.sampled_from(StageName), min_size=1, max_size=2, unique=True).flatmap(
    lambda names: st.builds(
        Schedule,
        id=ids,
        title=lines,
        suits=lines | st.just(""),
        look=st.sampled_from(["", *LOOKS]),
        over=maybe(st.sampled_from([kind for kind in ProductKind if kind.row.old_film_um])),
        source=lines,
        notes=prose | st.just(""),
        accepted=accepted,
        stages=st.tuples(*(stages(name) for name in names)),
    )
)
faces = st.builds(
    Face, name=lines, length_mm=kept(units.LENGTH), width_mm=kept(units.LENGTH),
    count=st.integers(1, 1000),
) | st.builds(Face, name=lines, stated_area_m2=kept(units.AREA))  # fmt: skip
days = maybe(st.dates(date(1, 1, 1)))
inlays = st.builds(
    Inlay, material=st.sampled_from(["shell", "brass", "holly", "epoxy"]),
    thickness_mm=kept(units.LENGTH), in_mm=maybe(kept(units.LENGTH)),
    stated_proud_mm=maybe(kept(units.LENGTH)), area_m2=maybe(kept(units.AREA)),
    width_mm=maybe(kept(units.LENGTH)), hardness_n=maybe(kept(units.FORCE)),
)  # fmt: skip
pieces = st.builds(
    Piece, id=ids, title=lines, schedule=ids, faces=tuples(faces, least=1),
    species=lines | st.just(""), veneer_mm=maybe(kept(units.LENGTH)),
    sheen=st.sampled_from(["", *LOOKS]), due=days, notes=prose | st.just(""),
    relief_um=maybe(kept(units.FILM)), count=st.integers(1, 99), then=tuples(ids),
    inlays=tuples(inlays), hardness_n=maybe(kept(units.FORCE)),
)  # fmt: skip


def _names_of_their_own(made: tuple[Piece, ...]) -> bool:
    names = [one.id for piece in made for one in piece.each()]
    names += [piece.id for piece in made if piece.count > 1]
    return len(names) == len(set(names))


jobs = st.builds(
    Job, id=ids, title=lines, customer=lines | st.just(""), due=days, notes=prose | st.just(""),
    pieces=st.lists(pieces, min_size=1, max_size=3).map(tuple).filter(_names_of_their_own),
    accepted=accepted,
)  # fmt: skip
units_ = {"volume": ["ml", "floz", "qt", "L"], "mass": ["g", "oz"]}
prices = st.builds(
    Price, amount=st.integers(0, 9_999_999_999).map(lambda thousandths: thousandths / 1000),
    currency=st.just("EUR"),
)  # fmt: skip
packs = st.builds(
    Pack, product=ids, size_g=kept(units.MASS), price=maybe(prices)
) | st.builds(Pack, product=ids, size_ml=kept(units.VOLUME), price=maybe(prices))  # fmt: skip
shops = st.builds(
    Shop, name=lines, people=tuples(lines), notes=prose | st.just(""),
    time_zone=st.sampled_from([None, "Europe/Lisbon", "UTC"]),
    units=st.builds(
        ShownUnits, volume=st.sampled_from(units_["volume"]),
        mass=st.sampled_from(units_["mass"]), cut=st.sampled_from(["lb/gal", "g/L", "lb/impgal"]),
        temperature=st.sampled_from(["degC", "degF"]), length=st.sampled_from(["mm", "in"]),
        area=st.sampled_from(["m2", "sqft"]),
    ),
    alcohol=st.builds(
        Alcohol, strength_percent_vol=kept(units.STRENGTH), at_c=kept(units.TEMPERATURE),
        methanol_percent=maybe(kept(units.SHARE)),
    ),
    steady=st.sampled_from(Steady),
    usual_air=st.builds(
        Air, temperature_c=kept(units.TEMPERATURE), humidity_percent=kept(units.HUMIDITY),
        movement_m_per_s=kept(units.SPEED),
    ),
    tools=st.builds(
        Tools, scale_g=kept(units.MASS), measure_ml=kept(units.VOLUME),
        measure_error_percent=kept(units.SHARE),
    ),
    kitchen=st.builds(
        KitchenUnits, volume=st.sampled_from(units_["volume"]),
        mass=st.sampled_from(units_["mass"]),
    ),
    limits=tuples(st.builds(LocalLimit, liquid=liquids, ppm=kept(units.VAPOUR))),
    storage=tuples(
        st.builds(
            StorageLimit, place=lines, most_ml=kept(units.VOLUME),
            flame_class=maybe(st.sampled_from(FlameClass)),
        )
    ),
    woods=tuples(
        st.builds(
            OwnWood, name=lines,
            words=st.sampled_from(["like pear, slightly oily", "open pores", "oily, 700 kg/m3"]),
        )
    ),
    jars_ml=tuples(kept(units.VOLUME)), packs=tuples(packs),
    film=st.builds(
        FilmRules, bare_grades=st.sampled_from(BareGrades),
        cut_through_odds_percent=kept(units.SHARE), gauge_error_um=kept(units.FILM),
    ),
    accepted=accepted,
)  # fmt: skip
settings_ = st.builds(
    Settings, theme=st.sampled_from(Theme), bell=st.booleans(), flash=st.booleans(),
    notify=st.lists(lines, max_size=3).map(tuple),
    button=st.sampled_from(("", "f9")),
    quiet=maybe(st.builds(Quiet, st.integers(0, 1439), st.integers(0, 1439))),
    keys=st.dictionaries(ids, lines, max_size=3).map(MappingProxyType),
)  # fmt: skip

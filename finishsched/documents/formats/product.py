"""The format of a product: one material as it is bought, with what its figures rest on."""

from __future__ import annotations

from finishsched.documents.codec import ListOf, MapOf
from finishsched.documents.leaves import ID, LINE, PROSE, YES_NO, matching, quantity, word
from finishsched.documents.nodes import Fields
from finishsched.documents.records import Draft, Key, Record
from finishsched.model.product import DryingTimes, Mechanism, Product, ProductKind, RagHabit
from finishsched.model.recipe import Ingredient, Recipe
from finishsched.model.solvent import Liquid, SolventShare
from finishsched.units import DENSITY, DURATION, HUMIDITY, LOADING, MASS, SHARE, TEMPERATURE, VOLUME

_DRYING = quantity(DURATION, "day", "h", "min", "s")
_KEEPING = quantity(DURATION, "year", "month", "week", "day", "h", "min")
_HAZARD = matching(
    "a GHS hazard statement", r"H[234][0-9]{2}[A-Za-z]{0,2}", "write for example H225", "H225"
)

DRIES = Record(
    DryingTimes,
    "a product's drying",
    (
        Key("at", quantity(TEMPERATURE, "degC", "degF"), "the air's temperature", "at_c"),
        Key("humidity", quantity(HUMIDITY, "%"), "the air's humidity", "at_humidity_percent"),
        Key("touch", _DRYING, "until a finger leaves no mark", "touch_s"),
        Key("recoat", _DRYING, "until the next coat may go on", "recoat_s"),
        Key("sand", _DRYING, "until it sands to powder", "sand_s"),
        Key("cured", _DRYING, "until it is as hard as it gets", "cured_s"),
    ),
)


def _one_share(draft: Draft) -> None:
    given = [key for key in ("by_volume", "by_mass") if key in draft.written]
    if len(given) != 1:
        draft.fault(
            f"a solvent's share is given {'twice' if given else 'nowhere'}",
            "write one of 'by_volume:' and 'by_mass:', such as by_volume: 60 %",
            rule="missing-key" if not given else "bad-value",
        )


def _no_more_than_all(draft: Draft) -> None:
    shares: tuple[SolventShare, ...] = draft.values.get("solvents") or ()
    for kind in ("by_volume_percent", "by_mass_percent"):
        if sum(getattr(share, kind) or 0.0 for share in shares) > 100.000001:
            draft.fault(
                "the solvents come to more than the whole",
                "check the shares; together they are 100 % at most",
                at="solvents",
            )


SOLVENT_SHARE = Record(
    SolventShare,
    "a solvent",
    (
        Key("solvent", word("a solvent", Liquid), "which liquid", "liquid", required=True),
        Key(
            "by_volume",
            quantity(SHARE, "%"),
            "its share of the volume as bought",
            "by_volume_percent",
        ),
        Key(
            "by_mass", quantity(SHARE, "%"), "its share of the weight as bought", "by_mass_percent"
        ),
    ),
    (_one_share,),
    on_one_line=True,
)


def _one_amount(draft: Draft) -> None:
    given = [key for key in ("weigh", "measure", "strength") if key in draft.written]
    if len(given) != 1:
        draft.fault(
            f"a part's amount is given {'twice' if given else 'nowhere'}",
            "write one of 'weigh:', 'measure:' and 'strength:', such as weigh: 120 g",
            rule="missing-key" if not given else "bad-value",
        )


def _each_part_once(draft: Draft) -> None:
    parts: tuple[Ingredient, ...] = draft.values.get("parts") or ()
    names = [part.product for part in parts]
    for name in sorted({name for name in names if names.count(name) > 1}):
        draft.fault(f"{name!r} is in it twice", "put its amounts together", at="of")


INGREDIENT = Record(
    Ingredient,
    "a part of a recipe",
    (
        Key("product", ID, "the id of what goes in", required=True),
        Key("weigh", quantity(MASS, "g", "oz"), "how much by weight", "grams"),
        Key("measure", quantity(VOLUME, "ml", "floz"), "how much by volume", "ml"),
        Key("strength", quantity(LOADING, "g/L", "oz/gal"), "weight in what is made", "g_per_l"),
    ),
    (_one_amount,),
    on_one_line=True,
)
RECIPE = Record(
    Recipe,
    "a recipe",
    (
        Key(
            "makes",
            quantity(VOLUME, "l", "ml", "qt", "floz"),
            "how much that gives, as measured once",
            "makes_ml",
            required=True,
        ),
        Key("of", ListOf(INGREDIENT, "parts", at_least=2), "what goes in", "parts", required=True),
    ),
    (_each_part_once,),
)

_OWN_FIGURES = ("dissolved_density", "density", "volume_solids", "pot_life", "open_time", "keeps")
_DRYING_FIGURES = ("touch", "recoat", "sand", "cured")
_SAFETY = ("hazards", "rags", "solvents")
_SOURCED = frozenset(
    {
        *_OWN_FIGURES,
        *_DRYING_FIGURES,
        *_SAFETY,
        "at",
        "humidity",
        "kind",
        "mechanism",
        "waxy",
        "thinner",
    }
)


def _every_figure_has_a_source(draft: Draft) -> None:
    given = [key for key in (*_OWN_FIGURES, *_SAFETY) if key in draft.written]
    drying = draft.node("dries")
    if isinstance(drying, Fields):
        given += [key for key in _DRYING_FIGURES if drying.get(key) is not None]
    sources = draft.node("sources")
    if not isinstance(sources, Fields):
        return
    for key in given:
        if sources.get(key) is None:
            draft.fault(
                f"{key!r} has no source",
                f"add '{key}:' with a published source, or 'common practice'",
                at="sources",
                rule="missing-key",
            )


PRODUCT = Record(
    Product,
    "a product",
    (
        Key("product", ID, "its id, the same as the file's name", "id", required=True),
        Key("title", LINE, "what people call it", required=True),
        Key("kind", word("a kind of product", ProductKind), "what it is", required=True),
        Key("mechanism", word("a way of drying", Mechanism), "how it becomes dry"),
        Key("waxy", YES_NO, "for shellac: whether the wax is still in it"),
        Key(
            "dissolved_density",
            quantity(DENSITY, "g/ml"),
            "for flakes: mass per volume that they add to a solution",
            "dissolved_density_g_per_ml",
        ),
        Key("density", quantity(DENSITY, "g/ml"), "mass per volume", "density_g_per_ml"),
        Key("volume_solids", quantity(SHARE, "%"), "what stays as film", "volume_solids_percent"),
        Key("thinner", ID, "the id of the product that thins it"),
        Key("dries", DRIES, "its published drying times, and the air they hold for"),
        Key("pot_life", _KEEPING, "how long it can be used once mixed", "pot_life_s"),
        Key("open_time", _KEEPING, "for glue: how long it stays open once spread", "open_s"),
        Key("keeps", _KEEPING, "how long it stays good once mixed or opened", "keeps_s"),
        Key(
            "hazards",
            ListOf(_HAZARD, "hazard statements", on_one_line=True),
            "the label's GHS hazard statements; [] for none",
            unless="recipe",
        ),
        Key(
            "rags", word("a habit of rags", RagHabit), "what wet rags in a heap do", unless="recipe"
        ),
        Key(
            "solvents",
            ListOf(SOLVENT_SHARE, "solvents"),
            "what leaves it as vapour, by volume or by weight; [] for nothing",
        ),
        Key("recipe", RECIPE, "what the shop makes it of"),
        Key("cautions", ListOf(PROSE, "cautions"), "cautions of its own"),
        Key("notes", PROSE, "anything else"),
        Key(
            "sources",
            MapOf(LINE, "the list of sources", _SOURCED),
            "for each figure, the hazards and the rags: where it comes from",
            unless="recipe",
        ),
    ),
    (_every_figure_has_a_source, _no_more_than_all),
)

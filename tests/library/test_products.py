"""The shipped products: every figure sourced, every danger labelled, every figure as published."""

from __future__ import annotations

import pytest

from finishsched.checking.findings import product_findings
from finishsched.model.product import Mechanism, ProductKind, RagHabit

HOUR_S, DAY_S = 3600.0, 86400.0

FLAMMABLE_LIQUIDS = {"H224", "H225", "H226"}

# What goes into a jar, can or tin as a liquid that burns easily. Drying oils without solvent, and
# mineral oil, have flash points far above the classes H224 to H226 (from memory).
SOLVENT_BORNE = {
    "denatured-alcohol",
    "ethanol",
    "mineral-spirits",
    "lacquer-thinner",
    "oil-varnish",
    "wiping-varnish",
    "nitrocellulose-lacquer",
    "oil-paste-filler",
    "paste-wax",
    "oil-glaze",
    "amber-toner",
}

GLYCOL_ETHERS = {"waterborne-clear"}
"""Holds a little of a solvent that burns too badly to carry a code for it."""


def figures_of(product):
    """Name the figures that a product states, as its document names them."""
    given = {
        "dissolved_density": product.dissolved_density_g_per_ml,
        "density": product.density_g_per_ml,
        "volume_solids": product.volume_solids_percent,
        "pot_life": product.pot_life_s,
        "open_time": product.open_s,
        "keeps": product.keeps_s,
    }
    if product.dries is not None:
        given |= {
            "touch": product.dries.touch_s,
            "recoat": product.dries.recoat_s,
            "sand": product.dries.sand_s,
            "cured": product.dries.cured_s,
        }
    return {name for name, value in given.items() if value is not None}


def test_every_figure_has_a_source(product):
    """Each figure, the hazards, the rags and the solvents say where they come from."""
    wanted = figures_of(product) | {"hazards", "rags", "solvents"}
    if product.recipe is not None:
        wanted &= {"keeps"}  # the rest is told by its parts
    assert wanted <= {key for key, source in product.sources.items() if source.strip()}


def test_the_rules_of_products_find_nothing(product):
    """Every rule of the checker that looks at products is content."""
    assert product_findings(product) == ()


def test_no_source_without_a_figure(product):
    """A source left behind by a figure that was taken out would mislead."""
    beside = {"hazards", "rags", "solvents", "at", "humidity"}
    assert set(product.sources) <= figures_of(product) | beside


def test_solvents_are_said_by_every_product(product):
    """Each says what leaves it as vapour; one that holds none says that: ``solvents: []``."""
    assert product.solvents is not None
    assert bool(product.solvents) == (product.id in SOLVENT_BORNE or product.id in GLYCOL_ETHERS)


def test_solvents_and_solids_fit_in_the_can(product):
    """Volume shares of what leaves and what stays come to no more than the whole."""
    shares = sum(share.by_volume_percent or 0.0 for share in product.solvents)
    assert shares + (product.volume_solids_percent or 0.0) <= 100.0


def test_what_can_hurt_sends_to_its_data_sheet(product):
    """A product with hazards or rags that burn tells of the data sheet in its own document.

    Raw oils without a label do as well; only what nobody could be hurt by may leave it out.
    """
    text = " ".join((*product.cautions, product.notes, *product.sources.values())).lower()
    if product.hazards or product.rags is not RagHabit.HARMLESS:
        assert "data sheet" in text


def test_what_oxidises_heats_in_its_rags(product):
    """NFPA safety tip sheet: cloths with drying oils, and all that holds them, self-heat."""
    if product.mechanism is Mechanism.OXIDISING:
        assert product.rags is RagHabit.SELF_HEATING
        assert any("outdoors" in caution for caution in product.cautions)


def test_flammable_liquids_carry_their_code(product):
    """UN GHS: a liquid with a flash point up to 60 degC carries H224, H225 or H226."""
    burns = product.id in SOLVENT_BORNE
    assert bool(FLAMMABLE_LIQUIDS & set(product.hazards)) == burns


def test_no_solvent_product_is_left_out(product):
    """A product of a kind that is a solvent by nature is among the liquids that burn easily."""
    by_nature = {ProductKind.ALCOHOL, ProductKind.LACQUER, ProductKind.SHELLAC}
    solvent_thinner = product.kind is ProductKind.THINNER and product.id != "water"
    if product.kind in by_nature or solvent_thinner:
        assert product.id in SOLVENT_BORNE


def test_what_burns_has_no_harmless_rags(product):
    """A cloth wet with a flammable liquid is never called harmless."""
    if FLAMMABLE_LIQUIDS & set(product.hazards):
        assert product.rags is not RagHabit.HARMLESS


def test_thinner_exists(product, products):
    """A thinner named by a product is shipped, and is a liquid that thins."""
    if product.thinner is not None:
        assert products[product.thinner].kind in (ProductKind.THINNER, ProductKind.ALCOHOL)


def test_flakes_say_whether_the_wax_is_in(product):
    """Polyurethane and waterborne coats peel off wax, so flakes never leave it open."""
    if product.kind is ProductKind.FLAKES:
        assert product.waxy is not None


@pytest.mark.parametrize(
    ("name", "low", "high"),
    [
        ("waterborne-clear", 25, 33),
        ("wiping-varnish", 20, 30),
        ("oil-varnish", 33, 42),
        ("nitrocellulose-lacquer", 17, 17),
        ("two-part-epoxy", 100, 100),
        ("boiled-linseed-oil", 95, 100),
        ("tung-oil", 95, 100),
    ],
)
def test_volume_solids_as_published(products, name, low, high):
    """Makers' data sheets give these ranges of volume solids for the class."""
    assert low <= products[name].volume_solids_percent <= high


@pytest.mark.parametrize(
    ("name", "low_h", "high_h"),
    [
        ("shellac-dewaxed-blonde", 2, 3),  # US Army TM 43-0139, para 2-23
        ("shellac-waxy-orange", 2, 3),
        ("shellac-garnet", 2, 3),
        ("boiled-linseed-oil", 12, 36),  # the rest: makers' data sheets for the class
        ("tung-oil", 24, 24),
        ("wiping-varnish", 4, 12),
        ("oil-varnish", 8, 12),
        ("nitrocellulose-lacquer", 1, 2),
        ("waterborne-clear", 1, 2),
        ("oil-paste-filler", 24, 168),  # from a navy manual up to makers' data sheets
        ("paste-wax", 2, 24),
        ("two-part-epoxy", 6, 10),
    ],
)
def test_recoat_as_published(products, name, low_h, high_h):
    """The time to the next coat lies in the published range."""
    assert low_h <= products[name].dries.recoat_s / HOUR_S <= high_h


@pytest.mark.parametrize(
    ("name", "low_days", "high_days"),
    [
        ("shellac-dewaxed-blonde", 1, 1),  # US Army TM 43-0139: full hardness 24 h
        ("tung-oil", 15, 30),  # the rest: makers' data sheets for the class
        ("oil-varnish", 3, 30),
        ("waterborne-clear", 7, 21),
        ("paste-wax", 7, 14),
        ("two-part-epoxy", 1, 7),
        ("pva-glue", 1, 1),  # adhesive maker's guide: full strength 24 h
    ],
)
def test_cure_as_published(products, name, low_days, high_days):
    """The time to full cure lies in the published range."""
    assert low_days <= products[name].dries.cured_s / DAY_S <= high_days


@pytest.mark.parametrize("name", ["denatured-alcohol", "ethanol"])
def test_alcohol_density_as_published(products, name):
    """OIML R 22 (1975): ethanol of 95 %vol at 20 degC is 811.38 kg/m3, within 0.1 %."""
    assert products[name].density_g_per_ml == pytest.approx(0.81138, rel=1e-3)


def test_dissolved_density_as_published(products):
    """Fine Woodworking, Shellac Conversion Ratios: 0.100 US gal per lb of resin, within 1 %."""
    pound_per_tenth_gallon = 453.59237 / 378.5411784
    for product in products.values():
        if product.kind is ProductKind.FLAKES:
            assert product.dissolved_density_g_per_ml == pytest.approx(
                pound_per_tenth_gallon, rel=0.01
            )


def test_mixed_shellac_keeps_as_published(products):
    """Sources in print give a mixed jar of shellac 3 to 12 months."""
    for product in products.values():
        if product.kind is ProductKind.FLAKES:
            assert 3 <= product.keeps_s / (30.4375 * DAY_S) <= 12

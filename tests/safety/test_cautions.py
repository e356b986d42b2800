"""The right cautions for a step, the gravest first."""

from dataclasses import replace

from finishsched.documents.library import shipped_products
from finishsched.model.product import Product, ProductKind, RagHabit
from finishsched.model.schedule import StageName, Verb
from finishsched.model.step import Step
from finishsched.safety.cautions import Danger, cautions_for, mixing_cautions

ALCOHOL = Product(
    "a", "Alcohol", ProductKind.ALCOHOL, hazards=("H225", "H319"), rags=RagHabit.FLAMMABLE
)
METHANOL = Product(
    "m", "Spirit with methanol", ProductKind.ALCOHOL, hazards=("H225", "H331", "H370")
)
OIL = Product("o", "Linseed oil", ProductKind.OIL, rags=RagHabit.SELF_HEATING)
EPOXY = Product("e", "Epoxy", ProductKind.FILLER, hazards=("H315", "H317"), pot_life_s=1800.0)


def _step(verb, **given):
    return Step(1, "k", StageName.BODY, verb, "so", 1, 1, 1, 1, **given)


def _dangers(step, *products):
    return [caution.danger for caution in cautions_for(step, products)]


def test_flammable_vapour_comes_first():
    """Ignition before vapour, vapour before rags, rags before skin."""
    found = _dangers(_step(Verb.PAD), ALCOHOL)
    assert found == [Danger.FIRE, Danger.VAPOUR, Danger.RAGS, Danger.SKIN]


def test_methanol_is_never_met_with_a_cartridge_mask():
    """Organic-vapour cartridges do not hold methanol (NIOSH): the caution says so."""
    texts = " ".join(caution.text for caution in cautions_for(_step(Verb.PAD), [METHANOL]))
    assert "cartridge mask does not hold methanol" in texts


def test_self_heating_rags_name_the_way_to_dispose_of_them():
    """An oxidising oil brings the disposal of its rags (NFPA tip sheet)."""
    (caution,) = cautions_for(_step(Verb.WIPE), [OIL])
    assert caution.danger is Danger.RAGS
    assert "flat outdoors" in caution.text
    assert "under water in a closed metal can" in caution.text


def test_dry_sanding_brings_dust_and_wet_does_not():
    """Dust is cautioned where it is made."""
    assert _dangers(_step(Verb.SAND, grade="P180")) == [Danger.DUST]
    assert _dangers(_step(Verb.LEVEL, lubricant="water")) == []


def test_two_part_products_sensitise_and_heat():
    """Epoxy: skin, and the heat of a full cup."""
    assert _dangers(_step(Verb.FILL), EPOXY) == [Danger.SKIN, Danger.SKIN, Danger.HEAT]


def test_own_cautions_of_step_and_product_are_never_dropped():
    """What the documents say beside is shown too."""
    step = _step(Verb.REST, cautions=("keep the cat out",))
    assert [caution.text for caution in cautions_for(step, [])] == ["keep the cat out"]


def test_dust_of_filler_is_cautioned_where_it_is_made():
    """Silica is met at the dry sanding after the filler, not at the filling (OSHA, 0.05 mg/m3)."""
    filler = Product("f", "Paste filler", ProductKind.FILLER)
    dry = cautions_for(_step(Verb.LEVEL, lubricant="dry"), [], [filler])
    assert any("silica" in caution.text for caution in dry)
    wet = cautions_for(_step(Verb.LEVEL, lubricant="water"), [], [filler])
    assert not wet


def test_only_alcohol_is_told_that_no_cartridge_mask_is_listed_for_it():
    """Of a varnish that burns, of alcohol, and of alcohol that nobody labelled, each its own."""
    varnish = Product("v", "Varnish", ProductKind.VARNISH, hazards=("H226",))
    plain = Product("p", "Alcohol", ProductKind.ALCOHOL)

    def told(product):
        return " ".join(caution.text for caution in cautions_for(_step(Verb.BRUSH), [product]))

    assert "listed for alcohol" in told(ALCOHOL)
    assert "Open a window" in told(varnish)
    assert "listed for alcohol" not in told(varnish)
    assert "listed for alcohol" not in told(plain)


def test_who_mixes_without_saying_what_is_warned_of_alcohol_with_methanol():
    """It burns and its vapour is poisonous to breathe; so it is of flakes, which go into it."""
    nothing_said = mixing_cautions()
    assert nothing_said[0].danger is Danger.FIRE
    assert any("does not hold methanol" in caution.text for caution in nothing_said)
    flakes = Product("f", "Flakes", ProductKind.FLAKES)
    assert mixing_cautions([flakes]) == nothing_said


def test_what_sets_by_itself_is_told_to_heat_in_its_cup_while_it_is_mixed():
    """Epoxy heats, an oil does not; what their documents say of themselves is told with it."""
    told = [caution.danger for caution in mixing_cautions([EPOXY])]
    assert Danger.HEAT in told
    assert told == sorted(told)
    oil = replace(OIL, cautions=("keep it off nut allergics",))
    found = mixing_cautions([oil])
    assert {caution.danger for caution in found} >= {Danger.RAGS, Danger.OTHER}
    assert Danger.HEAT not in {caution.danger for caution in found}


def test_who_pours_solvent_is_told_of_static_and_where_the_extinguisher_hangs():
    """A mix with alcohol says it; one of water and powder does not."""
    told = " ".join(caution.text for caution in mixing_cautions())
    assert "charges itself" in told
    assert "extinguisher by the way out" in told
    dye = shipped_products()["water-dye"]
    assert not any("charges" in caution.text for caution in mixing_cautions([dye]))

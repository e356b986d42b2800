"""Every shipped step that can hurt says so, in the order of what hurts first, with the deferral."""

from __future__ import annotations

import pytest

from finishsched.documents.library import schedule_names, shipped_products, shipped_schedule
from finishsched.model.job import Face, Piece
from finishsched.model.product import Mechanism, ProductKind, RagHabit
from finishsched.model.schedule import Verb
from finishsched.model.shop import Shop
from finishsched.model.step import steps_of
from finishsched.safety.cautions import Danger, cautions_for
from finishsched.safety.dust import dust_of
from finishsched.workshop.standing.sheets import brought_in, made_of, step_sheet

FLAMMABLE = {"H224", "H225", "H226"}
COMES_FIRST = "The product's safety data sheet and local codes come first."


def sheets():
    """Give the sheet of every step of every shipped schedule, with what it brings in."""
    products = shipped_products()
    for name in schedule_names():
        steps = steps_of(shipped_schedule(name).model)
        for step in steps:
            yield name, step, step_sheet(steps, step, 0.1, products, Shop("s"), "walnut")


SHEETS = list(sheets())


def _dangers(step, products):
    """Name the dangers that a step certainly has, by what is in its products."""
    codes = {code[:4] for product in products for code in product.hazards}
    if codes & FLAMMABLE:
        yield from (Danger.FIRE, Danger.VAPOUR)
    if any(product.rags is not RagHabit.HARMLESS for product in products):
        yield Danger.RAGS
    if step.verb is Verb.SAND and step.lubricant in (None, "dry"):
        yield Danger.DUST
    if any(product.kind is ProductKind.POWDER for product in products):
        yield Danger.DUST
    if codes & {"H311", "H314", "H315", "H317", "H318", "H319", "H334"}:
        yield Danger.SKIN
    if any(product.pot_life_s for product in products):
        yield Danger.HEAT


def test_every_shipped_step_with_a_hazard_shows_it_and_the_deferral():
    """No danger of a product, a dust or a heat goes without its caution."""
    told = 0
    for name, step, sheet in SHEETS:
        found = {caution.danger for caution in sheet.cautions}
        wanted = set(_dangers(step, brought_in(step, shipped_products())))
        assert wanted <= found, (name, step.key)
        if sheet.cautions:
            assert sheet.deferral == COMES_FIRST
            told += 1
    assert told > 100


def test_cautions_come_in_the_order_of_what_hurts_first():
    """Ignition, vapour, rags, dust, skin, heat, the rest."""
    for _, _, sheet in SHEETS:
        dangers = [caution.danger for caution in sheet.cautions]
        assert dangers == sorted(dangers)


def test_self_heating_rags_say_how_they_are_disposed_of():
    """Oils: flat outdoors or under water in a metal can; hardener: spread thin until it is hard."""
    for _, step, sheet in SHEETS:
        for product in brought_in(step, shipped_products()):
            if product.rags is not RagHabit.SELF_HEATING:
                continue
            texts = " ".join(c.text for c in sheet.cautions if c.danger is Danger.RAGS)
            if product.mechanism is Mechanism.TWO_PART:
                assert "spread leavings thin" in texts
            else:
                assert "flat outdoors" in texts
                assert "under water in a closed metal can" in texts


def test_no_mask_is_promised_for_alcohol():
    """NIOSH lists only supplied air for ethanol, and cartridges do not hold methanol."""
    for _, step, sheet in SHEETS:
        if any(p.kind is ProductKind.ALCOHOL for p in brought_in(step, shipped_products())):
            texts = " ".join(caution.text for caution in sheet.cautions)
            assert "a cartridge mask does not hold methanol" in texts


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("maple with mother-of-pearl", "P3 or P100"),
        ("ebony, abalone", "cut it wet before it is glued in"),
        ("rosewood", "rosewood can bring on allergy"),
        ("oak over old varnish", "lead"),
        ("a box to restore", "test it first"),
    ],
)
def test_dust_by_what_the_piece_is_made_of(words, said):
    """Shell, sensitising woods and old coatings each bring their own caution at the sanding."""
    assert said in " ".join(dust_of(words))


@pytest.mark.parametrize("words", ["maple", "shellac on pear", "a box of ash", "", "nut shell"])
def test_nothing_is_said_of_what_is_not_there(words):
    """Words that only look alike (shellac, box) bring no caution."""
    assert list(dust_of(words)) == []


def test_wet_sanding_still_minds_shell_and_lead():
    """Wet work lays the dust of wood, and the other two are worth a word all the same."""
    assert len(list(dust_of("rosewood, shell, old paint", wet=True))) == 2


def test_the_words_of_a_piece_are_its_woods_and_notes():
    """What a person writes of the piece reaches the cautions of its sanding."""
    piece = Piece("p", "P", "s", (Face("f"),), species="holly", notes="abalone border")
    steps = steps_of(shipped_schedule("padded-shellac-closed-pored").model)
    sheet = step_sheet(steps, steps[0], 0.1, shipped_products(), Shop("s"), made_of(piece))
    assert any("Shell dust" in caution.text for caution in sheet.cautions)


def test_two_part_spray_and_instant_glue():
    """Supplied air for a sprayed two-part finish; no cotton with cyanoacrylate."""
    from finishsched.model.product import Product
    from finishsched.model.schedule import StageName
    from finishsched.model.step import Step

    def texts(verb, product):
        step = Step(1, "k", StageName.BODY, verb, "so", 1, 1, 1, 1)
        return " ".join(caution.text for caution in cautions_for(step, [product]))

    urethane = Product("u", "U", ProductKind.LACQUER, mechanism=Mechanism.TWO_PART)
    assert "supplied air" in texts(Verb.SPRAY, urethane)
    assert "supplied air" not in texts(Verb.BRUSH, urethane)
    instant = Product("ca", "Thin cyanoacrylate", ProductKind.GLUE)
    assert "no cotton gloves" in texts(Verb.FILL, instant)

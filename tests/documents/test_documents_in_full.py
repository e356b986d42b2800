"""Every key of a document reaches its attribute, and places lead back into the file."""

from __future__ import annotations

import textwrap
from datetime import date

import pytest
from read_documents import JOB, PRODUCT, SCHEDULE, faults_of, rounds, step, the_step

from finishsched.documents.decode import dump, read
from finishsched.documents.document import Document
from finishsched.model.product import DryingTimes, Mechanism, Product, ProductKind, RagHabit
from finishsched.model.schedule import HandsOn, Rounds, Schedule, Spread, Verb, Wait, Waits
from finishsched.model.settings import Settings, Theme
from finishsched.model.shop import (
    Air,
    Alcohol,
    KitchenUnits,
    Pack,
    Price,
    Shop,
    ShownUnits,
    Tools,
)


def test_a_product_in_full():
    """Every key of a product reaches its attribute, in the unit of its name."""
    text = textwrap.dedent("""\
        product: flakes
        title: "  Flakes,\\n blonde "
        kind: flakes
        mechanism: solvent
        waxy: no
        dissolved_density: 1.2 g/ml
        density: 810 kg/m3
        volume_solids: 25 %
        thinner: alcohol
        dries: {at: 68 degF, humidity: 55 %, touch: 15 min, recoat: 2 h, sand: 4 h, cured: 1 day}
        pot_life: 30 min
        keeps: 6 months
        hazards: [H225, H361fd]
        rags: flammable
        cautions: [Mind it.]
        notes: |
          One.
            Two.
        sources:
          {dissolved_density: a, density: b, volume_solids: c, touch: d, recoat: e, sand: f,
           cured: g, pot_life: h, keeps: i, hazards: j, rags: k}
        """)
    model = read(text.encode(), "x").model
    assert isinstance(model, Product)
    assert isinstance(model.dries, DryingTimes)
    assert model.title == "Flakes, blonde"
    assert (model.kind, model.mechanism, model.rags) == (
        ProductKind.FLAKES, Mechanism.SOLVENT, RagHabit.FLAMMABLE,
    )  # fmt: skip
    assert model.waxy is False
    assert (model.dissolved_density_g_per_ml, model.volume_solids_percent) == (1.2, 25.0)
    assert model.density_g_per_ml == pytest.approx(0.81)
    assert model.dries.at_c == pytest.approx(20.0)
    assert (model.dries.touch_s, model.dries.recoat_s, model.dries.sand_s, model.dries.cured_s) == (
        900.0, 7200.0, 14400.0, 86400.0,
    )  # fmt: skip
    assert (model.dries.at_humidity_percent, model.pot_life_s) == (55.0, 1800.0)
    assert model.hazards == ("H225", "H361fd")
    assert model.cautions == ("Mind it.",)
    assert model.notes == "One.\n  Two."
    assert model.sources["keeps"] == "i"
    assert dump(model).startswith("product: flakes\ntitle: Flakes, blonde\n")


def test_a_step_in_full():
    """Every key of a step reaches its attribute, in the unit of its name."""
    plan = the_step(
        step(
            "spirit off: straight", "id: last", "product: alcohol", "cut: [240 g/L, 120 g/L]",
            "thinned: [50 %, 0 %]", "lubricant: soapy water", "grade: [P400, 0000 wool]",
            "with: a pad", "coats: 2", "amount: 150 g/m2", "hands_on: 2 min + 10 min/m2",
            "wait: {earliest: none, likely: 1 h, latest: overnight, next_by: 3 days}",
            "dry_check: cool", "cautions: [Mind it.]",
        )
    )  # fmt: skip
    assert (plan.verb, plan.how, plan.id) == (Verb.SPIRIT_OFF, "straight", "last")
    assert plan.cut_g_per_l == (240.0, 120.0)
    assert plan.thinned_percent == (50.0, 0.0)
    assert (plan.lubricant, plan.tool, plan.coats) == ("soapy water", "a pad", (2,))
    assert plan.grade == ("P400", "0000 wool")
    assert plan.spread == Spread(g_per_m2=150.0)
    assert plan.hands_on == HandsOn(2.0, 10.0)
    assert plan.waits == Waits(after=Wait(0.0, 3600.0, 43200.0, 259200.0))
    assert (plan.dry_check, plan.cautions) == ("cool", ("Mind it.",))


def test_waits_of_several_coats():
    """First, between and after are kept apart; 'none' is no wait at all."""
    one, two = "{earliest: 1 h, likely: 2 h}", "{earliest: 2 h, likely: 3 h}"
    text = step("pad: a", "wait:", f"  first: {one}", f"  after: {two}", "dry_check: b")
    assert the_step(text).waits == Waits(after=Wait(7200.0, 10800.0), first=Wait(3600.0, 7200.0))
    assert the_step(step("pad: a", "wait: none")).waits is None


def test_rounds_hold_lists_for_each_round():
    """In a group cut and coats go by rounds, and a cut to thin to may be added to them."""
    text = rounds("pad: a", "product: b", "cut: [2 lb, 2 lb, 1.5 lb]", "thin_to: 1 lb",
                  "coats: [6, 6, 4]")  # fmt: skip
    model = read(text.encode(), "x").model
    assert isinstance(model, Schedule)
    group = model.stages[0].steps[0]
    assert isinstance(group, Rounds)
    assert group.rounds == 3
    assert group.steps[0].coats == (6, 6, 4)
    # 1 lb/US gal is 119.826427 g/L: international pound of 1959 and the gallon of 231 cubic inches.
    assert group.steps[0].cut_g_per_l == pytest.approx((239.652855, 239.652855, 179.739641))


IDS = SCHEDULE[: SCHEDULE.index("      - pad")] + textwrap.indent(
    textwrap.dedent("""\
        - tack off: a
        - pad: b
          id: body-pad
        - rounds: 2
          steps:
            - pad: c
            - tack off: d
        - pad: e
        """),
    "      ",
)


def test_steps_without_an_id_get_one_in_reading_order():
    """The verb with a hyphen, then -2 and -3, those in rounds and those with an id counted too."""
    model = read(IDS.encode(), "x").model
    assert isinstance(model, Schedule)
    assert [plan.id for plan in model.step_plans()] == [
        "tack-off", "body-pad", "pad-2", "tack-off-2", "pad-3",
    ]  # fmt: skip
    assert "mark: body-pad" in dump(model)
    assert dump(model).count("mark:") == 1


@pytest.mark.parametrize(("own", "line", "first"), [("pad-2", 12, 9), ("tack-off", 9, 7)])
def test_ids_that_clash_name_both_places(own, line, first):
    """An id that is written must be no other's in its stage, written or not."""
    (fault,) = faults_of(IDS.replace("body-pad", own))
    assert (fault.line, fault.rule) == (line, "duplicate-key")
    assert f"line {first}, column" in fault.message


def test_the_same_id_in_another_stage_is_no_clash():
    """Ids are by stage, so each stage begins anew."""
    text = SCHEDULE + SCHEDULE[SCHEDULE.index("  - stage") :].replace("body", "seal")
    model = read(text.encode(), "x").model
    assert isinstance(model, Schedule)
    assert [plan.id for plan in model.step_plans()] == ["pad", "pad"]


def test_a_job_in_full():
    """Dates, counts and areas of a job reach their attributes."""
    text = JOB.replace("title: A box", "title: A box\ncustomer: Ana\ndue: 2026-12-18") + (
        "      - {face: edges, area: 300 cm2, count: 2}\n    veneer: 0.6 mm\n    sheen: gloss\n"
    )
    model = read(text.encode(), "x", "job").model
    assert model.due == date(2026, 12, 18)
    (piece,) = model.pieces
    assert piece.area_m2 == pytest.approx(0.0352 + 0.06)
    assert (piece.veneer_mm, piece.sheen) == (0.6, "gloss")


def test_a_shop_in_full_and_bare():
    """A shop is its name; the rest has the usual values until it is written."""
    assert read(b"shop: Plain", "x").model == Shop("Plain")
    text = textwrap.dedent("""\
        shop: Under the Stairs
        time_zone: Europe/Lisbon
        people: [Ana, Rui]
        units: {volume: floz, mass: oz, cut: g/L, temperature: degF, length: in, area: sqft}
        alcohol: {strength: 190 proof, at: 20 degC}
        usual_air: {temperature: 19 degC, humidity: 55 %, movement: 0.2 m/s}
        tools: {scale: 0.1 g, measure: 1 ml, trust: 2 %}
        kitchen: {volume: cup, mass: lb}
        jars: [250 ml, 0.5 l]
        packs:
          - {product: alcohol, size: 1 l, price: 9 EUR}
          - {product: flakes, size: 8 oz}
        notes: cold
        """)
    assert read(text.encode(), "x").model == Shop(
        "Under the Stairs", ("Ana", "Rui"), "Europe/Lisbon",
        ShownUnits("floz", "oz", "g/L", "degF", "in", "sqft"),
        Alcohol(95.0, 20.0), Air(19.0, 55.0, 0.2), Tools(0.1, 1.0, 2.0), KitchenUnits("cup", "lb"),
        (250.0, 500.0),
        (Pack("alcohol", size_ml=1000.0, price=Price(9.0, "EUR")),
         Pack("flakes", size_g=pytest.approx(226.796185))),
        "cold",
    )  # fmt: skip


def test_settings_in_full_and_bare():
    """Settings have usual values, and keys by the ids of bindings."""
    assert read(b"settings: bench", "x").model == Settings()
    text = "settings: bench\ntheme: light\nbell: No\nkeys: {log-coat: 'space,l', why: w}\n"
    assert read(text.encode(), "x").model == Settings(
        Theme.LIGHT, bell=False, keys={"log-coat": "space,l", "why": "w"}
    )


def test_places_lead_back_into_the_file():
    """Any value, and failing that what holds it, can be pointed at for checks made later."""
    document = read(SCHEDULE.encode(), "x")
    assert isinstance(document, Document)
    assert document.places["stages", 0, "steps", 0, "cut"] == (9, 14)
    assert document.place("stages", 0, "steps", 0, "pad") == (7, 14)
    assert document.place("stages", 0, "steps", 0, "grade") == (7, 9)
    assert document.place("nowhere") == (1, 1)


def test_a_long_value_does_not_flood_the_message():
    """A pasted novel in place of an id is quoted in part."""
    for text in (PRODUCT.replace("An oil", "A").replace("kind: oil", "kind: " + "x" * 900_000),
                 JOB.replace("220 mm", "9" * 900_000)):  # fmt: skip
        assert all(len(str(fault)) < 300 for fault in faults_of(text))

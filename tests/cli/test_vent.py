"""``vent`` as a command: one amount in one room, and the shop's own day."""

from __future__ import annotations

import pytest

KEYS = {"vapour_m3", "peak_ppm", "percent_lel", "limit_ppm", "air_needed_m3_per_h"}
LITRE = ["--used", "1 l", "--over", "1 h", "--room", "30 m3", "--mixing", "1", "--json"]


def test_a_litre_of_ethanol(cli):
    """0.419 m3 of vapour, 419 m3/h of air to 1000 ppm with perfect mixing (computed)."""
    ran = cli("vent", "--solvent", "ethanol", *LITRE)
    assert ran.status == 1
    assert ran.json.keys() >= KEYS
    assert ran.json["vapour_m3"] == pytest.approx(0.419, abs=0.001)
    assert ran.json["air_needed_m3_per_h"] == pytest.approx(419, abs=1)
    assert ran.json["limit_ppm"] == pytest.approx(1000)
    assert ran.json["peak_ppm"] == pytest.approx(13_958, abs=10)
    assert ran.json["percent_lel"] == pytest.approx(100 * 13_958 / 31_000, abs=0.1)
    assert ran.json["over_limit"] is True


def test_over_a_limit_the_answer_is_no(cli):
    """Over a limit it says so in words, names whose it is, and ends with 1; below it with 0."""
    assert cli("vent", "--solvent", "ethanol", "--used", "1 ml", *LITRE[2:-1]).status == 0
    ran = cli("vent", "--solvent", "ethanol", *LITRE[:-1])
    assert ran.status == 1
    assert "1000 ppm (NIOSH REL)" in " ".join(ran.out.split())
    assert "! it passes the limits" in ran.out
    assert "! it passes a tenth of the lower explosive limit" in ran.out
    assert "at the pad and over an open jar the air is worse" in " ".join(ran.out.split())
    assert "safety data sheet, local codes and licensed practice come first" in " ".join(
        ran.out.split()
    )


def test_units_of_either_shore(cli):
    """Cubic feet and cfm give what m3 and m3/h do."""
    metric = cli("vent", "--solvent", "acetone", "--used", "100 ml", "--over", "1 h",
                 "--room", "28.316846592 m3", "--flow", "50.970323866 m3/h", "--json")  # fmt: skip
    us = cli("vent", "--solvent", "acetone", "--used", "100 ml", "--over", "60 min",
             "--room", "1000 cuft", "--flow", "30 cfm", "--json")  # fmt: skip
    for key in KEYS:
        assert us.json[key] == pytest.approx(metric.json[key], rel=1e-6)


def in_feet(shop):
    """Make the demo a shop that measures in feet, inches and fluid ounces."""
    document = shop.cwd / "shop.yaml"
    text = document.read_text().replace("{volume: ml, mass: g,", "{volume: floz, mass: oz,")
    document.write_text(text.replace("length: mm, area: m2", "length: in, area: sqft"))


def test_text_speaks_the_shops_units_and_json_si(shop):
    """Where the shop measures in feet: fluid ounces and cfm; figures in JSON stay as they are."""
    asked = ["vent", "--solvent", "ethanol", "--used", "60 ml", "--over", "30 min"]
    metric, as_json = shop(*asked).out, shop(*asked, "--json").json
    assert "60 ml of ethanol: 0.0251 m3 of vapour" in metric
    assert "m3/h if it went on for hours" in metric
    in_feet(shop)
    feet = shop(*asked).out
    assert "2.03 floz of ethanol: 0.887 cuft of vapour" in feet
    assert f"air needed {as_json['air_needed_m3_per_h'] / 1.69901:.3g} cfm" in feet
    assert " ml " not in feet
    assert " m3" not in feet
    in_json = shop(*asked, "--json").json
    # Why is text for whoever reads it: the same rules and sources, their figures in the shop's.
    why, in_feet_why = as_json.pop("why"), in_json.pop("why")
    assert in_json == as_json
    assert [_ruled(one) for one in in_feet_why] == [_ruled(one) for one in why]
    inputs = " ".join(words for one in in_feet_why for words in one["inputs"])
    for figure in ("2.029 floz", "6.58 lb/gal", "1483 cuft", "35.3 cfm", "NIOSH REL 1000 ppm"):
        assert figure in inputs
    assert not any(unit in inputs for unit in (" ml", " m3", "g/ml"))


def _ruled(why):
    return why["rule"], len(why["inputs"]), why["source"]


def test_the_day_speaks_the_shops_units(shop):
    """A room of 2 m3 with 20 m3/h has 70.6 cuft and 12 cfm, and what helps is told in cfm."""
    document = shop.cwd / "shop.yaml"
    smaller = document.read_text().replace("volume: 42 m3", "volume: 2 m3")
    document.write_text(smaller.replace("air_flow: 60 m3/h", "air_flow: 20 m3/h"))
    assert "m3/h of fresh air" in shop("vent").out
    in_feet(shop)
    said = " ".join(shop("vent").out.split())
    assert "(70.6 cuft, 12 cfm over a mixing factor of 4)" in said
    assert "cfm of fresh air" in said
    assert "m3" not in said


def test_several_solvents_are_judged_together(cli):
    """Sum of C/L: each below its limit, both together over it."""

    def share(*pairs):
        words = [word for name, used in pairs for word in ("--solvent", name, "--used", used)]
        return cli("vent", *words, "--over", "1 h", "--room", "30 m3", "--json").json

    toluene, acetone = ("toluene", "2 ml"), ("acetone", "16 ml")
    one, other, both = share(toluene), share(acetone), share(toluene, acetone)
    assert one["share_of_limits"] < 1 > other["share_of_limits"]
    assert both["share_of_limits"] == pytest.approx(
        one["share_of_limits"] + other["share_of_limits"]
    )
    assert both["over_limit"]
    assert len(both["solvents"]) == 2


def test_denatured_alcohol_says_what_it_is_planned_with(cli):
    """Half methanol until the share is entered; with --methanol that is used."""
    rest = ["--used", "20 ml", "--over", "30 min", "--room", "40 m3"]
    said = " ".join(cli("vent", "--solvent", "denatured alcohol", *rest).out.split())
    assert "no methanol share is entered" in said
    ran = cli("vent", "--solvent", "denatured alcohol", *rest, "--methanol", "0 %", "--json")
    assert [row["solvent"] for row in ran.json["solvents"]] == ["ethanol"]
    assert not any("methanol" in line for line in ran.json["assumptions"])


def test_a_product_by_its_id(cli):
    """A litre of wiping varnish holds 750 ml of mineral spirits."""
    ran = cli("vent", "--solvent", "wiping-varnish", *LITRE)
    (row,) = ran.json["solvents"]
    assert (row["solvent"], row["used_ml"]) == ("mineral-spirits", pytest.approx(750))


def test_why_names_rules_and_sources(cli):
    """Every limit says whose it is."""
    ran = cli("vent", "--solvent", "toluene", *LITRE[:-1], "--why")
    assert "NIOSH Pocket Guide" in ran.out
    assert "24.45" in ran.out


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["--solvent", "ethanl"], ["did you mean 'ethanol'?", "--over is missing",
                                   "--room is missing"]),
        (["--solvent", "ethanol", "--used", "3"], ["'3' has no unit"]),
        (["--solvent", "water", *LITRE], ["nothing of that leaves as vapour"]),
        (["--solvent", "ethanol", "--solvent", "acetone", *LITRE], ["2 of --solvent and 1"]),
        (["--solvent", "ethanol", "--used", "1 ml", "--over", "0 min", "--room", "1 m3"],
         ["no time at all"]),
        (["--solvent", "ethanol", "--used", "1 ml", "--over", "1 h", "--room", "1 m2"],
         ["'1 m2' is not a room volume"]),
        (["--solvent", "ethanol", *LITRE, "--flow", "9"], ["'9' has no unit"]),
        (["--solvent", "ethanol", "--used", "1 ml", "--over", "1 h", "--room", "9 m3",
          "--mixing", "0.5"], ["'0.5' is no mixing factor"]),
        (["--solvent", "ethanol", *LITRE[:-3], "--mixing", "nan"], ["'nan' is no mixing factor"]),
        ([], ["there is no shop here"]),
    ],
)  # fmt: skip
def test_wrong_use_is_told(cli, arguments, said):
    """Exit 2, every fault a line, all at once."""
    ran = cli("vent", *arguments)
    assert ran.status == 2
    assert all(words in ran.err for words in said)
    assert "Traceback" not in ran.err
    assert ran.out == ""


def test_bare_in_a_shop_it_follows_the_day(shop):
    """The demo has used alcohol and varnish today; each room, each liquid, each next coat."""
    found = shop("vent", "--json").json
    (room,) = found["rooms"]
    assert {row["solvent"] for row in room["solvents"]} >= {"ethanol", "methanol"}
    assert 0 < room["share_of_limits"] <= room["peak_share_of_limits"]
    assert found["line"].startswith("vapour")
    assert {coat["piece"] for coat in found["coats"]} <= {
        "tea-chest/lid", "letter-box/slope", "letter-box/box", "games-panel/frame",
    }  # fmt: skip
    out = " ".join(shop("vent", "--why").out.split())
    assert "of the vapour limits now" in out
    assert "no methanol share is entered" in out
    assert "(our assumption)" in out
    assert "come first" in out


def test_bare_without_a_room_it_says_what_is_missing(shop):
    """Once, in one line, with what to write."""
    document = shop.cwd / "shop.yaml"
    text = document.read_text().replace(", volume: 42 m3", "")
    document.write_text(text)
    ran = shop("vent")
    assert ran.status == 0
    assert ran.out.startswith("the vapour is not followed")
    assert shop("vent", "--json").json["missing"]
    assert shop("due", "--json").json["vapour"] == ""


def test_the_room_of_the_shop_is_taken_where_none_is_given(shop):
    """And its flow and mixing factor; the answer says so."""
    ran = shop("vent", "--solvent", "ethanol", "--used", "10 ml", "--over", "10 min", "--json")
    assert (ran.json["room_m3"], ran.json["flow_m3_per_h"]) == (42.0, 60.0)
    assert "'workshop'" in ran.json["assumptions"][0]


def test_a_product_may_be_named_with_spaces(cli):
    """People say 'lacquer thinner' and mean the product of that name."""
    asked = ("--used", "1 ml", "--over", "10 min", "--room", "30 m3", "--json")
    said = cli("vent", "--solvent", "Lacquer thinner", *asked)
    assert said.status == 0
    assert said.json == cli("vent", "--solvent", "lacquer-thinner", *asked).json

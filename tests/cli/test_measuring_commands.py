"""``mix`` on the shop's own tools, ``reduce --add`` and ``gauge`` as commands."""

import pytest

READ_KEYS = {
    "weigh_flakes_g",
    "measure_alcohol_ml",
    "weigh_alcohol_g",
    "really_lb_per_gal",
    "really_low_lb_per_gal",
    "really_high_lb_per_gal",
}


def test_mix_says_what_the_tools_can_read(cli):
    """Rounded to the kitchen's tools, with the cut and the range that they really give."""
    found = cli("mix", "--cut", "2 lb", "--makes", "1 cup", "--json").json
    assert found.keys() >= READ_KEYS
    assert (found["weigh_flakes_g"], found["measure_alcohol_ml"]) == (47.0, 195.0)
    assert found["weigh_alcohol_g"] == 160.0
    assert found["flakes_g"] == pytest.approx(47.26, abs=0.01)
    pound = 119.826427
    assert found["really_lb_per_gal"] == pytest.approx(1000 * 47 / 195 / pound)
    assert found["really_low_lb_per_gal"] == pytest.approx(1000 * 46.5 / 204.75 / pound)
    assert found["really_high_lb_per_gal"] == pytest.approx(1000 * 47.5 / 185.25 / pound)
    assert found["better"] == "weigh"
    assert found["weighed_low_lb_per_gal"] > found["really_low_lb_per_gal"]


def test_mix_takes_the_tools_that_are_stated(cli):
    """--scale, --measure and --trust go before the kitchen's usual tools, in any unit."""
    arguments = ("mix", "--cut", "2 lb", "--makes", "1 cup", "--json")
    fine = cli(*arguments, "--scale", "0.1 g", "--measure", "1 ml", "--trust", "1 %").json
    assert (fine["weigh_flakes_g"], fine["measure_alcohol_ml"]) == (47.3, 197.0)
    ounces = cli(*arguments, "--scale", "0.1 oz").json
    assert ounces["weigh_flakes_g"] == pytest.approx(1.7 * 28.349523)


def test_mix_takes_the_shops_tools_and_kitchen(shop):
    """In a shop its own scale decides, and the kitchen's units stand beside the shop's."""
    found = shop("mix", "--cut", "2 lb", "--makes", "1 cup", "--json").json
    assert found["weigh_flakes_g"] == 47.5
    assert found["kitchen"]["volume_unit"] == "floz"
    assert found["kitchen"]["makes"] == pytest.approx(8)
    assert found["kitchen"]["flakes"] == pytest.approx(found["flakes_g"] / 28.349523)
    out = shop("mix", "--cut", "2 lb", "--makes", "1 cup").out
    assert "makes 237 ml, 8 floz" in out
    assert "a scale that reads 0.5 g" in out
    assert "the better way" in out


@pytest.mark.parametrize(
    ("scale", "flakes", "alcohol"),
    [((), "0.46 oz", "1.55 oz"), (("--scale", "0.1 oz"), "0.5 oz", "1.6 oz")],
)
def test_nothing_is_to_be_weighed_finer_than_the_scale_reads(cli, scale, flakes, alcohol):
    """A scale of grams tells hundredths of an ounce apart at most, and no thousandths."""
    (cli.cwd / "shop.yaml").write_text("shop: Bench\nunits: {mass: oz}\n", "utf-8")
    out = cli("mix", "--cut", "2 lb", "--makes", "65 ml", *scale).out
    assert out.count(f"{flakes} of flakes") == 2
    assert f"flakes   {flakes}\n" in out
    assert f"or weigh {alcohol} " in out


def test_mix_warns_of_a_scale_that_is_too_coarse(cli):
    """A charge of 20 ml on a kitchen scale."""
    assert (
        "weighs 4 g of flakes only roughly" in cli("mix", "--cut", "2 lb", "--makes", "20 ml").out
    )


def test_an_imperial_gallon_is_not_a_us_gallon(cli):
    """One and a half pounds to the imperial gallon are a 1.249-lb cut (computed from both)."""
    found = cli("mix", "--cut", "1.5 lb/impgal", "--makes", "1 impgal", "--json").json
    assert found["cut_lb_per_gal"] == pytest.approx(1.249, abs=5e-4)
    assert found["makes_ml"] == pytest.approx(4546.09)


def test_thinning_in_the_pad(cli):
    """Two ml of alcohol in a charge of 5 ml of 2-lb: worked by hand, 2 x 4.168 / 6.168 lb."""
    ran = cli("reduce", "--from", "2 lb", "--have", "5 ml", "--add", "2 ml", "--json")
    assert ran.status == 0
    assert ran.json["to_lb_per_gal"] == pytest.approx(2 * 4.168 / 6.168, abs=1e-3)
    assert ran.json["makes_ml"] == pytest.approx(7)
    assert (
        "makes    7 ml of 1.35-lb cut"
        in cli("reduce", "--from", "2 lb", "--have", "5 ml", "--add", "2 ml").out
    )


def test_thinning_in_the_pad_undoes_reducing(cli):
    """Adding what reduce says, by volume or by weight, gives the cut that was wanted."""
    reduced = cli("reduce", "--from", "3 lb", "--to", "1 lb", "--have", "80 ml", "--json").json
    assert reduced["to_lb_per_gal"] == pytest.approx(1)
    for added in (f"{reduced['add_alcohol_ml']} ml", f"{reduced['add_alcohol_g']} g"):
        back = cli("reduce", "--from", "3 lb", "--have", "80 ml", "--add", added, "--json").json
        assert back["to_lb_per_gal"] == pytest.approx(1)


def test_gauge_answers_in_the_promised_keys(cli):
    """A dried sample: 23 g left of 100 g is a 2.02-lb cut at 95 %vol (worked by hand)."""
    ran = cli("gauge", "--wet", "100 g", "--dry", "23 g", "--json")
    assert ran.status == 0
    assert ran.json.keys() >= {"cut_lb_per_gal", "cut_low", "cut_high", "mass_percent"}
    assert ran.json["cut_lb_per_gal"] == pytest.approx(
        1000 * 0.81138 * 0.23 / 0.77 / 119.826427, rel=1e-4
    )
    assert ran.json["mass_percent"] == pytest.approx(23)
    assert ran.json["cut_low"] < ran.json["cut_lb_per_gal"] < ran.json["cut_high"]


@pytest.mark.parametrize("cut", ["1 lb", "2 lb", "240 g/L", "4 lb"])
def test_gauging_a_mix_gives_its_cut(cli, cut):
    """What mix says that a batch weighs, gauge reads back, by both ways."""
    batch = cli("mix", "--cut", cut, "--makes", "500 ml", "--moisture", "5 %", "--json").json
    weighs = f"{500 * batch['density_g_per_ml']} g"
    dry = f"{batch['mass_percent']} g"
    for way in (("--volume", "500 ml", "--weighs", weighs), ("--wet", "100 g", "--dry", dry)):
        found = cli("gauge", *way, "--moisture", "5 %", "--json").json
        assert found["cut_lb_per_gal"] == pytest.approx(batch["cut_lb_per_gal"], rel=1e-6)


def test_gauge_says_when_a_weighed_volume_is_too_blunt(cli):
    """With a kitchen measure the range is said, and the better way."""
    out = cli("gauge", "--volume", "100 ml", "--weighs", "88 g").out
    assert "too blunt" in out
    assert "0 to 6.35 lb" in out


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["mix", "--cut", "2 lb", "--makes", "1 l", "--scale", "1"], ["--scale: '1' has no unit"]),
        (
            ["mix", "--cut", "2 lb", "--makes", "1 l", "--scale", "0 g", "--trust", "90 %"],
            ["--scale: '0 g' is outside", "--trust: a measure that may be out by 90 %"],
        ),
        (["mix", "--cut", "2 lb", "--alcohol", "3 ounces"], ["could be a weight or a volume"]),
        (["mix", "--cut", "2 lb", "--makes", "3 oz"], ["an ounce is a weight"]),
        (
            ["reduce", "--from", "2 lb", "--to", "1 lb", "--have", "5 ml", "--add", "2 ml"],
            ["--to and --add cannot both"],
        ),
        (["reduce", "--from", "2 lb", "--add", "2 oz"], ["--add needs what", "could be a weight"]),
        (
            ["reduce", "--from", "2 lb", "--makes", "5 ml", "--add", "-2 ml"],
            ["--makes and --add do not go together", "outside"],
        ),
        (["gauge"], ["no weighing is given"]),
        (["gauge", "--volume", "100 ml"], ["--weighs is missing"]),
        (["gauge", "--volume", "100 ml", "--weighs", "60 g"], ["lighter than the alcohol"]),
        (["gauge", "--volume", "100 ml", "--weighs", "130 g"], ["as heavy as the resin"]),
        (["gauge", "--wet", "20 g", "--dry", "21 g"], ["no lighter than the wet one"]),
        (
            ["gauge", "--wet", "20", "--dry", "nan g", "--at", "500 degC"],
            ["--wet: '20' has no unit", "--dry: 'nan g'", "--at: '500 degC' is outside"],
        ),
        (
            ["gauge", "--wet", "20 g", "--dry", "4 g", "--volume", "1 l", "--weighs", "0.9 kg"],
            ["two ways; give one"],
        ),
    ],
)
def test_bad_input_is_one_line_for_each_fault(cli, arguments, said):
    """Exit 2, nothing on stdout, every fault at once, each one line with its remedy."""
    ran = cli(*arguments)
    assert (ran.status, ran.out) == (2, "")
    assert len(ran.err_lines) == len(said)
    for words, line in zip(said, ran.err_lines, strict=True):
        assert words in line

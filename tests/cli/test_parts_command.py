"""``parts`` as a command."""

import pytest

EPOXY = ("parts", "--ratio", "2:1", "--by", "volume", "--names", "resin, hardener")
DENSITIES = ("--density", "1.10 g/ml, 0.98 g/ml")


def test_a_ratio_by_volume_with_densities(cli):
    """Worked by hand: 60 and 30 ml, 66 and 29.4 g; asked for by weight it is the same mix."""
    found = cli(*EPOXY, *DENSITIES, "--makes", "90 ml", "--json").json
    assert [part["name"] for part in found["parts"]] == ["resin", "hardener"]
    assert [part["volume_ml"] for part in found["parts"]] == pytest.approx([60, 30])
    assert [part["mass_g"] for part in found["parts"]] == pytest.approx([66, 29.4])
    by_weight = cli(*EPOXY, *DENSITIES, "--makes", "95.4 g", "--json").json
    assert by_weight["makes_ml"] == pytest.approx(90)


def test_pot_life_at_the_rooms_temperature(cli):
    """Ten degrees more halve it, about (UFGS 09971); the cautions and the deferral are shown."""
    pot = ("--pot-life", "30 min", "--pot-life-at", "22 degC")
    found = cli(*EPOXY, "--makes", "90 ml", *pot, "--at", "32 degC", "--json").json
    assert found["pot_life_minutes"] == pytest.approx(15, rel=0.1)
    out = cli("parts", *pot, "--at", "27 degC").out
    assert "workable for about 21 min at 27 degC" in out
    assert "safety data sheet and local codes come first" in out


def test_in_a_shop_the_usual_air_is_the_rooms(shop):
    """Without --at the shop's usual air decides."""
    found = shop("parts", "--pot-life", "30 min", "--pot-life-at", "22 degC", "--json").json
    assert found["pot_life_minutes"] > 30


def test_far_from_the_data_sheet_a_pot_life_is_a_guide(cli):
    """Thirty degrees away the answer warns."""
    out = cli("parts", "--pot-life", "1 h", "--pot-life-at", "23 degC", "--at", "-5 degC").out
    assert "the time is a guide" in out


@pytest.mark.parametrize("thinning", [("--thin", "25 %"), ("--thin-parts", "3:1")])
def test_thinning(cli, thinning):
    """A quarter of what is applied, or three parts to one."""
    found = cli(
        "parts", *thinning, "--makes", "1 cup", "--names", "varnish, spirits", "--json"
    ).json
    assert [part["volume_ml"] for part in found["parts"]] == pytest.approx([177.441, 59.147])


def test_hide_glue_and_dye(cli):
    """Glue by water ratio, by weight; dye by weight for a volume of liquid."""
    glue = ("--ratio", "1:1.8", "--by", "weight", "--names", "dry glue, water")
    assert "dry glue  35.7 g" in cli("parts", *glue, "--makes", "100 g").out
    dye = cli("parts", "--dissolve", "1 oz/qt", "--makes", "1 pt", "--json").json
    assert dye["parts"][0]["mass_g"] == pytest.approx(28.349523 / 2)


def test_why_names_rule_and_source(cli):
    """--why shows where each figure comes from."""
    out = cli("parts", "--pot-life", "1 h", "--pot-life-at", "23 degC", "--at", "20 degC", "--why")
    assert "UFGS 09971" in out.out


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["parts"], ["no mixture is given"]),
        ([*EPOXY], ["--makes is missing"]),
        ([*EPOXY, "--makes", "90 g"], ["--density is missing"]),
        ([*EPOXY, "--makes", "9 oz"], ["could be a weight or a volume"]),
        ([*EPOXY, "--makes", "9 ml", "--density", "1 g/ml"], ["--density: 1 for 2 parts"]),
        (["parts", "--ratio", "2:1", "--makes", "9 ml"], ["--by is missing"]),
        (
            ["parts", "--ratio", "2:0", "--by", "eye", "--makes", "9", "--names", "a"],
            ["no ratio", "'eye' is neither", "'9' has no unit", "--names: 1 for 2 parts"],
        ),
        (["parts", "--ratio", "nan:1", "--by", "volume", "--makes", "1 l"], ["no ratio"]),
        (["parts", "--ratio", "2:inf", "--by", "volume", "--makes", "1 l"], ["no ratio"]),
        (["parts", "--thin", "100 %", "--makes", "1 l"], ["is no mixture"]),
        (["parts", "--thin", "5 %", "--thin-parts", "3:1", "--makes", "1 l"], ["give one of them"]),
        (["parts", "--thin-parts", "3:1:1", "--makes", "1 l"], ["is not two parts"]),
        (["parts", "--thin", "5 %", "--makes", "1 kg", "--by", "volume"], ["--by goes", "volume"]),
        (["parts", "--dissolve", "10 g", "--makes", "-1 l"], ["outside", "is not a strength"]),
        (
            ["parts", "--pot-life", "30"],
            ["'30' has no unit", "--pot-life-at is missing", "--at is missing"],
        ),
        (["parts", "--pot-life", "0 min", "--pot-life-at", "2 C", "--at", "2 C"], ["than nothing"]),
        (["parts", "--thin", "5 %", "--makes", "1 l", "--at", "500 C"], ["outside", "goes with"]),
    ],
)
def test_bad_input_is_one_line_for_each_fault(cli, arguments, said):
    """Exit 2, nothing on stdout, every fault at once, each one line with its remedy."""
    ran = cli(*arguments)
    assert (ran.status, ran.out) == (2, "")
    assert len(ran.err_lines) == len(said)
    for words, line in zip(said, ran.err_lines, strict=True):
        assert words in line

"""``mix`` and ``reduce`` as commands."""

import pytest

MIX_KEYS = {
    "cut_lb_per_gal",
    "cut_g_per_l",
    "flakes_g",
    "alcohol_ml",
    "alcohol_g",
    "makes_ml",
    "mass_percent",
    "volume_solids_percent",
    "density_g_per_ml",
}
REDUCE_KEYS = {
    "add_alcohol_ml",
    "add_alcohol_g",
    "add_flakes_g",
    "have_ml",
    "makes_ml",
    "parts_alcohol_per_part",
}


def test_mix_answers_in_the_promised_keys(cli):
    """The JSON of mix has its documented keys, in the units that they name."""
    ran = cli("mix", "--cut", "2 lb", "--alcohol", "1 cup", "--json")
    assert ran.status == 0
    assert ran.json.keys() >= MIX_KEYS
    assert ran.json["flakes_g"] == pytest.approx(2 * 28.349523)
    assert ran.json["cut_lb_per_gal"] == pytest.approx(2.0)


def test_reduce_answers_in_the_promised_keys(cli):
    """The JSON of reduce has its documented keys."""
    ran = cli("reduce", "--from", "3 lb", "--to", "1 lb", "--have", "500 ml", "--json")
    assert ran.status == 0
    assert ran.json.keys() >= REDUCE_KEYS
    assert ran.json["parts_alcohol_per_part"] == pytest.approx(1.538, abs=0.002)
    assert ran.json["add_flakes_g"] == 0


def test_strengthening_takes_flakes(cli):
    """To a stronger cut flakes are added and no alcohol."""
    ran = cli("reduce", "--from", "1 lb", "--to", "2 lb", "--makes", "250 ml", "--json").json
    assert ran["add_alcohol_ml"] == 0
    assert ran["add_flakes_g"] > 0
    assert ran["makes_ml"] == pytest.approx(250)


@pytest.mark.parametrize(
    "amount",
    [
        ("--alcohol", "8 floz"),
        ("--alcohol", "236.588 ml"),
        ("--alcohol", "191.96 g"),
        ("--flakes", "2 oz"),
        ("--flakes", "56.699 g"),
        ("--makes", "9.5977 floz"),
    ],
)
def test_the_unit_of_the_question_never_changes_the_answer(cli, amount):
    """The same batch, asked for in any unit."""
    ran = cli("mix", "--cut", "239.65285 g/L", *amount, "--json")
    assert ran.json["flakes_g"] == pytest.approx(56.699, rel=2e-4)
    assert ran.json["alcohol_ml"] == pytest.approx(236.588, rel=2e-4)


def test_strength_and_temperature_decide_the_weight(cli):
    """A litre of 190 proof weighs 811.38 g at 20 degC (OIML R 22), less when warm."""

    def weigh(at):
        return cli(
            "mix",
            "--cut",
            "1 lb",
            "--alcohol",
            "1 l",
            "--strength",
            "190 proof",
            "--at",
            at,
            "--json",
        ).json["alcohol_g"]

    assert weigh("68 degF") == pytest.approx(811.38, abs=0.05)
    assert weigh("30 degC") < weigh("20 degC")


def test_why_names_rule_inputs_and_source(cli):
    """--why shows where each figure comes from."""
    out = cli("mix", "--cut", "2 lb", "--makes", "250 ml", "--why").out
    assert "TT-S-300A" in out
    assert "OIML R 22" in out


def test_the_shops_alcohol_and_units_are_taken(shop):
    """In a shop mix takes the shop's own alcohol, and answers in its units."""
    document = shop.cwd / "shop.yaml"
    document.write_text(
        document.read_text().replace("95 %vol", "99 %vol").replace("volume: ml", "volume: floz")
    )
    out = shop("mix", "--cut", "2 lb", "--makes", "1 cup").out
    assert "99 %vol" in out
    assert "8 floz" in out


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["mix"], ["--cut is missing", "no amount is given"]),
        (
            ["mix", "--cut", "2", "--makes", "250"],
            ["--cut: '2' has no unit; write 2 lb", "--makes: '250' has no unit; write 250 ml"],
        ),
        (["mix", "--cut", "2 lb", "--alcohol", "12 oz"], ["could be a weight or a volume"]),
        (["mix", "--cut", "2 lb", "--makes", "1 l", "--flakes", "3 g"], ["give one of them"]),
        (["mix", "--cut", "-2 lb", "--makes", "1 l"], ["outside"]),
        (["mix", "--cut", "nan lb", "--makes", "1 l"], ["is not a cut"]),
        (["mix", "--cut", "0 lb", "--makes", "1 l"], ["outside"]),
        (["mix", "--cut", "2 lb", "--makes", "inf l"], ["is not a volume"]),
        (["mix", "--cut", "2 lb", "--makes", "1 l", "--at", "500 degC"], ["outside"]),
        (["mix", "--cut", "2 lb", "--makes", "1 l", "--at", "60 degC"], ["density is known from"]),
        (["mix", "--cut", "2 lb", "--makes", "1 l", "--strength", "250 proof"], ["outside"]),
        (["mix", "--cut", "2 lb", "--makes", "1 l", "--strength", "95 %"], ["95 %vol"]),
        (["mix", "--cut", "2 lb", "--makes", "1 l", "--moisture", "100 %"], ["leaves no resin"]),
        (["mix", "--cup", "2 lb"], ["No such option"]),
        (["reduce", "--from", "3 lb"], ["--to is missing", "no amount is given"]),
        (["reduce", "--from", "3 lb", "--to", "0 lb", "--have", "1 l"], ["outside"]),
        (["reduce", "--from", "3", "--to", "1", "--have", "1"], ["--from", "--to", "--have"]),
    ],
)
def test_bad_input_is_one_line_for_each_fault(cli, arguments, said):
    """Exit 2, nothing on stdout, every fault at once, each one line with its remedy."""
    ran = cli(*arguments)
    assert (ran.status, ran.out) == (2, "")
    assert len(ran.err_lines) == len(said)
    for words, line in zip(said, ran.err_lines, strict=True):
        assert words in line


def test_a_cut_beyond_solubility_warns_and_answers(cli):
    """A twelve-pound cut is reckoned, with a warning."""
    ran = cli("mix", "--cut", "12 lb", "--makes", "1 l")
    assert ran.status == 0
    assert "may not dissolve" in ran.out

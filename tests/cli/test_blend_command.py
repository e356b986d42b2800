"""``blend`` as a command."""

import pytest

BLEND_KEYS = {"cut_lb_per_gal", "makes_ml", "use", "add_alcohol_ml", "add_flakes_g"}


def test_what_jars_make_together(cli):
    """Five parts of 3-lb with two of 1-lb, worked by hand on 0.1 gal/lb: 2.38 lb."""
    ran = cli("blend", "--have", "3 lb: 500 ml", "--have", "1 lb: 200 ml", "--json")
    assert ran.status == 0
    assert ran.json.keys() >= BLEND_KEYS
    by_hand = (3 * 500 / 1.3 + 200 / 1.1) / (500 / 1.3 + 200 / 1.1)
    assert ran.json["cut_lb_per_gal"] == pytest.approx(by_hand, rel=1e-3)
    assert ran.json["makes_ml"] == pytest.approx(700)
    assert [jar["left_ml"] for jar in ran.json["use"]] == [0, 0]


def test_a_target_from_the_shelf(cli):
    """With --to and --makes it says what to pour, what stays, and what to add."""
    jars = ("--have", "amber = 3 lb: 200 ml waxy", "--have", "1 lb: 100 ml")
    found = cli("blend", *jars, "--to", "2 lb", "--makes", "250 ml", "--json").json
    assert found["cut_lb_per_gal"] == pytest.approx(2)
    assert found["makes_ml"] == pytest.approx(250)
    amber, other = found["use"]
    assert (amber["name"], other["name"]) == ("amber", "jar 2")
    assert (amber["have_index"], other["have_index"]) == (0, 1)
    assert amber["use_ml"] + amber["left_ml"] == pytest.approx(200)
    assert amber["cut_lb_per_gal"] == pytest.approx(3)
    assert found["add_flakes_g"] == 0
    text = cli("blend", *jars, "--to", "2 lb", "--makes", "250 ml").out
    assert text.startswith("250 ml of 2-lb cut\n")
    assert "from amber, 3-lb cut (58.8 ml left)" in text


def test_nothing_new_that_cannot_be_is_a_no(cli):
    """Exit 1, the reason, and how much of it the jars can make."""
    arguments = ("blend", "--have", "3 lb: 200 ml", "--to", "1 lb", "--makes", "1 l")
    assert cli(*arguments).status == 0
    ran = cli(*arguments, "--nothing-new")
    assert ran.status == 1
    assert "no: every jar is stronger than a 1-lb cut" in ran.out
    assert cli(*arguments, "--nothing-new", "--json").json["cannot"]


def test_waxy_and_dewaxed(cli):
    """A warning before they are mixed, and the waxy one left out when dewaxed is called for."""
    jars = ("--have", "2 lb: 1 cup waxy", "--have", "2 lb: 1 cup, dewaxed mixed 2026-11-01")
    assert "is waxy, so all of it becomes waxy" in cli("blend", *jars).out
    out = cli("blend", *jars, "--to", "2 lb", "--makes", "100 ml", "--dewaxed").out
    assert "jar 1 is left out: it is waxy" in out
    assert "nothing  from jar 1" in out


def test_the_oldest_goes_first(cli):
    """Of two like jars the one mixed first is poured from."""
    jars = ("--have", "2 lb: 1 l mixed 2026-11-01", "--have", "2 lb: 1 l mixed 2026-10-01")
    found = cli("blend", *jars, "--to", "2 lb", "--makes", "500 ml", "--json").json
    assert [jar["use_ml"] for jar in found["use"]] == pytest.approx([0, 500])


@pytest.mark.parametrize("have", ["2 lb: 1 cup", "239.652854 g/L: 8 floz", "2 lb: 236.588237 ml"])
def test_the_unit_of_the_question_never_changes_the_answer(cli, have):
    """The same jar, stated in any unit."""
    found = cli("blend", "--have", have, "--to", "1 lb", "--makes", "1 pt", "--json").json
    assert found["use"][0]["use_ml"] == pytest.approx(236.588237, rel=1e-6)
    assert found["add_alcohol_ml"] == pytest.approx(233.005, rel=1e-4)


def test_why_names_the_objective(cli):
    """--why says what is least, and where the rule comes from."""
    out = cli("blend", "--have", "2 lb: 1 cup", "--to", "1 lb", "--makes", "1 pt", "--why").out
    assert "least new flakes and at once least new alcohol" in out
    assert "balance of resin and alcohol" in out


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["blend"], ["no jar is given"]),
        (["blend", "--have", "2 lb 200 ml"], ["is no jar"]),
        (["blend", "--have", "2: 200"], ["'2' has no unit", "'200' has no unit"]),
        (["blend", "--have", "2 lb: 8 oz"], ["an ounce is a weight"]),
        (["blend", "--have", "-2 lb: inf ml"], ["outside", "is not a volume"]),
        (["blend", "--have", "2 lb: 8 floz waxy dewaxed"], ["both waxy and dewaxed"]),
        (["blend", "--have", "2 lb: 8 floz waxy lemon"], ["'lemon' says nothing here"]),
        (["blend", "--have", "2 lb: 8 floz mixed May"], ["'May' is not a date"]),
        (["blend", "--have", "2 lb: 8 floz mixed 2027-01-01"], ["still to come"]),
        (["blend", "--have", "2 lb: 8 floz", "--to", "1 lb"], ["--to and --makes go together"]),
        (["blend", "--have", "2 lb: 8 floz", "--dewaxed"], ["--dewaxed is for a cut to reach"]),
        (
            ["blend", "--have", "2 lb: 0 ml", "--to", "0 lb", "--makes", "1", "--at", "99 degF"],
            ["'0 ml' is outside", "--to: '0 lb' is outside", "--makes: '1' has no unit"],
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


def test_a_cut_beyond_solubility_warns_and_answers(cli):
    """A twelve-pound target is planned, with a warning."""
    ran = cli("blend", "--have", "2 lb: 1 l", "--to", "12 lb", "--makes", "1 l")
    assert ran.status == 0
    assert "may not dissolve" in ran.out

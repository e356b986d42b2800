"""``pace``: what dry checks taught, overruled and forgotten from the command line."""

import pytest

FLAKES = "shellac-dewaxed-blonde"


def test_it_lists_what_was_learnt(shop):
    """Each row names the wait and says how many times the book, from how many checks."""
    ran = shop("pace")
    assert ran.status == 0
    assert f"{FLAKES} between  (touch or between coats)" in ran.out
    assert "times the book, from" in ran.out
    rows = shop("pace", "--json").json["paces"]
    row = next(row for row in rows if (row["product"], row["kind"]) == (FLAKES, "between"))
    assert row["factor_low"] <= row["factor"] <= row["factor_high"]
    assert row["checks"] > 0


def test_it_is_set_dropped_forgotten_and_undone(shop):
    """Each is an entry that shows at once, and the last one can be taken back."""

    def row():
        return shop("pace", FLAKES, "between", "--json").json["paces"][0]

    learnt = row()
    assert "logged pace of" in shop("pace", FLAKES, "between", "--set", "1.2").out
    assert (row()["factor"], row()["overruled"]) == (1.2, True)
    assert shop("pace", FLAKES, "between", "--as-learnt").status == 0
    assert row() == learnt
    shop("pace", FLAKES, "between", "--forget")
    assert (row()["checks"], row()["counted_since"]) == (0, "2026-11-25T18:00:00Z")
    assert shop("pace", "--undo").out.startswith("undone pace of")
    assert row() == learnt


@pytest.mark.parametrize(
    ("words", "fault"),
    [
        ([FLAKES], "the kind of wait is missing"),
        (["--set", "1.2"], "write PRODUCT and KIND"),
        ([FLAKES, "first", "--set", "much"], "no number"),
        ([FLAKES, "first", "--set", "nan"], "give a factor from 0.1 to 10"),
        ([FLAKES, "first", "--set", "1.2", "--forget"], "one entry each"),
        ([FLAKES, "first", "--undo"], "leave out PRODUCT and KIND"),
        (["--undo"], "nothing to take back"),
        (["nothing", "first"], "no product 'nothing'"),
        ([FLAKES, "wet"], "no kind of wait 'wet'"),
    ],
)
def test_what_does_not_go_together_is_told(shop, words, fault):
    """Wrong use ends with 2 and one line for each fault."""
    ran = shop("pace", *words)
    assert ran.status == 2
    assert fault in ran.err


def test_a_shop_without_checks_says_so(cli):
    """Nothing is learnt before anything is logged."""
    cli("new", "fresh")
    assert "no dry check has been logged yet" in cli("pace", "--shop", "fresh").out

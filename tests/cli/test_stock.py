"""``stock`` as a command: the list, the entries, the labels."""

from __future__ import annotations

from datetime import timedelta

import pytest

ROW = {"age_days", "state", "states", "left_ml", "title", "product", "short", "why", "test"}


def rows(ran, kind="batches"):
    """Return the rows of a list by their names."""
    return {row[kind.removesuffix("es") if kind == "batches" else "lot"]: row
            for row in ran.json[kind]}  # fmt: skip


def test_the_demo_has_jars_of_every_sort(shop):
    """One wants the drop on glass, one is low, the others are good, none is short."""
    found = rows(shop("stock", "--json"))
    states = {name: row["state"] for name, row in found.items()}
    assert sorted(states.values()) == ["good", "good", "low", "test it"]
    assert not any(row["short"] for row in found.values())
    assert all(row.keys() >= ROW for row in found.values())
    assert all(0 < row["left_ml"] < row["made_ml"] for row in found.values())
    lots = rows(shop("stock", "--json"), "lots")
    assert set(found["jar 3"]["lots"]) <= set(lots)


def test_every_coat_of_the_demo_is_out_of_a_jar_that_fits(shop):
    """Laying the next coat from the jar that its words name gives no warning."""
    ran = shop("log", "slope", "done", "--used", "2 ml", "--batch", "jar 4", "--json")
    assert ran.json["warnings"] == []


def test_the_list_for_people_has_a_line_for_each(shop):
    """Name, state, what is left, age, content; and under an old jar the test that decides."""
    out = shop("stock").out
    (jar,) = (line for line in out.splitlines() if line.startswith("  jar 4"))
    assert "test it" in jar
    assert "of 250 ml" in jar
    assert "4 months" in jar
    assert "Dewaxed garnet shellac flakes, 1.5-lb cut" in jar
    assert "put a drop on glass" in out
    assert "lots" in out.splitlines()
    assert "why" in shop("stock", "--why").out


def test_an_empty_shelf_says_how_to_begin(cli):
    """A new shop has nothing, and is told what to log."""
    cli("new", "bench")
    cli.cwd = cli.cwd / "bench"
    assert "stock --bought" in cli("stock").out
    assert cli("stock", "--json").json == {"batches": [], "lots": [], "supplies": []}
    assert cli("stock", "--labels").out.startswith("there is no batch to label")
    ran = cli("stock", "--labels", "--out", "l.html")
    assert (ran.status, ran.out) == (1, "")


def test_bought_mixed_counted_and_undone(shop):
    """The four entries, each with its event in JSON and its words for people."""
    event = shop("stock", "--bought", "tung-oil: 1 l", "--by", "Tam", "--json").json["event"]
    assert (event["kind"], event["amount_ml"], event["by"]) == ("lot-bought", 1000.0, "Tam")
    assert event["lot"] == "tung-oil 2026-11-25"
    mixed = shop(
        "stock", "--mixed", "jar 9", "--cut", "2 lb", "--makes", "250 ml",
        "--from", "blonde tin", "--on", "yesterday", "--json",
    ).json  # fmt: skip
    assert mixed["event"]["kind"] == "batch-mixed"
    assert [draw["lot"] for draw in mixed["event"]["draws"]] == ["blonde tin", "alcohol can"]
    assert mixed["event"]["draws"][0]["amount_g"] == pytest.approx(49.93, abs=0.01)
    assert shop("stock", "--left", "jar 9: 120 ml").out == "jar 9: 120 ml left\n"
    assert rows(shop("stock", "--json"))["jar 9"]["left_ml"] == 120.0
    assert "taken back" in shop("stock", "--undo", "jar 9").out
    assert rows(shop("stock", "--json"))["jar 9"]["left_ml"] == 250.0


def test_what_was_mixed_is_said_with_what_it_took(shop):
    """Each lot with what is left in it, and where the label is."""
    out = shop("stock", "--mixed", "jar 9", "--cut", "2 lb", "--makes", "8 floz",
               "--product", "shellac-dewaxed-blonde").out  # fmt: skip
    assert "jar 9: logged 237 ml of Dewaxed blonde shellac flakes, 2-lb cut" in out
    assert "from blonde tin (" in out
    assert "stock --labels" in out


def test_empty_and_nothing_are_the_same(shop):
    """A jar can be counted empty by the word or by nought."""
    assert shop("stock", "--left", "jar 1: empty").status == 0
    assert shop("stock", "--left", "jar 2: 0 ml").status == 0
    found = rows(shop("stock", "--json"))
    assert [found[name]["state"] for name in ("jar 1", "jar 2")] == ["empty", "empty"]
    assert "jar 1" not in shop("stock", "--labels").out


def test_log_warns_of_another_product_in_words_and_in_json(shop):
    """A coat out of the wrong jar is logged, and said."""
    ran = shop("log", "slope", "done", "--used", "2 ml", "--batch", "jar 3")
    assert ran.status == 0
    assert "mind: 'jar 3' is Dewaxed blonde shellac flakes" in " ".join(ran.out.split())


def test_labels_as_text_and_json(shop):
    """Content, cut, date, lots, hazards with their meanings, pictograms, and what comes first."""
    out = shop("stock", "--labels").out
    for words in (
        "jar 4: Dewaxed garnet shellac flakes, 1.5-lb cut",
        "mixed 2026-07-30, test from 2026-10-30 by a drop on glass, not after 2027-07-3",
        "from garnet bag; alcohol can (Denatured alcohol)",
        "GHS02 flame, GHS06 skull and crossbones",
        "H225  highly flammable liquid and vapour",
        "The product's safety data sheet and local codes come first.",
    ):
        assert words in out
    labels = shop("stock", "--labels", "--json").json
    assert labels["file"] is None
    assert {line["code"] for line in labels["labels"][0]["hazards"]} == {
        "H225", "H301", "H311", "H319", "H331", "H370",
    }  # fmt: skip


def test_labels_into_a_file(shop):
    """One page, whole, over an old one of labels; nothing else is left in the folder."""
    shop("stock", "--labels", "--out", "l.html")
    before = set(shop.cwd.iterdir())
    ran = shop("stock", "--labels", "--out", "l.html", "--json")
    assert ran.json["file"] == str(shop.cwd / "l.html")
    page = (shop.cwd / "l.html").read_text()
    assert page.startswith("<!DOCTYPE html>")
    assert page.endswith("</html>\n")
    assert page.count("<article>") == len(ran.json["labels"]) == 4
    assert set(shop.cwd.iterdir()) == before


def test_control_characters_never_reach_the_terminal(shop):
    """A product's title, written by who knows whom, cannot move the cursor or turn the text."""
    (shop.cwd / "products/odd.yaml").write_text(
        'product: odd\ntitle: "Odd\\u202E\\u200Btitle"\nkind: oil\nhazards: []\nrags: harmless\n'
        "sources: {hazards: x, rags: x}\n"
    )
    ran = shop("stock", "--bought", "odd: 1 l")
    out = ran.out + shop("stock").out
    assert "Odd title" in out
    assert "\u202e" not in out


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["--bought", "tung-oil"], ["'tung-oil' is no name and amount"]),
        (["--bought", ": 1 l"], ["no name and amount"]),
        (["--bought", "tung-oil: 1"], ["'1' has no unit"]),
        (["--bought", "tung-oil: 0 ml"], ["more than 0"]),
        (["--bought", "tung-oill: 1 l"], ["did you mean 'tung-oil'?"]),
        (["--bought", "a: 1 l", "--undo", "b"], ["--bought and --undo are one entry each"]),
        (["--mixed", "j"], ["needs a strength", "--makes is missing"]),
        (["--mixed", "j", "--cut", "2", "--makes", "3"], ["--cut: '2'", "--makes: '3'"]),
        (["--mixed", "j", "--cut", "2 lb", "--thinned", "1 %", "--makes", "1 l"], ["one of"]),
        (["--mixed", "j", "--thinned", "100 %", "--makes", "1 l"], ["leaves nothing"]),
        (["--mixed", "jar 2", "--cut", "2 lb", "--makes", "1 l", "--product", "shellac-garnet"],
         ["there is a 'jar 2' already"]),
        (["--mixed", "j", "--cut", "2 lb", "--makes", "9 l", "--product", "shellac-garnet"],
         ["and there is 200 g in 'garnet bag'"]),
        (["--mixed", "", "--cut", "2 lb", "--makes", "1 l", "--product", "shellac-garnet"],
         ["without a name"]),
        (["--left", "jar 2"], ["no name and amount"]),
        (["--left", "jar 2: much"], ["'much' is not a volume"]),
        (["--left", "jar2: 3 ml"], ["did you mean 'jar 2'?"]),
        (["--left", "jar 2: 3 ml", "--on", "2031-01-01"], ["the time to come"]),
        (["--left", "jar 2: 3 ml", "--on", "teatime"], ["--on: 'teatime' is not a time"]),
        (["--undo", "jar 99"], ["no lot or batch 'jar 99'"]),
        (["--undo", "garnet bag"], ["went into"]),
        (["--cut", "2 lb"], ["--cut goes with --mixed"]),
        (["--out", "l.html"], ["--out goes with --labels"]),
        (["--labels", "--out", "shop.yaml"], ["write a name that ends in .html"]),
        (["--labels", "--out", "nowhere/l.html"], ["No such file or directory"]),
        (["--labels", "--by", "Nell"], ["--by goes with"]),
    ],
)  # fmt: skip
def test_wrong_use_is_told_and_changes_nothing(shop, arguments, said):
    """Exit 2, every fault a line, no traceback, and the shelf is as it was."""
    before = shop("stock", "--json").json
    document = (shop.cwd / "shop.yaml").read_text()
    ran = shop("stock", *arguments)
    assert ran.status == 2
    assert all(words in ran.err for words in said)
    assert "Traceback" not in ran.err
    assert shop("stock", "--json").json == before
    assert (shop.cwd / "shop.yaml").read_text() == document


def test_what_came_last_evening_is_not_of_today(shop):
    """By the calendar: 21 hours after it was bought, on the day after, a bag is a day old."""
    on = "yesterday 21:00"
    assert shop("stock", "--bought", "pumice: 1 kg", "--name", "bag", "--on", on).status == 0
    (line,) = (line for line in shop("stock").out.splitlines() if line.startswith("  bag"))
    assert "  1 day  " in line


@pytest.mark.parametrize(
    ("days", "said"),
    [(0, "today"), (1, "1 day"), (59, "59 days"), (180, "6 months"), (900, "2.5 years")],
)
def test_ages_are_said_in_the_unit_that_fits(shop, days, said):
    """Days for two months, months for two years, then years."""
    on = (shop.now - timedelta(days=days)).date().isoformat()
    assert shop("stock", "--bought", "pumice: 1 kg", "--name", "bag", "--on", on).status == 0
    (line,) = (line for line in shop("stock").out.splitlines() if line.startswith("  bag"))
    assert f"  {said}  " in line


def test_a_recipe_is_drawn_from_lots_and_repeated_exactly(shop):
    """Half as much takes half of each from the same lots, whatever the recipe says by then."""
    shop("stock", "--bought", "spirit-dye: 50 g", "--name", "dye tin")
    first = shop("stock", "--mixed", "toner 1", "--product", "amber-toner",
                 "--makes", "500 ml", "--json").json["event"]  # fmt: skip
    again = shop("stock", "--mixed", "toner 2", "--like", "toner 1",
                 "--makes", "250 ml", "--json").json  # fmt: skip
    parts = {one["product"]: one["amount_g"] for one in first["parts"]}
    assert parts["spirit-dye"] == pytest.approx(2.5)  # 5 g/L, and half a litre
    halves = {one["product"]: one["amount_g"] for one in again["event"]["parts"]}
    assert halves == {name: pytest.approx(grams / 2) for name, grams in parts.items()}
    drawn = [draw["lot"] for draw in again["event"]["draws"]]
    assert drawn == [draw["lot"] for draw in first["draws"]]
    assert "dye tin" in drawn
    assert again["warnings"] == []
    whole = shop("stock", "--mixed", "toner 4", "--like", "toner 1", "--json").json["event"]
    assert (whole["makes_ml"], whole["parts"]) == (first["makes_ml"], first["parts"])
    short = shop("stock", "--mixed", "toner 3", "--like", "toner 1", "--makes", "30 l")
    assert short.status in (1, 2)
    assert "Denatured alcohol" in short.err


def test_a_recipe_is_scaled_by_what_there_is_of_a_part(shop):
    """3 g of dye at 5 g in a litre make 600 ml."""
    found = shop("mix", "--recipe", "amber-toner", "--of", "spirit-dye: 3 g", "--json").json
    assert found["makes_ml"] == pytest.approx(600.0)
    assert "H225" in found["hazards"]
    told = shop("mix", "--recipe", "amber-tonr", "--cut", "2 lb")
    assert "did you mean 'amber-toner'" in told.err
    assert "--cut is for a cut" in told.err


def test_a_drop_on_glass_decides_about_a_jar(shop):
    """Hard in 3 h makes an old jar good; soft the next day puts it past its life; undo both."""
    assert rows(shop("stock", "--json"))["jar 4"]["state"] == "test it"
    shop("stock", "--tested", "jar 4: 3 h")
    assert rows(shop("stock", "--json"))["jar 4"]["state"] == "good"
    assert "hard after 3 h" in shop("stock", "--why").out
    shop("stock", "--tested", "jar 4: soft")
    assert rows(shop("stock", "--json"))["jar 4"]["state"] == "past its life"
    shop("stock", "--undo", "jar 4")
    assert rows(shop("stock", "--json"))["jar 4"]["state"] == "good"
    assert "bought, not mixed" in shop("stock", "--tested", "blonde tin: 3 h").err

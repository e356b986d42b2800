"""``defect``: what made it, what to look at, and the rework that enters the work."""

from datetime import timedelta

import pytest

KEYS = {
    "piece",
    "seen",
    "looks",
    "place",
    "step",
    "step_key",
    "logged",
    "causes",
    "asks",
    "beyond",
    "or_else",
    "layers",
    "options",
    "why",
    "deferral",
    "events",
    "next",
}


def test_it_ranks_and_offers_without_writing(shop):
    """Asked by name, it says causes with what to look at and numbered ways, and logs nothing."""
    before = shop("due", "--json").json["now"]
    ran = shop("defect", "slope", "sag")
    assert ran.status == 0
    lines = ran.out.splitlines()
    assert lines[0].startswith("letter-box/slope: sag, seen at step")
    assert lines[0].endswith("not logged yet")
    assert "what likely made it" in lines
    assert 1 <= sum(line.startswith("     look: ") for line in lines) <= 3
    assert any(line.startswith("  1  ") for line in lines)
    assert any("--take 1" in line for line in lines)
    assert "come first" in " ".join(ran.out.split())
    assert shop("due", "--json").json["now"] == before


def test_causes_are_those_of_the_likeliest_where_it_may_be_another(shop):
    """What may be another defect is told so, and the odds of its causes only for that it is."""
    lines = shop("defect", "slope", "bits and pinholes").out.splitlines()
    assert any(line.startswith("  or it is dust nib, ") for line in lines)
    assert "what likely made it, if it is pinholes" in lines
    alone = shop("defect", "slope", "streaks").out
    assert "or it is" not in alone
    assert "what likely made it\n" in alone


def test_json_has_every_key_and_the_chances(shop):
    """The JSON form has all keys, chances that come to one, and each step of each way."""
    data = shop("defect", "slope", "dust", "nib", "--json").json
    assert set(data) == KEYS
    assert data["seen"] == "dust nib"
    assert sum(cause["chance"] for cause in data["causes"]) == pytest.approx(1, abs=1e-3)
    assert [option["number"] for option in data["options"]] == list(
        range(1, len(data["options"]) + 1)
    )
    assert all(option["steps"] for option in data["options"])
    assert data["events"] == []


def test_taking_a_way_puts_it_next(shop):
    """With --take the defect and the rework are logged, and due shows that it rests already."""
    ran = shop("defect", "slope", "sag", "--take", "1", "--by", "Nell")
    assert ran.status == 0
    assert ran.out.startswith("letter-box/slope: logged rework for sag: let it harden")
    assert "drying: in" in ran.out
    coming = {one["piece"]: one for one in shop("due", "--json").json["next"]}
    assert coming["letter-box/slope"]["step_key"].startswith("rework-1/rest")
    assert "rework: rest" in shop("due").out
    undone = shop("log", "slope", "undo")
    assert "undone rework for sag" in undone.out


def test_a_logged_defect_needs_no_name_again(shop):
    """What was logged by its name is found; log says how to ask on."""
    logged = shop("log", "slope", "defect", "blush", "at", "the", "hinge")
    assert logged.out.splitlines()[-1].endswith("finishsched defect letter-box/slope")
    ran = shop("defect", "slope")
    assert ran.out.startswith("letter-box/slope: blush, seen at step")
    assert "not logged yet" not in ran.out
    taken = shop("defect", "slope", "--take", "1", "--json").json
    assert [event["kind"] for event in taken["events"]] == ["rework"]
    assert taken["events"][0]["defect_id"] == taken["logged"]["id"]


def test_a_kind_can_be_named_beside_free_text(shop):
    """With --kind the words stay free and the defect still has its name."""
    ran = shop("log", "slope", "defect", "white cloud", "--kind", "blush", "--json")
    assert ran.json["event"]["seen"] == "blush"
    assert ran.json["event"]["text"] == "white cloud"


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("defect", "slope"), "no defect of letter-box/slope is open"),
        (("defect", "slope", "squeak"), "no defect is called 'squeak'"),
        (("defect", "slope", "sag", "--take", "9"), "no way 9 to put it right"),
        (("defect", "slope", "sag", "--step", "999"), "no step '999'"),
        (("defect", "lod", "sag"), "no piece 'lod'"),
        (("log", "slope", "defect", "x", "--kind", "squeak"), "no defect is called 'squeak'"),
    ],
)
def test_faults_are_one_line(shop, arguments, said):
    """What cannot be is refused with one line and status 2."""
    ran = shop(*arguments)
    assert ran.status == 2
    assert len([line for line in ran.err_lines if not line.startswith("notice:")]) == 1
    assert said in ran.err


def test_why_names_the_rule(shop):
    """With --why the rule and where it comes from are said."""
    assert "log-odds" in shop("defect", "slope", "sag", "--why").out


OWN_WAY = """\
schedule: own-way
title: Own way
look: satin
source: made up
stages:
  - stage: body
    steps:
      - wipe: thin
        product: boiled-linseed-oil
        amount: 20 ml/m2
        wait: {earliest: 20 h, likely: 24 h}
        dry_check: dry
      - brush: flow on
        product: waterborne-clear
        amount: 80 ml/m2
        wait: {earliest: 3 h, likely: 4 h}
        dry_check: dry
"""


@pytest.mark.parametrize(("day", "told"), [("2026-11-22", False), ("2026-11-24", True)])
def test_the_layers_are_judged_by_the_times_that_were_logged(shop, day, told):
    """Waterborne a day over linseed oil is spoken against; three days after it is not (table)."""
    (shop.cwd / "schedules" / "own-way.yaml").write_text(OWN_WAY)
    (shop.cwd / "jobs" / "box.yaml").write_text(
        "job: box\ntitle: Box\npieces:\n- {piece: top, title: Top, schedule: own-way, "
        "faces: [{face: top, area: 0.1 m2}]}\n"
    )
    shop("log", "top", "start", "--at", f"{day} 08:00")
    shop("log", "top", "done", "--at", f"{day} 09:00")
    shop("log", "top", "ready", "--at", "2026-11-25 09:00")
    shop("log", "top", "done", "--at", "2026-11-25 09:30")
    found = shop("defect", "top", "wrinkled", "--json").json["layers"]
    assert any("after boiled-linseed-oil" in one for one in found) is told


@pytest.mark.parametrize(("checked", "overdue"), [(True, False), (False, True)])
def test_what_was_found_ready_is_not_long_overdue(shop, checked, overdue):
    """Weeks after a dry check found an oil ready, the time that went by speaks for no soft oil."""
    (shop.cwd / "jobs" / "dish.yaml").write_text(
        "job: dish\ntitle: Dish\npieces:\n  - {piece: dish, title: Dish, species: walnut, "
        "schedule: wiped-oil, faces: [{face: top, area: 0.1 m2}]}\n",
        "utf-8",
    )
    shop("log", "dish", "start")
    for _ in range(7):
        assert shop("log", "dish", "done").status == 0
    shop.now += timedelta(days=2)
    if checked:
        assert shop("log", "dish", "ready").status == 0
    shop.now += timedelta(days=40)
    said = " ".join(shop("defect", "dish", "sticky").out.split())
    assert "oil left standing" in said
    assert ("times its drying time has gone by" in said) is overdue
    assert ".0 times" not in said

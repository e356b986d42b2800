"""``rags``, ``cautions`` and ``store`` as commands, and what ``due`` and ``log`` say of safety."""

from __future__ import annotations

from datetime import timedelta

import pytest

COMES_FIRST = "The product's safety data sheet and local codes come first."


def test_rags_open_logged_and_undone(shop):
    """The demo has wiped varnish and packed filler: open, then dealt with, then open again."""
    before = shop("rags", "--json").json
    assert {one["product"] for one in before["rags"]} == {"wiping-varnish", "oil-paste-filler"}
    out = " ".join(shop("rags").out.split())
    assert "under water in a closed metal can" in out
    assert COMES_FIRST in out
    ran = shop("rags", "flat", "outdoors", "--by", "Tam", "--json")
    assert ran.json["event"]["kind"] == "rags-dealt-with"
    assert (ran.json["event"]["where"], ran.json["event"]["by"]) == ("flat outdoors", "Tam")
    assert ran.json["rags"] == []
    assert shop("rags").out == "no rags are open\n"
    assert shop("rags", "--undo").out.startswith("undone")
    assert shop("rags", "--json").json["rags"] == before["rags"]


def test_due_tells_of_open_rags_until_they_are_dealt_with(shop):
    """On standard error, in JSON, and no more after the entry."""
    assert "rags can catch fire by themselves" in shop("due").err
    assert shop("due", "--json").json["rags"]
    shop("rags", "flat outdoors")
    assert "rags" not in shop("due").err
    assert shop("due", "--json").json["rags"] == []


def test_open_rags_are_told_again_only_as_they_lie_longer(shop):
    """Once, then after an hour and after three; and at once when other rags come to them."""
    began = shop.now
    shop("rags", "flat outdoors")
    shop.now = began + timedelta(minutes=1)
    shop("log", "frame", "ready")
    assert "rags:" in shop("log", "frame", "done").out
    told = []
    for minutes in (5, 30, 62, 70, 170, 182, 200):
        shop.now = began + timedelta(minutes=minutes)
        ran = shop("due")
        told.append("rags can catch fire" in ran.err)
        assert "! rags open since 18:01, of games-panel/frame" in ran.out
    assert told == [False, False, True, False, False, True, False]


def test_a_fault_in_a_document_is_told_once_and_where_nothing_goes_on_for_it(shop):
    """Not at every command of the evening; by those that ask, or miss what stands in it."""
    document = shop.cwd / "jobs/letter-box.yaml"
    document.write_text(document.read_text().replace("due: 2026-12-22", "due: soon"))
    assert "'soon' is not a date" in shop("due").err
    assert "'soon'" not in shop("log", "frame", "ready").err + shop("store").err + shop("rags").err
    for asks in (("check",), ("log", "box-of-letters", "start"), ("export", "--tables", "out")):
        ran = shop(*asks)
        assert "'soon' is not a date" in ran.err + ran.out
    document.write_text(document.read_text().replace("title:", "titel:"))
    assert "(and " in shop("due").err


def test_due_says_what_two_pieces_have_to_mind_once(shop):
    """The cautions of one coat are those of the next: that names the piece where they are said."""
    shop("log", "box", "ready")
    shop("log", "lid", "ready")
    shop.now = shop.now.replace(day=26, hour=9)
    said = shop("due").out
    assert said.count("mind: Flammable vapour") < said.count("product: Dewaxed")
    assert "mind: all that is said at " in said


def test_due_defers_to_the_data_sheet_once(shop):
    """Pieces with cautions of their own are told with one sentence for all of them."""
    for ref in ("box", "lid", "frame"):
        shop("log", ref, "ready")
    shop.now = shop.now.replace(day=26, hour=9)
    said = " ".join(shop("due").out.split())
    assert said.count("mind:") > 3
    assert said.count(COMES_FIRST) == 1


def test_due_of_some_pieces_tells_nothing_of_what_others_wait_for(shop):
    """What is left for later, or closes, of another piece is not told to who asks about one."""
    everything = shop("due").out
    assert "tea-chest/tray" in everything
    assert "recoat window games-panel/frame" in everything
    said = shop("due", "letter-box/slope").out
    assert "tea-chest/tray" not in said
    assert "recoat window" not in said


def test_log_says_what_to_do_with_oily_rags(shop):
    """After a coat of varnish, and not after one of shellac."""
    assert shop("log", "frame", "ready").status == 0
    ran = shop("log", "frame", "done")
    assert "rags: Rags and pads can catch fire by themselves" in ran.out
    assert COMES_FIRST in ran.out
    assert "rags:" not in shop("log", "slope", "done").out


def test_due_says_a_caution_once_a_day(shop):
    """Cautions that everybody of the shop has read are not said again until the next morning."""
    shop.now = shop.now.replace(day=26, hour=9)
    morning = " ".join(shop("due").out.split())
    assert "mind: Flammable vapour" in morning
    assert COMES_FIRST in morning
    slope = next(v for v in shop("due", "--json").json["now"] if v["piece"] == "letter-box/slope")
    assert slope["cautions_new"] == slope["cautions"]
    assert shop("cautions", "slope", "--read").status == 0
    assert "Flammable vapour" in shop("due").out
    assert shop("cautions", "slope", "--read", "--by", "Tam").status == 0
    assert "Flammable vapour" not in shop("due").out
    assert shop("cautions", "--undo").status == 0
    assert "Flammable vapour" in shop("due").out


def test_cautions_of_one_piece_and_of_all(shop):
    """New and read apart, said once for those that have the same, the deferral at the end."""
    shop.now = shop.now.replace(day=26, hour=9)
    found = shop("cautions", "lid", "--json").json
    (piece,) = found["pieces"]
    assert piece["piece"] == "tea-chest/lid"
    assert piece["new"]
    assert found["deferral"] == COMES_FIRST
    everything = shop("cautions").out
    assert everything.endswith(COMES_FIRST + "\n")
    assert "letter-box/slope, tea-chest/lid" in everything.splitlines()
    shop("cautions", "--read")
    assert "  mind:" not in shop("cautions").out
    assert "  read today:" in shop("cautions").out


def test_before_a_coat_that_passes_a_limit_due_speaks_up(shop):
    """In a cupboard the coat in hand is too much: it says what would help."""
    document = shop.cwd / "shop.yaml"
    text = document.read_text().replace("42 m3, air_flow: 60 m3/h", "2 m3, air_flow: 4 m3/h")
    document.write_text(text)
    out = " ".join(shop("due").out.split())
    assert "before you coat: this coat would bring the room to" in out
    assert "of the vapour limits; open up first, and wait" in out
    assert "or fewer pieces at once" in out
    view = next(v for v in shop("due", "--json").json["now"] if v["piece"] == "letter-box/slope")
    assert view["vapour_warnings"]


def test_store_by_class_against_what_the_document_allows(shop):
    """Within its limits it ends with 0; with less allowed, with 1 and a mark."""
    ran = shop("store", "--json")
    assert (ran.status, ran.json["over"], ran.json["stated"]) == (0, False, True)
    by_class = {total["class"]: total for total in ran.json["totals"]}
    assert by_class["IB"]["allowed_ml"] == 6000
    assert {one["name"] for one in ran.json["containers"]} >= {"alcohol can", "jar 1"}
    document = shop.cwd / "shop.yaml"
    document.write_text(document.read_text().replace("most: 6 l", "most: 1 l"))
    over = shop("store")
    assert over.status == 1
    assert "! class IB" in over.out
    assert "fire marshal" in over.out


def test_a_shop_that_states_nothing_is_told_how(cli):
    """An empty shelf, and no limits."""
    cli("new", "bench")
    cli.cwd = cli.cwd / "bench"
    ran = cli("store")
    assert ran.status == 0
    assert "nothing on the shelf burns" in ran.out
    assert "storage:" in ran.out


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["rags", "--undo", "outdoors"], "--undo stands alone"),
        (["rags", "--at", "18:00"], "--at goes with"),
        (["rags", "outdoors", "--at", "teatime"], "'teatime' is not a time"),
        (["rags", "outdoors", "--at", "2031-01-01 10:00"], "the time to come"),
        (["rags", " "], "write where"),
        (["rags", "--undo"], "no entry about rags to undo"),
        (["cautions", "--read", "--undo"], "one entry each"),
        (["cautions", "lidd"], "did you mean"),
        (["cautions", "--undo"], "no entry about cautions"),
    ],
)
def test_wrong_use_is_told_and_changes_nothing(shop, arguments, said):
    """Exit 2 and one line; the journal is as it was."""
    before = shop("rags", "--json").json
    ran = shop(*arguments)
    assert ran.status == 2
    assert said in ran.err
    assert shop("rags", "--json").json == before


def test_no_control_sign_reaches_the_terminal(shop):
    """Titles, rooms, places and people's words, written by who knows whom, come out as plain lines.

    A sign that moves the cursor, or turns the order of what is read, becomes a space.
    """
    (shop.cwd / "products/odd.yaml").write_text(
        'product: odd\ntitle: "Odd\\u202Etitle"\nkind: thinner\nhazards: [H225]\n'
        'rags: self-heating\ncautions: ["Mind\\u202Ethis"]\n'
        "sources: {hazards: x, rags: x}\n"
    )
    text = (shop.cwd / "shop.yaml").read_text().replace("room: workshop", 'room: "A\\u202Eroom"')
    (shop.cwd / "shop.yaml").write_text(
        text.replace("place: steel cabinet", 'place: "A\\u202Eplace"')
    )
    shop("stock", "--bought", "odd: 1 l", "--name", "odd\u202ecan")
    shop("rags", "out\u202edoors\u200b")
    for arguments in (["rags"], ["store"], ["vent", "--why"], ["cautions"], ["due"],
                      ["rags", "--undo"]):  # fmt: skip
        ran = shop(*arguments)
        assert ran.status == 0, ran.err
        assert "\u202e" not in ran.out + ran.err
        assert "\x1b" not in ran.out + ran.err


@pytest.mark.parametrize("command", ["vent", "rags", "store", "cautions"])
def test_a_document_that_cannot_be_read_is_told(shop, command):
    """What an answer may be short of is on standard error, beside the answer."""
    (shop.cwd / "shop.yaml").write_text("shop: [")
    ran = shop(command)
    assert ran.out
    assert ran.err.startswith("notice: shop.yaml:")


@pytest.mark.parametrize(
    "command",
    [
        ("mix", "--cut", "2 lb", "--makes", "250 ml"),
        ("reduce", "--from", "3 lb", "--to", "1 lb", "--have", "250 ml"),
        ("blend", "--have", "2 lb: 100 ml", "--have", "1 lb: 100 ml"),
        ("gauge", "--wet", "20 g", "--dry", "4.6 g"),
        ("parts", "--thin", "25 %", "--makes", "100 ml"),
    ],
)
def test_whoever_mixes_hears_what_can_hurt(cli, command):
    """Cautions, and that the data sheet comes first, in words and in JSON."""
    data = cli(*command, "--json").json
    assert data["cautions"]
    assert "data sheet" in data["deferral"]
    said = " ".join(cli(*command).out.split())
    assert all(text in said for text in data["cautions"])
    assert data["deferral"] in said


def test_an_entry_shows_what_the_next_step_needs(shop):
    """Begun, a piece's first step is told with what it needs and what to mind, to who began it."""
    said = shop("log", "tea-chest/lid", "ready").out
    assert "needs: " in said
    data = shop("log", "tea-chest/lid", "done", "--json").json
    (view,) = data["next"]
    assert view["cautions"]
    assert set(view["cautions_new"]) <= set(view["cautions"])


def test_log_says_a_caution_for_the_first_of_several_pieces_alone(shop):
    """Pieces begun one by one are told of their dust once, and what is new of each still is."""
    pieces = "".join(
        f"  - {{piece: {name}, title: {name}, species: {wood}, schedule: wiped-oil, "
        "faces: [{face: top, area: 0.1 m2}]}\n"
        for name, wood in (("one", "maple"), ("two", "maple"), ("three", "rosewood"))
    )
    (shop.cwd / "jobs" / "dish.yaml").write_text(f"job: dish\ntitle: D\npieces:\n{pieces}", "utf-8")
    shop.now += timedelta(days=2)
    said = [" ".join(shop("log", name, "start").out.split()) for name in ("one", "two", "three")]
    assert ["Wood dust harms the lungs" in each for each in said] == [True, False, False]
    assert "what you read today still holds" in said[1]
    assert "Dust of rosewood" in said[2]
    assert COMES_FIRST in said[2]
    assert "Wood dust harms the lungs" in " ".join(shop("cautions", "dish/two").out.split())
    others = " ".join(shop("log", "one", "note", "here", "--by", "Tam").out.split())
    assert "Wood dust harms the lungs" in others
    shop.now += timedelta(days=2)
    later = " ".join(shop("log", "two", "note", "still here").out.split())
    assert "Wood dust harms the lungs" in later

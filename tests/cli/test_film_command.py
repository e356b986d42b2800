"""The command ``film``: its table, its JSON, its entries, its exit statuses and its faults."""

import pytest


def _json(shop, *arguments):
    ran = shop("film", *arguments, "--json")
    assert ran.status == 0, ran.err
    return ran.json


def test_it_says_film_relief_and_veneer(shop):
    """The JSON has the promised keys, low to high in order, and a row for each step."""
    said = _json(shop, "lid")
    for key in ("film_um", "relief_um", "veneer_um"):
        assert said[key]["low"] <= said[key]["likely"] <= said[key]["high"]
    assert [row["number"] for row in said["steps"]] == list(range(1, len(said["steps"]) + 1))
    assert {"done", "ahead"} == {row["kind"] for row in said["steps"]}
    assert said["limit"]["verdict"] == "within"
    assert said["confirm"]["needed"] is False
    assert said["events"] == []


def test_people_get_a_table_of_80_columns_and_a_drawing(shop):
    """Every line of drawing and table fits 80 columns, and the numbers of now are among them."""
    ran = shop("film", "tea-chest/lid")
    assert ran.status == 0
    lines = ran.out.splitlines()
    said = (
        "  the next levelling",
        "  in hand",
        "  that ",
        "  it goes",
        "  nearest",
        "  look",
        "  the coarsest",
        "    ",
    )
    table = [line for line in lines if not line.startswith(said)]
    assert "it shows the wood in places" in " ".join(ran.out.split())
    assert all(len(line) <= 80 for line in table[: table.index(table[-2])])
    assert any(line.startswith("  so far") for line in lines)
    assert any(line.startswith("  ahead") for line in lines)
    assert "█" in ran.out
    assert "film at the end" in ran.out


def test_columns_stand_under_their_heads_in_mil(shop):
    """Figures of hundredths of a mil are wider than whole um, and their columns are as wide."""
    document = shop.cwd / "shop.yaml"
    document.write_text(document.read_text().replace("length: mm", "length: in"))
    lines = shop("film", "tea-chest/lid").out.splitlines()
    heads = [line for line in lines if line.startswith(("  so far", "  ahead"))]
    at = {head.index(" relief mil") + 1 for head in heads}
    (column,) = at
    rows = [line for line in lines if line[2:5].strip().isdigit() and "(" in line]
    assert len(heads) == 2
    assert len(rows) > 5
    assert all(row[column - 1] == " " != row[column] for row in rows)


def test_solid_wood_has_no_veneer(shop):
    """A piece without a veneer has null there, and no column of zeros, nor an empty one."""
    assert _json(shop, "letter-box/box")["veneer_um"] is None
    said = shop("film", "letter-box/box").out
    assert "veneer left" not in said
    heads = [line for line in said.splitlines() if line.startswith(("  so far", "  ahead"))]
    assert heads
    assert not [head for head in heads if "veneer" in head]
    assert "veneer um" in shop("film", "tea-chest/lid").out


@pytest.fixture
def dish(shop):
    """Return the caller, in a shop with a dish of walnut whose pores are filled."""
    (shop.cwd / "jobs" / "walnut.yaml").write_text(
        "job: dish\ntitle: Dish\npieces:\n  - {piece: dish, title: Dish, species: walnut, "
        "schedule: padded-shellac-open-pored, faces: [{face: top, area: 0.1 m2}]}\n",
        "utf-8",
    )
    assert shop("log", "dish", "start").status == 0
    return shop


def test_the_coat_that_fills_the_pores_is_among_the_rows(dish):
    """What filler takes of the relief stands at the filling, not at the paper after it."""
    rows = {row["number"]: row for row in _json(dish, "dish")["steps"]}
    assert rows[8]["relief_um"]["likely"] < 0.5 * rows[7]["relief_um"]["likely"]
    shown = [line.split()[:2] for line in dish("film", "dish").out.splitlines()]
    assert ["8", "fill"] in shown


def test_a_paper_before_the_next_levelling_is_not_passed_over(dish):
    """Of a piece whose filler is still to be smoothed, what is told next is called a levelling."""
    for _ in range(7):
        assert dish("log", "dish", "done").status == 0
    said = " ".join(dish("film", "dish").out.split())
    assert "the next levelling is step 21; taken now" in said
    assert "the next paper" not in said


def test_a_schedule_without_coats_lays_no_film(shop):
    """Gluing up a face has nothing to fill or to end."""
    assert "this schedule lays no film" in shop("film", "games-panel/panel").out


def test_why_gives_rules_inputs_and_sources(shop):
    """With --why the reckoning is shown, with a source or the word assumption."""
    out = shop("film", "lid", "--why").out
    assert "why  film = " in out
    assert "ISO 6344" in out
    assert "our assumption" in out


def test_a_grade_that_may_not_ends_with_1(shop):
    """P80 on a thin film ends with status 1 and says how far; P2000 as a scuff ends with 0."""
    no = shop("film", "lid", "--grade", "P80")
    assert no.status == 1
    assert (
        "that is more than the 5 % that this shop goes without asking: not even a scuff" in no.out
    )
    assert shop("film", "lid", "--grade", "P2000", "--reach", "scuff", "--wet").status == 0


def test_a_bare_grade_is_what_the_shop_says(shop):
    """600 is P600 with its micrometres, and CAMI 600 where the shop's document says so."""
    assert "P600, grain about 26 um" in shop("film", "lid", "--grade", "600").out
    document = shop.cwd / "shop.yaml"
    document.write_text(document.read_text() + "film: {bare_grades: CAMI}\n")
    assert "CAMI 600, grain about 16 um" in shop("film", "lid", "--grade", "600").out


def test_the_limit_of_odds_is_the_shop_s(shop):
    """Where the shop takes any risk, nothing is asked and every reach is allowed."""
    document = shop.cwd / "shop.yaml"
    document.write_text(document.read_text() + "film: {cut_through_odds: 100 %}\n")
    assert shop("film", "lid", "--grade", "P80").status == 0


def test_a_gauge_and_a_bottle_are_logged(shop):
    """Both are entries of the piece, change its film, and are undone like any other."""
    gauged = _json(shop, "slope", "--gauge", "30 um")
    assert gauged["film_um"]["likely"] == 30
    assert [event["kind"] for event in gauged["events"]] == ["film-gauged"]
    said = shop("film", "slope", "--weighed", "512 g: 506 g", "--coats", "3")
    assert said.out.startswith("logged bottle weighed: 6 g for 3 coats")
    assert "undone bottle weighed" in shop("log", "slope", "undo").out
    assert "undone film gauged: 30 um" in shop("log", "slope", "undo").out


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["--gauge", "45"], "--gauge"),
        (["--weighed", "512 g"], "is one weight"),
        (["--weighed", "490 g: 512 g"], "laid nothing"),
        (["--coats", "2"], "give --weighed too"),
        (["--weighed", "5 g: 4 g", "--coats", "many"], "is no number of coats"),
        (["--grade", "P410"], "the nearest are P360 and P400"),
        (["--wet"], "give --grade too"),
        (["--grade", "P400", "--reach", "deep"], "write scuff, level, flush or cut back"),
        (["--by", "Nell"], "give --gauge or --weighed too"),
    ],
)
def test_wrong_use_is_one_line_each(shop, arguments, says):
    """Wrong use ends with 2, one line on stderr, nothing on stdout and nothing in the journal."""
    ran = shop("film", "lid", *arguments)
    assert ran.status == 2
    faults = [line for line in ran.err_lines if not line.startswith("notice:")]
    assert len(faults) == 1
    assert says in faults[0]
    assert ran.out == ""
    assert "gauged" not in shop("log", "lid", "undo").out


def test_an_unknown_piece_is_refused(shop):
    """With the names that were near."""
    ran = shop("film", "lidd")
    assert ran.status == 2
    assert "did you mean" in ran.err


def test_a_job_stands_for_its_only_piece_and_of_several_one_is_asked_for(shop):
    """A reading is of one piece: the refusal names those that the job has."""
    shop("begin", "Tray", "--schedule", "wiped-oil", "--wood", "oak", "--job", "order")
    assert shop("log", "order", "--reading", "gloss 60: 42").status == 0
    shop("begin", "Rack", "--schedule", "wiped-oil", "--wood", "oak", "--job", "order")
    ran = shop("log", "order", "--reading", "gloss 60: 42")
    says = "'order' is a job of 2 pieces, and this is of one; name order/tray or order/rack"
    assert (ran.status, ran.err_lines[-1]) == (2, says)


def test_a_reading_is_kept_by_zone_and_held_against_what_is_wanted(shop):
    """The lid is to be high gloss and reads 42: duller, in answer, list, table and record."""
    told = shop("log", "lid", "--reading", "gloss 60: 42", "--json").json
    assert told["event"]["measure"] == "gloss"
    assert told["event"]["zone"] == "field"
    assert "duller than high gloss" in told["surface"]["sheen read"]
    shop("log", "lid", "--reading", "colour 42 18 22 at the top edge")
    later = shop("log", "lid", "--reading", "colour 42 21 26 at the top edge", "--json").json
    # ISO/CIE 11664-4: 3 in a* and 4 in b* lie 5 apart.
    assert ", 5.0 from the first reading" in later["surface"]["colour of the edges"]
    assert "gloss 42 at 60 degrees, semi-gloss, field" in shop("log", "lid", "entries").out
    shop("export", "--tables", "out")
    rows = (shop.cwd / "out" / "readings.csv").read_text("utf-8").splitlines()
    assert len(rows) == 4
    shop("record", "lid", "--out", "r.html")
    page = (shop.cwd / "r.html").read_text("utf-8")
    assert "sheen read" in page


def test_gloss_of_each_angle_is_told_and_nothing_twice(shop):
    """One figure at 20 degrees does not take the place of that at 85, and each is named once."""
    shop("log", "lid", "--reading", "gloss 20: 12")
    told = shop("log", "lid", "--reading", "gloss 85: 60", "--json").json["surface"]
    assert told["gloss at 20 degrees of the field"] == "12"
    assert told["gloss at 85 degrees of the field"] == "60"
    shop("log", "lid", "--reading", "pencil 2H")
    assert "  pencil of the field: 2H\n" in shop("log", "lid", "--reading", "smell faint").out


def test_no_reading_outside_its_scale_is_kept(shop):
    """An angle that no meter has, and an entry beside a reading, leave the journal as it was."""
    before = shop("log", "lid", "entries").out
    assert "20, 60 or 85" in shop("log", "lid", "--reading", "gloss 45: 3").err
    assert "by itself" in shop("log", "lid", "done", "--reading", "gloss 60: 3").err
    assert shop("log", "lid", "entries").out == before

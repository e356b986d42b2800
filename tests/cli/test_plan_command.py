"""``plan`` as a command, on the demo shop and on shops of our own."""

from datetime import datetime, timedelta

import pytest

PROMISED = {
    "piece", "step", "person", "start", "end", "ready_earliest", "ready_likely", "ready_latest",
    "held_back_by",
}  # fmt: skip


def _at(text):
    return datetime.fromisoformat(text)


def test_the_promised_keys(shop):
    """Each step has what the command promises, and the ranges are in order."""
    ran = shop("plan", "--json")
    assert ran.status == 0
    plan = ran.json
    assert plan.keys() >= {"steps", "finish", "late_minutes", "lower_bound", "proven"}
    assert plan["late_minutes"] == 0
    assert _at(plan["lower_bound"]) <= _at(plan["finish"])
    for step in plan["steps"]:
        assert step.keys() >= PROMISED
        assert _at(step["start"]) <= _at(step["end"]) <= _at(step["ready_earliest"])
        assert _at(step["ready_earliest"]) <= _at(step["ready_likely"]) <= _at(step["ready_latest"])
        assert _at(step["start"]) >= shop.now


def test_it_is_for_people_too(shop):
    """The days come first, then when each piece is finished."""
    ran = shop("plan", "--days", "1", "--why")
    assert ran.out.splitlines()[0].startswith("all finished ")
    assert "every due date met" in ran.out
    assert "pieces\n" in ran.out
    assert "tea-chest/lid: finished" in ran.out
    assert "what decides the end" in ran.out
    assert all(len(line) <= 100 for line in ran.out.splitlines())


def test_a_due_date_missed_ends_with_one(row):
    """The answer is no, and it says how late."""
    ran = row("plan", "--by", "2026-11-27")
    assert ran.status == 1
    assert "late" in ran.out
    assert row("plan", "--by", "2026-11-27", "--json").json["late_minutes"] > 0


def _without_reason(step):
    """Return a step without why it begins no sooner: shown again, some are kept where they were."""
    return {name: value for name, value in step.items() if name != "held_back_by"}


def test_side_by_side(shop):
    """A what-if stands beside the plan as it is, and changes nothing."""
    before = shop("plan", "--json").json
    ran = shop(
        "plan", "--with-piece", "wiping-varnish=0.2 m2", "--drop", "panel", "--due",
        "slope=2026-12-20", "--air", "24degC/45%", "--extra", "Thu 2026-11-26 12:00-17:00",
        "--schedule", "tray=wiped-oil", "--away", "Tam 2026-11-28",
    )  # fmt: skip
    assert ran.status in (0, 1)
    assert "as it is" in ran.out
    assert "what-if/piece-1" in ran.out
    assert ran.out.splitlines()[-1] == "nothing was changed"
    after = shop("plan", "--json").json
    assert [_without_reason(step) for step in after["steps"]] == [
        _without_reason(step) for step in before["steps"]
    ]
    data = shop("plan", "--drop", "panel", "--json").json
    assert data["as_it_is"]["finish"] == before["finish"]


@pytest.mark.parametrize(
    ("arguments", "wanted"),
    [
        (["--by", "soon"], "--by: 'soon' is not a date"),
        (["--air", "24degC"], "--air: '24degC' is no air"),
        (["--air", "24/45%"], "--air"),
        (["--extra", "Mon 2026-11-26 18:00-21:00"], "is a Thu, not a Mon"),
        (["--extra", "tomorrow"], "--extra: 'tomorrow' cannot be read"),
        (["--away", "Nel 2026-11-26"], "nobody here is called 'Nel'; there are Nell, Tam"),
        (["--log-away", "Bo 2026-11-26"], "nobody here is called 'Bo'"),
        (["--due", "slope"], "--due: 'slope' is no PIECE=VALUE"),
        (["--schedule", "slope=tung"], "no schedule 'tung'; did you mean 'tung-oil'?"),
        (["--drop", "slop"], "slop"),
        (["--with-piece", "tung-oil=big"], "--with-piece"),
        (["--out", "w.html"], "--out goes with --week"),
        (["--out", ""], "--out goes with --week"),
        (["--week", "--out", "nowhere/w.html"], "names no file in a folder that is there"),
        (["--calendar", "nowhere/w.ics"], "names no file in a folder that is there"),
        (["--calendar", "."], "write a name that ends in .ics"),
        (["--calendar", "plan"], "--calendar: 'plan' is not a calendar; write a name that ends"),
        (["--calendar", "plan.ical"], "write a name that ends in .ics"),
        (["--calendar", "a\0b.ics"], "is no place"),
        (["--calendar", "shop.yaml"], "write a name that ends in .ics"),
        (["--calendar", "w.ics", "--week"], "ask for one after the other"),
        (["--calendar", "w.ics", "--drop", "lid"], "a what-if touches nothing"),
        (["--week", "--drop", "lid"], "a what-if touches nothing"),
        (["--take", "--by", "2026-12-01"], "a what-if touches nothing"),
        (["--log-away", "Nell 2026-11-26", "--drop", "lid"], "a what-if touches nothing"),
        (["--log-away", ""], "--log-away: '' cannot be read"),
        (["--until-better", "nan"], "'nan' is no time"),
        (["--week", "--out", "w.pdf"], "ends in .html"),
        (["--undo-away"], "nobody is logged as away"),
        (["--log-away", "2026-11-20"], "those days are over"),
    ],
)
def test_wrong_use_is_one_line(shop, arguments, wanted):
    """Each fault is one line on standard error, with exit status 2, and nothing is answered."""
    ran = shop("plan", *arguments)
    assert ran.status == 2
    assert ran.out == ""
    faults = [line for line in ran.err_lines if not line.startswith("notice:")]
    assert len(faults) == 1
    assert wanted in faults[0]


def test_a_refused_plan_logs_no_day_away(row):
    """A fault in another option leaves the journal as it was."""
    assert row("plan", "--log-away", "Nell 2026-11-26", "--air", "warm").status == 2
    assert row("plan", "--log-away", "Nell 2026-11-26", "--week", "--out", "w.txt").status == 2
    assert "nobody is logged as away" in row("plan", "--undo-away").err


def test_every_fault_at_once(shop):
    """Two wrong options give two lines."""
    ran = shop("plan", "--by", "soon", "--air", "warm")
    assert (ran.status, len(ran.err_lines)) == (2, 2)


def test_a_sick_day_moves_the_plan_and_says_so(row):
    """Logged away, today's work moves, and what changed since the last plan is listed."""
    row("plan")
    ran = row("plan", "--log-away", "2026-11-25")
    assert "changed since the last plan" in ran.out
    assert "later" in ran.out
    steps = row("plan", "--json").json["steps"]
    assert all(not s["start"].startswith("2026-11-25") for s in steps if s["person"])
    assert "changed" not in row("plan").out
    ran = row("plan", "--undo-away")
    assert ran.status == 0


def test_an_entry_keeps_the_plan(shop):
    """Doing what is planned, when it is planned, moves nothing else."""
    plan = shop("plan", "--json").json
    done = [s for s in plan["steps"] if s["person"] and s["start"] != s["end"]]
    done = [s for s in done if "rest" not in s["title"].split()][:2]
    assert len({s["piece"] for s in done}) == 2
    first = {"check": "ready", "not begun": "start"}
    stands = {p["piece"]: p["state"] for p in shop("due", "--json").json["now"]}
    for step in done:
        if (before := first.get(stands[step["piece"]])) is not None:
            assert shop("log", step["piece"], before).status == 0
        shop.now = _at(step["end"])
        assert shop("log", step["piece"], "done").status == 0
    after = shop("plan", "--json").json
    hands = {f"{s['piece']}#{s['step']}" for s in plan["steps"] if s["person"]}
    moved = [c for c in after["changes"] if c["key"] in hands and (c["minutes"] or 0) > 15]
    assert {c["kind"] for c in moved} <= {"gone"}, moved


def test_due_suggests_what_the_plan_has_first(shop):
    """``due`` ends with the best thing for the next quarter of an hour, in words and as JSON."""
    plan = shop("plan", "--json").json
    found = shop("due", "--json").json["suggested"]
    soon = [s for s in plan["steps"] if _at(s["start"]) <= shop.now + timedelta(minutes=15)]
    assert (found["best"]["piece"], found["best"]["step"]) in {
        (s["piece"], s["step"]) for s in soon
    }
    assert found["hands"] == ["Nell"]
    assert "begin within 15 min: Nell, " in shop("due").out
    shop.now += timedelta(hours=8)
    assert "no hours now; the next are 17:30" in shop("due").out


def test_the_week_to_print(shop):
    """The week is seven days with boxes to tick, as text and as a page that fetches nothing."""
    ran = shop("plan", "--week")
    assert ran.out.count("[ ]") > 10
    assert "Wed 25 Nov" in ran.out
    assert "Tue 1 Dec" in ran.out
    assert shop("plan", "--week", "--out", "week.html").status == 0
    page = (shop.cwd / "week.html").read_text()
    assert page.count("<section>") == 7
    assert "http:" not in page
    assert "https:" not in page
    assert "Sunburst lid" in page


def test_a_calendar_is_written_over_its_own_only(row):
    """The calendar may be written again; another file is left as it is."""
    assert row("plan", "--calendar", "plan.ics").status == 0
    first = (row.cwd / "plan.ics").read_bytes()
    assert first.startswith(b"BEGIN:VCALENDAR\r\n")
    assert row("plan", "--calendar", "plan.ics").status == 0
    (row.cwd / "other.ics").write_text("mine")
    ran = row("plan", "--calendar", "other.ics")
    assert ran.status == 2
    assert "--calendar: other.ics is no calendar" in ran.err
    assert (row.cwd / "other.ics").read_text() == "mine"


def test_looking_for_a_better_plan_moves_nothing_until_it_is_taken(row):
    """What is found is offered; only --take goes on by it."""
    before = row("plan", "--json").json
    found = row("plan", "--until-better", "0.5", "--json").json
    assert found["steps"] == before["steps"]
    taken = row("plan", "--until-better", "0.5", "--take", "--json").json
    assert _at(taken["finish"]) <= _at(before["finish"])
    assert taken["better"] is None


def test_nothing_to_plan(cli):
    """A shop without open pieces says so."""
    cli("new", "bench")
    (cli.cwd / "bench/jobs/first-box.yaml").unlink()
    cli.cwd = cli.cwd / "bench"
    ran = cli("plan")
    assert (ran.status, ran.out) == (0, "nothing to plan: no piece is open\n")


def test_a_shop_with_no_open_piece(cli):
    """There is nothing to plan, to compare or to write, and each is said without a fault."""
    (cli.cwd / "shop.yaml").write_text("shop: Empty Row\n", "utf-8")
    assert cli("plan").out == "nothing to plan: no piece is open\n"
    assert "all finished" in cli("plan", "--air", "20degC/40%").out
    ran = cli("plan", "--calendar", "week.ics")
    assert (ran.status, ran.out) == (1, "")
    assert "nothing is planned and no wait runs: no calendar was written" in ran.err
    assert not (cli.cwd / "week.ics").exists()


def test_a_document_that_cannot_be_read_is_told(cli):
    """Pieces whose job has a fault are not planned, and nobody takes that for nothing to do."""
    (cli.cwd / "shop.yaml").write_text("shop: Empty Row\n", "utf-8")
    (cli.cwd / "jobs").mkdir()
    (cli.cwd / "jobs" / "box.yaml").write_text("job: box\n", "utf-8")
    assert "note: jobs/box.yaml:1:1: a job has no" in cli("plan").out


def test_the_page_of_the_week_as_json_too(shop):
    """Asked for as JSON the page is written all the same, and the answer says where."""
    ran = shop("plan", "--week", "--out", "w.html", "--json")
    assert ran.json["file"] == str(shop.cwd / "w.html")
    assert (shop.cwd / "w.html").is_file()


def test_what_cannot_be_planned_is_not_promised(cli):
    """With no session long enough no due date is said to be met, and the answer is no."""
    (cli.cwd / "shop.yaml").write_text("shop: Short Row\nhours: [Mon 18:00-18:02]\n", "utf-8")
    (cli.cwd / "jobs").mkdir()
    (cli.cwd / "jobs" / "box.yaml").write_text(
        "job: box\ntitle: Box\ndue: 2026-12-20\npieces:\n  - piece: lid\n    title: Lid\n"
        "    schedule: wiped-oil\n    faces: [{face: top, area: 0.1 m2}]\n",
        "utf-8",
    )
    ran = cli("plan")
    assert ran.status == 1
    assert ran.out.startswith("nothing is planned; 1 of 1 due dates without a plan\n")
    assert "the longest stretch of hours of you is 2 min" in ran.out


def test_what_would_help_is_in_the_units_of_the_shop(shop):
    """A shop that reads Fahrenheit is told of a warmer room in Fahrenheit."""
    assert "the room at 23 degC" in shop("plan").out
    file = shop.cwd / "shop.yaml"
    text = file.read_text("utf-8")
    file.write_text(text.replace("temperature: degC", "temperature: degF"), "utf-8")
    assert "the room at 73 degF" in shop("plan").out


def test_what_is_under_way_is_not_gone(row):
    """Work that goes on as planned is no change, however often the plan is asked for."""
    row("plan")
    row.now += timedelta(minutes=1)
    plan = row("plan", "--json").json
    assert any(step["under_way"] for step in plan["steps"])
    assert [c for c in plan["changes"] if (c["minutes"] or 0) > 5] == []

"""What ``plan`` tells: what changed, days of work, what-ifs, files, faults; and days away."""

import re
from datetime import datetime


def _at(text):
    return datetime.fromisoformat(text)


def _events(file):
    """Return the events of a calendar file as dicts, with how many alarms each has."""
    events = []
    for line in file.read_text("utf-8").replace("\n ", "").splitlines():
        name, _, value = line.partition(":")
        if line == "BEGIN:VEVENT":
            events.append({"alarms": 0})
        elif line == "BEGIN:VALARM":
            events[-1]["alarms"] += 1
        elif events:
            events[-1].setdefault(name, value)
    return events


def test_the_end_of_a_rest_is_in_the_calendar(shop):
    """A rest takes no time and gives no block of work, but an alarm when it is likely over."""
    steps = [s for s in shop("plan", "--json").json["steps"] if s["start"] == s["end"]]
    assert shop("plan", "--calendar", "week.ics").status == 0
    events = {event["SUMMARY"]: event for event in _events(shop.cwd / "week.ics")}
    assert not any(": rest" in title and "Ready" not in title for title in events)
    ends = [event for title, event in events.items() if title.startswith("Ready to check: Chequ")]
    assert any(event["alarms"] for event in ends)
    assert steps


def test_no_calendar_rings_while_nobody_is_there(shop):
    """What is ready in the night is an event of the next hours, and says since when it is."""
    shop("plan", "--calendar", "week.ics")
    ready = [e for e in _events(shop.cwd / "week.ics") if e["SUMMARY"].startswith("Ready")]
    ringing = [event for event in ready if event["alarms"]]
    assert ringing
    for event in ringing:
        at = datetime.strptime(event["DTSTART"], "%Y%m%dT%H%M%S%z")
        assert 9 <= at.hour < 22
    assert any("Likely ready since" in event["DESCRIPTION"] for event in ready)


def test_coats_a_few_minutes_apart_ring_once(shop):
    """Of a run of work on one piece only the first has an alarm, and the waits between have none.

    Every event is there all the same, under the name that it keeps when the plan moves.
    """
    plan = shop("plan", "--json").json
    shop("plan", "--calendar", "week.ics")
    events = _events(shop.cwd / "week.ics")
    of_work = [event for event in events if not event["SUMMARY"].startswith("Ready")]
    starts = {event["DTSTART"] for event in of_work if event["alarms"]}
    work = [s for s in plan["steps"] if s["person"] and s["start"] != s["end"]]
    before = {}
    runs = 0
    for step in work:
        last = before.get(step["piece"])
        before[step["piece"]] = step
        if last and last["person"] == step["person"] and last["end"] == step["start"]:
            runs += 1
            assert f"{_at(step['start']):%Y%m%dT%H%M%SZ}" not in starts or any(
                other["start"] == step["start"] for other in work if other is not step
            )
    assert runs
    assert len([e for e in events if "Ready" not in e["SUMMARY"]]) == len(work)


def test_a_file_that_is_written_ends_with_nought(row):
    """A calendar or a week that is asked for is written, late or not; what is late is told."""
    for job in (row.cwd / "jobs").glob("*.yaml"):
        job.write_text(re.sub("due: .*", "due: 2026-11-24", job.read_text("utf-8")), "utf-8")
    assert row("plan").status == 1
    for options in (("--calendar", "plan.ics"), ("--week", "--out", "week.html")):
        ran = row("plan", *options)
        assert ran.status == 0
        assert "due dates missed" in ran.out


def test_rows_side_by_side_stay_within_eighty_signs(shop):
    """However late and however far apart, a what-if stands in its columns."""
    ran = shop("plan", "--by", "2026-11-27", "--air", "8degC/80%")
    rows = ran.out.splitlines()
    assert max(map(len, rows)) <= 80
    assert sum(" late" in row for row in rows) > 2
    lid = next(row for row in rows if row.startswith("tea-chest/lid"))
    assert lid.endswith(" later")


def test_wrong_options_and_wrong_names_are_told_together(shop):
    """Every fault of one call is a line, whatever finds it, and nothing is logged."""
    ran = shop(
        "plan", "--due", "zz=2026-10-14", "--schedule", "slope=tung", "--drop", "slop",
        "--air", "hot", "--with-piece", "nope", "--calendar", "x.ics", "--week",
        "--log-away", "Bob 2026-11-26",
    )  # fmt: skip
    assert (ran.status, ran.out) == (2, "")
    for wanted in (
        "--due: no piece 'zz'", "--schedule: no schedule 'tung'", "--drop: no piece 'slop'",
        "--air: 'hot' is no air", "--with-piece: no schedule 'nope'", "ask for one after the other",
        "nobody here is called 'Bob'", "--log-away: a what-if touches nothing",
    ):  # fmt: skip
        assert sum(wanted in line for line in ran.err_lines) == 1


def test_a_day_away_is_logged_once(row):
    """The same again is refused, so that one undo is enough, and it gives the old plan back."""
    before = row("plan", "--json").json["steps"]
    assert row("plan", "--log-away", "Nell 2026-11-25 to 2026-11-27").status == 0
    for again in ("Nell 2026-11-26", "Nell 2026-11-25 18:00-20:00"):
        ran = row("plan", "--log-away", again)
        assert (ran.status, ran.out) == (2, "")
        assert "Nell is logged as away on 2026-11-2" in ran.err
    assert row("plan", "--log-away", "Tam 2026-11-26").status == 0
    assert row("plan", "--undo-away").status == 0
    assert row("plan", "--undo-away").status == 0
    assert "nobody is logged as away" in row("plan", "--undo-away").err
    row("plan", "--log-away", "Nell 2026-11-25")
    shown = row("plan", "--json").json["steps"]
    row("plan", "--log-away", "Tam 2026-11-26")
    again = row("plan", "--undo-away", "--json").json["steps"]
    assert [(s["piece"], s["step"], s["start"]) for s in again] == [
        (s["piece"], s["step"], s["start"]) for s in shown
    ]
    assert before


def test_looking_for_a_better_plan_is_always_answered(row):
    """One line says whether one was found and whether that is proven, without asking why."""
    for options in ((), ("--take",), ("--why",)):
        out = row("plan", "--until-better", "0.5", *options).out
        assert sum(line.startswith("looked for 0.5 s: ") for line in out.splitlines()) == 1
    assert "looked for 0.5 s each" in row("plan", "--until-better", "0.5", "--drop", "lid").out
    assert "looked for" not in row("plan").out


def test_what_changed_is_told_by_piece_the_gravest_first(shop):
    """Promises broken come before what moved, each piece has one line, and the rest is counted."""
    job = shop.cwd / "jobs" / "letter-box.yaml"
    job.write_text(re.sub("due: .*", "due: 2026-12-09", job.read_text("utf-8")), "utf-8")
    assert shop("plan").status == 0
    ran = shop("plan", "--log-away", "Nell 2026-11-25 to 2026-11-29", "--days", "1")
    assert ran.status == 1
    lines = ran.out.splitlines()
    at = next(n for n, line in enumerate(lines) if line.startswith("changed since the last plan: "))
    # The counts may run on into a line of their own, which names no piece.
    said = [line for line in lines[at + 1 :] if line.startswith("  ")]
    told = [line for line in said if ": " in line or line.startswith("  and ")][:7]
    grave = [n for n, line in enumerate(told) if line.startswith("  ! ")]
    assert grave
    assert grave == list(range(len(grave)))
    pieces = [line.rsplit(": ", 1)[1] for line in told[: len(grave)]]
    assert len(set(pieces)) == len(pieces)
    assert told[-1].startswith("  and ")


def test_a_day_of_waits_is_no_day_of_work(cli):
    """A rest is listed on its day, with no work counted, and the days of work are those of hands.

    The coat is on Thursday, the rest begins on Friday, and rubbing out comes on Saturday.
    """
    (cli.cwd / "shop.yaml").write_text("shop: Row\npeople: [Ada]\nhours: [18:00-21:00]\n", "utf-8")
    for name in ("jobs", "schedules"):
        (cli.cwd / name).mkdir()
    (cli.cwd / "schedules" / "s.yaml").write_text(
        "schedule: s\ntitle: S\nsource: common practice\nstages:\n  - stage: body\n    steps:\n"
        "      - wipe: thin\n        product: wiping-varnish\n        amount: 25 ml/m2\n"
        "        hands_on: 10 min\n"
        "        wait: {earliest: 8 h, likely: 12 h, latest: 24 h}\n        dry_check: no tack\n"
        "  - stage: cure\n    steps:\n      - rest: on pins\n"
        "        wait: {earliest: 20 h, likely: 22 h, latest: 60 h}\n        dry_check: no smell\n"
        "      - rub out: light\n        grade: 0000 wool\n        hands_on: 10 min\n",
        "utf-8",
    )
    (cli.cwd / "jobs" / "j.yaml").write_text(
        "job: j\ntitle: J\npieces:\n"
        "  - {piece: a, title: A, schedule: s, faces: [{face: x, area: 0.1 m2}]}\n",
        "utf-8",
    )
    days = [
        line for line in cli("plan", "--days", "1").out.splitlines() if " 10 min of work" in line
    ]
    assert len(days) == 1
    assert "and 1 more day with work; plan --all lists it" in cli("plan", "--days", "1").out
    whole = cli("plan", "--all").out
    assert "< 1 min" not in whole
    assert whole.count("10 min of work") == 2

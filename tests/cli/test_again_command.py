"""What was made once is made again: a schedule as it was done, and a job as a template."""

from __future__ import annotations

import pytest

from finishsched.documents.decode import load


def test_a_finished_piece_gives_its_schedule_as_it_was_done(empty):
    """Waits are the median between the shortest and the longest, amounts and coats as logged."""
    (empty.cwd / "n.txt").write_text(
        "pad 1 lb blonde shellac, 2 h\n3 coats 2 lb, 10 min between, 8 h after the last\n", "utf-8"
    )
    assert "[no-cure]" in empty("say", "n.txt", "--as", "short", "--keep").out  # told, and kept
    assert empty("begin", "Lid", "--schedule", "short", "--faces", "0.1 m2").status == 0
    assert empty("again", "lid").status == 2
    for entry, at in (
        ("start", "08:00"), ("done", "08:00"), ("ready", "11:00"), ("done", "11:10"),
        ("ready", "11:20"), ("done", "11:30"), ("ready", "11:50"), ("done", "12:00"),
    ):  # fmt: skip
        assert empty("log", "lid", entry, "--at", f"2026-11-24 {at}").status == 0
    assert empty("log", "lid", "ready", "--at", "2026-11-24 22:00").status == 0
    ran = empty("again", "lid", "--as", "Lid as done", "--json")
    assert ran.status == 0, ran.err
    schedule = load(empty.cwd / "schedules/lid-as-done.yaml").model
    seal, body = schedule.step_plans()
    assert seal.waits.after.likely_s == 3 * 3600
    assert body.coats == (3,)
    assert body.waits.after.likely_s == 10 * 3600
    between = body.waits.between
    assert (between.earliest_s, between.likely_s) == (20 * 60, 20 * 60)
    assert "lid/lid" in schedule.notes
    found = empty("check", "schedules/lid-as-done.yaml", "--json").json["findings"]
    assert {one["rule"] for one in found} == {"no-cure"}


def test_what_a_cloth_kept_is_no_part_of_a_coat_as_it_was_done(empty):
    """Of 6.1 ml told for a thin coat on 0.1 m2 a dry cloth keeps 5 ml: 10 ml/m2 were laid.

    Coats that nobody measured were laid as the schedule says. Both were taken for six times that.
    """
    assert (
        empty("stock", "--bought", "boiled-linseed-oil: 500 ml", "--on", "2026-11-01").status == 0
    )
    assert (
        empty("begin", "Dish", "--schedule", "wiped-oil", "--faces", "0.1 m2", "--usual").status
        == 0
    )
    empty("log", "dish", "start", "--at", "2026-11-02 08:00")
    laid = []
    for day in range(3, 22):
        used = ("--used", "6.1 ml") if len(laid) == 3 else ()
        ran = empty("log", "dish", "done", *used, "--at", f"2026-11-{day:02} 08:00")
        laid += [ran.out] if "wipe" in ran.out.partition("next")[0] else []
        empty("log", "dish", "ready", "--at", f"2026-11-{day:02} 23:00")
    assert ["about" in told for told in laid] == [False, True, True, False]
    assert empty("again", "dish", "--as", "as done").status == 0
    steps = load(empty.cwd / "schedules/as-done.yaml").model.step_plans()
    amounts = [plan.spread.ml_per_m2 for plan in steps if plan.spread is not None]
    assert amounts == pytest.approx([30.0, 10.0], rel=0.02)


def test_a_job_is_a_template_for_the_next(empty):
    """The same pieces with their remarks, another name, and no date."""
    assert (
        empty("begin", "Lid of the tea box", "--wood", "cherry", "--due", "2026-12-18").status == 0
    )
    first = empty.cwd / "jobs/tea-box.yaml"
    first.write_text(first.read_text("utf-8").replace("faces:", "faces:  # measured"), "utf-8")
    assert empty("again", "tea-box", "--as", "Second tea box").status == 0
    second = empty.cwd / "jobs/second-tea-box.yaml"
    model = load(second).model
    assert (model.id, model.due, model.title) == ("second-tea-box", None, "Second tea box")
    assert "# measured" in second.read_text("utf-8")
    assert empty("check").status == 0

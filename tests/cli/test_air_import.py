"""``air --import`` and ``air --watch``: readings from files, each of them once."""

from __future__ import annotations

import json

import pytest

from finishsched.cli.air import air_files
from finishsched.journal.events import AirRead
from finishsched.journal.store import Journal

HEADER = "time,temperature C,humidity %\n"
TWO = f"{HEADER}2026-11-20 10:00,19.5,55\n2026-11-20 10:10,19.6,54\n"


@pytest.fixture
def bench(cli):
    """Return a caller inside a shop in Lisbon with nothing in its journal."""
    (cli.cwd / "shop.yaml").write_text("shop: Test bench\ntime_zone: Europe/Lisbon\n")
    return cli


def put(bench, text, name="log.csv"):
    """Write a file of readings beside the shop, and return its name."""
    (bench.cwd / name).write_bytes(text if isinstance(text, bytes) else text.encode())
    return name


def kept(bench):
    """Return the readings in the journal as wall time, degC, percent and source."""
    path = bench.cwd / "journal.db"
    if not path.exists():
        return []
    with Journal.open(path, create=False) as journal:
        found = [event for event in journal.events() if isinstance(event.what, AirRead)]
    return [
        (
            f"{event.at:%d %H:%M}",
            event.what.air.temperature_c,
            event.what.air.humidity_percent,
            event.what.source,
        )
        for event in found
    ]


def test_a_file_is_taken_and_summed_up(bench):
    """The summary tells how many from when to when, bad rows, gaps, and what was there."""
    put(bench, TWO)
    assert bench("air", "--import", "log.csv").status == 0
    more = "2026-11-20 10:20,19,50\n2026-11-20 17:20,18,50\n2026-11-20 17:30,18,150\n"
    put(bench, TWO + more)
    ran = bench("air", "--import", "log.csv")

    assert (ran.status, ran.err) == (0, "")
    assert " ".join(ran.out.split()).startswith(
        "log.csv: 2 readings from 2026-11-20 10:20 to 2026-11-20 17:20, 1 row skipped, "
        "1 gap of 7 h 00, 2 already there gap from 2026-11-20 10:20 to 2026-11-20 17:20 "
        "line 6 skipped: humidity '150' is outside 0 to 100 %"
    )
    assert [when for when, *_ in kept(bench)] == ["20 10:00", "20 10:10", "20 10:20", "20 17:20"]


def test_the_answer_in_json(bench):
    """The promised keys, instants in UTC, and each file by itself."""
    put(bench, f"{TWO}2026-11-20 18:00,x,50\n")
    put(bench, f"{HEADER}2026-11-21 10:00,19,50\n", "b.csv")
    data = bench("air", "--import", "log.csv", "--import", "b.csv", "--json").json

    assert data["imported"] == 3
    assert data["already_there"] == 0
    assert data["skipped"] == [{"file": "log.csv", "line": 4, "reason": "'x' is no temperature"}]
    assert data["first_at"] == "2026-11-20T10:00:00Z"
    assert data["last_at"] == "2026-11-21T10:00:00Z"
    assert data["gaps"] == []
    assert [(one["file"], one["imported"]) for one in data["files"]] == [
        ("log.csv", 2),
        ("b.csv", 1),
    ]


def test_importing_again_adds_nothing(bench):
    """The same readings under the same name or another are there already, and that is no fault."""
    put(bench, TWO)
    put(bench, TWO, "copy.csv")
    bench("air", "--import", "log.csv")
    for name in ("log.csv", "copy.csv"):
        ran = bench("air", "--import", name, "--json")
        assert (ran.status, ran.json["imported"], ran.json["already_there"]) == (0, 0, 2)
    assert len(kept(bench)) == 2


def test_a_file_of_bad_rows_alone_ends_with_no(bench):
    """Nothing good in it: the status says no, and the reasons are told, the first ten of them."""
    put(bench, HEADER + "2026-11-20 10:00,99,50\n" * 12)
    ran = bench("air", "--import", "log.csv")
    assert ran.status == 1
    assert ran.out.count("skipped: temperature '99'") == 10
    assert "and 2 more rows skipped" in ran.out
    assert kept(bench) == []


def test_a_fault_in_one_file_takes_none(bench):
    """Every file's fault is told in a line of its own, and not one reading is written."""
    put(bench, TWO)
    put(bench, "time,temp,rh\n03/11/2026 10:00,19,50\n", "dates.csv")
    put(bench, b"\x89PNG\x00\x00", "picture.csv")
    names = ("log.csv", "dates.csv", "picture.csv", "gone.csv")
    ran = bench("air", *(word for name in names for word in ("--import", name)))

    assert ran.status == 2
    assert [line.partition(": ")[0] for line in ran.err_lines] == [
        "dates.csv",
        "picture.csv",
        "--import",
    ]
    assert "--dates day-first" in ran.err
    assert kept(bench) == []
    assert bench("air", "--import", "dates.csv", "--dates", "day-first").status == 0
    assert [when for when, *_ in kept(bench)] == ["03 10:00"]


def test_the_last_reading_is_then_the_shops_air(bench):
    """What was imported is what a plain ``air`` answers from."""
    put(bench, TWO)
    bench("air", "--import", "log.csv")
    data = bench("air", "--json").json
    assert (data["temperature_c"], data["humidity_percent"]) == (19.6, 54.0)
    assert data["origin"] == "last reading"


def test_options_that_do_not_go_together(bench):
    """All of them are told at once, and nothing is done."""
    put(bench, TWO)
    ran = bench("air", "--import", "log.csv", "--watch", "log.csv", "--add", "--humidity", "50 %")
    assert (ran.status, len(ran.err_lines)) == (2, 3)
    assert bench("air", "--dates", "day-first").status == 2
    assert kept(bench) == []


class Minutes:
    """Stands in for sleeping: does one thing each time, then presses ctrl-C."""

    def __init__(self, *things):
        self._things = list(things)

    def __call__(self, _seconds):
        """Do the next thing."""
        if not self._things:
            raise KeyboardInterrupt
        self._things.pop(0)()


@pytest.fixture
def watch(bench, monkeypatch):
    """Return what watches a file while ``things`` happen, one between two looks."""

    def watching(*things, options=()):
        monkeypatch.setattr(air_files, "sleep", Minutes(*things))
        return bench("air", "--watch", "log.csv", *options)

    return watching


def append(bench, text):
    """Return what appends ``text`` to the file."""

    def do():
        with (bench.cwd / "log.csv").open("a") as file:
            file.write(text)

    return do


def nothing():
    """Let time go by."""


def test_watching_takes_what_is_there_and_then_each_new_row(bench, watch):
    """A summary of what was there, one line a reading, and ctrl-C is a good end."""
    put(bench, TWO)
    ran = watch(
        append(bench, "2026-11-20 10:20,20,50\n"), nothing, append(bench, "2026-11-20 10:30,x,50\n")
    )
    assert ran.status == 0
    assert ran.out.splitlines() == [
        "log.csv: 2 readings from 2026-11-20 10:00 to 2026-11-20 10:10",
        "2026-11-20 10:20  20 degC, 50 %",
    ]
    assert "line 5 skipped: 'x' is no temperature" in ran.err
    assert len(kept(bench)) == 3


def test_a_half_written_row_waits_for_its_end(bench, watch):
    """A reading is taken when its line is whole, with the whole figure."""
    put(bench, HEADER)
    ran = watch(
        append(bench, "2026-11-20 10:00,20,5"),
        lambda: kept(bench) == [] or pytest.fail("half a row was taken"),
        append(bench, "5\n"),
    )
    assert ran.out.splitlines()[-1] == "2026-11-20 10:00  20 degC, 55 %"
    assert kept(bench) == [("20 10:00", 20.0, 55.0, "log.csv")]


def test_a_file_that_is_emptied_replaced_or_gone_for_a_while(bench, watch):
    """Whatever becomes of the file, each of its readings is taken once."""
    put(bench, TWO)
    file = bench.cwd / "log.csv"
    ran = watch(
        lambda: put(bench, ""),
        lambda: put(bench, f"{HEADER}2026-11-20 10:20,20,50\n"),
        file.unlink,
        nothing,
        lambda: put(bench, "Zeit;Temperatur (°C);Feuchte %\n2026-11-20 10:30;21,5;50\n"),
        lambda: put(bench, f"{TWO}2026-11-20 10:40,20,50\n"),
    )
    assert ran.status == 0
    assert ran.err.count("waiting for it") == 1
    assert [when for when, *_ in kept(bench)] == [
        f"20 10:{minute}" for minute in ("00", "10", "20", "30", "40")
    ]


def test_watching_again_imports_nothing_twice(bench, watch):
    """A watch begun anew reads the file from its first line and takes only what is not there."""
    put(bench, TWO)
    watch()
    append(bench, "2026-11-20 10:20,20,50\n")()
    ran = watch(append(bench, "2026-11-20 10:30,20,50\n"))
    assert "1 reading from 2026-11-20 10:20 to 2026-11-20 10:20, 2 already there" in ran.out
    assert len(kept(bench)) == 4


def test_a_watch_outlives_a_fault_in_the_file(bench, watch):
    """Once begun, a file that makes no sense for a while is told once, and read when it does."""
    put(bench, TWO)
    ran = watch(
        lambda: put(bench, b"\x00\x00"),
        nothing,
        nothing,
        lambda: put(bench, f"{HEADER}2026-11-20 10:20,20,50\n"),
    )
    assert ran.status == 0
    assert ran.err.count("this is no text") == 1
    assert len(kept(bench)) == 3


def test_a_watch_on_nothing_is_refused(watch):
    """A name that is not there from the beginning is more likely mistyped than late."""
    ran = watch()
    assert (ran.status, len(ran.err_lines)) == (2, 1)
    assert "log.csv" in ran.err


def test_watching_in_json_is_one_object_a_line(bench, watch):
    """Each reading is an object on its own line, those that were there too."""
    put(bench, TWO)
    ran = watch(append(bench, "2026-11-20 10:20,20,50\n"), options=("--json",))
    lines = [json.loads(line) for line in ran.out.splitlines()]
    assert [line["at"] for line in lines] == [
        f"2026-11-20T10:{minute}:00Z" for minute in ("00", "10", "20")
    ]
    assert lines[0].keys() == {"at", "temperature_c", "humidity_percent"}

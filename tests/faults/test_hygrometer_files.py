"""Hygrometers' files that are huge, binary, endless or damaged, and full journals."""

from __future__ import annotations

import os
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from finishsched.journal.faults import JournalFaultError
from finishsched.workshop.air import imported as air_log
from finishsched.workshop.air.following import FollowedFile, read_file
from finishsched.workshop.air.hygrometer.cells import HygrometerFaultError
from finishsched.workshop.air.hygrometer.reading import LARGEST_FILE_BYTES, decode, read_hygrometer
from finishsched.workshop.base.workshop import Workshop

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
ZONE = ZoneInfo("Europe/Lisbon")
HEADER = "time,temperature C,humidity %\n"


def rows(count, every=timedelta(minutes=1)):
    """Write so many readings, the latest of them a little before now."""
    begin = NOW - count * every
    return "".join(
        f"{begin + n * every:%Y-%m-%d %H:%M:%S}Z,{18 + n % 50 / 10:.1f},{50 + n % 90 / 10:.1f}\n"
        for n in range(count)
    )


def test_a_file_that_is_too_large_is_refused_unread(tmp_path):
    """More than 50 MB is no log of readings; its size alone is enough to say so."""
    path = tmp_path / "huge.csv"
    with path.open("wb") as file:
        file.truncate(LARGEST_FILE_BYTES + 1)
    with pytest.raises(HygrometerFaultError, match=r"huge\.csv: 50 MB is too large"):
        read_file(path)
    with pytest.raises(HygrometerFaultError, match="too large"):
        FollowedFile(path).look()


@pytest.mark.skipif(os.name != "posix", reason="pipes by name are POSIX")
def test_a_pipe_is_refused_and_not_waited_for(tmp_path):
    """What may never end is not opened."""
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(HygrometerFaultError, match="no file"):
        read_file(tmp_path / "pipe")


def test_a_hundred_thousand_rows_are_read_whole():
    """A log of ten weeks, a reading each minute, loses none of them."""
    log = read_hygrometer(HEADER + rows(100_000), "log.csv", ZONE, NOW)
    assert (len(log.readings), log.skipped) == (100_000, ())


def test_damage_in_the_middle_costs_only_the_rows_that_it_hit():
    """Bytes of nought, as power cuts leave them, and a line without end are skipped by number."""
    text = f"{HEADER}{rows(200)}\x00\x00\x00\n{'9' * 20_000}\n{rows(1)}"
    log = read_hygrometer(text, "log.csv", ZONE, NOW)
    assert [row.line for row in log.skipped] == [202, 203]
    assert len(log.readings) == 201


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_the_encodings_that_loggers_write(encoding):
    """The degree sign comes through, so the unit in the header is known."""
    data = f"time,T °F,RH %\n{rows(3).replace(',1', ',6')}".encode(encoding)
    log = read_hygrometer(decode(data, "log.csv"), "log.csv", ZONE, NOW)
    assert len(log.readings) == 3
    assert all(15 < reading.temperature_c < 21 for reading in log.readings)


@given(data=st.binary(max_size=300))
@settings(max_examples=200, deadline=None)
def test_any_bytes_are_text_or_a_fault_of_ours(data):
    """Nothing that a file can hold brings anything but text or one line."""
    try:
        text = decode(data, "log.csv")
        read_hygrometer(text, "log.csv", ZONE, NOW)
    except HygrometerFaultError as error:
        assert "\n" not in str(error)  # noqa: PT017  # either way will do


def test_a_character_half_written_at_the_end_is_not_taken_for_another_encoding():
    """A file caught in the middle of a two-byte character stays UTF-8."""
    whole = "time,T °C,RH %\nÄ".encode()
    assert decode(whole[:-1], "log.csv") == "time,T °C,RH %\n"


def empty_shop(folder):
    """Open a shop with nothing in it but its name."""
    (folder / "shop.yaml").write_text("shop: Alder Lane Workshop\n", encoding="utf-8")
    return Workshop.open(folder, NOW)


def test_no_room_in_the_journal_takes_no_reading(tmp_path):
    """When the disk is full not one of the readings is written, and later all of them are."""
    log = read_hygrometer(HEADER + rows(3000), "log.csv", ZONE, NOW)
    with empty_shop(tmp_path) as shop:
        journal = shop._journal
        pages = journal._source.db.execute("PRAGMA page_count").fetchone()[0]
        journal._source.db.execute(f"PRAGMA max_page_count = {pages + 20}")
        with pytest.raises(JournalFaultError, match="no room"):
            air_log.keep_air(shop, [log], NOW)
        assert journal.events() == ()

        journal._source.db.execute("PRAGMA max_page_count = 100000")
        assert len(air_log.keep_air(shop, [log], NOW)[0].readings) == 3000
        assert journal.check() == []


def test_two_programs_that_import_one_file(tmp_path):
    """What another program took since we last looked is there already: it is judged in the lock."""
    log = read_hygrometer(HEADER + rows(50), "log.csv", ZONE, NOW)
    with empty_shop(tmp_path) as one, empty_shop(tmp_path) as other:
        assert one.book().air == other.book().air == ()
        assert len(air_log.keep_air(one, [log], NOW)[0].readings) == 50
        assert air_log.keep_air(other, [log], NOW)[0].already_there == 50
        assert len(one.book().air) == 50


def test_a_file_followed_through_everything(tmp_path):
    """Each whole line comes once while the file grows, and all anew when it is another file."""
    path = tmp_path / "log.csv"
    path.write_text("a\nb")
    followed = FollowedFile(path)
    assert followed.look().text == "a\n"
    assert followed.look() is None
    path.write_text("a\nb\nc\n")
    growth = followed.look()
    assert (growth.text, growth.from_the_top) == ("b\nc\n", False)
    path.write_text("x\n")
    growth = followed.look()
    assert (growth.text, growth.from_the_top) == ("x\n", True)
    path.unlink()
    with pytest.raises(FileNotFoundError):
        followed.look()
    path.write_text("x\ny\n")
    assert followed.look().text == "y\n"

"""The plan as a calendar file: read back by a reader of our own, held against RFC 5545."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from finishsched.reports.calendar import (
    CalendarBlock,
    EmptyCalendarError,
    NotOurCalendarError,
    calendar_text,
)

NOW = datetime(2026, 11, 25, 16, 0, tzinfo=UTC)
SHOP = "Harbour Lane"


def block(**changed):
    """Return an evening's coat with a wait, with changes."""
    usual = {
        "uid_parts": ("tea-chest/lid#body-2",),
        "title": "lid of the tea chest: pad on, coat 2",
        "start": NOW + timedelta(hours=2),
        "end": NOW + timedelta(hours=2, minutes=20),
        "ready_at": NOW + timedelta(hours=4),
        "place": "bench, by the window",
        "notes": "thin; then pad\nlet it lie",
    }
    return CalendarBlock(**{**usual, **changed})


def unfolded(data):
    """Return the content lines of a file: RFC 5545, 3.1."""
    return re.sub(rb"\r\n[ \t]", b"", data).decode("utf-8").split("\r\n")[:-1]


def read(data):
    """Return the components of a file as nested dicts: RFC 5545, 3.4 and 3.6."""
    stack = [{"inside": []}]
    for line in unfolded(data):
        name, _, value = line.partition(":")
        if name == "BEGIN":
            stack.append({"what": value, "inside": []})
        elif name == "END":
            ended = stack.pop()
            assert ended["what"] == value
            stack[-1]["inside"].append(ended)
        else:
            assert name not in stack[-1], f"{name} twice"
            stack[-1][name] = value
    (calendar,) = stack.pop()["inside"]
    return calendar


def text(value):
    """Return what an escaped TEXT says: RFC 5545, 3.3.11."""
    return re.sub(r"\\(.)", lambda sign: "\n" if sign[1] in "nN" else sign[1], value)


def test_a_file_has_what_the_standard_asks_for():
    """VERSION and PRODID, and UID, DTSTAMP and DTSTART in each event: RFC 5545, 3.6 and 3.6.1."""
    calendar = read(calendar_text(SHOP, [block()], NOW))
    assert (calendar["what"], calendar["VERSION"]) == ("VCALENDAR", "2.0")
    assert calendar["PRODID"]
    for event in calendar["inside"]:
        assert event["what"] == "VEVENT"
        assert event["UID"]
        for name in ("DTSTAMP", "DTSTART", "DTEND", "LAST-MODIFIED"):
            assert re.fullmatch(r"\d{8}T\d{6}Z", event[name]), "UTC: RFC 5545, 3.3.5, form 2"


def test_work_and_ready_are_two_events_with_an_alarm_each():
    """The alarms display words when their event begins: RFC 5545, 3.6.6 and 3.8.6.3."""
    work, ready = read(calendar_text(SHOP, [block()], NOW))["inside"]
    assert (work["DTSTART"], work["DTEND"]) == ("20261125T180000Z", "20261125T182000Z")
    assert ready["DTSTART"] == "20261125T200000Z"
    assert text(ready["SUMMARY"]) == "Ready to check: lid of the tea chest: pad on, coat 2"
    for event in (work, ready):
        (alarm,) = event["inside"]
        assert (alarm["what"], alarm["ACTION"]) == ("VALARM", "DISPLAY")
        assert alarm["TRIGGER"] in {"P0D", "PT0S", "PT0M"}
        assert alarm["DESCRIPTION"]


def test_a_wait_that_runs_has_its_alarm_alone():
    """Work that is done is no event any more, while its wait still is."""
    events = read(calendar_text(SHOP, [block(start=None, end=None)], NOW))["inside"]
    (ready,) = events
    whole = read(calendar_text(SHOP, [block()], NOW))["inside"]
    assert ready["UID"] == whole[1]["UID"]


WORDS = st.text(st.characters(exclude_categories=("Cs", "Co", "Cn")), max_size=120)


@given(title=WORDS, notes=WORDS, shop=WORDS)
def test_any_text_keeps_to_the_rules_for_lines(title, notes, shop):
    """Lines end in CRLF, hold at most 75 octets and whole signs, no control signs: 3.1, 3.3.11."""
    data = calendar_text(shop, [block(title=title, notes=notes)], NOW)
    assert data.endswith(b"\r\n")
    for line in data.split(b"\r\n"):
        assert len(line) <= 75
        assert line.decode("utf-8").isprintable()
    assert len(read(data)["inside"]) == 2


@given(title=st.text(st.characters(codec="utf-8", categories=("L", "P", "N", "S")), max_size=90))
@example(title="\\N")
def test_a_text_is_read_back_as_it_was(title):
    """Commas, semicolons and backslashes are escaped, and unescaped by their rule: 3.3.11."""
    work, _ready = read(calendar_text(SHOP, [block(title=title)], NOW))["inside"]
    assert text(work["SUMMARY"]) == title.replace("\\N", "\\ N")


def test_lines_of_notes_stay_lines():
    """A line end within a text is written as backslash and n: 3.3.11."""
    work, _ready = read(calendar_text(SHOP, [block()], NOW))["inside"]
    assert work["DESCRIPTION"] == r"thin\; then pad\nlet it lie"
    assert text(work["DESCRIPTION"]) == "thin; then pad\nlet it lie"
    assert text(work["LOCATION"]) == "bench, by the window"


def test_a_later_file_moves_the_same_events():
    """The identifier stays when the time and the words change, and the revision grows: 3.8.7.4."""
    first = read(calendar_text(SHOP, [block()], NOW))["inside"]
    later = NOW + timedelta(minutes=1)
    moved = block(start=later, end=later + timedelta(minutes=20), title="lid: another word")
    second = read(calendar_text(SHOP, [moved], later))["inside"]
    assert [event["UID"] for event in first] == [event["UID"] for event in second]
    assert all(int(b["SEQUENCE"]) > int(a["SEQUENCE"]) for a, b in zip(first, second, strict=True))
    assert int(second[0]["SEQUENCE"]) < 2**31


def test_identifiers_differ_where_shop_piece_or_step_do():
    """No two events of one file, nor of two shops, are taken for one."""
    blocks = [block(uid_parts=("a#1",)), block(uid_parts=("a#2",)), block(uid_parts=("a", "#2"))]
    uids = [
        event["UID"]
        for shop in (SHOP, "Mill Yard")
        for event in read(calendar_text(shop, blocks, NOW))["inside"]
    ]
    assert len(set(uids)) == len(uids) == 12


def test_what_is_not_planned_any_more_is_cancelled():
    """What an earlier file had ahead is sent as cancelled, also the next time; the past is not."""
    past = block(uid_parts=("b",), start=NOW - timedelta(hours=2), end=NOW, ready_at=None)
    first = calendar_text(SHOP, [block(), past], NOW)
    later = NOW + timedelta(minutes=5)
    second = calendar_text(SHOP, [], later, first)
    third = calendar_text(SHOP, [], later, second)
    for data in (second, third):
        events = read(data)["inside"]
        assert [event["STATUS"] for event in events] == ["CANCELLED", "CANCELLED"]
        assert {event["UID"] for event in events} == {
            event["UID"] for event in read(calendar_text(SHOP, [block()], NOW))["inside"]
        }
        assert not any(event["inside"] for event in events), "no alarm for what is cancelled"


def test_what_is_planned_again_is_no_longer_cancelled():
    """An event that comes back has its identifier once, and is confirmed."""
    cancelled = calendar_text(SHOP, [], NOW, calendar_text(SHOP, [block()], NOW))
    events = read(calendar_text(SHOP, [block()], NOW, cancelled))["inside"]
    assert [event["STATUS"] for event in events] == ["CONFIRMED", "CONFIRMED"]


@pytest.mark.parametrize(
    "earlier",
    [
        b"Dear diary,\r\n",
        b"\xff\xfe\x00",
        b"BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:other\r\nEND:VCALENDAR\r\n",
        b"BEGIN:VCALENDAR\r\nVERSION:2.0\r\n",
        calendar_text("Mill Yard", [block()], NOW),
    ],
)
def test_another_file_is_not_taken_for_ours(earlier):
    """What we did not write for this shop is refused, so that nobody's calendar is written over."""
    with pytest.raises(NotOurCalendarError):
        calendar_text(SHOP, [], NOW, earlier)


def test_a_summer_night_is_written_in_utc():
    """A time of another zone becomes the same instant in UTC."""
    night = datetime.fromisoformat("2026-06-01T00:30:00+02:00")
    late = block(start=night, end=night, ready_at=None)
    (work,) = read(calendar_text(SHOP, [late], NOW))["inside"]
    assert work["DTSTART"] == "20260531T223000Z"


def test_a_calendar_with_nothing_in_it_is_not_written():
    """A calendar holds at least one component: RFC 5545, 3.6."""
    with pytest.raises(EmptyCalendarError):
        calendar_text(SHOP, [], NOW)


@pytest.mark.parametrize(
    ("was", "is_"),
    [
        (b"DTSTART:20261125T180000Z\r\n", b""),
        (b"DTSTART:20261125T180000Z", b"DTSTART:20261125T180000"),
        (b"DTSTART:20261125T180000Z", b"DTSTART;VALUE=DATE:20261125"),
        (b"DTEND:20261125T182000Z", b"DTEND:20261125T182000"),
        (b"DTSTART:20261125T180000Z", b"DTSTART:soon"),
    ],
)
def test_an_event_that_a_hand_has_spoilt_is_left_alone(was, is_):
    """Neither cancelled nor in the way: the rest of the earlier file is cancelled as ever."""
    earlier = calendar_text(SHOP, [block()], NOW).replace(was, is_)
    cancelled = read(calendar_text(SHOP, [], NOW, earlier))["inside"]
    assert [text(event["SUMMARY"]).startswith("Ready") for event in cancelled] == [True]

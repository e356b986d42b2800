"""Entries and their JSON."""

from __future__ import annotations

import json
import uuid
from datetime import UTC, datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishsched.journal.events import (
    PAYLOADS,
    AirRead,
    BatchMixed,
    CautionsRead,
    DefectSeen,
    Draw,
    DryNotYet,
    DryReady,
    Event,
    HandsAway,
    LotBought,
    Noted,
    PaceSet,
    PictureAttached,
    PieceStarted,
    RagsDealtWith,
    ReworkTaken,
    ScheduleAdopted,
    StepDone,
    StepSkipped,
    StockCounted,
    SuppliesTold,
    Undone,
    WentEarly,
    as_json,
    from_row,
    random_id,
    to_row,
    utc_text,
)
from finishsched.journal.faults import JournalFaultError
from finishsched.model.shop import Air

AT = datetime(2026, 3, 1, 8, 30, tzinfo=UTC)

texts = st.text(st.characters(exclude_categories=["Cs"]), max_size=20)
figures = st.floats(allow_nan=False, allow_infinity=False)
maybe_figures = st.none() | figures
instants = st.datetimes(
    min_value=datetime(1971, 1, 1),  # noqa: DTZ001  # the zone is drawn apart
    max_value=datetime(2999, 1, 1),  # noqa: DTZ001
    timezones=st.integers(-14 * 60, 14 * 60).map(lambda m: timezone(timedelta(minutes=m))),
)
airs = st.builds(Air, figures, figures, figures, st.none() | instants)
payloads = st.one_of(
    st.builds(PieceStarted, texts, texts, texts, texts),
    st.builds(ScheduleAdopted, texts, texts, texts),
    st.builds(
        StepDone,
        texts,
        texts,
        texts,
        st.none() | figures,
        st.none() | figures,
        st.none() | airs,
        texts,
    ),
    st.builds(DryReady, texts, texts),
    st.builds(WentEarly, texts, texts, texts),
    st.builds(DryNotYet, texts, texts, texts),
    st.builds(StepSkipped, texts, texts, texts),
    st.builds(Noted, texts, texts),
    st.builds(DefectSeen, texts, st.none() | texts, texts, texts),
    st.builds(ReworkTaken, texts, st.integers(1, 9), texts, texts, texts, texts, texts, texts),
    st.builds(CautionsRead, st.lists(texts, max_size=3).map(tuple), texts),
    st.builds(RagsDealtWith, texts, texts, texts),
    st.builds(
        HandsAway,
        st.dates(),
        st.dates(),
        texts,
        st.none() | st.integers(0, 1439),
        st.none() | st.integers(0, 2880),
        texts,
        texts,
    ),
    st.builds(PaceSet, texts, texts, st.none() | figures, st.booleans(), texts),
    st.builds(PictureAttached, texts, texts, texts),
    st.builds(Undone, texts, texts),
    st.builds(AirRead, airs, texts),
    st.builds(LotBought, texts, texts, maybe_figures, maybe_figures, texts, texts),
    st.builds(
        BatchMixed,
        texts,
        texts,
        figures,
        maybe_figures,
        maybe_figures,
        st.lists(st.builds(Draw, texts, maybe_figures, maybe_figures), max_size=3).map(tuple),
        texts,
        texts,
    ),
    st.builds(StockCounted, texts, maybe_figures, maybe_figures, texts, texts),
    st.builds(SuppliesTold, texts, texts, figures, st.booleans(), texts, texts),
)
events = st.builds(
    Event, st.integers(1), st.just("0" * 32), instants, instants, st.none() | texts, payloads
)


@given(events)
def test_every_entry_reads_back_exactly(event):
    """What is written is what is read, for every kind and every value of its fields."""
    assert from_row(to_row(event)) == event


@given(events)
def test_every_entry_is_json_for_people(event):
    """Every entry becomes JSON with its kind, every field, and instants in UTC."""
    shown = json.loads(json.dumps(as_json(event), allow_nan=False))

    assert shown["kind"] == event.what.kind
    assert {"seq", "id", "at", "logged_at", "piece"} < set(shown)
    assert shown["at"].endswith("Z")


def test_kinds_are_those_already_written_in_journals():
    """The names of the kinds never change, or journals written before could not be read."""
    assert sorted(PAYLOADS) == [
        "air",
        "amend",
        "batch-mixed",
        "bottle-weighed",
        "cautions-read",
        "defect",
        "dry-not-yet",
        "dry-ready",
        "film-gauged",
        "hand-tested",
        "hands-away",
        "jar-tested",
        "joined",
        "lot-bought",
        "note",
        "pace",
        "picture",
        "piece-started",
        "rags-dealt-with",
        "rework",
        "schedule-adopted",
        "step-done",
        "step-skipped",
        "stock-counted",
        "supplies",
        "surface-read",
        "undo",
        "went-early",
        "zone-measured",
        "zone-stands",
    ]


@pytest.mark.parametrize(
    ("kind", "body", "wanted"),
    [
        ("note", '{"text": "chip on the edge"}', Noted("chip on the edge")),
        (
            "dry-not-yet",
            '{"step": "body/pad:1.2", "note": "drags"}',
            DryNotYet("body/pad:1.2", "", "drags"),
        ),
        (
            "step-done",
            (
                '{"step": "body/pad:1.2", "amount_ml": 12,'
                ' "air": {"temperature_c": 19, "humidity_percent": 55}}'
            ),
            StepDone("body/pad:1.2", amount_ml=12.0, air=Air(19.0, 55.0)),
        ),
    ],
)
def test_reads_bodies_as_they_stand_in_journals(kind, body, wanted):
    """A body written out by hand reads as the entry that it says."""
    assert (
        from_row(
            (1, "a", "2026-03-01T08:30:00.000000Z", "2026-03-01T08:30:00Z", None, kind, body)
        ).what
        == wanted
    )


def test_passes_over_keys_that_a_later_program_wrote():
    """A body with keys unknown here, even one named like ours, still reads."""
    body = '{"text": "dust", "photo": {"file": "a.jpg"}, "kind": "note"}'
    at = "2026-03-01T08:30:00.000000Z"

    assert from_row((7, "a", at, at, None, "note", body)).what == Noted("dust")


@pytest.mark.parametrize(
    "changed",
    [
        {"kind": "varnish-thrown"},
        {"body": "{"},
        {"body": "[]"},
        {"body": "{}"},
        {"body": '{"text": 5}'},
        {"body": '{"text": "a", "by": null}'},
        {"kind": "air", "body": '{"air": {"temperature_c": NaN, "humidity_percent": 50}}'},
        {
            "kind": "air",
            "body": '{"air": {"temperature_c": 1, "humidity_percent": 1' + "0" * 400 + "}}",
        },
        {
            "kind": "air",
            "body": '{"air": {"temperature_c": 1, "humidity_percent": 1,'
            ' "at": "2026-03-01T08:30:00"}}',
        },
        {"body": '{"text": ' + "[" * 100_000},
        {"at": "yesterday"},
        {"at": "2026-03-01T08:30:00"},
        {"logged_at": ""},
    ],
    ids=lambda changed: str(changed)[:40],
)
def test_names_the_entry_that_cannot_be_read(changed):
    """An unknown kind, a bad body or a bad instant is a fault that names the entry."""
    row = {"seq": 41, "id": "a", "at": "2026-03-01T08:30:00Z", "logged_at": "2026-03-01T08:30:00Z"}
    row |= {"piece": None, "kind": "note", "body": '{"text": "a"}'} | changed

    with pytest.raises(JournalFaultError, match="entry 41") as caught:
        from_row(tuple(row.values()))
    assert caught.value.remedy


@pytest.mark.parametrize(
    "what",
    [
        Noted("caf\udce9"),
        StepDone("a", amount_ml=float("nan")),
        StepDone("a", amount_g=float("inf")),
        AirRead(Air(20.0, 50.0, at=AT.replace(tzinfo=None))),
    ],
    ids=["half a character", "no number", "infinite", "local time"],
)
def test_refuses_what_would_not_read_back(what):
    """A text or figure that could not be read again is refused before it is written."""
    with pytest.raises(JournalFaultError, match="cannot be written"):
        to_row(Event(1, "a", AT, AT, None, what))


def test_refuses_a_time_without_a_zone():
    """An instant always says its zone."""
    with pytest.raises(JournalFaultError, match="without a zone"):
        to_row(Event(1, "a", AT.replace(tzinfo=None), AT, None, Noted("a")))


def test_stored_instants_sort_as_text():
    """Instants are stored so that the order of their texts is the order of time."""
    instants = [AT, AT + timedelta(microseconds=1), AT + timedelta(milliseconds=500)]
    texts = [to_row(Event(1, "a", at, AT, None, Noted("a")))[2] for at in instants]

    assert texts == sorted(texts)


def test_instants_are_shown_in_utc():
    """An instant in another zone is shown in UTC, without needless digits."""
    lisbon_summer = timezone(timedelta(hours=1))

    assert utc_text(datetime(2026, 7, 1, 9, 0, tzinfo=lisbon_summer)) == "2026-07-01T08:00:00Z"


def test_json_of_a_coat_has_every_field():
    """The JSON of an entry has the same keys whatever was left out."""
    event = Event(3, "ab", AT, AT, "box/lid", StepDone("body/pad:1.2", air=Air(19.0, 55.0, at=AT)))

    assert as_json(event) == {
        "seq": 3,
        "id": "ab",
        "at": "2026-03-01T08:30:00Z",
        "logged_at": "2026-03-01T08:30:00Z",
        "piece": "box/lid",
        "kind": "step-done",
        "step": "body/pad:1.2",
        "by": "",
        "batch": "",
        "amount_ml": None,
        "amount_g": None,
        "air": {
            "temperature_c": 19.0,
            "humidity_percent": 55.0,
            "movement_m_per_s": 0.1,
            "at": "2026-03-01T08:30:00Z",
        },
        "note": "",
        "moisture_percent": None,
        "given": "",
        "told": False,
        "reckoned": False,
        "jar_told": False,
        "let_down_ml": 0.0,
        "mixed_ml": None,
        "took_min": None,
    }


def test_json_of_a_batch_tells_of_each_draw_in_full():
    """Parts of an entry have every field too, those that were left out as nothing."""
    mixed = BatchMixed("jar 2", "flakes", 250.0, 240.0, draws=(Draw("tin", amount_g=52.0),))

    assert as_json(Event(1, "a", AT, AT, None, mixed))["draws"] == [
        {"lot": "tin", "amount_g": 52.0, "amount_ml": None}
    ]


def test_random_ids_are_version_4_uuids():
    """Ids are what Python's own uuid module takes for random UUIDs by RFC 9562, all different."""
    ids = {random_id() for _ in range(1000)}

    assert len(ids) == 1000
    assert all(uuid.UUID(id_).version == 4 for id_ in ids)
    assert all(uuid.UUID(id_).variant == uuid.RFC_4122 for id_ in ids)
    assert all(uuid.UUID(id_).hex == id_ for id_ in ids)

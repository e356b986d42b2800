"""Hours, people, rooms and stores in a shop's document."""

from datetime import date, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishsched.documents.decode import dump, read
from finishsched.documents.faults import DocumentFaultsError
from finishsched.model.hours import (
    Away,
    Extra,
    Holiday,
    Person,
    RuleHours,
    Span,
    WeeklyHours,
)
from finishsched.model.room import Fixture, HeldFor, Preparing, Room
from finishsched.model.schedule import Verb
from finishsched.model.shop import Shop

DAYS = st.dates(date(1000, 1, 1), date(9000, 12, 31))
PEOPLE = ("Ada", "Ben of the hill", "Çelik")


@st.composite
def spans(draw):
    """Draw a span of at most a day."""
    begin = draw(st.integers(0, 1439))
    length = draw(st.integers(1, 1439))
    return Span(begin, begin + length)


weekly = st.builds(
    lambda days, span: WeeklyHours(tuple(sorted(days)), (span,)),
    st.sets(st.integers(0, 6), min_size=1),
    spans(),
)
rules = st.builds(
    RuleHours,
    st.sampled_from(["FREQ=MONTHLY;BYDAY=1SU", "FREQ=WEEKLY;INTERVAL=2;BYDAY=TU,TH"]),
    st.datetimes(datetime(1900, 1, 1), datetime(2100, 1, 1)).map(  # noqa: DTZ001  # wall time
        lambda at: at.replace(second=0, microsecond=0)
    ),
    st.integers(1, 48).map(lambda quarters: quarters * 900.0),
)
lines = st.lists(weekly | rules, max_size=3).map(tuple)
verbs = st.lists(st.sampled_from(Verb), min_size=1, max_size=3, unique=True).map(tuple)
minutes = st.integers(0, 300).map(lambda count: count * 60.0)
who = st.sampled_from(["", *PEOPLE])


@st.composite
def shops(draw):
    """Draw a shop with all that the plan needs."""
    first = draw(DAYS)
    persons = tuple(
        Person(name, draw(verbs), draw(lines)) for name in PEOPLE if draw(st.booleans())
    )
    return Shop(
        "A shop", PEOPLE, persons=persons, hours=draw(lines),
        away=tuple(draw(st.lists(st.builds(
            lambda last, who, span: Away(first, max(first, last), who, span),
            DAYS, who, st.none() | spans()), max_size=2))),
        holidays=tuple(draw(st.lists(DAYS.map(lambda d: Holiday(d.month, d.day, d.year))
                                     | DAYS.map(lambda d: Holiday(d.month, d.day)), max_size=2))),
        extras=tuple(draw(st.lists(st.builds(Extra, DAYS, spans(), who), max_size=2))),
        rooms=tuple(draw(st.lists(st.builds(
            Room, st.sampled_from(["shop", "finishing room"]), minutes, st.booleans(),
            st.just(()) | verbs, st.none() | st.floats(0.1, 1e5), st.none() | st.floats(0, 1e5),
            st.none() | st.floats(1.0, 10.0)), max_size=2, unique_by=lambda room: room.name))),
        stores=tuple(draw(st.lists(st.builds(
            Fixture, st.sampled_from(["rack", "clamps"]), st.integers(1, 99), verbs,
            st.sampled_from(HeldFor)), max_size=2, unique_by=lambda store: store.name))),
        set_up=tuple(draw(st.lists(
            st.builds(Preparing, st.sampled_from(Verb), minutes, minutes), max_size=2))),
    )  # fmt: skip


@given(shops())
def test_a_shop_with_hours_comes_back_the_same(shop):
    """Hours, people, days away, rooms, stores and set-ups survive dumping and reading exactly."""
    text = dump(shop)
    assert read(text.encode(), "x").model == shop, text


@pytest.mark.parametrize(
    ("written", "days", "spans"),
    [
        ("Mon-Thu 18:30-21:30", (0, 1, 2, 3), [(1110, 1290)]),
        ("Sat 9:00-12:30, 13:30-17:00", (5,), [(540, 750), (810, 1020)]),
        ("Fri 22:00-1:00", (4,), [(1320, 1500)]),
        ("Fri-Mon 9-17", (0, 4, 5, 6), [(540, 1020)]),
        ("daily 20:00 - 24:00", tuple(range(7)), [(1200, 1440)]),
        ("tuesday and Thursday 18:00–21:00", (1, 3), [(1080, 1260)]),
    ],
)
def test_weekly_lines_as_people_write_them(written, days, spans):
    """Days in ranges and lists, several spans, past midnight: each is read as it is meant."""
    shop = read(f'shop: A\nhours: "{written}"\n'.encode(), "x").model
    assert shop.hours == (WeeklyHours(days, tuple(Span(*span) for span in spans)),)


def test_people_stay_names_until_one_has_more():
    """The old form is valid as ever, and mixes with records."""
    assert read(b"shop: A\npeople: [Ada, Ben]\n", "x").model.people == ("Ada", "Ben")
    shop = read(b"shop: A\npeople: [Ada, {name: Ben, skills: sand}]\n", "x").model
    assert shop.people == ("Ada", "Ben")
    assert shop.persons == (Person("Ben", (Verb.SAND,)),)


@pytest.mark.parametrize(
    ("body", "wanted"),
    [
        ("hours: Mon-Thu", "is no hours; write days and times"),
        ("hours: Mon-Thu 25:00-26:00", "'25:00' is no time of day"),
        ("hours: Mun 18:00-19:00", "'Mun' names no days"),
        ("hours: Mon 18:00-18:00", "is no time to work in"),
        ("hours: Mon 9:00-12:00, 11:00-13:00", "has times that overlap"),
        ("hours: [{rule: FREQ=HOURLY, start: 2026-01-01 9:00, length: 1 h}]", "no FREQ of days"),
        ("hours: [{rule: FREQ=WEEKLY;BYDAY=XX, start: 2026-01-01 9:00, length: 1 h}]",
         "is no recurrence rule"),
        ("hours: [{rule: FREQ=DAILY, start: 2026-02-30 9:00, length: 1 h}]", "no day with a time"),
        ("away: 2026-12-26 to 2026-12-24", "ends before it begins"),
        ("away: next week", "cannot be read"),
        ("away: Bo 2026-12-24", "nobody here is called 'Bo'"),
        ("extra: Fri 2026-11-26 18:00-21:00", "is a Thu, not a Fri"),
        ("extra: 2026-11-26", "cannot be read"),
        ("holidays: [31 Feb]", "is no holiday"),
        ("holidays: [2026-02-29]", "there is no day"),
        ("rooms: [{room: a}, {room: a}]", "there are two rooms 'a'"),
        ("rooms: [{room: a, mixing: 11}]", "is not a mixing factor"),
        ("stores: [{store: rack, capacity: 0, for: pad}]", "is not a capacity"),
        ("stores: [{store: rack, capacity: 1}]", "has no 'for'"),
        ("stores: [{store: rack, capacity: 1, for: polish}]", "is not a verb"),
        ("set_up: [{for: spray, before: 20}]", "20"),
        ("people: [{name: Ada, skils: sand}]", "has no key 'skils'"),
        ("people: [Ada, {name: Ada, skills: sand}]", "there are two 'Ada'"),
        ("people: {name: Ada}", "a list of people is wanted here"),
    ],
)  # fmt: skip
def test_each_fault_is_told_with_its_place(body, wanted):
    """Every way to write it wrong is one fault with a line, a column and what would be right."""
    with pytest.raises(DocumentFaultsError) as raised:
        read(f"shop: A\n{body}\n".encode(), "x")
    (fault,) = raised.value.faults
    assert fault.line == 2
    assert wanted in str(fault)

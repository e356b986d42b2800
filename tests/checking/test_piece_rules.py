"""Rules of jobs and shops at their edges, and what a document accepts."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from finishsched.documents.decode import read
from finishsched.documents.library import shipped_schedules
from finishsched.model.job import Face, Piece
from finishsched.workshop.defects.checks import open_spans

FACES = "faces: [{face: top, area: 0.06 m2}, {face: under, area: 0.06 m2}]"
EVENINGS = "hours: [Mon-Fri 18:00-21:00]\n"


def lid(schedule: str, *keys: str) -> str:
    """Return a piece of a schedule with more keys."""
    return "\n".join(("piece: lid", "title: Lid", f"schedule: {schedule}", *keys, FACES))


def window(likely: str, closes: str) -> str:
    """Return a body whose second coat has a window."""
    return f"""\
- stage: body
  steps:
    - brush: flow on
      product: oil-varnish
      coats: 2
      wait: {{earliest: 4 h, likely: {likely}, next_by: {closes}}}
      dry_check: no tack
"""


@pytest.mark.parametrize(
    ("code", "piece", "told"),
    [
        ("pores-unfilled", lid("padded-shellac-closed-pored", "species: red oak"), True),
        ("pores-unfilled", lid("wiping-varnish", "species: red oak"), False),
        ("pores-unfilled", lid("wiping-varnish", "species: red oak", "sheen: gloss"), True),
        ("pores-unfilled", lid("padded-shellac-closed-pored", "species: hard maple"), False),
        ("pores-unfilled", lid("veneer-glue-up", "species: oak", "sheen: gloss"), False),
        ("oily-wood", lid("tung-oil", "species: Indian rosewood"), True),
        ("oily-wood", lid("tung-oil", "species: walnut"), False),
        ("oily-wood", lid("waterborne-over-shellac", "species: teak"), False),
        ("oily-wood", lid("padded-shellac-open-pored", "species: teak"), False),
        ("veneer-thin", lid("padded-shellac-pattern", "veneer: 0.6 mm"), False),
        ("veneer-thin", lid("padded-shellac-pattern", "veneer: 0.45 mm"), True),
        ("veneer-through", lid("padded-shellac-pattern", "veneer: 0.45 mm"), False),
        ("veneer-through", lid("padded-shellac-pattern", "veneer: 0.2 mm"), True),
        ("veneer-through", lid("padded-shellac-pattern"), False),
        ("sheen-not-reached", lid("quick-shellac-insides", "sheen: high gloss"), True),
        ("sheen-not-reached", lid("padded-shellac-pattern", "sheen: flat"), True),
        ("sheen-not-reached", lid("padded-shellac-pattern", "sheen: gloss"), False),
        ("sheen-not-reached", lid("wiped-oil", "sheen: gloss"), True),
        ("due-too-soon", lid("quick-shellac-insides", "due: 2026-11-25"), True),
        ("due-too-soon", lid("quick-shellac-insides", "due: 2026-11-30"), False),
        ("relief-left", lid("padded-shellac-pattern", "species: walnut, maple"), False),
    ],
)
def test_wood_and_wishes(judge, code, piece, told):
    """Wood handbooks' pores, the arithmetic of sanding, sheens as practice has them."""
    assert (code in judge.piece(piece)) == told


@pytest.mark.parametrize(
    ("hours", "likely", "closes", "told"),
    [
        # Laid at 18 to 21 on a weekday: open at 2 to 5 at night and shut by 12 is never met.
        (EVENINGS, "8 h", "15 h", "window-too-short"),
        # The next evening is 21 to 27 h away: met every day but Friday.
        (EVENINGS, "8 h", "24 h", ""),
        (EVENINGS, "23 h", "27 h", ""),
        # Only a Saturday of ten hours can hold both coats.
        ("hours: [Mon-Fri 18:00-21:00, Sat 9:00-19:00]\n", "6 h", "9 h", "window-seldom"),
        ("", "8 h", "15 h", ""),
        # The first Sunday of each month only: a day is never soon enough.
        ("hours: [{rule: FREQ=MONTHLY;BYDAY=1SU, start: 2026-01-04 10:00, length: 3 h}]\n",
         "8 h", "48 h", "window-too-short"),
    ],
)  # fmt: skip
def test_windows_against_the_hours(judge, hours, likely, closes, told):
    """Worked by hand, hour by hour, from the hours that stand there."""
    shop = hours or "usual_air: {temperature: 20 degC, humidity: 50 %}\n"
    codes = judge.piece(lid("mine"), shop, window(likely, closes))
    assert codes & {"window-too-short", "window-seldom"} == ({told} if told else set())


def test_the_hours_of_everybody_count():
    """Spans of two people are joined, and one who has hours of their own brings them."""
    shop = read(
        b"shop: A\nhours: Mon 9:00-10:00\npeople:\n  - Nell\n"
        b"  - {name: Tam, hours: Mon 9:30-11:00}\n",
        "shop.yaml",
    ).model
    spans = open_spans(shop)
    assert {end - start for start, end in spans} == {120}
    assert len(spans) == 6


@pytest.mark.parametrize(("days", "told"), [(30, False), (300, False), (360, True), (800, True)])
def test_a_jar_is_past_its_life(judge, days, told):
    """Printed lives of mixed shellac: a year at the longest. The schedule takes five weeks."""
    codes = judge.piece(lid("padded-shellac-pattern"), jar_days=days)
    assert ("past-its-life" in codes) == told


@pytest.mark.parametrize(
    ("air", "schedule", "told"),
    [
        ("9 degC, humidity: 50 %", "waterborne-over-shellac", True),
        ("11 degC, humidity: 50 %", "waterborne-over-shellac", False),
        ("8 degC, humidity: 80 %", "wiped-oil", True),
        ("8 degC, humidity: 50 %", "wiped-oil", False),
        ("8 degC, humidity: 60 %", "padded-shellac-closed-pored", False),
    ],
)
def test_air_in_which_it_does_not_dry(judge, air, schedule, told):
    """Makers' data sheets: not below about 10 degC; oil below that in damp air not at all."""
    codes = judge.piece(lid(schedule), f"usual_air: {{temperature: {air}}}\n")
    assert ("air-stops-drying" in codes) == told


COLD = "shop: Corner\nusual_air: {temperature: 9 degC, humidity: 70 %}\n"


def test_what_is_accepted_is_silent_and_no_more(judge):
    """One rule is silenced, the other speaks on; a silence of nothing and a slip are told of."""
    assert {"room-too-cold", "room-too-humid"} <= judge.shop(COLD)
    accepted = f"{COLD}accepted:\n  - {{rule: room-too-cold, because: a cellar}}\n"
    assert {"room-too-cold", "idle-silence", "unknown-rule"}.isdisjoint(judge.shop(accepted))
    assert "room-too-humid" in judge.shop(accepted)
    warm = accepted.replace("9 degC", "19 degC")
    assert "idle-silence" in judge.shop(warm)
    assert "unknown-rule" in judge.shop(accepted.replace("room-too-cold", "room-to-cold"))


def test_silences_cannot_be_silenced(judge):
    """Accepting the rule about silences would hide them all."""
    text = f"{COLD}accepted:\n  - {{rule: idle-silence, because: I say so}}\n"
    assert "unknown-rule" in judge.shop(text)


def test_the_past_of_a_piece_is_left_out(judge):
    """A step that is behind a piece needs no hands, no jar and no date any more."""
    from dataclasses import replace

    from finishsched.checking.cases import PieceCase, ScheduleCase
    from finishsched.checking.findings import piece_findings

    schedule = ScheduleCase(shipped_schedules()["tung-oil"], judge.products)
    now = datetime(2026, 11, 25, 18, tzinfo=UTC)
    piece = Piece(
        "a", "A", "tung-oil", (Face("face", stated_area_m2=0.1, count=2),),
        due=(now + timedelta(days=3)).date(),
    )  # fmt: skip
    case = PieceCase(piece, schedule, now=now)
    assert "due-too-soon" in {finding.code for finding in piece_findings(case)}
    passed = frozenset(move.step.key for move in schedule.moves)
    assert piece_findings(replace(case, passed=passed)) == ()

"""Model objects as plain values and back."""

from datetime import UTC, date, datetime
from typing import NamedTuple

import pytest

from finishsched.model.job import Face, Job, Piece
from finishsched.model.plain import (
    PlainFormError,
    canonical_json,
    from_plain,
    to_plain,
)
from finishsched.model.schedule import (
    Rounds,
    Schedule,
    Stage,
    StageName,
    StepPlan,
    Verb,
    Wait,
    Waits,
)
from finishsched.model.shop import Air

SCHEDULE = Schedule(
    "s",
    "S",
    (
        Stage(
            StageName.BODY,
            (
                StepPlan("pad", Verb.PAD, "so", coats=(2,), waits=Waits(Wait(1.5, 2.0))),
                Rounds(2, (StepPlan("level", Verb.LEVEL, "so", grade=("P400", "P600")),)),
            ),
        ),
    ),
)
JOB = Job("j", "J", (Piece("p", "P", "s", (Face("top", 1.0, 2.0),), due=date(2026, 12, 1)),))
AIR = Air(19.5, 55.0, 0.1, datetime(2026, 11, 25, 18, 0, tzinfo=UTC))


@pytest.mark.parametrize("model", [SCHEDULE, JOB, AIR])
def test_there_and_back(model):
    """Plain values give back exactly the object that they were made of."""
    assert from_plain(type(model), to_plain(model)) == model


def test_the_hash_tells_content_not_order():
    """Equal content has an equal hash; a changed figure changes it."""
    again = from_plain(Schedule, dict(reversed(to_plain(SCHEDULE).items())))
    assert canonical_json(again) == canonical_json(SCHEDULE)
    assert '"coats":[2]' in canonical_json(SCHEDULE)


def test_keys_of_a_newer_program_are_passed_over():
    """An older program reads what a newer one wrote."""
    assert from_plain(Air, {**to_plain(AIR), "ozone_ppm": 3}) == AIR


@pytest.mark.parametrize(
    "data",
    [
        None,
        [],
        "x",
        {"temperature_c": "warm", "humidity_percent": 5.0},
        {"temperature_c": 3.0},
        {"temperature_c": True, "humidity_percent": 5.0},
    ],
)
def test_another_shape_is_refused(data):
    """Data that is not the wanted object raises its own fault."""
    with pytest.raises(PlainFormError, match="no Air"):
        from_plain(Air, data)


def test_a_named_tuple_is_never_kept() -> None:
    """It would be written as a list, which nothing reads back: that is a fault at once."""

    class Row(NamedTuple):
        name: str

    with pytest.raises(TypeError, match="must be a dataclass"):
        canonical_json({"rows": [Row("a")]})

"""How the bench says times, the air and bars."""

from datetime import UTC, date, datetime, timedelta

import pytest
from fakes import HOUR, MINUTE, NOW, ZONE, FakePiece
from rich.cells import cell_len

from finishsched.bench import words
from finishsched.bench.at_hand.next_thing import when
from finishsched.drying.air import air_answer
from finishsched.drying.clock import cure_clock
from finishsched.model.schedule import Wait
from finishsched.workshop.base.answers import AirView


@pytest.mark.parametrize(
    ("seconds", "up", "expected"),
    [
        (0, False, "< 1 min"),
        (59, False, "< 1 min"),
        (59, True, "1 min"),
        (61, True, "2 min"),
        (4 * 60, False, "4 min"),
        (72 * 60, False, "1 h 12"),
        (24 * 3600, False, "1 d"),
        (51 * 3600, False, "2 d 3 h"),
    ],
)
def test_span(seconds: float, up: bool, expected: str) -> None:  # noqa: FBT001
    """A length of time is two units at most; time left never promises less than there is."""
    assert words.span(seconds, up=up) == expected


def test_away() -> None:
    """An instant to come is 'in', one gone by is 'since'."""
    assert words.away(NOW + 72 * MINUTE, NOW) == "in 1 h 12"
    assert words.away(NOW - 4 * MINUTE, NOW) == "since 4 min"
    assert words.away(NOW, NOW) == "just now"


def test_wall_time_is_local_and_names_other_days() -> None:
    """Wall time is the shop's own, with the weekday within a week and the date beyond it."""
    assert words.wall(NOW, NOW, ZONE) == "18:42"
    assert words.wall(NOW + 19 * HOUR, NOW, ZONE) == "Thu 13:42"
    assert words.wall(NOW + 9 * 24 * HOUR, NOW, ZONE) == "4 Dec 18:42"


def test_wall_time_over_the_end_of_summer_time() -> None:
    """The same wall time twice in one night is told from the instants, not counted."""
    before = datetime(2026, 10, 25, 0, 30, tzinfo=UTC)
    assert words.wall(before, before, ZONE) == "02:30"
    assert words.wall(before + HOUR, before, ZONE) == "02:30"


def test_plain_strips_what_could_move_the_cursor() -> None:
    """Control and direction characters in a title never reach the terminal."""
    assert words.plain("a\x1b[31m\u202eb\n c") == "a[31mb c"


def test_air_says_when_it_is_not_a_reading() -> None:
    """The usual air is never passed off as a reading, and an old reading tells its age."""
    answer = air_answer(19, 55)
    usual = words.air(AirView(answer, None), NOW, ZONE, "degC")
    old = words.air(AirView(answer, NOW - 30 * HOUR, is_old=True), NOW, ZONE, "degC")
    assert usual[:3] == ("19 degC", "55 %", "usual air, no reading yet")
    assert old[2] == "read 1 d 6 h ago: too old, read it anew"


def test_temperature_in_the_shops_unit() -> None:
    """20 degC is 68 degF (definition of the Fahrenheit scale)."""
    assert words.temperature(20, "degF") == "68 degF"
    assert words.temperature(20.5, "degC") == "20.5 degC"


@pytest.mark.parametrize("width", range(1, 30))
def test_fit_is_exact(width: int) -> None:
    """A fitted text is as wide as asked, wide characters included."""
    assert cell_len(words.fit("木工 veneer and film", width)) == width


def test_wrap_never_exceeds_and_loses_no_word() -> None:
    """Every line fits, and the words come out as they went in."""
    text = "thin ovals then straight with the grain " * 3
    lines = words.wrap(text, 17)
    assert max(map(cell_len, lines)) <= 17
    assert " ".join(lines).split() == text.split()


def test_wrap_breaks_a_word_that_is_too_long() -> None:
    """A word longer than the line is broken, not cut off."""
    assert "".join(words.wrap("x" * 25, 10)) == "x" * 25


def test_wait_bar_grows_with_time_and_keeps_its_width() -> None:
    """The part gone by grows from nothing to the whole bar; the whole is always as wide."""
    wait = Wait(3600, 7200, 10800)
    gone = []
    for minutes in range(0, 200, 10):
        clock = cure_clock(wait, NOW, (), NOW + timedelta(minutes=minutes))
        left, right = words.wait_bar(clock, 30)
        assert len(left) + len(right) == 30
        gone.append(len(left))
    assert gone == sorted(gone)
    assert (gone[0], gone[-1]) == (0, 30)


def test_join_to_fit_drops_the_last_parts() -> None:
    """What does not fit is left out from the end."""
    assert words.join_to_fit(("19 °C", "55 %", "dew 9.8 °C"), 14) == "19 °C · 55 %"


def test_a_due_date_of_another_year_has_its_year() -> None:
    """In the list's column a date of this year stands bare, one of the next with its year."""
    case = FakePiece("tea-box/case", "Case", coat=4, due=date(2026, 12, 26))
    assert when(case.view(NOW), NOW) == "due 26 Dec"
    case.due = date(2027, 1, 3)
    assert when(case.view(NOW), NOW) == "3 Jan 2027"

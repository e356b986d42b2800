"""Lines of a notebook become a schedule: what they say, what they leave open, what is assumed."""

from __future__ import annotations

import pytest
from drawn_models import schedules
from hypothesis import HealthCheck, Phase, given, settings
from lines_said import PRODUCTS, said, steps

from finishsched.documents import library
from finishsched.documents.lines.read import Context, read_lines
from finishsched.documents.lines.words import WORDS
from finishsched.documents.lines.write import lines_of
from finishsched.model.film import BareGrades, Reach
from finishsched.model.schedule import Rounds, StageName, Verb
from finishsched.units import CUT, read


@settings(
    max_examples=10, deadline=None, phases=(Phase.explicit, Phase.reuse, Phase.generate),
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)  # fmt: skip
@given(schedules)
def test_what_is_written_as_lines_reads_back_to_the_same_schedule(schedule):
    """Any schedule at all, with any text in it, to the last bit of every figure."""
    text = lines_of(schedule)
    found = read_lines(text, "x", Context({}))
    assert found.schedule == schedule, text
    assert not found.doubts
    assert not found.assumed


@pytest.mark.parametrize("name", library.schedule_names())
def test_the_shipped_schedules_go_into_lines_and_back(name):
    """What people wrote does, read by a shop that has the products."""
    schedule = library.shipped_schedule(name).model
    assert said(lines_of(schedule)).schedule == schedule


NOTEBOOK = """
sand 120, 180, 240            # by hand
pad 1.5 lb blonde shellac, soak, 3 h
6 coats 2 lb, 15 min between, overnight
wet sand 500, 3 h
4 coats, then 800
thin by half, last 4 coats
cure 5 days
"""


def test_a_page_of_a_notebook_says_a_whole_schedule():
    """The trade's short words: grades in a row, coats and cuts, wet sanding, thinning by half."""
    found = said(NOTEBOOK)
    assert found.schedule is not None
    assert [stage.name for stage in found.schedule.stages] == [
        StageName.PREPARE, StageName.SEAL, StageName.BODY, StageName.POLISH, StageName.CURE,
    ]  # fmt: skip
    sand, seal, six, wet, four, eight_hundred, thin, cure = steps(found)
    assert isinstance(found.schedule.stages[0].steps[0], Rounds)
    assert (sand.verb, sand.grade, sand.lubricant) == (Verb.SAND, ("P120", "P180", "P240"), "dry")
    assert seal.product == "shellac-dewaxed-blonde"
    assert seal.cut_g_per_l == (read("1.5 lb", CUT),)
    assert "soak" in seal.how
    assert seal.waits.after.likely_s == 3 * 3600
    assert (six.verb, six.coats, six.product) == (Verb.PAD, (6,), "shellac-dewaxed-blonde")
    assert (six.waits.between.likely_s, six.waits.after.likely_s) == (15 * 60, 12 * 3600)
    assert (wet.verb, wet.grade, wet.lubricant) == (Verb.LEVEL, ("P500",), "water")
    assert (four.coats, four.cut_g_per_l) == ((4,), six.cut_g_per_l)
    assert (eight_hundred.verb, eight_hundred.lubricant) == (Verb.LEVEL, "water")
    assert (thin.coats, thin.cut_g_per_l) == ((4,), (read("1 lb", CUT),))
    assert (cure.verb, cure.waits.after.likely_s) == (Verb.REST, 5 * 86400)


def test_every_doubt_is_asked_and_every_answer_taken():
    """Half the cut for all coats or down to it, which paper, and what an answer changes."""
    found = said(NOTEBOOK, grades=None)
    assert [doubt.key for doubt in found.doubts] == ["grades", "7:thin"]
    settled = said(NOTEBOOK, None, {"grades": "CAMI", "7:thin": "down"})
    assert not settled.doubts
    *_, thin, _ = steps(settled)
    assert thin.thin_to_g_per_l == read("1 lb", CUT)
    assert thin.cut_g_per_l == (read("2 lb", CUT),)
    assert steps(settled)[0].grade == ("CAMI 120", "CAMI 180", "CAMI 240")


def test_the_last_coats_may_be_of_those_before():
    """Asked; and then those before are fewer."""
    text = "pad 10 coats 2 lb blonde shellac, 10 min between, overnight\nthin by half, last 4 coats"
    asked = {doubt.key: doubt.usual for doubt in said(text).doubts}
    assert asked["2:last"] == "more"
    answers = {"2:last": "of-those", "2:thin": "even"}
    ten, four = steps(said(text, answers=answers))
    assert (ten.coats, four.coats) == ((6,), (4,))


def test_one_time_for_several_coats_is_a_doubt():
    """It may be waited between them or after the last; a short one is taken for between."""
    (doubt,) = said("brush 3 coats 2 lb blonde shellac, 20 min").doubts
    assert (doubt.key, doubt.usual) == ("1:wait", "between")
    (doubt,) = said("brush 3 coats 2 lb blonde shellac, 8 h").doubts
    assert doubt.usual == "after"


def test_fad_and_stiff_are_ways_to_pad():
    """The first wet coats with wool alone, the last half dry and straight: each in its stage."""
    found = said("fad 1 lb garnet shellac, 2 h\npad 6 coats 2 lb, overnight\nstiff 1 lb, overnight")
    stages = [(stage.name.value, plan) for stage in found.schedule.stages
              for plan in stage.step_plans()]  # fmt: skip
    assert [(name, plan.verb.value) for name, plan in stages] == [
        ("seal", "pad"), ("body", "pad"), ("polish", "pad"),
    ]  # fmt: skip
    assert stages[0][1].tool == "fad of wool alone, no cover"
    assert "half-dry pad" in stages[2][1].how
    assert not any("refreshed-polish" in each.says for each in found.assumed)


def test_nothing_is_filled_in_silently():
    """Each key of the schedule that the lines did not say is among what is told as assumed."""
    found = said("pad 6 coats 2 lb blonde shellac, 15 min between, overnight")
    (step,) = steps(found)
    assert {each.key for each in found.assumed} == {
        "how", "tool", "amount", "hands_on", "wait", "dry_check",
    }  # fmt: skip
    assert step.spread is not None
    assert any("likely" in each.says for each in found.assumed)
    assert found.schedule.source.endswith("our assumption")


@pytest.mark.parametrize(
    ("line", "cut"),
    [
        ("pad 2 lb", "2 lb"), ("pad 2-lb cut", "2 lb"), ("pad 240 g/L", "240 g/L"),
        ("pad 20 %w/v", "20 %w/v"), ("pad 1 1/2 lb", "1.5 lb"), ("pad 1½ lb", "1.5 lb"),
        ("pad 1.5 lb/impgal", "1.5 lb/impgal"), ("pad 2 pounds", "2 lb"),
    ],
)  # fmt: skip
def test_a_cut_is_taken_in_any_unit(line, cut):
    """As every other door of the program takes it."""
    (step,) = steps(said(f"{line} blonde shellac, 3 h"))
    assert step.cut_g_per_l == (read(cut, CUT),)


@pytest.mark.parametrize(
    ("line", "wait"),
    [
        ("rest 2 to 3 days", (2, 3, None)), ("rest 2-3 days", (2, 3, None)),
        ("rest 2 days to 3 days to 1 week", (2, 3, 7)),
    ],
)  # fmt: skip
def test_a_wait_may_be_a_range(line, wait):
    """Earliest, likely and, where it is written, latest."""
    (step,) = steps(said(line))
    after = step.waits.after
    latest = after.latest_s and after.latest_s / 86400
    assert (after.earliest_s / 86400, after.likely_s / 86400, latest) == wait


def test_rounds_are_lines_below_or_on_the_line():
    """Both say the same schedule."""
    one = said(
        "2 rounds: 6 coats 2 lb blonde shellac, 15 min between, overnight, then wet sand 500"
    )
    other = said(
        "2 rounds:\n  6 coats 2 lb blonde shellac, 15 min between, overnight\n  wet sand 500\n"
    )
    assert one.schedule == other.schedule
    (group,) = one.schedule.stages[0].steps
    assert (group.rounds, len(group.steps)) == (2, 2)


def test_every_word_of_the_table_says_its_step():
    """Each by itself on a line of one page; what is sanded over a film is levelled."""
    meant = {word: WORDS[word].verb for word in WORDS if WORDS[word].verb and "-" not in word}
    page = steps(said("\n".join(["pad 1 lb shellac", *meant])))
    over_film = {Verb.SAND: Verb.LEVEL}
    found = dict(zip(meant, (step.verb for step in page[1:]), strict=True))
    assert found == {word: over_film.get(verb, verb) for word, verb in meant.items()}


def test_words_of_levelling_say_how_far():
    """Cutting back is a step of its own, flush goes far, scuffing only breaks the shine."""
    coats = "pad 2 coats 2 lb blonde shellac, 10 min between, 12 h after"
    text = f"{coats}\ncut back 320 dry\nscuff 400\nlevel 500 flush"
    _, back, scuff, level = steps(said(text))
    assert back.verb is Verb.CUT_BACK
    assert (scuff.reach, level.reach) == ((Reach.SCUFF,), (Reach.FLUSH,))


def test_all_faults_are_told_at_their_places():
    """A misspelt word, two steps in one, a wrong wait and an unknown answer, all at once."""
    context = Context(PRODUCTS, (), BareGrades.FEPA, {"9:wait": "after"})
    found = read_lines("pad 6 coates 2 lb\nsand 240 brush 2 lb, 3 h, 5 h\n", "n.txt", context)
    told = [str(fault) for fault in found.faults]
    assert found.schedule is None
    assert any(
        line.startswith("n.txt:1:7: 'coates'") and line.endswith("'coats'?") for line in told
    ), told
    assert any(line.startswith("n.txt:2:10: 'sand' and 'brush' are two steps") for line in told)
    assert any("says a wait again" in line for line in told)
    assert any("nothing asks '9:wait'" in line for line in told)


def test_quotes_hold_any_words():
    """Commas, 'then' and '#' within quotes are words of how it is done."""
    (step,) = steps(said('pad 2 lb blonde shellac, 3 h, how "glide on, then lift # moving"'))
    assert step.how == "glide on, then lift # moving"


def test_nothing_at_all_is_a_fault():
    """An empty page says so, once."""
    assert [fault.rule for fault in said("# nothing\n").faults][:1] == ["bad-line"]

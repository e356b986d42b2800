"""Lines of a notebook become a schedule: what they say, what they leave open, what is assumed."""

from __future__ import annotations

import pytest
from drawn_models import schedules
from hypothesis import HealthCheck, Phase, given, settings

from finishsched.documents import library
from finishsched.documents.lines.read import Context, read_lines
from finishsched.documents.lines.words import WORDS
from finishsched.documents.lines.write import lines_of
from finishsched.model.film import BareGrades, Reach
from finishsched.model.schedule import Rounds, StageName, Verb
from finishsched.units import CUT, read

PRODUCTS = library.shipped_products()


def said(text: str, grades: BareGrades | None = BareGrades.FEPA, answers=None):
    """Read lines as a shop would that has the shipped products and schedules."""
    shipped = tuple(library.shipped_schedules().values())
    context = Context(PRODUCTS, shipped, grades, answers or {})
    return read_lines(text, "notebook", context, "own")


def steps(found):
    """Return the steps as written, in order, rounds opened."""
    assert found.schedule is not None, [str(fault) for fault in found.faults]
    return list(found.schedule.step_plans())


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


@pytest.mark.parametrize(
    ("line", "steps"),
    [
        ("sand to 220, blow off the dust", ["sand", "tack off"]),
        ("scrape and sand 150, 220, 320", ["scrape", "sand"]),
        ("raise the grain with a damp rag, let dry 2 hours, knock back with 320",
         ["raise grain", "rest", "sand"]),
        ("body up with 2 lb, 6 sessions, one a night", ["pad"]),
        ("pad on 2 lb, straight strokes, 4 coats a half hour apart", ["pad"]),
        ("brush two thin coats of 2 lb, 90 min between", ["brush"]),
        ("3 x 6 coats 2 lb, 1 hour between coats, overnight between rounds", ["pad"]),
        ("3 rounds of 4 coats 1.5#, 20 minutes in between, then level with 600", ["pad", "level"]),
        ("pad 6 coats 2 lb, wait three days, then wet sand 400", ["pad", "level"]),
        ("wet sand 800 with soapy water, wipe dry, 4 hours", ["level"]),
        ("let it sink for two weeks", ["rest"]),
        ("let harden 14 days before rubbing out", ["rest"]),
        ("stiffen with 1 lb in straight strokes, two coats, 2h", ["pad"]),
        ("ghost coats: 4 at 3/4 lb, 10 min", ["pad"]),
        ("25% solution, 3 coats padded, 45 minutes", ["pad"]),
        ("buff", ["burnish"]),
    ],
)  # fmt: skip
def test_lines_as_makers_write_them_say_these_steps(line, steps):
    """Numbers in words, commas between steps, sessions, French polishing's words."""
    found = said(line)
    assert found.faults == ()
    assert [plan.verb.value for plan in found.schedule.step_plans()] == steps


def test_rounds_on_a_line_have_their_own_waits():
    """Between coats is within a round; between rounds is after its last coat."""
    found = said("3 x 6 coats 2 lb, half an hour between coats, overnight between rounds")
    (item,) = found.schedule.stages[0].steps
    assert item.rounds == 3
    waits = item.steps[0].waits
    assert (waits.between.likely_s, waits.after.likely_s) == (1800, 12 * 3600)


def test_a_percentage_is_taken_as_weight_in_volume_and_told():
    """Nothing is guessed silently: what 25 % means is among the assumptions."""
    found = said("25% solution, pad 1 coat, 1 h")
    assert any("25 %w/v" in each.says for each in found.assumed)


@pytest.mark.parametrize(
    ("line", "remedy"),
    [
        ("repeat until full", "3 rounds:"), ("wax next day", "rest 1 day, then"),
        ("sand 320 between coats", "20 min between"),
    ],
)  # fmt: skip
def test_a_word_in_the_wrong_place_says_what_to_write(line, remedy):
    """Never what it says already, and nothing is guessed."""
    faults = said(line).faults
    assert any(remedy in fault.remedy for fault in faults)


@pytest.mark.parametrize(
    ("lines", "verbs"),
    [
        ("pad 2 lb\n3 evenings bodying, 2 lb, 6 coats each", ["pad", "pad"]),
        ("bodying: 3 evenings of 5 coats 2 lb", ["pad"]),
        ("body up with 20 % shellac, four passes an evening for three days", ["pad"]),
        ("(8 coats 2 lb > overnight > ws600) x 3", ["pad", "level"]),
        ("120-150-180-220", ["sand"]),
        ("2x seal 1#\n8x body 2#, 20m btw, o/n\nWS600", ["pad", "pad", "level"]),
        ("pumice with 1 lb until pores are full, overnight", ["fill"]),
        ("stiffing with meths", ["spirit off"]),
        ("spray vinyl sealer, 1 hr", ["spray"]),
        ("danish oil, flood on, wipe off after 15 min, 24 h\nsecond coat same as first",
         ["wipe", "wipe"]),
        ("buff with a soft cloth after 3 days", ["rest", "burnish"]),
        ("dampen & de-nib 240", ["raise grain", "sand"]),
        ("wipe on water dye, walnut", ["stain"]),
        ("size with 1 lb, sand 220", ["pad", "level"]),
        ("fill gaps w epoxy, 24h, level 180", ["fill", "level"]),
        ("tape off the edges", ["mask"]),
        ("vacuum and wipe with alcohol", ["tack off", "tack off"]),
        ("buff with a 000 pad, remove all dust", ["burnish", "tack off"]),
        ("flood on oil, then wipe off any excess", ["wipe"]),
        ("sand 240 and get rid of the dust", ["sand", "tack off"]),
        ("let the oil dry for at least a week", ["rest"]),
        ("apply wood filler and allow to dry", ["fill"]), ("wipe with a tack cloth", ["tack off"]),
        ("wet up with methylated spirits", ["tack off"]),
        ("scrape off the old glue, 180, 220", ["scrape", "sand"]),
        ("pad 1 lb\n2 hrs later scuff with grey pad", ["pad", "rest", "level"]),
        ("wipe on tung oil, wipe after 20 min", ["wipe"]), ("buff w/ compound", ["burnish"]),
        ("3 coats lacquer @ 45 min, scuff 320", ["spray", "level"]),
        ("8 coats 2#/ 30 min/ 12 h", ["pad"]), ("beeswax polish, buff", ["wax", "burnish"]),
        ("raw linseed oil, rub in, wipe off after 30 min", ["wipe"]),
        ("spray 2 mist coats lacquer, 20 min apart", ["spray"]),
        ("wetsand 1000/1500", ["level"]),
        ("pad 2 lb\nat least 3 more layers", ["pad", "pad"]),
    ],
)  # fmt: skip
def test_shorthand_and_other_words_of_the_trade(lines, verbs):
    """Notebooks of French polishers, sprayers, oilers and beginners, as they write them."""
    found = said(lines)
    assert [plan.verb.value for plan in steps(found)] == verbs


def test_rounds_of_evenings_wait_till_the_next_one():
    """Four passes an evening for three days: three rounds of four, overnight in between, told."""
    found = said("body up with 20 % shellac, four passes an evening for three days")
    (item,) = found.schedule.stages[0].steps
    assert (item.rounds, item.steps[0].coats) == (3, (4,))
    assert item.steps[0].waits.after.likely_s == 12 * 3600
    assert any("overnight" in each.says for each in found.assumed)


@pytest.mark.parametrize(
    ("line", "share"),
    [
        ("brush varnish 50/50 with spirits", 50.0), ("brush varnish thinned 3:1", 25.0),
        ("brush 1 part varnish 1 part mineral spirits", 50.0),
        ("brush varnish, 10 % thinner", 10.0),
        ("brush varnish cut in half", 50.0),
    ],
)  # fmt: skip
def test_a_ratio_is_parts_of_finish_to_thinner(line, share):
    """However it is written, the share of thinner in what is laid on."""
    (step,) = steps(said(line))
    assert step.thinned_percent == pytest.approx((share,))


def test_words_that_nothing_knows_are_asked_and_kept():
    """They are how it is done, or left out: never dropped unasked."""
    found = said("brush blonde shellac 2 lb straight from the tin, 2 h")
    (doubt,) = (each for each in found.doubts if each.key == "1:words")
    assert "'straight from the tin'" in doubt.question
    assert steps(found)[0].how == "straight from the tin"
    left_out = said(
        "brush blonde shellac 2 lb straight from the tin, 2 h", answers={"1:words": "out"}
    )
    assert "tin" not in steps(left_out)[0].how


def test_two_times_are_between_the_coats_and_after_the_last():
    """Taken so for several coats, and told."""
    found = said("pad 4 coats 2 lb blonde shellac, 20 min, 12 h")
    (step,) = steps(found)
    assert (step.waits.between.likely_s, step.waits.after.likely_s) == (1200, 12 * 3600)
    assert any("first time is between" in each.says for each in found.assumed)


@pytest.mark.parametrize(
    ("line", "remedy"),
    [
        ("no recoat before 2 h", "in quotes"), ("fill again if needed, 48 h", "leave the word out"),
        ("5-7 coats 1 lb", "how many you mean"), ("2 coats 1 lb, 3", "what it counts"),
        ("pad 3 or 4 more coats, 5 min between", "how many you mean"),
        ("stain and varnish", "a line for each"), ("80 through to 220", "commas"),
        ("rub each coat with 0000 wool", "4 rounds:"), ("brush thinned varnish", "say how far"),
    ],
)  # fmt: skip
def test_what_cannot_be_taken_says_what_to_write(line, remedy):
    """A word that would turn the meaning is never read over."""
    assert any(remedy in fault.remedy for fault in said(line).faults)


def test_a_second_coat_is_one_coat_and_no_second():
    """'a second coat' is no wait of a second."""
    found = said("brush 2 lb blonde shellac, 3 h\nbrush on a second thin coat, 3 h")
    assert steps(found)[1].waits.after.likely_s == 3 * 3600


@pytest.mark.parametrize("verb", ["dip", "steam", "bleach", "neutralise", "scrape", "cut back"])
def test_a_verb_that_no_schedule_shows_is_filled_in_by_common_practice(verb):
    """What a notebook leaves out has its hands-on time, and its wait where it is left wet."""
    found = said(verb)
    (plan,) = steps(found)
    assert plan.hands_on.minutes(0.1) > 0
    assert (plan.waits is not None) == plan.verb.does.must_dry
    assert "no schedule shows" not in str(found.assumed)


def test_masking_waits_for_nothing():
    """No wait of a glue-up is borrowed for tape."""
    (plan,) = steps(said("mask the edge"))
    assert plan.waits is None


def test_minutes_and_a_cut_that_is_thinned_are_no_guess():
    """10' is minutes, no grade; whether a cut is that before thinning is asked."""
    (body,) = steps(said("body 10x 2 lb blonde shellac 10'"))
    assert (body.coats, body.waits.between.likely_s) == ((10,), 600)
    text = "pad 3 coats 1 lb blonde shellac thinned 1:1"
    assert any(doubt.key == "1:thin" for doubt in said(text).doubts)
    assert steps(said(text))[0].cut_g_per_l == pytest.approx((read("0.5 lb", CUT),), rel=1e-3)
    kept = steps(said(text, answers={"1:thin": "laid"}))[0]
    assert kept.cut_g_per_l == (read("1 lb", CUT),)

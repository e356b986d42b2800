"""Lines as makers write them: shorthand, ratios, percentages, several times in one line."""

from __future__ import annotations

import pytest
from lines_said import said, steps

from finishsched.units import CUT, read


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

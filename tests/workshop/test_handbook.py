"""The handbook: every page there is, complete, true to the program, and fit for a narrow screen."""

from __future__ import annotations

import re
import shlex
from importlib import resources

import click
import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishsched.bench.keys import BOARD, DRY_CHECK, shown_list
from finishsched.checking.defects.seen import Seen
from finishsched.cli.program import COMMANDS, TOPICS, program
from finishsched.documents.library import schedule_names, shipped_schedule
from finishsched.drying.air import (
    BLUSH_MARGIN_K,
    FILM_COOLING,
    LEAST_ROOM_C,
    MOST_HUMIDITY_FOR_ALCOHOL_PERCENT,
    MOST_HUMIDITY_PERCENT,
    emc_percent,
    film_surface_c,
)
from finishsched.drying.clock import LOOK_AGAIN_SHARE, SHORTEST_LOOK_AGAIN_S
from finishsched.drying.figures import Phase
from finishsched.drying.laws import COALESCES_ABOVE_C, SCHEDULE_AIR, interval_factor, law_for
from finishsched.drying.redry import HIGH, LOW, READY_WITHIN_PERCENT, Layer, ideal_s
from finishsched.factors import G_PER_L_IN_A_POUND_CUT
from finishsched.film.abrading import (
    DEEPEST_SCRATCH_SHARE,
    SAFE_SHARE,
    STOP_USED_PERCENT,
    USUAL,
    WARN_USED_PERCENT,
)
from finishsched.film.grade_steps import GOOD_RATIO, WIDEST_RATIO
from finishsched.film.limits import IN_ALL, NITROCELLULOSE
from finishsched.mixing.alcohol import alcohol_g_per_ml
from finishsched.mixing.cut import (
    DISSOLVED_G_PER_ML,
    LEAST_STRENGTH_PERCENT_VOL,
    reduce_from,
)
from finishsched.mixing.keeping import LONGEST_SHARE, MONTH_S, SHELLAC_KEEPS_S, SHORTEST_SHARE
from finishsched.model.film import FilmRules
from finishsched.model.grades import CAMI_UM, FEPA_UM, ROUGH_UM
from finishsched.model.product import Mechanism
from finishsched.model.schedule import Verb
from finishsched.model.shop import Alcohol
from finishsched.model.solvent import FlameClass, Liquid
from finishsched.model.step import steps_of
from finishsched.safety.contents import HIGH_METHANOL_PERCENT
from finishsched.safety.deferring import IN_PRINT
from finishsched.safety.solvents import SOLVENTS, limit_ppm
from finishsched.safety.storage import QUART_ML, Container, most_in_ml
from finishsched.safety.ventilation import FIRE_SHARE_OF_LEL
from finishsched.workshop.base.answers import State
from finishsched.workshop.papers.handbook import (
    Kind,
    NoTopicError,
    near_topic,
    page,
    page_lines,
    topic_named,
    topic_of,
    topics,
)

PAGES = [page(topic) for topic in topics()]
GENERATED = ("defects",)
"""Pages of which the catalogue writes the greater part."""
GALLON_ML = 4 * QUART_ML
LB = G_PER_L_IN_A_POUND_CUT


def _words(text):
    return " ".join(text.replace("`", "").split())


def _commands(shown):
    return re.findall(r"`(finishsched[^`]*)`", shown.text)


def _times_as_long(film_ratio):
    """Return how many times its usual wait a film of alcohol takes, so many times as thick."""
    law = law_for(Mechanism.SOLVENT, Phase.RECOAT)
    thick = law.laid(film_ratio=film_ratio)
    return interval_factor(thick, law.reference) / interval_factor(law, law.reference)


def test_every_verb_and_every_file_is_a_topic():
    """No verb lacks its page, no file lies unread, and no topic is listed twice."""
    folder = resources.files("finishsched") / "workshop/papers/pages"
    assert {verb.value.replace(" ", "-") for verb in Verb} <= set(topics())
    assert {file.name for file in folder.iterdir()} == {f"{topic}.md" for topic in topics()}
    assert len(set(topics())) == len(topics())


@pytest.mark.parametrize("name", schedule_names())
def test_every_shipped_step_has_its_topic(name):
    """The bench can ask for the page of any step of any shipped schedule."""
    for step in steps_of(shipped_schedule(name).model):
        assert page(topic_of(step)).id == topic_of(step)
        assert topic_named(step.verb.value) == topic_of(step)


@pytest.mark.parametrize("shown", PAGES, ids=topics())
def test_a_page_is_whole_and_short(shown):
    """It has a title, a group, 90 to 220 words, other topics to read and where it comes from.

    What is printed counts for the least, not for the most: nobody reads it word by word. Nor does
    the sentence that every page on a hazard has in common.
    """
    assert shown.title
    assert shown.sources.endswith(".")
    assert 1 <= len(shown.see_also) <= 5
    assert shown.id not in shown.see_also
    assert set(shown.see_also) <= set(topics())
    if shown.id not in GENERATED:
        written = [block for block in shown.blocks if block.text != IN_PRINT]
        told = " ".join(block.text for block in written if block.kind is not Kind.SHOWN)
        assert len(_words(shown.text).split()) >= 90
        assert len(_words(told).split()) <= 220


@pytest.mark.parametrize("shown", PAGES, ids=topics())
@pytest.mark.parametrize("width", [40, 60, 80])
def test_a_page_fits_a_screen(shown, width):
    """No line is too wide, none ends in a space, and every word of the page is there."""
    lines = list(page_lines(shown, width))
    assert all(len(line) <= width for line in lines)
    assert all(line == line.rstrip() for line in lines)
    said = _words(" ".join(line.removeprefix("- ") for line in lines))
    for block in shown.blocks:
        assert _words(block.text) in said


@pytest.mark.parametrize("shown", PAGES, ids=topics())
def test_a_page_is_plain(shown):
    """Only paragraphs and lists, in signs that any terminal shows: no tag, picture or link."""
    text = f"{shown.title}\n{shown.text}\n{shown.sources}"
    assert text.isascii()
    assert not re.search(r"</?\w|!\[|\]\(|^\||^>|\*\*|__", text, re.MULTILINE)
    assert text.count("`") % 2 == 0
    kinds = {Kind.PARAGRAPH, Kind.ITEM}
    if shown.id.startswith("tour-"):
        kinds |= {Kind.SHOWN}
    assert {block.kind for block in shown.blocks} <= kinds


@pytest.mark.parametrize("shown", PAGES, ids=topics())
def test_every_command_named_is_there(shown):
    """Each command exists and has every option that the page gives it."""
    context = click.Context(program)
    for written in _commands(shown):
        _, *words = shlex.split(written)
        if not words:
            continue
        command = program.get_command(context, words[0])
        assert command is not None, written
        options = {name for parameter in command.params for name in parameter.opts}
        assert {word for word in words if word.startswith("--")} <= options, written


def test_commands_name_topics_that_are_there():
    """Every topic that a command's own help names is in the handbook, and the help does name it."""
    assert set(TOPICS) <= set(COMMANDS)
    assert set(TOPICS.values()) <= set(topics())
    for name in ("defect", "check", "vent", "plan", "film"):
        command = program.get_command(click.Context(program), name)
        assert command.epilog.endswith(f"To read more: finishsched help {TOPICS[name]}")


def test_the_bench_page_tells_the_keys_and_the_marks():
    """The page names each state with its mark, and keys that do on the bench what it says."""
    text = page("bench").text
    for state in State:
        mark = f"`{state.mark}`" if state.mark.strip() else "(no mark)"
        assert f"{state.value} {mark}" in text
    by_id = {key.id: shown_list(key.keys).split(", ") for key in (*BOARD, *DRY_CHECK)}
    for key, id_ in (
        ("space", "next-thing"), ("u", "undo"), ("l", "log-coat"), ("t", "note"), ("d", "defect"),
        ("a", "air"), ("m", "mixing"), ("w", "why"), ("?", "help"), ("q", "quit"), ("r", "ready"),
        ("n", "not-ready"), ("p", "plan"), ("f", "film"), ("r", "rags"), ("h", "handbook"),
        ("b", "begin"), ("e", "change"), ("c", "sitting"), ("x", "apart"), ("s", "skip"),
        ("o", "adopt"), ("n", "notices"), ("esc", "dismiss"), ("g", "first"),
    ):  # fmt: skip
        assert f"`{key}`" in text
        assert key in by_id[id_]
    moving = {"up", "down", "sheet-up", "sheet-down"}
    named = set(re.findall(r"`([^`]+)`", text))
    for key in BOARD:
        assert key.id in moving or named & set(shown_list(key.keys).split(", ")), key.id


def test_every_defect_is_on_the_page_of_defects():
    """The catalogue writes the list, so none is missing."""
    items = [block.text for block in page("defects").blocks if block.kind is Kind.ITEM]
    assert {text.partition(":")[0] for text in items} == {seen.value for seen in Seen}


def _figures():
    """Give each key figure as its page says it, made of what the program reckons with."""
    lost_g = 1 - alcohol_g_per_ml(95, 30) / alcohol_g_per_ml(95, 15.556)
    thinned = reduce_from(3 * LB, 1 * LB, 100.0, Alcohol()).add_alcohol_ml / 100
    ideal_min = ideal_s(Layer(0.6, 1, 600), 90) / 60
    taken_mm = USUAL.sanding.likely * (FEPA_UM[120] + FEPA_UM[180] + FEPA_UM[220]) / 1000
    ethanol, methanol = SOLVENTS[Liquid.ETHANOL], SOLVENTS[Liquid.METHANOL]
    ppm = 10 * ethanol.density_g_per_ml / ethanol.molar_mass_g * 24.45 / 30_000 * 1e6
    yield from (
        ("sand", f"at {WARN_USED_PERCENT:g} % of the veneer used"),
        ("sand", f"says stop at {STOP_USED_PERCENT:g} %"),
        ("sand", f"a 0.6 mm veneer about {taken_mm:.2f} mm"),
        ("film", f"at {WARN_USED_PERCENT:g} % used and says stop at {STOP_USED_PERCENT:g} %"),
        ("film", f"about {IN_ALL.film_um:g} um in all"),
        ("film", f"nitrocellulose lacquer {NITROCELLULOSE.film_um:g} um"),
        ("air", f"at least {BLUSH_MARGIN_K:g} K above"),
        ("air", f"above about {MOST_HUMIDITY_FOR_ALCOHOL_PERCENT:g} % humidity".capitalize()),
        ("air", f"{MOST_HUMIDITY_PERCENT:g} % is too humid for any coat"),
        ("air", f"Below {LEAST_ROOM_C:g} degC"),
        ("air", f"below about {COALESCES_ABOVE_C:g} degC waterborne"),
        ("air", f"at 21 degC and 50 % it comes to {emc_percent(21.1, 50):.1f} % moisture"),
        ("air", f"at 80 % to {emc_percent(21.1, 80):.0f} %"),
        ("rules", f"above {MOST_HUMIDITY_FOR_ALCOHOL_PERCENT:g} % humidity"),
        ("rules", f"within {BLUSH_MARGIN_K:g} K of the dew point"),
        ("spray", f"as much as {20 - film_surface_c(20, FILM_COOLING['spray']):.0f} K"),
        ("drying", f"{SCHEDULE_AIR.temperature_c:g} degC, {SCHEDULE_AIR.humidity_percent:g} %"),
        ("water", f"in {ideal_min:.0f} minutes"),
        ("water", f"within {READY_WITHIN_PERCENT:g} % of what the room brings it to"),
        ("cuts", f"1-lb cut is {LB:.0f} g in 1 litre"),
        ("cuts", f"about {1 / DISSOLVED_G_PER_ML:.2f} ml for each gram"),
        ("cuts", f"{99.776 / LB:.2f}-lb cut here"),
        ("cuts", f"takes {thinned:.2f} parts of alcohol"),
        ("mixing", f"gets {100 * lost_g:.1f} % less alcohol"),
        ("mixing", f"below {LEAST_STRENGTH_PERCENT_VOL:g} % shellac dissolves badly"),
        ("pads", f"about {Verb.PAD.does.holds_ml:g} ml that never reaches the work"),
        ("grades", f"P400 has grains of {FEPA_UM[400]:g} um, CAMI 400 has {CAMI_UM[400]:g} um"),
        ("grades", f"P600 has {FEPA_UM[600]:g} um, CAMI 600 has {CAMI_UM[600]:g} um"),
        ("grades", f"{GOOD_RATIO:g} is good"),
        ("levelling", f"{FilmRules().cut_through_odds_percent:g} % unless"),
        ("vapour", f"ethanol's is {limit_ppm(ethanol):g} ppm"),
        ("vapour", f"only {100 * limit_ppm(ethanol) / (1e4 * ethanol.lel_percent):.0f} % of what"),
        ("vapour", f"Methanol's limit is {limit_ppm(methanol):g} ppm"),
        ("vapour", f"plans with {HIGH_METHANOL_PERCENT:g} %"),
        ("vapour", f"shut room of 30 m3 is about {round(ppm, -1):.0f} ppm"),
    )


@pytest.mark.parametrize(("topic", "said"), list(_figures()))
def test_figures_are_those_that_the_program_reckons_with(topic, said):
    """A figure on a page follows from the program's own constants and calculators."""
    assert said in _words(page(topic).text)


def test_figures_in_words_are_the_programs_too():
    """Halves, thirds, months and 'two to four times' agree with the constants behind them."""
    assert WIDEST_RATIO == 2
    assert "more than twofold" in page("grades").text
    assert CAMI_UM[600] == pytest.approx(FEPA_UM[1200], rel=0.1)
    assert ROUGH_UM["0000 wool"] == pytest.approx(FEPA_UM[600], rel=0.1)
    assert FEPA_UM[1000] <= ROUGH_UM["pumice"] <= FEPA_UM[800]
    assert (DEEPEST_SCRATCH_SHARE, USUAL.sanding.likely, SAFE_SHARE) == (0.5, 0.5, 1 / 3)
    assert "half its grain" in page("sand").text
    assert "no more than a third" in page("film").text
    assert (LOW, HIGH) == (2, 4)
    assert "two to four times" in page("water").text
    assert (LOOK_AGAIN_SHARE, SHORTEST_LOOK_AGAIN_S) == (0.25, 5 * 60)
    assert "a quarter of the time so far, five minutes at least" in page("drying").text
    assert 3.4 < _times_as_long(2.0) <= 4
    assert "about four times as long" in page("drying").text
    months = [SHELLAC_KEEPS_S * share / MONTH_S for share in (SHORTEST_SHARE, 1, LONGEST_SHARE)]
    assert months == pytest.approx([3, 6, 12])
    assert "3, 6 or 12 months" in page("mixing").text
    assert Verb.SPRAY.does.lost_share == 0.5
    assert "Half of what leaves a usual gun" in page("spray").text
    assert FIRE_SHARE_OF_LEL == 0.10
    assert "a tenth of what burns" in page("vapour").text
    assert most_in_ml(FlameClass.IB, Container.GLASS) == QUART_ML
    assert most_in_ml(FlameClass.IB, Container.CAN) == pytest.approx(5 * GALLON_ML)
    assert "1 quart in glass and 5 gallons in metal" in _words(page("storage").text)


def test_pages_on_what_can_hurt_defer_to_the_data_sheet():
    """Where somebody can be hurt, the page says that the data sheet comes first."""
    can_hurt = (
        "sand", "tack-off", "fill", "glue-up", "pad", "brush", "wipe", "spray", "spirit-off", "wax",
        "mixing", "pads", "storage", "vapour", "rags", "dust", "glue-safety", "defects", "rework",
    )  # fmt: skip
    for topic in can_hurt:
        assert re.search(r"data sheet", page(topic).text, re.IGNORECASE), topic


@pytest.mark.parametrize(
    ("name", "topic"),
    [
        ("tack off", "tack-off"),
        ("Rub_Out", "rub-out"),
        (" glue  up ", "glue-up"),
        ("grit", "grades"),
    ],
)
def test_a_topic_goes_by_more_than_its_id(name, topic):
    """Spaces, capitals and the trade's other words all find the page."""
    assert topic_named(name) == topic
    assert page(name).id == topic


def test_an_unknown_topic_gives_the_nearest():
    """A slip finds what was meant; nonsense finds the list."""
    assert near_topic("vapur") == "vapour"
    with pytest.raises(NoTopicError, match="did you mean 'levelling'"):
        page("leveling")
    with pytest.raises(NoTopicError, match="finishsched help lists them all"):
        page("zzzz")


@given(st.text(max_size=60))
def test_any_text_is_a_topic_or_refused(name):
    """No text, however odd, opens a file that is no page."""
    found = topic_named(name)
    assert found is None or found in topics()
    if found is None:
        with pytest.raises(NoTopicError):
            page(name)

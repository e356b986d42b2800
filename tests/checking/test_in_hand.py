"""What the words of a step say: every row is heard, and what is denied or supposed is not."""

from __future__ import annotations

import functools

import pytest
from classics import MADE_UP, schedule

from finishsched.checking.cases import ScheduleCase
from finishsched.checking.findings import seen_in
from finishsched.checking.language.word_table import word_table
from finishsched.checking.registry import RULES
from finishsched.checking.said.asked import BESIDE_THEIR_RULES
from finishsched.checking.said.facts import facts_of, names, phrases_heard
from finishsched.checking.said.rows import rows
from finishsched.documents.library import shipped_products, shipped_schedules

ROWS = {row.name: row for row in rows()}
CODES = sorted({row.code for row in rows()})


@functools.cache
def _products():
    return {**shipped_products(), **MADE_UP}


def _told_of(case):
    return {one.found.which for one in seen_in(case)} - {""}


def _told(text):
    return _told_of(ScheduleCase(schedule(text, "", tuple(shipped_products())), _products()))


@pytest.mark.parametrize("name", [row.name for row in rows() if row.heard])
def test_each_row_is_told_of_its_own_example(name):
    """And not of the sound one, where it has one (common practice)."""
    assert name in _told(ROWS[name].heard)
    assert not ROWS[name].sound or name not in _told(ROWS[name].sound)


def test_a_row_asks_only_for_facts_that_there_are():
    """A name that ``words.txt`` has not is never heard, and nobody would see it."""
    asked = [term for row in rows() for term in (*row.unless, *_terms(row))]
    figures = {"span", "distance", "warmth", "pressure", "percent", "grit", "leap"}
    unknown = {term.name for term in asked if not term.own_words} - names() - figures
    assert not unknown
    assert len(ROWS) == len(rows())
    assert set(CODES) <= set(RULES)
    assert set(BESIDE_THEIR_RULES) < set(CODES)


def _terms(row):
    return (term for groups in row.says for group in groups for term in group)


def test_words_that_tell_nothing_by_themselves_are_no_facts():
    """A form that is put among those of another word would be heard in every sentence."""
    small = (
        "to",
        "on",
        "in",
        "at",
        "of",
        "the",
        "a",
        "it",
        "with",
        "by",
        "for",
        "and",
        "up",
        "then",
    )
    assert {word: _names_in(word) for word in small if _names_in(word) - {f'"{word}"'}} == {}


def test_no_phrase_is_deaf():
    """Each, said as it stands in the tables, is heard under its name."""
    said = {(name, words): words.strip('"').replace("!", "not ") for name, words in phrases_heard()}
    spoken = {phrase: text.replace("..", "") for phrase, text in said.items()}
    deaf = [p for p, text in spoken.items() if p[0] not in {one.name for one in facts_of(text)}]
    assert deaf == []


def test_what_denies_in_a_phrase_denies_only_the_word_behind_it():
    """A scraper that has no edge is blunt, and one that never goes over an edge is not."""
    assert _names_in("the scraper has no edge left") >= {"blunt"}
    assert "blunt" not in _names_in("never go over the edge")


def _names_in(text):
    return {fact.name for fact in facts_of(text) if fact.told}


def test_no_phrase_shrinks_to_one_word():
    """Articles and the like are passed over: of "a part" only a part would be left, and heard."""
    passed_over = word_table("finishsched.checking.said").grammar["passed over"]
    phrases = [words.strip('"').replace("!", "") for _, words in phrases_heard()]
    several = [phrase for phrase in phrases if len(phrase.replace("..", "").split()) > 1]
    left = {phrase: set(phrase.split()) - {*passed_over, ".."} for phrase in several}
    assert [phrase for phrase, words in left.items() if len(words) < 2] == []


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ('tack spirits "a clean cloth" "the rest in a lemonade bottle"', "in a vessel for food"),
        ('sand P120 "dry" "no mask is wanted"; brush varnish 80ml @24h', "dust breathed"),
        ('fill epoxy 60ml "across" "lid screwed tight" @24h', "bleach in a closed vessel"),
        ('spray lacquer 110ml "even passes" "windows shut, fan off" @2h', "no moving air"),
        ('spray lacquer 110ml "even passes" "beside the heater" @2h', "heat that lights it"),
        ('brush varnish 80ml "tip off" "pour the rest back into the new can" @24h', "poured back"),
    ],
)  # fmt: skip
def test_a_caution_that_teaches_harm_is_heard(text, name):
    """What a caution says is followed as the words are (common practice)."""
    assert name in _told(text)


@pytest.mark.parametrize(
    "text",
    [
        'fill epoxy 60ml "weigh both, across" "never keep it in a shut jar, it heats up" @24h',
        'spray lacquer 110ml "even passes" "no switch, heater or sparking tool within 6 m" @2h',
        'tack spirits "a clean cloth" "never in a lemonade bottle; its own tin, with a label"',
        'sand P120 "dry" "not without a mask, extraction on"; brush varnish 80ml @24h',
        'spray lacquer 110ml "even passes" "heater, stove and pilot light out first" @2h',
        'spray lacquer 110ml "even passes" "wear a respirator, paper does not stop vapour" @2h',
        'brush varnish 80ml "tip off" "what is left sets hard in an open tray outdoors" @24h',
        'wipe linseed 30ml "wipe off" "even a small heap of rags can catch fire" @24h',
        'spray lacquer 110ml "even passes" "vapour creeps along the floor to any flame" @2h',
        'spray lacquer 110ml "even passes" "unplug the heater, turn off the stove" @2h',
        'bleach lye 60ml "swab, rinse" "gloves and goggles on; the window stays open" @12h',
    ],
)  # fmt: skip
def test_a_caution_that_warns_is_not_heard(text):
    """Right cautions name the harm that they keep off (common practice)."""
    assert _told(text) == set()


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ('stain "oil pigment stain, on thick, do not wipe it" @24h', "pigment stain not wiped"),
        ('bleach "peroxide, and a part of it in a tin tray" @12h', "metal with bleach or lye"),
    ],
)
def test_a_stain_or_bleach_without_a_product_is_what_its_words_name(text, name):
    """Nobody writes a document of a stain that is used once (common practice)."""
    assert name in _told(text)


@pytest.mark.parametrize("name", shipped_schedules())
def test_nothing_is_heard_in_a_shipped_schedule(name):
    """Their words are those of somebody who knows (common practice)."""
    assert _told_of(ScheduleCase(shipped_schedules()[name], _products())) == set()


@pytest.mark.parametrize(
    "text",
    [
        'brush waterborne 80ml "synthetic, no natural bristle" @4h',
        'fill paste 60ml "wipe off across, then light along the grain" @48h',
        'pad shellac 1lb x6 15ml "wet, not dripping, never stop on the work" @12h',
        'spirit-off alcohol "barely damp, no flame near" @24h',
        'wax waxpolish "thick tin, laid thin as breath" @12h',
        'wipe danish 25ml "flood, leave 15 minutes, wipe off dry, never leave it standing" @24h',
        'stain spirit-dye 30ml "a fine mist from the gun, not wiped" @1h',
        'brush shellac 1lb 60ml "one quick coat, never back over it" @3h',
        'brush varnish 80ml "stirred, not shaken, dry out of the draught, not in the sun" @24h',
        'wipe linseed 30ml "wipe off every trace; never leave the rag heaped" @24h',
        'wipe linseed 30ml "wipe off, cloths flat outdoors, not in the bin" @24h',
        'brush shellac 1lb 60ml "if it drags, stop; one pass" @3h',
        'pad shellac 2lb x6 15ml "old linen over cotton wool, charged and pressed out" @12h',
        'glue-up pva "spread on the core, left in the press overnight" @24h',
        'spray lacquer 110ml "the window tilted open behind the booth, even passes" @2h',
        'spray lacquer 110ml "stirred slowly from the bottom, even passes" @2h',
        'brush waterborne 80ml "stir the varnish gently, flow it on" @4h',
        'level P400 "spirits on the paper stop it from clogging" @1h',
        'wipe linseed 30ml "boiled oil, thin, wiped dry, then three weeks to cure" @24h',
        'sand P220 "a candle along the drawer slide, off the face"; brush varnish 80ml @24h',
        'sand P220 "with the grain, not across the grain"; brush varnish 80ml @24h',
        'spray lacquer 110ml "unlike shellac it wants its own thinner, even passes" @2h',
        'brush varnish 80ml "instead of a foam roller take a brush" @24h',
        'brush varnish 80ml "well away from the stove, heater or any flame" @24h',
        'brush varnish 80ml "never near a stove, by a heater or in the sun" @24h',
        'wipe danish 25ml "flood, wipe off before it grows tacky" @24h',
        'fill epoxy 60ml "weigh the hardener, neither more nor less, across the pores" @24h',
        'fill epoxy 60ml "weigh it; too much hardener would stay soft, across the pores" @24h',
        'brush waterborne 80ml "stir, do not shake or whip" @4h',
        'pad shellac 2lb x6 15ml "avoid pressing hard, glide on and off" @12h',
        'rest "on pins, nothing stacked on it, no blanket, no plastic sheet over it" @3w',
        'spray lacquer 110ml "respirator, never only a dust mask, even passes" @2h',
        'brush shellac 1lb 60ml "old shellac from last year is no good: mix it fresh" @3h',
        'bleach oxalic 60ml "gloves and goggles; never with bare hands, rinse twice" @12h',
        'glue-up hide "at 62 degC in the pot, never boiled" @24h',
        'tack "vacuum, no alcohol, no acetone on the film"; brush varnish 80ml @24h',
        'level P400 "cork block; stop before the wood shows, lift off before it gets hot" @1h',
        'rest "on pins; heat would wrinkle it, and the sun ruins the colour" @3w',
        'spray lacquer 110ml "the face in even passes; let the thinner evaporate ten minutes" @2h',
        'wipe danish 25ml "let it sink in 15 minutes, wipe off dry, match it by day" @24h',
        'scrape "a fresh burr, pull it towards you with the grain"; brush varnish 80ml @24h',
        'brush shellac 1lb 60ml "strain it into a clean jam jar, one quick coat" @3h',
        'brush varnish 80ml "a loaded brush, tip off, look along it against a lamp" @24h',
        'stain oil-stain 40ml "stir it, a trial first, wipe off with the grain" @24h',
        'level P400 "off the edges, never until it is warm, throw away paper that clogs" @1h',
        'spirit-off alcohol "never without a window open; barely damp, brisk strokes" @12h',
        'level P400 "a drop of spirits keeps the paper from clogging, off the edges" @1h',
        'wipe danish 25ml "a trace, wiped off dry, and left a week" @7d',
        'pad shellac 1lb x6 15ml "in a dry room, rain kept out, the heating on at 20 degC" @12h',
        'brush varnish 80ml "flow on, tip off, out over the edge and lift off" @24h',
        'pad shellac 1lb x6 15ml "wrap the wool in old linen, charge it, press it out" @12h',
        'tone amber-toner 40ml "thin passes, building the colour slowly" @2h',
        'pad shellac 1lb x6 15ml "old linen over wool, twist it tight, press it out" @12h',
        'pad shellac 1lb x6 15ml "six charges, the pad back in its jar between" @12h',
        'pad shellac 1lb x6 15ml "open the window a hand wide, on the side away from it" @12h',
        'brush varnish 80ml "rinse the brush, wrap it to keep its shape, hang it up" @24h',
        'brush varnish 80ml "the lid under a box that keeps dust off without touching it" @24h',
        'wipe linseed 30ml "no heat is needed; rub in, wait, wipe off" @24h',
        'level P400 "light, stop at once if colour shows on the paper" @1h',
        'rub-out P1000 "straight and long, the edges first with short ones" @1h',
        'spray lacquer 110ml "pre-cat, within its date, even passes, then close up the shop" @2h',
        'fill epoxy 20ml "weigh both, over the sealed face, across the pores" @24h',
        'glue-up pva "wipe the oil off with acetone before the glue, then clamps" @24h',
        'fill paste 60ml "off across after ten minutes; next coat in three days" @3d',
        'bleach oxalic 60ml "until the ring is pale, rinse twice" @12h',
        'neutralise vinegar "wipe, clean water twice, two days, then the colour" @2d',
        'sand P220 "jump to the next board when the sheet is dull"; brush varnish 80ml @24h',
        'glue-up pva "thin on the core, press, three hours in clamps, then rest" @24h',
        'glue-up hide "at 62 degC, the bubble slit along the grain, press from the middle" @24h',
    ],
)  # fmt: skip
def test_what_the_words_deny_or_suppose_is_not_heard(text):
    """A step that warns of a fault does not make it."""
    assert _told(text) == set()


@pytest.mark.parametrize(
    ("text", "name", "told"),
    [
        ("never wipe it off", "wiped off", False),
        ("a mask is not needed", "no mask", True),
        ("gloves are needless", "no gloves", True),
        ("nobody needs goggles here", "no goggles", True),
        ("a heap of rags does not catch fire", "rag heap", True),
        ("do not skip the mask", "mask", True),
        ("no brush, no roller; a foam pad", "roller", False),
        ("no brush, no roller; a foam pad", "foam", True),
        ("straight out of the fridge", "cold thing", True),
        ("out of the sun", "sun", False),
        ("never leave it in the sun, but by the stove", "hot tool", True),
        ("instead of a stove use a hair dryer", "hot tool", True),
        ("if it is cold, warm it on the stove", "warmed up", True),
        ("it would dry in the sun", "sun", False),
        ("it stops the paper from clogging", "worn paper", False),
        ("not only foam", "foam", True),
        ("the rest of yesterday's mix", "old mix", True),
        ("keep the trigger pulled from one end to the other", "trigger late", True),
        ("keep the rag from the stove", "hot tool", False),
        ("rain kept out", "damp place", False),
        ("the bottle is kept from frost", "cold place", False),
        ("hog bristle goes floppy in water", "bristle", False),
        ("the marks of the planer, the polish'll fill them", "excuse", True),
        ("nobody takes a foam pad to it", "foam", False),
        ("foam, and nobody will see", "foam", True),
        ("warmed in water, nowhere near the stove", "hot tool", False),
        ("a scourer is for the sink", "scourer", False),
        ("the scourer stays at the sink", "scourer", False),
        ("at 80 degrees it'd only boil", "boiling", False),
        ("no brush so a foam pad", "foam", True),
        ("not in a room with no window", "windows shut", False),
        ("the mix from wednesday was mixed on thursday", "old mix", True),
        ("my brother sanding beside it", "dusty place", True),
    ],
)
def test_a_word_is_denied_as_far_as_its_clause(text, name, told):
    """To its comma, its ``but``, or the next thing to do; a list with ``or`` goes on."""
    assert any(fact.told for fact in facts_of(text) if fact.name == name) is told


def test_a_number_of_two_words_is_not_read_by_its_second():
    """A card held at forty-five degrees is not cold."""
    assert [fact for fact in facts_of("at forty-five degrees") if fact.name == "warmth"] == []


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("leave it overnight; wipe off", True),
        ("leave it overnight, then wipe it off", True),
        ("wipe it off, then leave it overnight", False),
    ],
)
def test_what_is_asked_for_in_an_order_is_heard_in_that_order_alone(text, told):
    """Oil that stood before it was wiped is gum; wiped first, it dries (common practice)."""
    name = "oil wiped too late"
    assert (name in _told(f'wipe danish 25ml "{text}" @24h')) is told


@pytest.mark.parametrize(
    ("text", "name", "value"),
    [
        ("from 60 cm away", "distance", 60.0),
        ("two inches off", "distance", 5.08),
        ("for half an hour", "span", 1800.0),
        ("leave it overnight", "span", 43200.0),
        ("20 to 30 minutes", "span", 1800.0),
        ("a couple of days", "span", 172800.0),
        ("at 194 F", "warmth", 90.0),
        ("at 90 degC", "warmth", 90.0),
        ("60 psi", "pressure", 4.137),
        ("85 % humidity", "percent", 85.0),
        ("a yard off", "distance", 91.44),
        ("with 120 grit", "grit", 120.0),
        ("from 80 straight to 240", "leap", 3.0),
    ],
)
def test_figures_are_read_in_the_units_of_the_house(text, name, value):
    """One inch is 2.54 cm and one psi 6.894757 kPa (NIST SP 811, 2008, appendix B)."""
    assert [fact.value for fact in facts_of(text) if fact.name == name] == [
        pytest.approx(value, rel=1e-3)
    ]

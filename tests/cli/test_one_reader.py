"""The same words are taken, or refused in the same words, at every door where people type."""

import json
from datetime import UTC, date, datetime

import pytest

from finishsched.bench.typed import reading
from finishsched.cli.faults import CommandError, Words
from finishsched.cli.mixing.mixing_words import volume_or_mass
from finishsched.cli.plan import plan_asked
from finishsched.documents import decode, library
from finishsched.documents.faults import DocumentFaultsError
from finishsched.documents.lines.read import Context, read_lines
from finishsched.model.film import BareGrades
from finishsched.model.grades import grade_of
from finishsched.refusals import RefusalError
from finishsched.units import AREA, CUT, DURATION, STRENGTH
from finishsched.workshop.base import typed
from finishsched.workshop.base.entries import Entry
from finishsched.workshop.begin.face_words import read_faces
from finishsched.workshop.keeping.notebook import _RowReader

PRODUCTS = library.shipped_products()
NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)

AMOUNTS = {
    "15 ml": (15.0, None),
    "0.5 floz": (14.786764781, None),
    "1 1/2 floz": (44.360294343, None),
    "2 cups": (473.176473, None),
    "12 g": (None, 12.0),
    "0.25 lb": (None, 113.3980925),
    "1 oz": "could be a weight or a volume; write floz for fluid ounces, or g for weight",
    "2 ounces": "could be a weight or a volume",
    "15": "has no unit; write for example 15 ml, 0.5 floz or 12 g",
    "15 m2": "is no amount of material",
    "-3 ml": "is outside what a volume can be",
    "some": "is no",
}
AIRS = {
    ("19 degC", "55 %"): (19.0, 55.0),
    ("66.2 degF", "55 %"): (19.0, 55.0),
    ("200 degF", "55 %"): "200 degF is no air to work in; a reading is from 14 to 140 degF",
    ("93 degC", "55 %"): "93 degC is no air to work in; a reading is from -10 to 60 degC",
    ("19 degC", "0 %"): "0 % is no humidity of room air; a reading is from 1 to 100 %",
    ("19", "55 %"): "'19' has no unit",
}
SPANS = {
    "90 min": 5400.0,
    "1 h 30 min": 5400.0,
    "1½ h": 5400.0,
    "1 1/2 hrs": 5400.0,
    "overnight": 43200.0,
    "2 days": 172800.0,
    "45 secs": 45.0,
    "90": "'90' has no unit; write 90 min or 90 days",
    "90 ml": "'90 ml' is not a duration; write for example 90 min",
    "-5 min": "'-5 min' is outside what a duration can be",
    "11 years": "'11 years' is outside what a duration can be; it may be 0 up to",
    "1,5 h": "'1,5 h' has a comma",
    "a while": "'a while' is not a duration",
}
AREAS = {
    "0.12 m2": 0.12,
    "1.5 sqft": 0.13935456,
    "180 sq in": 0.116128800,
    "220 x 140 mm": 0.0308,
    "8 1/2 × 4 in": 0.02193544,
    "22 cm by 140 mm": 0.0308,
    "5": "'5' has no unit; write 5 m2 or 5 sqin",
    "5 ml": "'5 ml' is not an area; write for example 0.12 m2, 220 x 140 mm or 180 sqin",
    "0 m2": "'0 m2' is outside what an area can be",
    "220 x 140": "'220' has no unit; write 220 mm or 220 in",
}
STRENGTHS = {
    "95 %vol": 95.0,
    "190 proof": 95.0,
    "95": "'95' has no unit; write 95 %vol or 95 proof",
    "95 %": "'95 %' is not a strength; write for example 95 %vol or 190 proof",
    "201 proof": "'201 proof' is outside what a strength can be",
}
CUTS = {
    "2 lb": 239.652854,
    "240 g/L": 240.0,
    "20 %w/v": 200.0,
    "2": "'2' has no unit; write 2 lb, 2 g/L, 2 %w/v or 2 lb/impgal",
    "2 ml": "'2 ml' is not a cut",
    "0 lb": "'0 lb' is outside what a cut can be",
}
GRADES = {
    "P400": "P400",
    "p 400": "P400",
    "400 CAMI": "CAMI 400",
    "cami320": "CAMI 320",
    "0000 steel wool": "0000 wool",
    "gray pad": "grey pad",
}
NO_GRADES = {
    "P410": "there is no grade P410; the nearest are P360 and P400",
    "fine": "'fine' is not a grade; write for example P400, CAMI 320, 0000 wool or rottenstone",
}
SHOP = "shop: Mine\n"
STEP = """\
schedule: plain
title: Plain
source: common practice
stages:
  - stage: body
    steps:
      - {step}
"""


def command_quantity(measure):
    """Return a reader of one quantity by the command line, whatever the option."""

    def read(text):
        words = Words()
        found = words.read("--option", text, measure)
        words.settle()
        return found

    return read


def form_quantity(measure):
    """Return a reader of one quantity by a field of the bench."""
    return lambda text: reading.read_quantity("field", text, measure)


def document(text, *path):
    """Return what a document says at a path of attributes and positions, or its only fault."""
    try:
        found = decode.read(text.encode(), "d.yaml").model
    except DocumentFaultsError as error:
        (fault,) = error.faults
        raise RefusalError(fault.message, fault.remedy) from None
    for name in path:
        found = found[name] if isinstance(name, int) else getattr(found, name)
    return found


def step_says(key, text, *path):
    """Return what a schedule's step says under a key."""
    step = f"{{pad: so, product: flakes, {key}: {json.dumps(text)}}}"
    return document(STEP.format(step=step), "stages", 0, "steps", 0, *path)


def document_span(text):
    """Return a span by the wait of a step."""
    wait = f"{{earliest: 0 min, likely: {json.dumps(text)}}}"
    step = f"{{pad: so, product: flakes, wait: {wait}, dry_check: so}}"
    return document(STEP.format(step=step), "stages", 0, "steps", 0, "waits", "after", "likely_s")


def document_grade(text):
    """Return a grade by a step."""
    step = f"{{sand: so, grade: {json.dumps(text)}}}"
    return document(STEP.format(step=step), "stages", 0, "steps", 0, "grade", 0)


def document_cut(text):
    """Return a cut by a step."""
    return step_says("cut", text, "cut_g_per_l", 0)


def document_strength(text):
    """Return the strength of a shop's alcohol."""
    made = f"{SHOP}alcohol: {{strength: {json.dumps(text)}}}\n"
    return document(made, "alcohol", "strength_percent_vol")


def document_area(text):
    """Return the area of a face of a job."""
    face = f"{{face: top, area: {json.dumps(text)}}}"
    piece = f"  - {{piece: lid, title: Lid, schedule: plain, faces: [{face}]}}"
    made = f"job: box\ntitle: A box\npieces:\n{piece}\n"
    return document(made, "pieces", 0, "faces", 0, "area_m2")


def lines_span(text):
    """Return a span by a notebook's line."""
    return _line(f"pad 2 lb blonde shellac, {text}").waits.after.likely_s


def lines_grade(text):
    """Return a grade by a notebook's line."""
    return _line(f"sand {text}").grade[0]


def lines_cut(text):
    """Return a cut by a notebook's line."""
    return _line(f"pad {text} blonde shellac").cut_g_per_l[0]


def _line(text):
    found = read_lines(text, "notebook", Context(PRODUCTS), "own")
    if found.schedule is None:
        raise RefusalError("; ".join(str(fault) for fault in found.faults))
    return next(iter(found.schedule.step_plans()))


def told_area(text):
    """Return an area by the answer about a new piece."""
    return read_faces(text)[0].area_m2


def shop_grade(text):
    """Return a grade by the option of a command, as the shop means it."""
    return grade_of(text, BareGrades.CAMI).name


def command_amount(text):
    """Return an amount by the command line."""
    words = Words()
    found = volume_or_mass(words, "--used", text)
    words.settle()
    return found


def command_air(temperature, humidity):
    """Return the air by the command line."""
    from finishsched.cli.air.air_read import read_air

    words = Words()
    found = read_air(words, temperature, humidity)
    words.settle()
    return found


def row(**cells):
    """Return the entry of one row of a notebook."""
    reader = _RowReader({"entry": "done", "piece": "box/lid", **cells}, NOW, UTC)
    entry = reader.entry()
    if reader.faults:
        raise RefusalError(reader.faults[0])
    assert isinstance(entry, Entry)
    return entry


def row_amount(text):
    """Return an amount by the notebook."""
    entry = row(used=text)
    return entry.amount_ml, entry.amount_g


def row_air(temperature, humidity):
    """Return the air by the notebook."""
    air = row(temperature=temperature, humidity=humidity).air
    return air.temperature_c, air.humidity_percent


def form_air(temperature, humidity):
    """Return the air by the bench's form."""
    air = reading.read_air(temperature, humidity, "", NOW)
    return air.temperature_c, air.humidity_percent


def beside_a_coat(temperature, humidity):
    """Return the air written beside a coat."""
    air = typed.read_air(f"{temperature}, {humidity}")
    return air.temperature_c, air.humidity_percent


def said(door, *words):
    """Return what a door makes of words: the figures, or the one line of its refusal."""
    try:
        return door(*words)
    except (RefusalError, CommandError) as refusal:
        return str(refusal)


@pytest.mark.parametrize(("text", "expected"), AMOUNTS.items())
def test_an_amount_is_one_thing_at_every_door(text, expected):
    """Command line, bench and notebook read an amount alike, or refuse it in the same words."""
    doors = [
        said(command_amount, text),
        said(reading.read_amount, text),
        said(row_amount, text),
    ]
    _alike(doors, expected)


@pytest.mark.parametrize(("texts", "expected"), AIRS.items())
def test_the_air_is_one_thing_at_every_door(texts, expected):
    """Command line, bench, coat and notebook read the air alike, and have the same limits."""
    doors = [
        said(command_air, *texts),
        said(form_air, *texts),
        said(row_air, *texts),
        said(beside_a_coat, *texts),
    ]
    _alike(doors, expected)


def _alike(doors, expected):
    for answer in doors:
        if isinstance(expected, str):
            assert expected in answer
        else:
            assert answer == pytest.approx(expected)
    if isinstance(expected, str):
        # The name of the option or field comes first, and the rest is the same to the letter.
        assert len({answer[answer.index(expected) :] for answer in doors}) == 1


@pytest.mark.parametrize(("text", "expected"), SPANS.items())
def test_a_span_is_one_thing_at_every_door(text, expected):
    """Options, forms and documents read a span alike; a notebook's line takes the same spans."""
    doors = [command_quantity(DURATION), form_quantity(DURATION), document_span]
    _alike([said(door, text) for door in doors], expected)
    if not isinstance(expected, str):
        assert lines_span(text) == pytest.approx(expected)


@pytest.mark.parametrize(("text", "expected"), AREAS.items())
def test_an_area_is_one_thing_at_every_door(text, expected):
    """Options and documents read an area alike, by its sides too; a new piece takes the same."""
    doors = [command_quantity(AREA), document_area]
    _alike([said(door, text) for door in doors], expected)
    if not isinstance(expected, str):
        assert told_area(text) == pytest.approx(expected)
    else:
        assert expected.partition(";")[0] in said(told_area, text).replace(
            "is one side only", "is not an area"
        )


@pytest.mark.parametrize(("text", "expected"), STRENGTHS.items())
def test_a_strength_is_one_thing_at_every_door(text, expected):
    """Options and the shop's document read a strength alike."""
    doors = [command_quantity(STRENGTH), document_strength]
    _alike([said(door, text) for door in doors], expected)


@pytest.mark.parametrize(("text", "expected"), CUTS.items())
def test_a_cut_is_one_thing_at_every_door(text, expected):
    """Options, the bench's mixing and documents read a cut alike; so does a notebook's line."""
    doors = [command_quantity(CUT), form_quantity(CUT), document_cut]
    _alike([said(door, text) for door in doors], expected)
    if not isinstance(expected, str):
        assert lines_cut(text) == pytest.approx(expected)


@pytest.mark.parametrize(("text", "expected"), GRADES.items())
def test_a_grade_is_one_thing_at_every_door(text, expected):
    """A grade that has its system is the same in a document, a command and a notebook's line."""
    assert [door(text) for door in (shop_grade, document_grade, lines_grade)] == [expected] * 3


@pytest.mark.parametrize(("text", "expected"), NO_GRADES.items())
def test_no_grade_is_refused_in_the_same_words(text, expected):
    """What is no grade is refused alike in a document and a command."""
    assert [said(door, text) for door in (shop_grade, document_grade)] == [expected] * 2


def test_a_bare_grade_is_what_the_shop_means_and_asked_for_where_no_shop_is():
    """A command knows its shop; a document goes from shop to shop, and a notebook's line asks."""
    assert shop_grade("320") == "CAMI 320"
    assert said(document_grade, "320") == "'320' may be one grade or another; P320 or CAMI 320?"
    found = read_lines("sand 320", "notebook", Context({}), "own")
    assert [doubt.key for doubt in found.doubts] == ["grades"]


@pytest.mark.parametrize(("texts", "expected"), AIRS.items())
def test_the_air_of_a_plan_has_the_limits_of_a_reading(texts, expected):
    """What if the air were so: 'plan --air' takes no air that a reading would be refused for."""
    what_if = dict.fromkeys(("extra", "away", "with_piece", "due", "schedule", "drop"), ())
    answer = said(
        lambda air: plan_asked.what_if(what_if, air, None, (), date(2026, 12, 7)).air,
        "/".join(texts),
    )
    if isinstance(expected, str):
        assert expected in answer
    else:
        assert (answer.temperature_c, answer.humidity_percent) == pytest.approx(expected)

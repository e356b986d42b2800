"""Names, faces and documents of what is begun: safe, and never over somebody else's work."""

from __future__ import annotations

import re
from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishsched.documents.decode import read
from finishsched.documents.faults import DocumentFaultsError
from finishsched.documents.leaves import ID
from finishsched.model.shop import UNIT_SETS
from finishsched.workshop.base import place
from finishsched.workshop.base.documents import read_papers
from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.begin.changing import draft_change, values_now
from finishsched.workshop.begin.face_words import read_faces
from finishsched.workshop.begin.inlay_words import read_inlays
from finishsched.workshop.begin.piece import draft_piece
from finishsched.workshop.begin.questions import QUESTIONS, name_of, questions_for
from finishsched.workshop.begin.written import Written, put, undo
from finishsched.workshop.demo.starter import make_shop

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)


@given(st.text(max_size=120), st.sets(st.sampled_from(["lid", "lid-2", "piece"])))
def test_any_title_gives_a_name_that_is_safe_in_every_file_name(title, taken):
    """Letters, digits and hyphens only, no device of any system, none that is taken."""
    name = name_of(title, taken)
    assert ID.from_text(name) == name
    assert name not in taken
    assert name not in ("con", "nul", "prn", "aux")


@pytest.mark.parametrize(
    ("text", "area_m2", "count"),
    [
        ("220 x 140 mm", 0.0308, 1), ("22 cm × 14 cm", 0.0308, 1), ("0.1 m2", 0.1, 1),
        ("8 1/2 x 5 in", 0.0274193, 1), ("2 of 100 x 100 mm", 0.02, 1),
        ("220 x 140 x 80 mm", 0.0308 + 2 * 0.0176 + 2 * 0.0112, 3),
        ("top: 220 x 140 mm; edges: 0.015 m2", 0.0458, 2),
    ],
)  # fmt: skip
def test_faces_are_read_from_a_line(text, area_m2, count):
    """By sides, by area, several of one, and the outside of a box without its bottom."""
    faces = read_faces(text)
    assert len(faces) == count
    assert sum(face.area_m2 for face in faces) == pytest.approx(area_m2, rel=1e-4)


@pytest.mark.parametrize(
    "text", ["", "220 mm", "a lid", "1 x 2 x 3 x 4 mm", "220 x 140", "0 x 3 mm"]
)
def test_what_is_no_face_says_what_would_be(text):
    """With examples in the remedy."""
    with pytest.raises(RefusedError, match="220 x 140"):
        read_faces(text)


def test_two_who_begin_the_same_name_are_told(tmp_path):
    """The second finds the document written by somebody else, and it stays as the first left it."""
    make_shop(tmp_path / "shop")
    shop = tmp_path / "shop"
    one = Written("jobs/box.yaml", "begin box", None, "one\n")
    other = Written("jobs/box.yaml", "begin box", None, "other\n")
    put(shop, one, NOW)
    with pytest.raises(RefusedError, match="somebody else"):
        put(shop, other, NOW)
    assert (shop / "jobs/box.yaml").read_text() == "one\n"
    assert not (shop / ".documents-lock").exists()


def test_undo_goes_back_step_by_step(tmp_path):
    """The newest change first, until there is none."""
    make_shop(tmp_path / "shop")
    shop = tmp_path / "shop"
    put(shop, Written("jobs/box.yaml", "begin", None, "one\n"), NOW)
    put(shop, Written("jobs/box.yaml", "change", "one\n", "two\r\n"), NOW)
    assert (shop / "jobs/box.yaml").read_bytes() == b"two\r\n"
    assert undo(shop).what == "change"
    assert (shop / "jobs/box.yaml").read_text() == "one\n"
    assert undo(shop).what == "begin"
    assert not (shop / "jobs/box.yaml").exists()
    with pytest.raises(RefusedError, match="nothing to undo"):
        undo(shop)


@pytest.mark.parametrize(
    ("text", "material", "thickness_mm", "in_mm"),
    [
        ("shell 0.3 mm in 0.6 mm veneer", "shell", 0.3, 0.6),
        ("brass, 1 mm", "brass", 1.0, None),
        ("12 mil of mother of pearl let into a 0.6 mm veneer", "mother of pearl", 0.3048, 0.6),
        ("Bone 1/8 in", "Bone", 3.175, None),
    ],
)
def test_inlays_are_read_from_a_line(text, material, thickness_mm, in_mm):
    """Material and thickness either way round, and the veneer that it lies in."""
    (found,) = read_inlays(text)
    assert (found.material, found.in_mm) == (material, in_mm)
    assert found.thickness_mm == pytest.approx(thickness_mm)


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("holly 0.9 mm, proud 0.3 mm, 1.5 mm wide", [("holly", 0.9, 300, 0, 1.5)]),
        ("holly stringing 0.3 mm proud in 0.6 mm veneer", [("holly stringing", 0.9, 300, 0, None)]),
        ("shell low 0.05 mm in 0.6 mm veneer", [("shell", 0.55, 0, 50, None)]),
        ("brass 1 mm wide 0.5 mm thick", [("brass", 0.5, 0, 0, 1.0)]),
        (
            "holly 36 thou in 24 thou veneer, shell 300 um low 50 um and bone 1 mm",
            [
                ("holly", 0.9144, 304.8, 0, None),
                ("shell", 0.3, 0, 50, None),
                ("bone", 1, 0, 0, None),
            ],
        ),
    ],
)
def test_how_inlays_stand_is_read_in_the_same_line(text, found):
    """Proud or low, how wide, several with commas; a thickness not said follows from the veneer."""
    read = read_inlays(text)
    assert [one.material for one in read] == [material for material, *_ in found]
    for one, (_, thick_mm, proud_um, low_um, width_mm) in zip(read, found, strict=True):
        assert one.thickness_mm == pytest.approx(thick_mm)
        assert (one.proud_um, one.low_um) == (pytest.approx(proud_um), pytest.approx(low_um))
        assert one.width_mm == width_mm


@pytest.mark.parametrize("text", ["shell", "0.3 mm", "shell thick", "cheese 3 mm", "shell 0.3"])
def test_what_is_no_inlay_says_what_would_be(text):
    """A material that nobody knows and a thickness without a unit are told too."""
    with pytest.raises(RefusedError, match="write"):
        read_inlays(text)


def test_what_is_let_in_is_known_to_film_and_checker(tmp_path):
    """A begun piece has its inlay in the document, where the ledger and the rules read it."""
    make_shop(tmp_path / "shop", example=False)
    papers = read_papers(tmp_path / "shop")
    answers = {
        "title": "Lid", "schedule": "padded-shellac-pattern", "veneer": "0.6 mm",
        "inlay": "shell 0.3 mm in 0.6 mm veneer; wax 1 mm",
    }  # fmt: skip
    draft = draft_piece(papers, tmp_path / "shop", answers, NOW.date())
    assert set(draft.faults) == {"inlay"}
    draft = draft_piece(papers, tmp_path / "shop", {**answers, "inlay": "shell 0.3 mm"}, NOW.date())
    assert draft.written is not None
    put(tmp_path / "shop", draft.written, NOW)
    job = read_papers(tmp_path / "shop").jobs[0]
    assert [inlay.material for inlay in job.pieces[0].inlays] == ["shell"]


@pytest.mark.parametrize(
    ("more", "wood", "veneer_mm", "sheen"),
    [
        ({}, "cherry", 0.6, "gloss"),
        ({"veneer": "solid"}, "cherry", None, "gloss"),
        ({"wood": "maple", "sheen": "satin"}, "maple", None, "satin"),
        ({"wood": "maple", "veneer": "24 mil"}, "maple", pytest.approx(0.6096), "gloss"),
        ({"job": "Another"}, "", None, ""),
    ],
)
def test_a_second_piece_is_of_the_wood_of_its_job(tmp_path, more, wood, veneer_mm, sheen):
    """What is left open is as of the job's first piece, and told so; what is said is as said."""
    make_shop(tmp_path / "shop", example=False)
    first = {
        "title": "Lid", "job": "Box", "schedule": "waxed-shellac", "wood": "cherry",
        "veneer": "0.6 mm", "sheen": "gloss", "faces": "10 x 10 cm",
    }  # fmt: skip
    begun = draft_piece(read_papers(tmp_path / "shop"), tmp_path / "shop", first, NOW.date())
    put(tmp_path / "shop", begun.written, NOW)
    second = {"title": "Case", "job": "Box", "schedule": "waxed-shellac", "faces": "9 cm2", **more}
    draft = draft_piece(read_papers(tmp_path / "shop"), tmp_path / "shop", second, NOW.date())
    assert not draft.faults
    put(tmp_path / "shop", draft.written, NOW)
    piece = next(p for _, _, p in read_papers(tmp_path / "shop").pieces() if p.title == "Case")
    assert (piece.species, piece.veneer_mm, piece.sheen) == (wood, veneer_mm, sheen)
    taken = [note for note in draft.assumed if note.startswith("as of Lid")]
    assert bool(taken) == ("sheen" not in more and "job" not in more)


@pytest.mark.parametrize(
    ("what", "key", "near"),
    [
        ("first-box/lid", "schedule", "schedule"),
        ("padded-shellac-open-pored/body/body-pad", "product", "product"),
        ("padded-shellac-open-pored/body/level", "lubricant", "product"),
    ],
)
def test_a_name_that_there_is_not_is_refused_before_it_is_written(tmp_path, what, key, near):
    """Never found out by the next check only."""
    make_shop(tmp_path / "shop", example=True)
    with Workshop.open(tmp_path / "shop", NOW) as shop:
        what = what if "/body" in what else next(ref for ref, _, _ in shop.papers.pieces())
        with pytest.raises(RefusedError, match=f"there is no {near} 'nonesuch'"):
            draft_change(shop.papers, shop.folder, what, key, "nonesuch")
        assert "brush" not in values_now(shop.papers, shop.folder, "tung-oil/body/thin-oil")


@pytest.mark.parametrize(
    ("key", "value", "written"),
    [
        ("people", "Ana, Rui", "people: [Ana, Rui]"),
        ("hours", "Mon-Thu 18:30-21:30, Sat 9:00-12:30", "  - Sat 9:00-12:30"),
        ("usual_air", "18 degC, 60 %", "usual_air: {temperature: 18 degC, humidity: 60 %}"),
        ("tools", "scale 1 g, measure 2 ml", "tools: {measure: 2 ml}"),
        ("jars", "250 ml, 500 ml", "jars: [250 ml, 500 ml]"),
        ("stores", "drying rack, capacity 6, for pad and brush, held wait",
         "  - {store: drying rack, capacity: 6, for: [pad, brush], held: wait}"),
        ("packs", "water-dye, 100 g, 9 EUR",
         "  - {product: water-dye, size: 100 g, price: 9.00 EUR}"),
        ("units", "us",
         "units: {volume: floz, mass: oz, temperature: degF, length: in, area: sqft}"),
        ("rooms", "12 x 14 x 8 ft", "  - {room: room, volume: 1344 cuft}"),
        ("rooms", "cellar, 40 m3, settle 20 min",
         "  - {room: cellar, settle: 20 min, volume: 40 m3}"),
    ],
)  # fmt: skip
def test_values_of_the_shop_are_typed_in_plain_words(tmp_path, key, value, written) -> None:
    """No brackets; every other line stays, and what stands there now can be typed back."""
    make_shop(tmp_path / "shop", example=False)
    with Workshop.open(tmp_path / "shop", NOW) as shop:
        draft = draft_change(shop.papers, shop.folder, "shop", key, value)
        assert draft.before is not None
        old, new = draft.before.splitlines(), draft.after.splitlines()
        assert written in new
        assert [line for line in old if line not in new] in ([], [
            "usual_air: {temperature: 20 degC, humidity: 50 %}",
        ], [
            "tools: {scale: 0.1 g, measure: 5 ml, trust: 5 %}",
        ], [
            "units: {volume: ml, mass: g, cut: lb/gal, temperature: degC, length: mm, area: m2}",
        ])  # fmt: skip
        put(shop.folder, draft, NOW)
        shop.changed()
        said = values_now(shop.papers, shop.folder, "shop")[key]
        assert "{" not in said
        assert "[" not in said
        again = draft_change(shop.papers, shop.folder, "shop", key, said)
        assert again.after == draft.after


def test_the_units_of_a_shop_are_one_word(tmp_path) -> None:
    """'change shop units us' is what a maker types, metric takes it back; others are told both."""
    make_shop(tmp_path / "shop", example=False)
    with Workshop.open(tmp_path / "shop", NOW) as shop:
        for word in ("US", "metric"):
            put(shop.folder, draft_change(shop.papers, shop.folder, "shop", "units", word), NOW)
            shop.changed()
            assert shop.papers.shop.units == UNIT_SETS[word.lower()]
        with pytest.raises(DocumentFaultsError, match=r"'imperial' is no.* write metric or us"):
            draft_change(shop.papers, shop.folder, "shop", "units", "imperial")


@pytest.mark.parametrize(
    ("key", "value", "written"),
    [
        ("schedule", "tung-oil", "    schedule: tung-oil"), ("count", "3", "    count: 3"),
        ("due", "2026-12-20", "    due: 2026-12-20"), ("sheen", "satin", "    sheen: satin"),
        ("faces", "top: 230 x 150 mm", "      - {face: top, length: 230 mm, width: 150 mm}"),
        ("veneer", "0.6 mm", "    veneer: 0.6 mm"),
    ],
)  # fmt: skip
def test_each_value_of_a_piece_is_typed_in_plain_words(tmp_path, key, value, written) -> None:
    """What a maker changes of a piece: one line of the document, all others stay."""
    make_shop(tmp_path / "shop", example=False)
    with Workshop.open(tmp_path / "shop", NOW) as shop:
        answers = {"title": "Lid", "schedule": "waxed-shellac", "wood": "cherry", "sheen": "gloss"}
        begun = draft_piece(shop.papers, shop.folder, answers, NOW.date())
        put(shop.folder, begun.written, NOW)
        shop.changed()
        draft = draft_change(shop.papers, shop.folder, "lid", key, value)
    old, new = draft.before.splitlines(), draft.after.splitlines()
    assert [line for line in new if line not in old] == [written]
    assert len([line for line in old if line not in new]) <= 1


def test_what_is_usual_is_told_where_it_is_written(tmp_path) -> None:
    """The air that a new shop begins with is no empty value."""
    make_shop(tmp_path / "shop", example=False)
    with Workshop.open(tmp_path / "shop", NOW) as shop:
        values = values_now(shop.papers, shop.folder, "shop")
    assert values["usual_air"] == "temperature 20 degC, humidity 50 %"


def test_the_waits_of_a_step_are_typed_as_in_a_notebook(tmp_path) -> None:
    """Between the coats and after the last, or one range of times; words read back the same."""
    make_shop(tmp_path / "shop", example=False)
    what = "padded-shellac-open-pored/body/body-pad"
    with Workshop.open(tmp_path / "shop", NOW) as shop:
        said = values_now(shop.papers, shop.folder, what)["wait"]
        same = draft_change(shop.papers, shop.folder, what, "wait", said)
        model = read(same.after.encode("utf-8"), "x", "schedule").model
        assert model == shop.papers.schedules["padded-shellac-open-pored"]
        value = "15 min to 20 min between, 10 h to 12 h after"
        draft = draft_change(shop.papers, shop.folder, what, "wait", value)
    assert "between: {earliest: 15 min, likely: 20 min}" in draft.after
    assert "after: {earliest: 10 h, likely: 12 h}" in draft.after


def test_a_new_shop_in_us_units_is_read_as_that(tmp_path):
    """Ounces, inches and degF from the first line on; all else is what a metric shop has."""
    metric, us = tmp_path / "metric", tmp_path / "us"
    make_shop(metric, example=False)
    make_shop(us, example=False, units="us")
    one, other = read_papers(metric).shop, read_papers(us).shop
    assert other.units == UNIT_SETS["us"]
    assert one.units == UNIT_SETS["metric"]
    assert other.usual_air.temperature_c == pytest.approx(one.usual_air.temperature_c)
    changed = [
        line for line in (us / "shop.yaml").read_text("utf-8").splitlines()
        if line not in (metric / "shop.yaml").read_text("utf-8").splitlines() and line[:1] != "#"
    ]  # fmt: skip
    assert [line.partition(":")[0] for line in changed] == [
        "units",
        "alcohol",
        "usual_air",
        "tools",
    ]


def test_the_first_job_of_a_shop_in_us_units_is_in_inches(tmp_path):
    """No millimetre stands in it, and its box is as large as the metric one, within a tenth."""
    boxes = []
    for units in ("us", "metric"):
        make_shop(tmp_path / units, units=units)
        (job,) = read_papers(tmp_path / units).jobs
        boxes.append(sum(piece.area_m2 for piece in job.pieces))
    assert " mm" not in (tmp_path / "us/jobs/first-box.yaml").read_text("utf-8")
    assert boxes[0] == pytest.approx(boxes[1], rel=0.1)


def test_quantities_stand_as_they_were_typed(tmp_path):
    """Inches stay inches in a new piece, its veneer and inlay too; a scale of 0.1 oz is that."""
    make_shop(tmp_path / "shop", example=False)
    papers = read_papers(tmp_path / "shop")
    answers = {
        "title": "Lid", "faces": "8 1/2 x 5 in", "veneer": "1/32 in", "wood": "walnut",
        "inlay": "shell 0.012 in in 1/32 in veneer", "schedule": "waxed-shellac",
    }  # fmt: skip
    draft = draft_piece(papers, tmp_path / "shop", answers, NOW.date())
    assert draft.written is not None
    assert "veneer: 1/32 in" in draft.written.after
    assert "thickness: 0.012 in" in draft.written.after
    assert " mm" not in "".join(
        line for line in draft.written.after.splitlines() if not line.lstrip().startswith("#")
    )
    changed = draft_change(papers, tmp_path / "shop", "shop", "tools", "scale 0.1 oz")
    assert "0.1 oz" in changed.after


def test_who_measures_in_inches_is_asked_in_inches(tmp_path):
    """Each example can be typed as it stands, and none is in millimetres."""
    make_shop(tmp_path / "shop", example=False, units="us")
    papers = read_papers(tmp_path / "shop")
    asked = {question.key: question for question in questions_for(papers.shop.units)}
    assert not [one.key for one in asked.values() if re.search(r"\d mm|m2", one.meant + one.usual)]
    answers = {
        "title": "Lid", "schedule": "waxed-shellac", "faces": asked["faces"].usual,
        "veneer": asked["veneer"].meant.partition(";")[0],
        "inlay": asked["inlay"].meant.rpartition(";")[0],
    }  # fmt: skip
    draft = draft_piece(papers, tmp_path / "shop", answers, NOW.date())
    assert not draft.faults
    assert draft.written is not None
    assert "area: 1 sqft" in draft.written.after
    assert questions_for(UNIT_SETS["metric"]) == QUESTIONS


def test_nothing_that_is_worked_out_is_kept_with_the_documents(tmp_path):
    """Whoever keeps a shop's folder under version control sees documents only."""
    make_shop(tmp_path / "shop")
    ignored = (tmp_path / "shop/.gitignore").read_text("utf-8").splitlines()
    files = [name for key, name in vars(place).items() if key.endswith("_FILE")]
    assert set(files) - {place.SHOP_FILE} <= set(ignored)

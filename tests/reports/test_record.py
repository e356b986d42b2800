"""The finish record: whole, sealed, self-contained, and neutral to whatever people wrote."""

from __future__ import annotations

import re
import textwrap
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image
from reader_of_pages import Page

from finishsched.reports import record
from finishsched.reports.pictures import PictureFaultError, embedded
from finishsched.reports.record import record_page, record_text
from finishsched.reports.seal import BLANK, is_whole, sealed
from finishsched.workshop.base.entries import Entry, RefusedError, What
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.demo.demo import make_demo
from finishsched.workshop.log.log import log_entry
from finishsched.workshop.papers.picture_entries import attach, attach_at_step
from finishsched.workshop.papers.records import record_of, records_of
from finishsched.workshop.standing.where import find, standings

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
HARM = '<script>alert(1)</script> & "q" \x1b[31m\u202e {{ 7*7 }} </td>'


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """Return the demo shop, with something hostile noted on one piece and a picture of it."""
    folder = tmp_path_factory.mktemp("record") / "shop"
    make_demo(folder, NOW)
    (folder / "pictures").mkdir()
    picture = Image.new("RGB", (3000, 1000), "sienna")
    exif = Image.Exif()
    exif[0x0112] = 6  # turned a quarter
    exif[0x8825] = {1: "N"}  # where it was taken
    picture.save(folder / "pictures" / "lid.jpg", exif=exif)
    with Workshop.open(folder, NOW) as workshop:
        log_entry(workshop, Entry(What.NOTE, "tea-chest/lid", text=HARM, by=HARM), NOW)
        attach(workshop, "tea-chest/lid", folder / "pictures" / "lid.jpg", HARM, NOW)
    return folder


@pytest.fixture
def shop(folder):
    """Return the shop, open."""
    with Workshop.open(folder, NOW) as workshop:
        yield workshop


@given(st.text(max_size=120), st.sampled_from(["", "  ", "    "]))
def test_a_line_of_a_record_is_wrapped_as_the_library_does(text, indent):
    """What fits is not wrapped at all, which is as the library has it, and so is all the rest."""
    meant = textwrap.wrap(
        " ".join("".join(c if c.isprintable() else " " for c in text).split()),
        record.TEXT_WIDTH,
        initial_indent=indent,
        subsequent_indent=f"{indent}  ",
    )
    assert list(record._wrapped(text, indent)) == meant


def test_the_page_needs_nothing_beside_it(shop, folder):
    """No address in the page leads anywhere but into the page itself, and nothing in it runs."""
    seen = Page(record_page(records_of(shop, "tea-chest/lid", NOW), folder))
    assert all(address.startswith("data:image/") for address in seen.addresses)
    assert seen.addresses
    assert not set(seen.tags) & {"script", "link", "iframe", "object", "embed", "form", "base"}


def test_what_people_wrote_stays_text(shop, folder):
    """Tags, braces and control signs in a note come out as plain text, or not at all."""
    records = records_of(shop, "tea-chest/lid", NOW)
    page, text = record_page(records, folder), record_text(records)
    assert '<script>alert(1)</script> & "q" [31m {{ 7*7 }} </td>' in Page(page).text
    assert not re.search("[\x00-\x09\x0b-\x1f\u202e]", page.replace("\n", ""))
    assert not re.search("[\x00-\x09\x0b-\x1f\u202e]", text)


def test_the_record_tells_every_coat(shop):
    """Each step that was done is there in order, with what it was laid out of and the air."""
    record = record_of(shop, "tea-chest/lid", NOW)
    progress = find(shop, "tea-chest/lid").progress
    assert [line.what for line in record.work] == [step.title for step, _ in progress.done]
    coats = [line for line in record.work if line.what.startswith("pad")]
    assert all(line.out_of and line.amount and line.air and line.product for line in coats)
    assert record.finished_at is None
    assert [keeping.finish for keeping in record.keeping] == ["shellac"]


def test_solvents_are_those_of_the_coats(shop):
    """The vapour of a record is no more than the alcohol of all that was logged used."""
    record = record_of(shop, "tea-chest/lid", NOW)
    used_ml = sum(
        event.what.amount_ml or 0.0 for _, event in find(shop, "tea-chest/lid").progress.done
    )
    total_g = sum(grams for _, grams in record.solvents)
    assert 0.5 * used_ml < total_g < 0.82 * used_ml


def test_text_is_narrow_enough_for_any_printer(shop):
    """No line of the plain text is wider than 78 signs, whatever the record holds."""
    text = record_text(records_of(shop, "tea-chest", NOW))
    assert max(map(len, text.splitlines())) <= 78


def test_a_job_has_all_its_pieces_that_were_begun(shop, folder):
    """The record of a job holds a part for each piece with an entry, and one seal."""
    page = record_page(records_of(shop, "tea-chest", NOW), folder)
    titles = re.findall("<h1>(.*?)</h1>", page)
    assert len(titles) == sum(
        1 for s in standings(shop) if s.ref.startswith("tea-chest/") and s.progress
    )


def test_a_change_shows():
    """A sealed text is whole until any sign of it is another; one without a seal has none."""
    text = sealed(f"a record\n{BLANK}\n")
    assert is_whole(text) is True
    assert is_whole(text.replace("record", "Record")) is False
    assert is_whole("no seal at all") is None


def test_zeros_that_people_wrote_are_no_seal():
    """A text that holds as many zeros as a seal is sealed all the same, and a change shows."""
    text = sealed(f"lot {BLANK}\n{BLANK}\n")
    assert text.startswith(f"lot {BLANK}\n")
    assert is_whole(text) is True
    assert is_whole(text.replace("lot", "Lot")) is False


def test_a_note_of_later_moves_no_end(tmp_path):
    """A finished piece is finished when its last step was, whatever is noted months later."""
    make_demo(tmp_path / "shop", NOW)
    with Workshop.open(tmp_path / "shop", NOW) as shop:
        ref = "tea-chest/tray"
        log_entry(shop, Entry(What.NOTE, ref, text="a knot in the floor"), NOW - timedelta(days=30))
        log_entry(shop, Entry(What.START, ref), NOW)
        while not (progress := find(shop, ref).progress).finished:
            log_entry(shop, Entry(What.READY if progress.waiting else What.DONE, ref), NOW)
        later = NOW + timedelta(days=90)
        log_entry(shop, Entry(What.NOTE, ref, text="a ring from a cup"), later)
        record = record_of(shop, ref, later)
    assert (record.begun_at, record.finished_at) == (NOW, NOW)
    assert dict(record.facts)["sheen left by"] == "rub out grey pad"
    assert [line.words for line in record.talk][-1].endswith("a ring from a cup")


def test_a_job_whose_file_is_gone_has_its_record(tmp_path):
    """The work of a job outlives its document: its pieces are recorded together as before."""
    make_demo(tmp_path / "shop", NOW)
    (tmp_path / "shop" / "jobs" / "tea-chest.yaml").unlink()
    with Workshop.open(tmp_path / "shop", NOW) as shop:
        refs = [record.ref for record in records_of(shop, "tea-chest", NOW)]
    assert refs == ["tea-chest/lid", "tea-chest/body"]


def test_both_forms_are_sealed(shop, folder):
    """The page and the plain text each carry a seal of their own that holds."""
    records = records_of(shop, "tea-chest/lid", NOW)
    assert is_whole(record_page(records, folder))
    assert is_whole(record_text(records))


def test_a_piece_not_begun_has_no_record(shop):
    """Where nothing was done there is nothing to record, and the refusal says how to begin."""
    fresh = next(s.ref for s in standings(shop) if s.progress is None)
    with pytest.raises(RefusedError, match="start"):
        record_of(shop, fresh, NOW)


def test_air_of_the_chart_lies_within_the_work(shop):
    """No point of the air's chart is before the piece was begun or after its last entry."""
    record = record_of(shop, "tea-chest/lid", NOW)
    assert record.air
    assert all(record.begun_at <= point.at <= NOW + timedelta(minutes=1) for point in record.air)


def test_a_picture_is_made_small_upright_and_without_a_place(folder):
    """What goes into the page is at most 1400 wide or high, turned upright, with no place in it."""
    import base64
    import io

    address = embedded(folder, "pictures/lid.jpg")
    data = base64.b64decode(address.partition(",")[2])
    with Image.open(io.BytesIO(data)) as picture:
        assert picture.size == (467, 1400)
        assert not picture.getexif()


def test_no_file_outside_the_shop_comes_into_a_page(tmp_path):
    """A journal from elsewhere may name any file: only the shop's own are put in."""
    (tmp_path / "shop").mkdir()
    Image.new("RGB", (9, 9)).save(tmp_path / "private.png")
    (tmp_path / "shop" / "link.png").symlink_to(tmp_path / "private.png")
    for name in ("../private.png", str(tmp_path / "private.png"), "link.png", "\0.png"):
        with pytest.raises(PictureFaultError, match="outside"):
            embedded(tmp_path / "shop", name)


def test_what_is_no_picture_is_told(tmp_path):
    """A file that cannot be shown, or is gone, is named with what to do."""
    (tmp_path / "x.jpg").write_bytes(b"\xff\xd8\xff not really")
    Image.effect_noise((400, 400), 50).save(tmp_path / "torn.png")
    begin, _, end = (tmp_path / "torn.png").read_bytes().rpartition(b"IDAT")
    (tmp_path / "torn.png").write_bytes(begin + b"\x99L\x91H" + end)
    for name in ("x.jpg", "torn.png", "gone.jpg"):
        with pytest.raises(PictureFaultError, match=name):
            embedded(tmp_path, name)


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("../outside.jpg", "outside"),
        ("pictures/none.jpg", "no file"),
        ("shop.yaml", "no picture"),
        ("text.png", "no JPEG"),
    ],
)
def test_only_pictures_of_the_shop_are_attached(shop, folder, name, says):
    """A file outside the folder, one that is not there and ones of no picture are refused."""
    (folder.parent / "outside.jpg").write_bytes(b"\xff\xd8\xff")
    (folder / "text.png").write_text("a letter")
    with pytest.raises(RefusedError, match=says):
        attach(shop, "tea-chest/lid", folder / name, "", NOW)


def test_pictures_of_a_step_stand_side_by_side_under_its_name(tmp_path):
    """Before and after make one row with the step's number and title."""
    folder = tmp_path / "shop"
    make_demo(folder, NOW)
    (folder / "pictures").mkdir()
    for name in ("before", "after"):
        Image.new("RGB", (60, 40), "sienna").save(folder / "pictures" / f"{name}.jpg")
    with Workshop.open(folder, NOW) as workshop:
        events = [log_entry(workshop, Entry(What.READY, "tea-chest/lid"), NOW)]
        files = [folder / "pictures" / f"{name}.jpg" for name in ("before", "after")]
        told = attach_at_step(workshop, events, files, "pad", NOW)
        record = record_of(workshop, "tea-chest/lid", NOW)
    assert [event.what.step for event in told] == [events[0].what.step] * 2
    rows = [(row.title.partition(",")[0], len(row.pictures)) for row in record.pictures]
    assert rows == [("29", 2)]
    page = record_page([record], folder)
    assert page.count('<div class="pictures">') == 1

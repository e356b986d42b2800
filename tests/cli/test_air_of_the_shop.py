"""``air`` in a shop: age, limits of what is in hand, the floor, and taking a reading back."""

import os
from datetime import timedelta

import pytest

from finishsched.journal.files import connect_to_look
from finishsched.journal.source import Source
from finishsched.journal.store import Journal
from finishsched.journal.store import _stamp as stamp


def flat(text):
    """Return folded lines as one."""
    return " ".join(text.split())


def test_the_age_of_the_last_reading_is_told(shop):
    """A fresh one has its age; after three hours it is called too old, also in JSON."""
    shop("air", "--add", "--temperature", "20 degC", "--humidity", "50 %")
    assert "(last reading, < 1 min ago)" in shop("air").out
    shop.now += timedelta(hours=5)
    assert "5 h 00 ago: too old, read it anew" in shop("air").out
    found = shop("air", "--json").json
    assert (found["too_old"], found["read_at"]) == (True, "2026-11-25T18:00:00Z")


def test_the_limits_of_what_is_in_hand(shop):
    """The product of the coat to be laid has its limits, those of alcohol the published 65 %."""
    limit = shop("air", "--json").json["limits"][0]
    assert limit["product"].startswith("shellac-")
    assert (limit["most_humidity_percent"], limit["fits"]) == (65.0, True)
    damp = shop("air", "--temperature", "18 degC", "--humidity", "90 %")
    assert "not fit" in damp.out
    assert "data sheet goes before these limits" in damp.out


def test_a_products_limits_need_no_shop(cli):
    """A shipped product's limits beside values as given, in the units of nobody's shop."""
    ran = cli("air", "--temperature", "20 degC", "--humidity", "70 %", "--product", "oil-varnish")
    assert "Brushing oil varnish (oil-modified polyurethane): from 15 degC, at most 85 %" in ran.out
    assert cli(
        "air", "--temperature", "20 degC", "--humidity", "70 %", "--product", "x"
    ).err_lines == ["--product: no product 'x'; see finishsched need or stock"]


def test_everything_is_in_the_shops_unit(shop):
    """A shop that thinks in degF gets margins in degF too: 3 K is 5 degF."""
    document = shop.cwd / "shop.yaml"
    text = document.read_text()
    if "temperature: degC" in text:
        text = text.replace("temperature: degC", "temperature: degF")
    else:
        text += "\nunits: {temperature: degF}\n"
    document.write_text(text)
    ran = shop("air")
    assert "66.2 degF" in ran.out
    assert "surface 5 degF or more above the dew point" in flat(ran.out)
    assert "degC" not in ran.out


def test_a_cold_floor_is_logged_and_told(shop):
    """With --surface the floor's warmth goes with the reading, and speaks against the coat."""
    ran = shop("air", "--add", "--temperature", "20 degC", "--humidity", "50 %",
               "--surface", "12 degC")  # fmt: skip
    assert "8 K colder than the room" in ran.out
    assert "before you coat: The piece is 8 K colder" in shop("due").out
    assert shop("air", "--json").json["surface_read_c"] == 12.0
    assert shop("air", "--surface", "12 degC").err_lines == [
        "--surface belongs to a reading that is logged; add --add"
    ]


def test_the_last_reading_is_taken_back(shop):
    """The undo names the reading, and stands alone."""
    before = shop("air", "--json").json
    shop("air", "--add", "--temperature", "30 degC", "--humidity", "20 %")
    assert shop("air", "--undo").out == "undone: the reading of 18:00, 30 degC, 20 %\n"
    assert shop("air", "--json").json == before
    assert "stands alone; leave out --add" in shop("air", "--undo", "--add").err


def test_a_warning_of_two_coats_is_told_once(shop):
    """The same words about a second coat are not said again below the first."""
    shop("air", "--add", "--temperature", "18 degC", "--humidity", "90 %")
    out = shop("due").out
    assert out.count("The air has 90 % humidity") == 1


def test_why_tells_what_the_humidity_rests_on(shop):
    """No published table of humidities was found, and both answers say so."""
    said = "no published table of"
    assert said in flat(shop("air", "--why").out)
    assert said in flat(shop("due", "--why").out)


def test_windows_are_in_what_is_due(shop):
    """A limit for the next coat and a pot life run in the text and in the JSON."""
    shop("stock", "--mixed", "pot 3", "--product", "two-part-epoxy", "--makes", "50 ml")
    ran, data = shop("due"), shop("due", "--json").json["windows"]
    assert "pot life      pot 3" in ran.out
    kinds = {window["kind"]: window for window in data}
    assert set(kinds) == {"pot life", "recoat window"}
    assert kinds["pot life"]["state"] == "open"
    assert kinds["pot life"]["closes_at"] > kinds["pot life"]["opened_at"]


def test_a_piece_whose_schedule_cannot_be_read_is_not_over(shop):
    """It names the schedule, and does not claim that all of no steps are over."""
    (shop.cwd / "jobs/odd.yaml").write_text(
        "job: odd\ntitle: Odd\npieces:\n  - piece: one\n    title: One\n    schedule: no-such\n"
        "    faces:\n      - {face: top, area: 0.1 m2}\n"
    )
    out = shop("due").out
    assert "no schedule that can be read: no-such" in out
    assert "all 0 steps" not in out


@pytest.mark.skipif(os.name != "posix", reason="permissions of POSIX")
def test_a_shop_that_may_not_be_written_can_be_looked_at(shop, monkeypatch):
    """``due`` says what it always says and that nothing can be logged; an entry is refused."""
    usual = shop("due").out

    def look(path):
        looked = Journal(Source(path, connect_to_look(path)), 0.0)
        looked._seen = stamp(path)
        return looked

    # The superuser may write anywhere, so the tests of the journal take the right away; here only
    # what the commands make of it is looked at.
    monkeypatch.setattr(Journal, "open_or_look", look)
    ran = shop("due")
    assert ran.out == usual
    assert "look, but nothing is logged" in ran.err
    refused = shop("log", "slope", "note", "x")
    assert refused.status == 2
    assert "cannot be written" in refused.err


def test_settings_are_checked_with_their_keys(cli):
    """Unknown ids and keys given twice are faults of the document, with their line."""
    (cli.cwd / "settings.yaml").write_text(
        "settings: bench\nquiet: {from: 22:00, to: 25:00}\nnotify: [say, due]\nkeys:\n  undo: l\n"
    )
    assert "'25:00' is no time of day; write it such as 22:00" in cli("check", "settings.yaml").out
    text = (cli.cwd / "settings.yaml").read_text().replace("25:00", "07:00")
    (cli.cwd / "settings.yaml").write_text(text)
    ran = cli("check", "settings.yaml")
    assert ran.status == 1
    assert "settings.yaml:5:" in ran.out
    assert "'l' is given to log-coat and undo" in ran.out

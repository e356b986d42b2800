"""``check`` tells what the rules find: places, codes, severities, and how each is silenced."""

from __future__ import annotations

import re

import pytest

from finishsched.checking.registry import RULES

DAMP = """\
schedule: damp
title: Damp
source: common practice
stages:
  - stage: body
    steps:
      - pad: thin ovals
        mark: first
        product: shellac-dewaxed-blonde
        cut: 2 lb
        coats: 20
        amount: 15 ml/m2
        wait:
          between: {earliest: 5 min, likely: 15 min}
          after: {earliest: 12 h, likely: 20 h}
        dry_check: lifts dry powder
      - level: cork block, off the edges, high spots only
        grade: P600
        lubricant: soapy water
      - pad: thin ovals
        mark: last
        product: shellac-dewaxed-blonde
        cut: 1 lb
        coats: 8
        amount: 15 ml/m2
        wait:
          between: {earliest: 5 min, likely: 15 min}
          after: {earliest: 24 h, likely: 36 h}
        dry_check: a thumbnail leaves no dent
"""
DRY = DAMP.replace(
    "lubricant: soapy water\n",
    "lubricant: soapy water\n        wait: {earliest: 2 h, likely: 4 h}\n"
    "        dry_check: as warm to the cheek as dry wood\n",
)
ONE_FACE = """\
job: panel
title: Panel
pieces:
  - piece: panel
    title: Panel
    schedule: padded-shellac-closed-pored
    veneer: 0.6 mm
    faces:
      - {face: front, length: 300 mm, width: 200 mm}
"""


@pytest.fixture
def write(cli):
    """Return what writes a document and checks it."""

    def check(text, *options, name="mine.yaml"):
        (cli.cwd / name).write_text(text)
        return cli("check", name, *options)

    return check


def test_a_finding_is_one_line_with_place_and_code(write):
    """FILE:LINE:COLUMN, what is wrong, what to do, and the code to explain or accept it by."""
    ran = write(DAMP)
    assert ran.status == 1
    (line,) = ran.out.splitlines()
    assert line.startswith("mine.yaml:17:16: water comes on at 'level P600'")
    assert line.endswith(" [water-under-coat]")
    assert write(DRY).status == 0


def test_findings_as_data(write):
    """The keys are those of every fault; the rule is the code."""
    (finding,) = write(DAMP, "--json").json["findings"]
    assert finding["rule"] == "water-under-coat"
    assert finding["severity"] == "error"
    assert (finding["file"], finding["line"], finding["column"]) == ("mine.yaml", 17, 16)


def test_advice_is_told_and_ends_well_unless_strict(write):
    """Exit 0 with advice alone, 1 with --strict; the line says so, and the last one how many."""
    ran = write(ONE_FACE)
    assert ran.status == 0
    assert ran.err == "no faults in 1 document; advice above: 1\n"
    assert ran.out.startswith("mine.yaml:9:7: advice: 'Panel' is veneered")
    assert write(ONE_FACE, "--strict").status == 1


def test_accepted_with_a_reason(write):
    """A silenced rule is silent; one that finds nothing, or that there is not, is told of."""
    silent = ONE_FACE.replace(
        "pieces:", "accepted:\n  - {rule: one-face, because: backed with a thick core}\npieces:", 1
    )
    ran = write(silent, "--strict")
    assert (ran.status, ran.out) == (0, "")
    slip = write(silent.replace("one-face", "one-fase"))
    assert slip.status == 1
    assert "mine.yaml:4:12: there is no rule 'one-fase' to accept; did you mean 'one-face'?" in (
        slip.out
    )
    idle = write(silent.replace("    veneer: 0.6 mm\n", ""))
    assert "[idle-silence]" in idle.out


def test_faults_names_and_rules_in_one_go(cli):
    """A document with a fault has its names looked up too, and others their rules."""
    (cli.cwd / "bad.yaml").write_text(
        DAMP.replace("earliest: 12 h", "earliest: 12").replace("blonde", "blond")
    )
    (cli.cwd / "damp.yaml").write_text(DAMP)
    found = cli("check", "bad.yaml", "damp.yaml", "--json").json["findings"]
    assert [(f["file"], f["rule"]) for f in found] == [
        ("bad.yaml", "unknown-name"),
        ("bad.yaml", "no-unit"),
        ("bad.yaml", "unknown-name"),
        ("damp.yaml", "water-under-coat"),
    ]


def test_the_demo_and_a_new_shop_are_clean(shop):
    """Nothing at all is told of what is shipped to begin with, advice included."""
    assert shop("check", "--strict", "--json").json["findings"] == []
    assert shop("new", "fresh").status == 0
    shop.cwd /= "fresh"
    assert shop("check", "--strict", "--json").json["findings"] == []


COLD = ["--temperature", "8 degC", "--humidity", "55 %", "--add"]


def _without_readings(shop):
    for journal in shop.cwd.glob("journal.db*"):
        journal.unlink()


def _stopped_by_the_air(shop, *arguments):
    """Tell whether a waterborne job is told that it never dries in the air of its shop."""
    job = shop.cwd / "jobs/tray.yaml"
    job.write_text(ONE_FACE.replace("padded-shellac-closed-pored", "waterborne-over-shellac"))
    found = shop("check", *arguments, "--json").json["findings"]
    place = ("jobs/tray.yaml", 6, 15, "air-stops-drying")
    return place in [(f["file"], f["line"], f["column"], f["rule"]) for f in found]


def test_a_job_is_judged_in_its_shop(shop):
    """Its usual air counts, none being read, whether the file is named or all is checked."""
    _without_readings(shop)
    file = shop.cwd / "shop.yaml"
    file.write_text(file.read_text().replace("temperature: 19 degC, h", "temperature: 8 degC, h"))
    assert _stopped_by_the_air(shop, "jobs/tray.yaml")
    assert _stopped_by_the_air(shop)


def test_air_as_it_was_read_stands_before_the_usual_one(shop):
    """The one reading that there is decides; of two weeks of them their mean does.

    A job is weeks of work: one cold morning among warm days is not the air that it will have. The
    coat that is laid in that morning has a clock, and cautions, which go by that reading.
    """
    assert shop("air", *COLD).status == 0
    assert not _stopped_by_the_air(shop, "jobs/tray.yaml")
    _without_readings(shop)
    assert not _stopped_by_the_air(shop, "jobs/tray.yaml")
    assert shop("air", *COLD).status == 0
    assert _stopped_by_the_air(shop, "jobs/tray.yaml")


def test_a_date_that_the_work_behind_makes_possible(shop):
    """A piece in the middle of its work has only the rest before it; one not begun, all of it."""
    job = shop.cwd / "jobs/tea-chest.yaml"
    text = job.read_text()
    due = next(line for line in text.splitlines() if line.startswith("due:"))
    job.write_text(text.replace(due, "due: 2026-12-08"))
    found = shop("check", "jobs/tea-chest.yaml", "--json").json["findings"]
    assert [f["rule"] for f in found] == ["due-too-soon"]
    assert "Sunburst lid" in found[0]["message"]
    job.write_text(text.replace(due, "due: 2026-12-14"))
    assert shop("check", "jobs/tea-chest.yaml", "--json").json["findings"] == []


def test_explain_teaches_a_rule(cli):
    """What, why, what to do, both sides of an example, the source."""
    said = cli("check", "--explain", "water-under-coat").out
    for part in ("Water under the next coat", "  why ", "  do ", "told of", "  from "):
        assert part in said
    data = cli("check", "--explain", "water-under-coat", "--json").json
    assert data["rule"] == "water-under-coat"
    assert data["fails"] != data["passes"]


def test_rules_lists_them_all(cli):
    """Every code, as text and as data."""
    said = cli("check", "--rules").out
    assert all(f"  {code} " in said for code in RULES)
    assert [rule["rule"] for rule in cli("check", "--rules", "--json").json["rules"]] == list(RULES)


def test_a_code_that_is_none(cli):
    """One line on stderr with the one that was meant."""
    ran = cli("check", "--explain", "water-under-coats")
    assert ran.status == 2
    assert ran.err == "--explain: no rule 'water-under-coats'; did you mean 'water-under-coat'?\n"


def test_a_wood_of_the_shops_own_is_known_to_every_command(shop):
    """Described once in shop.yaml, an oily wood is judged, chosen for and written of as oily."""
    path = shop.cwd / "shop.yaml"
    job = shop.cwd / "jobs" / "tea-chest.yaml"
    job.write_text(job.read_text().replace("species: ", "species: quince and ", 1))
    path.write_text(path.read_text() + "woods: [{wood: quince, is: 'like pear, very oily'}]\n")
    assert shop("change", "lid", "schedule", "wiped-oil").status == 0
    told = [one for one in shop("check", "--json").json["findings"] if one["rule"] == "oily-wood"]
    assert "quince" in told[0]["message"]
    assert "quince (like" not in job.read_text()
    chosen = shop("choose", "--wood", "quince", "--json").json["schedules"]
    assert next(one for one in chosen if one["schedule"] == "wiped-oil")["refused"]


def test_a_wood_of_the_shops_own_may_be_let_in(shop):
    """As an inlay it runs and wears by what the shop says of it; a slip of the pen is told."""
    path = shop.cwd / "shop.yaml"
    job = shop.cwd / "jobs" / "tea-chest.yaml"
    path.write_text(path.read_text() + "woods: [{wood: bloodplum, is: like padauk}]\n")
    line = "    inlay: {material: bloodplum, thickness: 0.8 mm, in: 0.6 mm}\n    species: maple\n"
    text = re.sub(r"(?m)^    (species|inlay|veneer): .*\n", "", job.read_text())
    job.write_text(re.sub(r"(?m)^(    schedule: .*\n)", rf"\1{line}", text, count=1))
    told = shop("check", "--json").json["findings"]
    runs = next(one for one in told if one["rule"] == "colour-runs")
    assert "bloodplum into maple" in runs["message"]
    assert not any("no material" in one["message"] for one in told)
    asked = ("begin", "Box", "--wood", "maple", "--usual", "--show", "--inlay")
    assert shop(*asked, "bloodplum 0.8 mm in 0.6 mm veneer").status == 0
    assert "moonstuff" in shop(*asked, "moonstuff 0.8 mm").err
    job.write_text(job.read_text().replace("material: bloodplum", "material: moonstuff"))
    told = shop("check", str(job), "--json").json["findings"]
    assert any("no material that is known" in one["message"] for one in told)


def test_words_that_say_nothing_of_a_wood_are_told_where_they_stand(shop):
    """The place, and what may be written."""
    path = shop.cwd / "shop.yaml"
    path.write_text(path.read_text() + "woods: [{wood: quince, is: 'like pear, lovely'}]\n")
    told = shop("check").out
    assert "'lovely' says nothing known of a wood" in told
    assert "open pores" in told

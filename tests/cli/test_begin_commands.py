"""A piece of one's own from nothing: by asking, by options, joined in the middle, taken back."""

from __future__ import annotations

import pytest

from finishsched.cli.begin.completion import script_for
from finishsched.documents.decode import load
from finishsched.workshop.begin.choosing import FEW_PIECES, MOST_PLANNED

NOTEBOOK = """
pad 1.5 lb blonde shellac, soak, 3 h
6 coats 2 lb, 15 min between, overnight
rest 3 days
"""
PADDED = ("--schedule", "padded-shellac-open-pored", "--wood", "walnut")


def test_options_alone_make_a_commented_document(empty):
    """Without a terminal nothing is asked; the document reads without fault and can be changed."""
    ran = empty(
        "begin", "Lid of the tea box", "--faces", "220 x 140 mm; edges: 0.01 m2",
        "--wood", "walnut", "--veneer", "0.6 mm", "--sheen", "gloss",
        "--due", "2026-12-18", "--alike", "2", "--json",
    )  # fmt: skip
    assert ran.status == 0, ran.err
    assert ran.json["pieces"] == ["tea-box/lid-1", "tea-box/lid-2"]
    file = empty.cwd / ran.json["file"]
    job = load(file).model
    assert job.title == "Tea box"
    assert str(job.due) == "2026-12-18"
    lid = job.pieces[0]
    assert (lid.species, lid.veneer_mm, lid.sheen) == ("walnut", 0.6, "gloss")
    assert [face.name for face in lid.faces] == ["all", "edges"]
    assert "gloss, as wanted" in ran.json["schedule_because"]
    assert "#" in file.read_text("utf-8")
    assert empty("check").status == 0


def test_one_piece_by_bare_enter_runs_in_few_keys(empty):
    """Every question has a usual answer; thirteen enters write the piece and show it before."""
    empty.typed = [""] * 13
    ran = empty("begin")
    assert ran.status == 0, ran.err
    assert "  | pieces:" in ran.out.splitlines()
    assert empty.typed == []
    assert (empty.cwd / "jobs/a-piece.yaml").is_file()
    assert "0.1 m2" in ran.err


def test_a_wrong_answer_is_asked_again_and_the_others_kept(empty):
    """The fault stands under its question, with what would be right."""
    empty.typed = ["Tray", "", "0", "1", "3 mm", "300 x 200 mm", *[""] * 9]
    ran = empty("begin")
    assert ran.status == 0, ran.err
    assert "'0' is no number of pieces" in ran.out
    assert "one side only" in ran.out
    assert load(empty.cwd / "jobs/tray.yaml").model.pieces[0].faces[0].length_mm == 300


def test_leaving_half_way_writes_nothing(empty):
    """The asking ends, and the folder is as it was."""
    empty.typed = ["Tray", "", "1"]
    ran = empty("begin")
    assert ran.status == 130
    assert not list((empty.cwd / "jobs").glob("*.yaml"))
    empty.typed = [*[""] * 12, "no"]
    assert "nothing was written" in empty("begin").out
    assert not list((empty.cwd / "jobs").glob("*.yaml"))


def test_every_fault_of_the_options_is_told_at_once(empty):
    """Each by its option."""
    ran = empty(
        "begin", "x", "--faces", "3 mm", "--sheen", "shiny", "--due", "soon", "--alike", "0",
        "--veneer", "thick", "--wear", "rain", "--schedule", "none-such",
    )  # fmt: skip
    assert ran.status == 2
    told = {line.partition(":")[0] for line in ran.err_lines}
    wanted = {"--faces", "--sheen", "--due", "--alike", "--veneer", "--wear", "--schedule"}
    assert wanted <= told
    assert not list((empty.cwd / "jobs").glob("*.yaml"))


def test_a_second_piece_goes_into_the_same_document(empty):
    """What stands there stays to the byte, remarks and all; undo takes only the second out."""
    assert empty("begin", "Lid of the tea box", "--sheen", "gloss", "--wood", "cherry").status == 0
    file = empty.cwd / "jobs/tea-box.yaml"
    first = file.read_text("utf-8")
    assert empty("begin", "Tray", "--job", "tea-box", "--wood", "cherry").status == 0
    assert file.read_text("utf-8").startswith(first)
    assert "tray" in file.read_text("utf-8")
    assert empty("begin", "--undo").status == 0
    assert file.read_text("utf-8") == first
    assert empty("begin", "--undo").status == 0
    assert not file.exists()
    assert empty("begin", "--undo").status == 2


def test_what_is_done_already_is_told_and_taken_back_with_the_piece(empty):
    """The clock of the sealing runs since it ended; undo leaves a shop without the piece."""
    ran = empty(
        "begin", "Lid", "--wood", "walnut", "--sheen", "gloss",
        "--done", "sanded to P240, sealed since 17:00",
    )  # fmt: skip
    assert ran.status == 0, ran.err
    (clock,) = empty("due", "--json").json["clocks"]
    assert clock["piece"] == "lid/lid"
    assert empty("begin", "--undo").status == 0
    due = empty("due", "--json").json
    assert not due["clocks"]
    assert not due["now"]


def test_undo_keeps_its_hands_off_what_was_changed_since(empty):
    """A document changed in an editor, or a piece that was worked on, is not taken back."""
    assert empty("begin", "Lid", "--wood", "cherry").status == 0
    assert empty("log", "lid", "start").status == 0
    ran = empty("begin", "--undo")
    assert ran.status == 2
    assert "logged on lid/lid since" in ran.err
    file = empty.cwd / "jobs/lid.yaml"
    assert empty("begin", "Tray", "--job", "other", "--wood", "cherry").status == 0
    other = empty.cwd / "jobs/other.yaml"
    other.write_text(other.read_text("utf-8") + "# mine\n", "utf-8")
    assert "changed since" in empty("begin", "--undo").err
    assert file.is_file()
    assert other.is_file()


def test_join_gives_the_state_that_logging_would_have_given(empty):
    """Step in hand, statuses and film are the same; only the entries say that they were told."""
    for name in ("told", "logged"):
        assert empty("begin", name, *PADDED, "--faces", "300 x 200 mm").status == 0
    assert empty("join", "told", "sanded", "to", "P240,", "sealed,", "3", "coats").status == 0
    told = empty("film", "told", "--json").json
    steps = empty("due", "--json").json["clocks"][0]["step"]
    assert empty("log", "logged", "start", "--at", "2026-11-01 08:00").status == 0
    for day in range(2, 25):
        before = [c for c in empty("due", "--json").json["clocks"] if c["piece"] == "logged/logged"]
        if before and before[0]["step"] == steps:
            break
        if before:
            assert empty("log", "logged", "ready", "--at", f"2026-11-{day:02d} 09:00").status == 0
        assert empty("log", "logged", "done", "--at", f"2026-11-{day:02d} 10:00").status == 0
    logged = empty("film", "logged", "--json").json
    assert told["film_um"] == logged["film_um"]
    assert told["relief_um"] == logged["relief_um"]


def test_join_teaches_nothing_of_how_things_dry(empty):
    """Reckoned times are no evidence: the paces are those of the book."""
    assert empty("begin", "Lid", *PADDED).status == 0
    assert empty("join", "lid", "sealed, 6 coats since yesterday").status == 0
    assert not any(row["checks"] for row in empty("pace", "--json").json["paces"])


def test_several_are_joined_all_or_none_and_taken_back_as_they_were_told(empty):
    """One that is begun refuses all of them, and one undo takes back what one telling gave."""
    for name in ("Lid", "Tray"):
        assert empty("begin", name, *PADDED).status == 0
    assert "nothing is done yet" in empty("join", "lid,tray", "nothing").out
    joined = empty("join", "lid,tray", "sanded, sealed", "--json").json["pieces"]
    assert [one["entries"] for one in joined] == [8, 8]
    assert empty("log", "lid,tray", "undo").status == 0
    assert empty("log", "tray", "start").status == 0
    refused = empty("join", "lid,tray", "sanded")
    assert (refused.status, "is begun already" in refused.err) == (2, True)
    assert not empty("log", "lid", "entries", "--json").json["entries"]


def test_join_says_what_it_cannot_make_out(empty):
    """A stage that the schedule has not, a grade coarser than it begins with, plain nonsense."""
    assert empty("begin", "Lid", "--wood", "cherry", "--schedule", "tung-oil").status == 0
    assert "no step by which it is sealed" in empty("join", "lid", "sealed").err
    assert "coarser" in empty("join", "lid", "sanded to P60").err
    assert "write for example" in empty("join", "lid", "nearly there").err
    assert not empty("due", "--json").json["clocks"]


def test_choose_ranks_with_reasons_and_never_recommends_what_check_refuses(empty):
    """By the plan of the shop: evenings and a day; a date that is missed says by how much."""
    found = empty(
        "choose", "--wood", "walnut", "--sheen", "gloss", "--due", "2026-11-28", "--json"
    ).json["schedules"]  # fmt: skip
    best = found[0]
    assert "gloss, as wanted" in best["fits"]
    assert not best["refused"]
    assert best["evenings"] > 0
    assert best["finish"] is not None
    assert best["late_days"] > 0
    assert not best["recommended"]
    refused = [each for each in found if each["refused"]]
    assert refused
    assert not any(each["recommended"] for each in refused)
    assert found[-1]["refused"]
    for each in found:
        assert each["fits"] or each["against"] or each["refused"]


def test_every_schedule_has_its_day_in_a_quiet_shop_and_a_busy_one_says_which_have(empty):
    """By the plan for all that fit; of many pieces for the best, told; a piece by its own name."""
    first = "Box", "--faces", "220 x 140 mm", "--wood", "maple", "--usual"
    assert empty("begin", *first).status == 0
    told = empty("choose", "--due", "2027-01-20", "--json").json["schedules"]
    assert len([offer for offer in told if offer["recommended"]]) > MOST_PLANNED
    assert all(offer["planned"] for offer in told if offer["recommended"])
    assert "were not tried" not in empty("choose", "--all").out
    assert empty("begin", "Tray", "--alike", str(FEW_PIECES), *first[1:]).status == 0
    busy = empty("choose", "--json").json["schedules"]
    assert sum(offer["planned"] for offer in busy) == MOST_PLANNED
    said = empty("choose", "box", "--sheen", "gloss", "--all").out
    assert "refused: 'Box' is to be gloss" in said
    assert f"by this shop's plan for the best {MOST_PLANNED}; the others were not tried" in said


def test_choose_without_a_shop_leaves_out_what_only_a_shop_knows(cli):
    """No evenings, no day; reversibility and solvents are heeded."""
    found = cli("choose", "--wood", "maple", "--reversible", "--without", "spray", "--json").json
    best = found["schedules"][0]
    assert best["evenings"] is None
    assert any("comes off again" in says for says in best["fits"])
    assert cli("choose", "--sheen", "shiny", "--due", "soon").err.count("\n") == 2


def test_choose_heeds_what_is_let_in_said_or_in_the_document(empty):
    """An option says it, or the piece's own document does; what is no material is refused."""
    said = empty("choose", "--wood", "walnut", "--inlay", "celluloid 1 mm", "--all")
    assert "brings alcohol to the celluloid" in said.out
    assert empty("begin", "Lid", "--faces", "220 x 140 mm", "--wood", "walnut", "--inlay",
                 "celluloid 1 mm", "--usual").status == 0  # fmt: skip
    assert "brings alcohol to the celluloid" in empty("choose", "lid", "--all").out
    assert "celluloid" not in empty("choose", "--wood", "walnut", "--all").out
    assert empty("choose", "--inlay", "cheese 1 mm").err.startswith("--inlay: 'cheese'")


def test_say_reads_a_notebook_from_a_file_and_from_standard_input(empty, monkeypatch):
    """Each line with what became of it; kept, it is a schedule of the shop that pieces can have."""
    (empty.cwd / "own way.txt").write_text(NOTEBOOK, "utf-8")
    ran = empty("say", "own way.txt", "--as", "My own way", "--keep")
    assert ran.status == 0, ran.err
    assert "becomes body/pad" in ran.out
    assert "our assumption" in ran.out
    assert load(empty.cwd / "schedules/my-own-way.yaml").model.id == "my-own-way"
    assert empty("begin", "Lid", "--schedule", "my own way").status == 0
    import io

    monkeypatch.setattr("sys.stdin", io.StringIO("pad 6 coates\n"))
    ran = empty("say", "-")
    assert ran.status == 2
    assert ran.err_lines[0].startswith("standard-input:1:")


def test_say_asks_its_doubts_and_keeps_nothing_while_one_is_open(empty):
    """On a terminal each is asked; without one each is told with what would settle it."""
    (empty.cwd / "n.txt").write_text("pad 3 coats 2 lb blonde shellac, 3 h\nrest 3 days\n", "utf-8")
    ran = empty("say", "n.txt", "--keep")
    assert ran.status == 2
    assert "--answer 1:wait=after" in ran.err
    assert not list((empty.cwd / "schedules").glob("*.yaml"))
    assert (
        empty("say", "n.txt", "--answer", "1:wait=after", "--keep", "--json").json["doubts"] == []
    )
    empty.typed = ["between"]
    assert "is 3 h waited between the coats" in empty("say", "n.txt").out


def test_say_writes_a_schedule_out_in_lines_that_read_back(empty):
    """Its own lines give the same document."""
    lines = empty("say", "--of", "tung-oil", "--json").json["lines"]
    (empty.cwd / "t.txt").write_text(lines, "utf-8")
    again = empty("say", "t.txt", "--json").json
    assert again["doubts"] == again["assumed"] == again["faults"] == []
    assert again["schedule"] == "tung-oil"


def test_steps_are_added_moved_and_taken_out_without_an_editor(empty):
    """A line becomes a step, an unread one writes nothing, and undo takes each back."""
    own = empty.cwd / "schedules/own.yaml"
    text = empty("schedules", "tung-oil").out
    own.write_text(text.replace("schedule: tung-oil", "schedule: own"))
    before = own.read_text()
    stage = next(line.split()[-1] for line in before.splitlines() if "- stage:" in line)
    added = empty("change", f"own/{stage}", "--add", "sand P320 dry, gently done")
    assert (added.status, own.read_text()) == (2, before)
    assert "'gently done' is none of the known words" in added.err
    assert "put it in quotes" in added.err
    added = empty("change", f"own/{stage}", "--add", "sand P320 dry, instead")
    assert (added.status, own.read_text()) == (2, before)
    assert "--add, sign 16: 'instead' says nothing here" in added.err
    added = empty("change", f"own/{stage}", "--add", "sand P320 dry")
    assert added.status == 0, added.err
    assert "our assumption: " in added.out
    assert "grade: P320" in own.read_text()
    assert empty("change", f"own/{stage}/sand", "--remove", "--move", "up").status == 2
    assert empty("change", "--undo").status == 0
    assert own.read_text() == before


def test_twelve_alike_are_one_piece_with_a_count_in_the_units_typed(shop):
    """Inches stay inches and centimetres centimetres, beside pieces that stood there before."""
    first = ("begin", "Drawer front of the chest", "--alike", "12", "--faces", "8 x 5 in")
    assert shop(*first, "--usual").status == 0
    lid = ("begin", "Lid", "--job", "chest", "--faces", "top: 8 1/2 x 5 in; inside: 20 x 10 cm")
    assert shop(*lid, "--usual").status == 0
    text = (shop.cwd / "jobs" / "chest.yaml").read_text()
    assert "count: 12" in text
    assert "{face: all, length: 8 in, width: 5 in}" in text
    assert "{face: top, length: 8 1/2 in, width: 5 in}" in text
    assert "{face: inside, length: 20 cm, width: 10 cm}" in text
    assert shop("need", "drawer-front", "--json").status == 0


@pytest.mark.parametrize("name", ["tung-oil", "french-polish-with-oil"])
def test_lines_that_are_printed_read_back_to_the_same_schedule(empty, name):
    """As they go into a file: nothing is folded, asked or assumed."""
    written = empty("say", "--of", name)
    assert written.status == 0
    (empty.cwd / "kept.txt").write_text(written.out, "utf-8")
    read = empty("say", "kept.txt", "--json").json
    assert (read["faults"], read["doubts"], read["assumed"]) == ([], [], [])


def test_a_shell_can_read_what_completion_prints(empty):
    """No line of the script is folded at the width of a screen."""
    printed = empty("completion", "fish").out
    assert printed.strip() == script_for("fish").strip()

"""``begin``: a piece of one's own, by asking."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from difflib import unified_diff
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from finishsched.cli.begin.asking import agree, ask, ask_until, can_ask, show_text
from finishsched.cli.common import answer, json_option, shop_named, shop_option, world
from finishsched.cli.faults import CommandError
from finishsched.cli.outgoing import say
from finishsched.cli.shop_door import NO_SHOP, tell
from finishsched.numerals import counted

if TYPE_CHECKING:
    from finishsched.workshop.base.workshop import Workshop
    from finishsched.workshop.begin.piece import PieceDraft
    from finishsched.workshop.begin.written import Written


_A_MINUTE = timedelta(minutes=1)
_SHOWN = 3
"""So many schedules are told to choose from."""


@click.command("begin")
@click.argument("title", required=False)
@click.option("--job", help="The job that it belongs to; without it, one of its own.")
@click.option("--alike", metavar="N", help="How many alike.")
@click.option("--faces", help="'9 x 5 1/2 in', 'top: 220 x 140 mm; edges: 0.015 m2'.")
@click.option("--wood", help="The wood that shows: cherry, walnut, rosewood and maple.")
@click.option("--veneer", metavar="LENGTH", help="How thick it is: '0.6 mm', '24 mil'.")
@click.option("--inlay", metavar="WHAT", help="What is let in: 'shell 0.3 mm in 0.6 mm veneer'.")
@click.option("--wear", help="What it will live through: handled, water, alcohol, heat.")
@click.option("--sheen", help="How much it should shine: satin, gloss, high gloss.")
@click.option("--due", metavar="DATE", help="When it is due: 2026-12-18.")
@click.option("--schedule", help="The schedule; without it, the best of those that fit.")
@click.option("--board", metavar="SCHEDULES", help="A sample board, a strip for each schedule.")
@click.option("--done", help="What is done already: 'sanded to P220, sealed, 3 coats yesterday'.")
@click.option("--usual", is_flag=True, help="Ask nothing: take what is usual for the rest.")
@click.option("--show", is_flag=True, help="Show what would be written, and write nothing.")
@click.option("--undo", is_flag=True, help="Take back the newest document that was written so.")
@shop_option
@json_option
def command(
    title: str | None,
    job: str | None,
    alike: str | None,
    faces: str | None,
    wood: str | None,
    veneer: str | None,
    inlay: str | None,
    wear: str | None,
    sheen: str | None,
    due: str | None,
    schedule: str | None,
    board: str | None,
    done: str | None,
    usual: bool,
    show: bool,
    undo: bool,
    shop: str | None,
    as_json: bool,
) -> None:
    """Begin a piece: what it is, its faces, its wood, and what is done already.

    On a terminal it asks for what no option says; enter takes what stands in the brackets. The
    document is shown before it is written, and begin --undo takes it back.

    --board 'waxed-shellac, wiped-oil' makes a sample board instead, with a strip for each schedule;
    --faces is then how large a strip is. Compare sets the strips side by side.
    """
    if undo:
        take_back_newest(shop, as_json)
        return
    given = {
        "title": title, "job": job, "alike": alike, "faces": faces, "wood": wood,
        "veneer": veneer, "inlay": inlay, "wear": wear, "sheen": sheen, "due": due,
        "schedule": schedule, "done": done,
    }  # fmt: skip
    answers = {key: text for key, text in given.items() if text is not None}
    if board is not None:
        _make_board({**answers, "schedules": board}, shop, show=show, as_json=as_json)
        return
    asks = can_ask() and not usual and not as_json
    folder = _folder(shop, asks=asks)
    from finishsched.workshop.base.workshop import Workshop

    with Workshop.open(folder, world().now()) as workshop:
        begun = _begin(workshop, answers, asks=asks, show=show)
        workshop.mark_looked(world().now())
    answer(as_json, lambda: _data(begun), lambda: _lines(begun))


_OF_A_BOARD = ("title", "wood", "veneer", "faces", "schedules")


def _make_board(answers: dict[str, str], shop: str | None, *, show: bool, as_json: bool) -> None:
    from finishsched.workshop.base.workshop import Workshop
    from finishsched.workshop.begin.boards import draft_board

    strange = [key for key in answers if key not in _OF_A_BOARD]
    if strange:
        raise CommandError(f"--{strange[0]} says nothing of a sample board; leave it out")
    with Workshop.open(_folder(shop, asks=False), world().now()) as workshop:
        draft = draft_board(workshop.papers, workshop.folder, answers)
        if draft.written is None:
            option = {"schedules": "board"}
            raise CommandError(*(f"--{option.get(k, k)}: {v}" for k, v in draft.faults.items()))
        if show:
            show_text(shown_lines(draft.written))
        else:
            _write(workshop, draft, {})
    answer(
        as_json,
        lambda: _data(_Begun(draft, "", 0, written=not show)),
        lambda: _board_lines(draft, written=not show),
    )


def _board_lines(draft: PieceDraft, *, written: bool) -> Iterable[str]:
    assert draft.written is not None  # noqa: S101
    if not written:
        yield "nothing was written"
        return
    board = draft.refs[0].partition("/")[0]
    yield f"made the board {board} with {counted(len(draft.refs), 'strip')} in {draft.written.path}"
    yield f"next: finishsched log {board} start, and finishsched compare {board} once it is read"


@dataclass(frozen=True, slots=True)
class _Begun:
    draft: PieceDraft
    why: str
    """Of a schedule that nobody named."""
    told: int
    written: bool
    as_of_now: bool = False
    """True where a coat counts as laid now, since nobody said when it was."""


def _folder(option: str | None, *, asks: bool) -> Path:
    """Return the shop's folder; on a terminal one is made where there is none."""
    folder = shop_named(option)
    if folder is not None:
        return folder
    if not asks:
        raise CommandError(NO_SHOP)
    from finishsched.workshop.demo.starter import make_shop

    here = world().cwd
    usual = here if not any(here.iterdir()) else here / "shop"
    named = ask("There is no shop here yet. Where shall it be made?", "", str(usual))
    made = (here / Path(named).expanduser()).resolve()
    make_shop(made, example=False)
    say(f"made {made}")
    return made


def _begin(workshop: Workshop, answers: dict[str, str], *, asks: bool, show: bool) -> _Begun:
    from finishsched.workshop.begin.piece import draft_piece

    why = ""
    if asks:
        _ask_all(workshop, answers)
    if not answers.get("schedule"):
        answers["schedule"], why = _best(workshop, answers)
    draft = draft_piece(workshop.papers, workshop.folder, answers, _today(workshop))
    faults = dict(draft.faults)
    if draft.written is not None:
        faults |= _telling_fault(workshop, answers)
    if faults:
        raise CommandError(*(f"--{key}: {fault}" for key, fault in faults.items()))
    assert draft.written is not None  # noqa: S101  # a draft without faults has its document
    _tell_before(draft)
    if show or asks:
        show_text(shown_lines(draft.written))
    if show or (asks and not agree(f"Write {draft.written.path}?")):
        return _Begun(draft, why, 0, written=False)
    told = _write(workshop, draft, answers)
    return _Begun(draft, why, told, written=True, as_of_now=_is_wet(workshop, draft))


def _is_wet(workshop: Workshop, draft: PieceDraft) -> bool:
    """Tell whether the clock of a coat runs from now on, as nobody said when it was laid."""
    from finishsched.workshop.standing.where import find

    now = world().now()
    laid = [find(workshop, ref).laid for ref in draft.refs]
    return any(one is not None and now - one.at < _A_MINUTE for one in laid)


def _ask_all(workshop: Workshop, answers: dict[str, str]) -> None:
    """Ask each question that no option has answered, and again where the answer has a fault."""
    from finishsched.workshop.begin.from_job import offered_by_job
    from finishsched.workshop.begin.questions import questions_for

    for question in questions_for(workshop.papers.shop.units):
        if question.key in answers:
            continue
        usual = offered_by_job(workshop.papers, answers).get(question.key, question.usual)
        if question.key == "schedule":
            usual = _ranked(workshop, answers)

        def fault_of(text: str, key: str = question.key) -> str | None:
            return _fault(workshop, {**answers, key: text}, key)

        answers[question.key] = ask_until(question.asks, question.meant, usual, fault_of)


def _fault(workshop: Workshop, answers: dict[str, str], key: str) -> str | None:
    from finishsched.workshop.begin.piece import draft_piece

    if key == "done":
        return _telling_fault(workshop, answers).get(key)
    return (
        draft_piece(workshop.papers, workshop.folder, answers, _today(workshop)).faults.get(key)
        if (key != "schedule" or answers.get(key))
        else None
    )


def _today(workshop: Workshop) -> date:
    return world().now().astimezone(workshop.zone).date()


def _telling_fault(workshop: Workshop, answers: dict[str, str]) -> dict[str, str]:
    """Return what is wrong with what is said to be done, against the schedule."""
    from finishsched.workshop.begin.telling import telling_fault

    fault = telling_fault(workshop, answers, world().now())
    return {"done": fault} if fault else {}


def _ranked(workshop: Workshop, answers: dict[str, str]) -> str:
    """Show the few best schedules, and return the best of them."""
    from finishsched.workshop.begin.answers import offers_for

    found = offers_for(workshop, answers, _SHOWN)
    for offer in found:
        say(f"  {offer.schedule.id}: {'; '.join(offer.fits[:3]) or 'nothing against it'}")
    return found[0].schedule.id if found else ""


def _best(workshop: Workshop, answers: dict[str, str]) -> tuple[str, str]:
    """Return the schedule that fits best, and why; none where all are refused."""
    from finishsched.workshop.begin.answers import offers_for

    found = offers_for(workshop, answers)
    if not found:
        return "", ""
    best = found[0]
    return best.schedule.id, "; ".join(best.fits) or "nothing speaks against it"


def _tell_before(draft: PieceDraft) -> None:
    tell(draft.assumed)


def shown_lines(written: Written) -> Iterable[str]:
    """Give a new document whole, and of one that was there the lines that change."""
    if written.before is None:
        return written.after.splitlines()
    lines = unified_diff(written.before.splitlines(), written.after.splitlines(), lineterm="", n=1)
    return [line for line in lines if not line.startswith(("---", "+++"))]


def _write(workshop: Workshop, draft: PieceDraft, answers: dict[str, str]) -> int:
    """Put the document on the disk, tell what is done, and return how many entries that made."""
    from finishsched.workshop.begin.joining import tell_done
    from finishsched.workshop.begin.written import put

    assert draft.written is not None  # noqa: S101
    now = world().now()
    put(workshop.folder, draft.written, now)
    workshop.changed()
    done = answers.get("done", "")
    return len(tell_done(workshop, ",".join(draft.refs), done, now))


def take_back_newest(shop: str | None, as_json: bool) -> None:
    """Take back the newest document that was written by the program."""
    from finishsched.cli.shop_door import open_shop
    from finishsched.workshop.begin.taking_back import take_back

    now = world().now()
    with open_shop(shop, now) as workshop:
        undone = take_back(workshop, now)
    became = "is gone again" if undone.is_new else "is as it was"
    answer(
        as_json,
        lambda: {"undone": undone.what, "file": undone.path},
        lambda: [f"undone: {undone.what}", f"  {undone.path} {became}"],
    )


def _data(begun: _Begun) -> dict[str, Any]:
    draft = begun.draft
    return {
        "pieces": list(draft.refs),
        "file": draft.written.path if draft.written else None,
        "text": draft.written.after if draft.written else "",
        "written": begun.written,
        "assumed": list(draft.assumed),
        "schedule_because": begun.why or None,
        "entries": begun.told,
    }


def _lines(begun: _Begun) -> Iterable[str]:
    draft = begun.draft
    assert draft.written is not None  # noqa: S101
    if not begun.written:
        yield "nothing was written"
        return
    yield f"began {', '.join(draft.refs)} in {draft.written.path}"
    if begun.why:
        yield f"  its schedule is the best of those that fit: {begun.why}"
    if begun.told:
        yield f"  told afterwards: {counted(begun.told, 'entry')}"
    if begun.as_of_now:
        yield (
            "  its last coat counts as laid just now; if it was earlier: begin --undo, then again "
            "with --done 'sealed yesterday', or 'sealed, dry' where it is dry by now"
        )
    yield f"next: finishsched sheet {draft.refs[0]} for its steps, or finishsched for the bench"

"""``say``: a schedule in the words of a notebook, read, checked and kept."""

from __future__ import annotations

import sys
from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

import click

from finishsched.cli.begin.asking import ask_until, can_ask
from finishsched.cli.common import answer, json_option, shop_named, shop_option, world
from finishsched.cli.faults import CommandError, Exit
from finishsched.cli.outgoing import say, say_json, say_text
from finishsched.cli.shop_door import NO_SHOP

if TYPE_CHECKING:
    from pathlib import Path

    from finishsched.documents.lines.said import Doubt
    from finishsched.workshop.begin.own_lines import OwnLines

_MOST_BYTES = 200_000


@click.command("say")
@click.argument("file", required=False, metavar="FILE")
@click.option("--as", "called", metavar="NAME", help="What the schedule is called.")
@click.option("--answer", "answers", multiple=True, metavar="KEY=WORD", help="Settle a doubt.")
@click.option("--usual", is_flag=True, help="Settle every doubt by what is usual.")
@click.option("--keep", is_flag=True, help="Keep it as a document of the shop.")
@click.option("--of", "schedule", metavar="SCHEDULE", help="Write a schedule as such lines.")
@shop_option
@json_option
def command(
    file: str | None,
    called: str | None,
    answers: tuple[str, ...],
    usual: bool,
    keep: bool,
    schedule: str | None,
    shop: str | None,
    as_json: bool,
) -> int:
    """Say how you do it, a line a step, and get a schedule that is checked.

    FILE holds lines such as '6 coats 2 lb, 15 min between, overnight'; - is standard input. What
    could be meant in two ways is asked, and what is left out is filled in as our assumption and
    told. finishsched help lines has all the words.
    """
    if schedule is not None:
        _write_out(schedule, shop, as_json)
        return Exit.DONE
    if file is None:
        raise CommandError("there are no lines; write finishsched say FILE, or - to type them")
    text, name = _text(file)
    settled = _answers(answers)
    own = _read(text, name, called, settled, shop)
    if can_ask() and file != "-" and not usual and not as_json:
        own = _ask(own, text, name, called, settled, shop)
    written = None
    if keep:
        written = _keep(own, called, shop, usual=usual)
    answer(as_json, lambda: _data(own, written), lambda: _lines(own, written))
    if own.read.faults:
        return Exit.WRONG_USE
    return Exit.NO if own.is_refused else Exit.DONE


def _text(file: str) -> tuple[str, str]:
    if file == "-":
        return sys.stdin.read(_MOST_BYTES), "standard-input"
    from finishsched.cli.common import file_at
    from finishsched.documents.plain_files import read_plain

    path = file_at("FILE", file)
    try:
        return read_plain(path, _MOST_BYTES).decode("utf-8"), file
    except UnicodeDecodeError:
        raise CommandError(f"{file}: the text is not UTF-8; save it as UTF-8") from None


def _answers(given: tuple[str, ...]) -> dict[str, str]:
    found = {}
    for each in given:
        key, sign, word = each.partition("=")
        if not sign:
            raise CommandError(f"--answer: {each!r} has no '='; write --answer 3:wait=after")
        found[key.strip()] = word.strip()
    return found


def _read(
    text: str, name: str, called: str | None, answers: dict[str, str], shop: str | None
) -> OwnLines:
    from finishsched.workshop.base.documents import read_papers
    from finishsched.workshop.begin.own_lines import read_own_lines
    from finishsched.workshop.begin.questions import name_of

    folder = shop_named(shop)
    papers = read_papers(folder) if folder else None
    id_ = name_of(called, (), "own-schedule") if called else ""
    return read_own_lines(text, name, papers, folder, answers, world().now(), id_)


def _ask(
    own: OwnLines,
    text: str,
    name: str,
    called: str | None,
    settled: dict[str, str],
    shop: str | None,
) -> OwnLines:
    """Ask every doubt; an answer may open another."""
    while own.read.doubts:
        doubt = own.read.doubts[0]
        at = doubt.place.line - 1
        line = own.lines[at].strip() if at < len(own.lines) else ""
        settled[doubt.key] = ask_doubt(doubt, line)
        own = _read(text, name, called, settled, shop)
    return own


def ask_doubt(doubt: Doubt, line: str) -> str:
    """Ask one doubt of a notebook's line, and return the answer's word."""
    known = dict(doubt.choices)

    def fault_of(text: str) -> str | None:
        return None if text in known else f"write one of {', '.join(known)}"

    meant = "; ".join(f"{word}: {says}" for word, says in doubt.choices)
    return ask_until(f"{line}\n{doubt.question}", meant, doubt.usual, fault_of)


def _keep(own: OwnLines, called: str | None, shop: str | None, *, usual: bool) -> Path:
    from finishsched.workshop.begin.own_lines import kept_lines
    from finishsched.workshop.begin.questions import name_of
    from finishsched.workshop.begin.written import put

    folder = shop_named(shop)
    if folder is None:
        raise CommandError(NO_SHOP)
    if own.read.faults:
        raise CommandError(*(str(fault) for fault in own.read.faults))
    if own.read.doubts and not usual:
        raise CommandError(*_doubt_faults(own))
    written = kept_lines(own, folder, name_of(called, (), "own-schedule") if called else "")
    put(folder, written, world().now())
    return folder / written.path


def _doubt_faults(own: OwnLines) -> Iterable[str]:
    for doubt in own.read.doubts:
        words = " or ".join(word for word, _ in doubt.choices)
        yield (
            f"{doubt.place.line}:{doubt.place.column}: {doubt.question} write --answer "
            f"{doubt.key}={doubt.usual} ({words}), or --usual for all"
        )


def _write_out(name: str, shop: str | None, as_json: bool) -> None:
    from finishsched.cli.knowing.schedules import schedule_named
    from finishsched.documents.lines.write import lines_of

    text = lines_of(schedule_named(name, shop))
    # It is read back, by this command too: nothing may be folded in it.
    if as_json:
        say_json({"schedule": name, "lines": text})
    else:
        say_text(text)


def _data(own: OwnLines, written: Path | None) -> dict[str, Any]:
    from finishsched.documents.decode import dump

    found = own.read.schedule
    return {
        "schedule": found.id if found else None,
        "text": dump(found) if found else None,
        "doubts": [
            {
                "key": doubt.key,
                "line": doubt.place.line,
                "question": doubt.question,
                "choices": dict(doubt.choices),
                "taken": doubt.usual,
            }
            for doubt in own.read.doubts
        ],
        "assumed": [
            {"line": each.line, "key": each.key, "says": each.says} for each in own.read.assumed
        ],
        "faults": [str(fault) for fault in own.read.faults],
        "findings": [
            {"line": f.line, "rule": f.rule, "severity": f.severity,
             "message": f.without_place}
            for f in own.findings
        ],
        "steps": dict(own.read.step_lines),
        "file": str(written) if written else None,
    }  # fmt: skip


def _lines(own: OwnLines, written: Path | None) -> Iterable[str]:
    """Give each line of the notebook with what it became, what was assumed, and what is found."""
    for fault in own.read.faults:
        say(str(fault), err=True)
    if own.read.faults:
        return
    by_step: dict[int, list[str]] = {}
    for step, at in own.read.step_lines.items():
        by_step.setdefault(at, []).append(step)
    for number, line in enumerate(own.lines, start=1):
        if number in by_step:
            yield f"{number:3}  {line.strip()}"
            yield from _about(own, number, by_step[number])
    for finding in own.findings:
        word = "advice: " if finding.severity == "advice" else ""
        yield f"line {finding.line}: {word}{finding.without_place} [{finding.rule}]"
    if written is not None:
        yield f"kept as {written}"
    elif not own.is_refused:
        yield "keep it with --keep, and name it with --as NAME"


def _about(own: OwnLines, number: int, steps: list[str]) -> Iterable[str]:
    yield f"       becomes {', '.join(steps)}"
    for doubt in own.read.doubts:
        if doubt.place.line == number:
            yield f"       doubt: {doubt.question} taken: {doubt.usual}"
    for each in own.read.assumed:
        if each.line == number:
            yield f"       our assumption: {each.says}"

"""``check``: the faults in schedules, products, jobs and shops."""

from __future__ import annotations

import os
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from finishsched.cli.common import answer, json_option, shop_named, shop_option, world
from finishsched.cli.faults import CommandError, Exit
from finishsched.cli.outgoing import say, say_text

if TYPE_CHECKING:
    from finishsched.checking.rule import Rule
    from finishsched.documents.faults import Fault

_ADVICE = "advice"


@click.command("check")
@click.argument("files", nargs=-1, metavar="FILE...")
@click.option("--explain", metavar="CODE", help="Teach one rule: what, why, what to do, examples.")
@click.option("--rules", is_flag=True, help="List every rule with its code.")
@click.option("--strict", is_flag=True, help="Exit status 1 for advice too.")
@click.option(
    "--schema", metavar="KIND", help="Print the JSON Schema of a kind of document, for editors."
)
@click.option("--journal", is_flag=True, help="Look at every entry of the journal, not only some.")
@shop_option
@json_option
def command(  # one parameter for each option
    files: tuple[str, ...],
    explain: str | None,
    rules: bool,
    strict: bool,
    schema: str | None,
    journal: bool,
    shop: str | None,
    as_json: bool,
) -> int:
    """Find every fault in each FILE, with its place and what would be right.

    Without FILE it checks every document of the shop found from here, and quickly its journal,
    which --journal has read to the last entry. Faults of the document come
    first, then what the rules of the trade find; a code in brackets is what --explain teaches and
    what 'accepted:' in the document silences, with a reason. Exit status 1 when there is a fault.
    """
    if schema is not None:
        say_text(_schema(schema))
        return Exit.DONE
    if explain is not None or rules:
        _teach(explain, as_json)
        return Exit.DONE
    faults = _faults([Path(file) for file in files], shop)
    if journal or not files:
        faults = (*faults, *_journal_faults(shop_named(shop), quickly=not journal))
    if as_json:
        answer(as_json, lambda: {"findings": [_data(fault) for fault in faults]}, tuple)
    for fault in () if as_json else faults:
        say(_line(fault))  # never folded: one fault is one line
    wrong = any(strict or fault.severity != _ADVICE for fault in faults)
    if not as_json and not wrong:
        checked = "1 document" if len(files) == 1 else f"{len(files) or 'all'} documents"
        advice = f"; advice above: {len(faults)}" if faults else ""
        say(f"no faults in {checked}{advice}", err=True)
    return Exit.NO if wrong else Exit.DONE


def _faults(files: list[Path], shop: str | None) -> tuple[Fault, ...]:
    from finishsched.workshop.defects.checks import check_files, check_folder

    folder, now = shop_named(shop), world().now()
    if files:
        return (*check_files(files, folder, now), *_key_faults(files))
    if folder is None:
        raise CommandError("no file and no shop here; write finishsched check FILE")
    here = os.path.relpath(folder, world().cwd)
    return tuple(
        replace(fault, file=os.path.normpath(Path(here, fault.file)))
        for fault in check_folder(folder, now)
    )


def _line(fault: Fault) -> str:
    """Return a fault as one line; what a rule found with its code, advice with that word."""
    from finishsched.checking.registry import RULES

    place = f"{fault.file}:{fault.line}:{fault.column}:"
    word = f" {_ADVICE}:" if fault.severity == _ADVICE else ""
    code = f" [{fault.rule}]" if fault.rule in RULES else ""
    return f"{place}{word} {fault.without_place}{code}"


def _teach(code: str | None, as_json: bool) -> None:
    """Print one rule in full, or all of them in a line each."""
    from finishsched.checking.manual import explained, listed
    from finishsched.checking.registry import RULES

    if code is None:
        answer(as_json, lambda: {"rules": [_rule_data(rule) for rule in RULES.values()]}, listed)
        return
    if code not in RULES:
        from finishsched.near import nearest

        near = nearest(code, RULES)
        remedy = f"did you mean {near!r}?" if near else "finishsched check --rules lists them"
        raise CommandError(f"--explain: no rule {code!r}; {remedy}")
    answer(as_json, lambda: _rule_data(RULES[code]), lambda: explained(RULES[code]))


def _rule_data(rule: Rule) -> dict[str, Any]:
    return {
        "rule": rule.code,
        "title": rule.title,
        "severity": rule.severity.value,
        "looks_at": list(rule.looks_at),
        "why": rule.why,
        "remedy": rule.remedy,
        "source": rule.source,
        "fails": rule.example.wrong,
        "passes": rule.example.right,
    }


def _key_faults(files: list[Path]) -> list[Fault]:
    """Return what is wrong with the keys in settings, which only the bench knows the names of."""
    from finishsched.documents.decode import load
    from finishsched.documents.faults import DocumentFaultsError, Fault
    from finishsched.model.settings import Settings

    found = []
    for file in files:
        try:
            document = load(file)
        except DocumentFaultsError:
            continue
        if not isinstance(document.model, Settings) or not document.model.keys:
            continue
        from finishsched.bench.keys import faults

        line, column = document.places.get(("keys",), (1, 1))
        found += [
            Fault(str(file), line, column, each.message, each.remedy, "bad-key")
            for each in faults(document.model.keys)
        ]
    return found


def _journal_faults(folder: Path | None, *, quickly: bool) -> list[Fault]:
    """Return what is not sound in the shop's journal, each with the way to what is."""
    from finishsched.documents.faults import Fault
    from finishsched.journal.faults import JournalFaultError
    from finishsched.journal.store import Journal
    from finishsched.workshop.base.place import JOURNAL_FILE

    if folder is None or not (folder / JOURNAL_FILE).exists():
        return []
    path = folder / JOURNAL_FILE
    try:
        with Journal.open_or_look(path) as opened:
            wrong = opened.check(quickly=quickly)
    except JournalFaultError as error:
        wrong = [error.message]
    name = os.path.relpath(path, world().cwd)
    remedy = f"bring back what is sound: finishsched restore {folder} NEW-DIR"
    return [
        Fault(name, 1, 1, line.removeprefix(f"{path}: "), remedy, "journal-damaged")
        for line in wrong
    ]


def _schema(kind: str) -> str:
    from finishsched.documents.decode import KINDS
    from finishsched.documents.schemas import schema_text

    if kind not in KINDS:
        raise CommandError(f"--schema: no kind {kind!r}; write one of {', '.join(KINDS)}")
    return schema_text(kind)


def _data(fault: Fault) -> dict[str, Any]:
    return {
        "file": fault.file,
        "line": fault.line,
        "column": fault.column,
        "rule": fault.rule,
        "severity": fault.severity,
        "message": fault.without_place,
    }

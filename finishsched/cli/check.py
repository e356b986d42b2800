"""``check``: the faults in schedules, products, jobs and shops."""

from __future__ import annotations

import os
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from finishsched.cli.common import answer, json_option, shop_named, shop_option, world
from finishsched.cli.faults import CommandError, Exit

if TYPE_CHECKING:
    from finishsched.documents.faults import Fault


@click.command("check")
@click.argument("files", nargs=-1, metavar="FILE...")
@click.option(
    "--schema", metavar="KIND", help="Print the JSON Schema of a kind of document, for editors."
)
@shop_option
@json_option
def command(files: tuple[str, ...], schema: str | None, shop: str | None, as_json: bool) -> int:
    """Find every fault in each FILE, with its place and what would be right.

    Without FILE it checks every document of the shop found from here. Exit status 1 when there is a
    fault.
    """
    if schema is not None:
        click.echo(_schema(schema), nl=False)
        return Exit.DONE
    faults = _faults([Path(file) for file in files], shop)
    if as_json:
        answer(as_json, lambda: {"findings": [_data(fault) for fault in faults]}, tuple)
    for fault in () if as_json else faults:
        click.echo(str(fault))  # never folded: one fault is one line
    if not as_json and not faults:
        checked = "1 document" if len(files) == 1 else f"{len(files) or 'all'} documents"
        click.echo(f"no faults in {checked}", err=True)
    return Exit.NO if faults else Exit.DONE


def _faults(files: list[Path], shop: str | None) -> tuple[Fault, ...]:
    from finishsched.workshop.folder import check_documents, read_papers

    folder = shop_named(shop)
    if files:
        return check_documents(files, folder)
    if folder is None:
        raise CommandError("no file and no shop here; write finishsched check FILE")
    here = os.path.relpath(folder, world().cwd)
    return tuple(
        replace(fault, file=os.path.normpath(Path(here, fault.file)))
        for fault in read_papers(folder).faults
    )


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
        "message": f"{fault.message}; {fault.remedy}",
    }

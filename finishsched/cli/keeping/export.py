"""``export``: the journal as JSON Lines, and everything as tables for a spreadsheet."""

from __future__ import annotations

from pathlib import Path

import click

from finishsched.cli.common import (
    answer,
    file_at,
    folder_at,
    json_option,
    shop_named,
    shop_option,
    world,
)
from finishsched.cli.faults import CommandError
from finishsched.cli.shop_door import NO_SHOP, open_shop, tell_faults


@click.command("export")
@click.option("--journal", metavar="FILE.jsonl", help="Every entry, one line each, exactly.")
@click.option("--tables", metavar="DIR", help="Pieces, coats, entries, air and stock as CSV.")
@shop_option
@json_option
def command(journal: str | None, tables: str | None, shop: str | None, as_json: bool) -> None:
    """Write what the shop knows for other programs, and for other times.

    The journal comes back exactly by 'import --journal'. The tables open in any spreadsheet, and
    are written over earlier ones of their own, never over anything else.
    """
    if journal is None and tables is None:
        raise CommandError("nothing to write; give --journal FILE.jsonl or --tables DIR")
    files: list[Path] = []
    if journal is not None:
        files.append(_journal(file_at("--journal", journal), shop))
    if tables is not None:
        files += _tables(folder_at("--tables", tables), shop)
    answer(
        as_json,
        lambda: {"files": [str(file) for file in files]},
        lambda: (f"wrote {file}" for file in files),
    )


def _journal(out: Path, shop: str | None) -> Path:
    from finishsched import __version__
    from finishsched.journal.lines import journal_lines
    from finishsched.reports.pages import write_lines
    from finishsched.workshop.base.place import JOURNAL_FILE

    folder = shop_named(shop)
    if folder is None:
        raise CommandError(NO_SHOP)
    if out.exists():
        raise CommandError(f"--journal: {out} is there already; name another file")
    try:
        write_lines(out, journal_lines(folder / JOURNAL_FILE, __version__))
    except OSError as error:
        raise CommandError(f"--journal: {out}: {error.strerror}; name another file") from None
    return out


def _tables(out: Path, shop: str | None) -> tuple[Path, ...]:
    from finishsched.reports.tables import NotOurTableError, write_tables
    from finishsched.workshop.papers.tables import tables

    with open_shop(shop, world().now()) as workshop:
        found = tables(workshop)
        tell_faults(workshop)
    try:
        return write_tables(found, out)
    except NotOurTableError as error:
        raise CommandError(f"--tables: {error}; name another folder") from None
    except OSError as error:
        raise CommandError(f"--tables: {out}: {error.strerror}; name another folder") from None

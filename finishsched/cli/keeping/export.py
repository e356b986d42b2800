"""``export``: the journal as JSON Lines, and everything as tables for a spreadsheet."""

from __future__ import annotations

from pathlib import Path

import click

from finishsched.cli.common import (
    OR_FORCE,
    answer,
    file_at,
    folder_at,
    force_option,
    json_option,
    shop_named,
    shop_option,
    world,
)
from finishsched.cli.faults import CommandError, Exit
from finishsched.cli.shop_door import NO_SHOP, open_shop, tell, tell_shortness


@click.command("export")
@click.option("--journal", metavar="FILE.jsonl", help="Every entry, one line each, exactly.")
@click.option(
    "--tables", metavar="DIR", help="Pieces, coats, entries, air, stock and readings as CSV."
)
@force_option
@shop_option
@json_option
def command(
    journal: str | None, tables: str | None, force: bool, shop: str | None, as_json: bool
) -> int:
    """Write what the shop knows for other programs, and for other times.

    The journal comes back exactly by 'import --journal'. The tables open in any spreadsheet. Both
    are written over other files only with --force, tables over earlier ones of their own without.
    Where the journal is not sound, that is told, what is sound is written, and the command ends
    with 1.
    """
    if journal is None and tables is None:
        raise CommandError("nothing to write; give --journal FILE.jsonl or --tables DIR")
    files: list[Path] = []
    lost: tuple[str, ...] = ()
    if journal is not None:
        file, lost = _journal(file_at("--journal", journal), shop, force=force)
        files.append(file)
        tell(lost)
    if tables is not None:
        written, more = _tables(folder_at("--tables", tables), shop, force=force)
        files += written
        lost = lost or more
    answer(
        as_json,
        lambda: {"files": [str(file) for file in files], "faults": list(lost)},
        lambda: (f"wrote {file}" for file in files),
    )
    return Exit.NO if lost else Exit.DONE


def _journal(out: Path, shop: str | None, *, force: bool) -> tuple[Path, tuple[str, ...]]:
    """Write the journal's lines and read them back; return what is not sound."""
    from finishsched import __version__
    from finishsched.journal.lines import check_lines, copy_lines
    from finishsched.journal.lines_reader import LinesFaultError
    from finishsched.workshop.base.place import JOURNAL_FILE
    from finishsched.workshop.base.write_whole import write_lines

    folder = shop_named(shop)
    if folder is None:
        raise CommandError(NO_SHOP)
    if out.exists() and not force:
        raise CommandError(f"--journal: {out} is there already; {OR_FORCE}")
    try:
        lost = copy_lines(folder / JOURNAL_FILE, __version__, lambda lines: write_lines(out, lines))
        with out.open(encoding="utf-8", newline="\n") as lines:
            check_lines(lines)
    except LinesFaultError as error:
        return out, tuple(f"{out}:{line}: {what}" for line, what in error.faults)
    except OSError as error:
        raise CommandError(f"--journal: {out}: {error.strerror}; name another file") from None
    return out, lost


def _tables(
    out: Path, shop: str | None, *, force: bool
) -> tuple[tuple[Path, ...], tuple[str, ...]]:
    from finishsched.reports.tables import NotOurTableError, write_tables
    from finishsched.workshop.papers.tables import tables

    with open_shop(shop, world().now()) as workshop:
        found = tables(workshop)
        tell_shortness(workshop)
        lost = workshop.lost
    try:
        return write_tables(found, out, force=force), lost
    except NotOurTableError as error:
        raise CommandError(f"--tables: {error}; {OR_FORCE}") from None
    except OSError as error:
        raise CommandError(f"--tables: {out}: {error.strerror}; name another folder") from None

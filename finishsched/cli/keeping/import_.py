"""``import``: a journal from JSON Lines, or a past notebook from a table."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from finishsched.cli.common import (
    answer,
    dry_run_option,
    json_option,
    only_tries,
    shop_named,
    shop_option,
    world,
)
from finishsched.cli.faults import CommandError
from finishsched.cli.shop_door import NO_SHOP, open_shop
from finishsched.numerals import counted

if TYPE_CHECKING:
    from finishsched.journal.lines import Copied
    from finishsched.workshop.keeping.notebook import NotebookImport


MOST_JOURNAL_BYTES = 8 * 1024**3


@click.command("import")
@click.option("--journal", metavar="FILE.jsonl", help="What export --journal wrote.")
@click.option("--notebook", metavar="FILE.csv", help="Past entries as a table.")
@dry_run_option
@shop_option
@json_option
def command(journal: str | None, notebook: str | None, shop: str | None, as_json: bool) -> None:
    """Bring in a journal that was exported, or a notebook kept before.

    A journal goes into a shop that has none yet; nothing is written over. A notebook is a CSV file
    whose first line names its columns: piece, date, entry, and perhaps time, step, used, batch,
    temperature, humidity, by, text. It is taken whole or not at all, and no row twice.
    """
    if (journal is None) == (notebook is None):
        raise CommandError("give one of --journal FILE.jsonl and --notebook FILE.csv")
    if journal is not None and only_tries():
        raise CommandError("--dry-run goes with --notebook; a journal goes into an empty shop")
    if journal is not None:
        copied = _journal(journal, shop)
        answer(
            as_json,
            lambda: {"entries": copied.entries, "snapshots": copied.snapshots},
            lambda: (f"{counted(copied.entries, 'entry')} brought in",),
        )
        return
    assert notebook is not None  # noqa: S101
    found = _notebook(notebook, shop)
    answer(
        as_json,
        lambda: {"entries": len(found.entries), "already_there": found.already_there},
        lambda: (_words(found),),
    )


def _words(found: NotebookImport) -> str:
    there = f", {found.already_there} rows already there" if found.already_there else ""
    return f"{counted(len(found.entries), 'entry')} brought in{there}"


def _journal(name: str, shop: str | None) -> Copied:
    import io

    from finishsched.documents.plain_files import open_plain
    from finishsched.journal.lines import restore_lines
    from finishsched.journal.lines_reader import LinesFaultError
    from finishsched.workshop.base.place import JOURNAL_FILE

    folder = shop_named(shop)
    if folder is None:
        raise CommandError(NO_SHOP)
    path = world().cwd / Path(name).expanduser()
    try:
        # Only a line feed ends a line: texts may hold other separators of lines.
        with (
            open_plain(path, MOST_JOURNAL_BYTES) as file,
            io.TextIOWrapper(file, encoding="utf-8", newline="\n") as lines,
        ):
            return restore_lines(lines, folder / JOURNAL_FILE)
    except LinesFaultError as error:
        raise CommandError(*(f"{name}:{line}: {what}" for line, what in error.faults)) from None
    except (OSError, UnicodeDecodeError) as error:
        raise _unreadable(name, error) from None


def _notebook(name: str, shop: str | None) -> NotebookImport:
    import io

    from finishsched.documents.plain_files import open_plain
    from finishsched.workshop.keeping.notebook import NotebookFaultError, import_notebook

    path = world().cwd / Path(name).expanduser()
    now = world().now()
    try:
        # Read line by line: a file of any size costs no more than the rows that may be taken.
        with (
            open_plain(path, MOST_JOURNAL_BYTES) as file,
            io.TextIOWrapper(file, encoding="utf-8") as lines,
            open_shop(shop, now) as workshop,
        ):
            return import_notebook(workshop, lines, now)
    except NotebookFaultError as error:
        raise CommandError(*(f"{name}:{line}: {what}" for line, what in error.faults)) from None
    except (OSError, UnicodeDecodeError) as error:
        raise _unreadable(name, error) from None


def _unreadable(name: str, error: OSError | UnicodeDecodeError) -> CommandError:
    why = error.strerror if isinstance(error, OSError) else "it is not UTF-8 text"
    return CommandError(f"{name}: {why}; name a file that can be read")

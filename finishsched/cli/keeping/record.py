"""``record``: the paper that goes with the object."""

from __future__ import annotations

from pathlib import Path

import click

from finishsched.cli.common import (
    OR_FORCE,
    answer,
    force_option,
    json_option,
    page_file_at,
    shop_option,
    world,
)
from finishsched.cli.faults import CommandError, Exit
from finishsched.cli.outgoing import say_text
from finishsched.cli.shop_door import open_shop, tell_clock, tell_shortness


@click.command("record")
@click.argument("piece", metavar="PIECES|JOB", required=False)
@click.option("--out", metavar="FILE.html", help="Where to write; else a name of its own here.")
@click.option("--text", is_flag=True, help="Print the plain text, and write nothing.")
@click.option("--picture", metavar="FILE", help="Attach a picture that lies in the shop's folder.")
@click.option("--caption", default="", metavar="TEXT", help="With --picture: what it shows.")
@click.option("--verify", metavar="FILE", help="Tell whether a record is as it was written.")
@click.option("--dry-run", is_flag=True, help="With --picture: say what would be logged.")
@force_option
@shop_option
@json_option
def command(
    piece: str | None,
    out: str | None,
    text: bool,
    picture: str | None,
    caption: str,
    verify: str | None,
    dry_run: bool,
    force: bool,
    shop: str | None,
    as_json: bool,
) -> int:
    """Write the finish record of PIECES, or of every piece of JOB, as one page that prints well.

    A plain text of the same name goes beside it. Both are sealed, so that a later change shows.
    """
    if verify is not None:
        return _verify(verify, as_json=as_json)
    if piece is None:
        raise CommandError("which piece? write finishsched record PIECE, or a job's name for all")
    if picture is not None:
        _attach(piece, picture, caption, shop, dry_run=dry_run, as_json=as_json)
        return Exit.DONE
    if dry_run:
        raise CommandError("--dry-run goes with --picture; leave it out, or see --text")
    from finishsched.reports.record import record_page, record_text
    from finishsched.workshop.papers.records import records_of

    now = world().now()
    with open_shop(shop, now) as workshop:
        tell_clock(workshop, now)
        records = records_of(workshop, piece, now)
        tell_shortness(workshop)
        folder = workshop.folder
    if text:
        # The seal is of every sign: nothing may be folded.
        say_text(record_text(records))
        return Exit.DONE
    from finishsched.reports.pictures import PictureFaultError

    name = out or f"{records[0].ref.replace('/', '-') if len(records) == 1 else piece}.html"
    file = page_file_at("--out", name)
    try:
        _write(file, record_page(records, folder), record_text(records), force=force)
    except PictureFaultError as error:
        raise CommandError(str(error)) from None
    answer(
        as_json,
        lambda: {"file": str(file), "text": str(file.with_suffix(".txt"))},
        lambda: (f"wrote {file}", f"wrote {file.with_suffix('.txt')}"),
    )
    return Exit.DONE


def _write(file: Path, page: str, text: str, *, force: bool) -> None:
    from finishsched.reports.pages import write_whole

    twin = file.with_suffix(".txt")
    for path in () if force else (file, twin):
        _refuse_foreign(path)
    try:
        write_whole(file, page, newline="")
        write_whole(twin, text, newline="")
    except OSError as error:
        raise CommandError(f"{file}: {error.strerror}; name another with --out") from None


def _refuse_foreign(path: Path) -> None:
    """Refuse to write over a file that is no record: nobody named the plain text's own name."""
    from finishsched.documents.plain_files import read_plain
    from finishsched.reports.seal import is_whole

    try:
        ours = is_whole(read_plain(path).decode("utf-8")) is not None
    except FileNotFoundError:
        return
    except (OSError, UnicodeDecodeError):
        ours = False
    if not ours:
        raise CommandError(f"{path} is there already, and is no record; {OR_FORCE}")


def _attach(
    pieces: str,
    picture: str,
    caption: str,
    shop: str | None,
    *,
    dry_run: bool,
    as_json: bool,
) -> None:
    from finishsched.journal.events import as_json as event_json
    from finishsched.model.names import in_words
    from finishsched.workshop.base.shown import shown_of
    from finishsched.workshop.base.words import entry_words
    from finishsched.workshop.papers.picture_entries import attach

    now = world().now()
    with open_shop(shop, now) as workshop:
        file = world().cwd / picture
        taken = attach(workshop, pieces, file, caption, now, trial=dry_run)
        words = entry_words(taken.events[-1].what, {}, shown_of(workshop.papers.shop))
    answer(
        as_json,
        lambda: {
            "event": event_json(taken.events[-1]),
            "events": [event_json(event) for event in taken.events],
            "dry_run": taken.trial,
        },
        lambda: (f"{in_words(taken.refs)}: {'would log' if dry_run else 'logged'} {words}",),
    )


def _verify(name: str, *, as_json: bool) -> int:
    from finishsched.documents.plain_files import read_plain
    from finishsched.reports.seal import is_whole

    try:
        text = read_plain(world().cwd / name).decode("utf-8")
    except OSError as error:
        raise CommandError(f"--verify: {name}: {error.strerror}") from None
    except UnicodeDecodeError:
        raise CommandError(f"--verify: {name} is not a record: it is no UTF-8 text") from None
    whole = is_whole(text)
    if whole is None:
        raise CommandError(f"--verify: {name} has no seal; it is not a record of ours")
    said = "as it was written" if whole else "changed since it was written"
    answer(as_json, lambda: {"file": name, "whole": whole}, lambda: (f"{name}: {said}",))
    return Exit.DONE if whole else Exit.NO

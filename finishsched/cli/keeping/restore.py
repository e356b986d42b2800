"""``restore``: a shop made again from its backup, or from what is sound of its folder."""

from __future__ import annotations

from pathlib import Path

import click

from finishsched.cli.common import answer, folder_at, json_option, world
from finishsched.cli.faults import CommandError, Exit
from finishsched.cli.shop_door import tell
from finishsched.numerals import counted

UNITS = {"GB": 1024**3, "MB": 1024**2}


@click.command("restore")
@click.argument("source", metavar="FILE.zip|DIR")
@click.argument("folder", metavar="NEW-DIR")
@click.option("--most", metavar="SIZE", default="8 GB", help="What FILE may unfold to: '20 GB'.")
@json_option
def command(source: str, folder: str, most: str, as_json: bool) -> int:
    """Make in NEW-DIR, which must be new or empty, the shop that FILE was made of.

    A damaged FILE, or a shop's folder DIR whose journal is damaged, gives back all that is sound;
    what is not is told, a note stands in the place of each entry that is lost, and the command
    ends with 1. No more than 8 GB are unfolded, nor more than 200 times the file's size.
    """
    from finishsched.workshop.keeping.restoring import restore

    into = folder_at("NEW-DIR", folder)
    done = restore(world().cwd / Path(source).expanduser(), into, _bytes(most))
    tell(tuple(done.lost))
    answer(
        as_json,
        lambda: {
            "dir": str(into),
            "files": done.files,
            "entries": done.entries,
            "lost": list(done.lost),
        },
        lambda: (
            f"{counted(done.files, 'file')} back in {into}",
            *(["all that is sound; what is not is told above"] if done.lost else []),
            f"next: finishsched --shop {folder}",
        ),
    )
    return Exit.NO if done.lost else Exit.DONE


def _bytes(text: str) -> int:
    number, _, unit = text.strip().rpartition(" ")
    try:
        return round(float(number) * UNITS[unit.upper()])
    except (ValueError, KeyError, OverflowError):
        raise CommandError(f"--most: {text!r} is no size; write for example '20 GB'") from None

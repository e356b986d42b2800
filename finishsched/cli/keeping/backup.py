"""``backup``: the whole shop in one file."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import click

from finishsched.cli.common import answer, file_at, json_option, shop_named, shop_option, world
from finishsched.cli.faults import CommandError, Exit
from finishsched.cli.shop_door import NO_SHOP, tell
from finishsched.numerals import counted

if TYPE_CHECKING:
    from finishsched.workshop.keeping.backups import BackedUp
    from finishsched.workshop.keeping.restoring import Restored


@click.command("backup")
@click.argument("file", metavar="FILE.zip")
@click.option("--check", is_flag=True, help="Rehearse: would this FILE come back whole?")
@shop_option
@json_option
def command(file: str, check: bool, shop: str | None, as_json: bool) -> int:
    """Keep the shop in one FILE: its documents, its pictures and its whole journal.

    It may be made while the bench is open. What is there already is never written over. All that
    goes in is looked at first, and read back out of FILE at the end; what is not sound is told,
    the rest is kept, and the command ends with 1. With --check an earlier FILE is restored into a
    place that is thrown away, and nothing is written.
    """
    if check:
        return _check(world().cwd / Path(file).expanduser(), as_json=as_json)
    from finishsched import __version__
    from finishsched.workshop.base.documents import read_papers
    from finishsched.workshop.base.zone import zone_of
    from finishsched.workshop.keeping.backups import back_up
    from finishsched.workshop.keeping.restoring import rehearse

    folder = shop_named(shop)
    if folder is None:
        raise CommandError(NO_SHOP)
    zone = zone_of(read_papers(folder).shop)
    done = back_up(folder, file_at("FILE.zip", file), __version__, world().now(), zone)
    back = rehearse(done.file)
    faults = (*done.lost, *(f"{left} (left out)" for left in done.left_out), *back.lost)
    tell(faults)
    answer(as_json, lambda: _data(done, back, faults), lambda: _lines(done, file, faults))
    return Exit.NO if faults else Exit.DONE


def _data(done: BackedUp, back: Restored, faults: tuple[str, ...]) -> dict[str, object]:
    return {
        "file": str(done.file),
        "files": done.files,
        "bytes": done.bytes,
        "entries": back.entries,
        "faults": list(faults),
    }


def _lines(done: BackedUp, file: str, faults: tuple[str, ...]) -> Iterator[str]:
    yield f"{counted(done.files, 'file')} kept in {done.file}"
    yield "not all of the shop is sound: see above" if faults else "read back: all of it is sound"
    yield f"to have it back: finishsched restore {file} NEW-DIR"


def _check(file: Path, *, as_json: bool) -> int:
    from finishsched.workshop.keeping.restoring import rehearse

    back = rehearse(file)
    tell(tuple(back.lost))
    answer(
        as_json,
        lambda: {
            "file": str(file),
            "files": back.files,
            "entries": back.entries,
            "sound": not back.lost,
            "faults": list(back.lost),
        },
        lambda: (
            (
                f"{counted(back.files, 'file')} and {counted(back.entries, 'entry')} would come "
                f"back from {file}"
            ),
            *(["not all of it is sound: see above"] if back.lost else ["all of it is sound"]),
        ),
    )
    return Exit.NO if back.lost else Exit.DONE

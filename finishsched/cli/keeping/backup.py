"""``backup``: the whole shop in one file."""

from __future__ import annotations

import click

from finishsched.cli.common import answer, file_at, json_option, shop_named, shop_option, world
from finishsched.cli.faults import CommandError
from finishsched.cli.shop_door import NO_SHOP


@click.command("backup")
@click.argument("file", metavar="FILE.zip")
@shop_option
@json_option
def command(file: str, shop: str | None, as_json: bool) -> None:
    """Keep the shop in one FILE: its documents, its pictures and its whole journal.

    It may be made while the bench is open. What is there already is never written over.
    """
    from finishsched import __version__
    from finishsched.workshop.base.documents import read_papers
    from finishsched.workshop.base.zone import zone_of
    from finishsched.workshop.keeping.backups import back_up

    folder = shop_named(shop)
    if folder is None:
        raise CommandError(NO_SHOP)
    zone = zone_of(read_papers(folder).shop)
    out = file_at("FILE.zip", file)
    done = back_up(folder, out, __version__, world().now(), zone)
    answer(
        as_json,
        lambda: {"file": str(done.file), "files": done.files, "bytes": done.bytes},
        lambda: (
            f"{done.files} files kept in {done.file}",
            f"to have it back: finishsched restore {file} NEW-DIR",
        ),
    )

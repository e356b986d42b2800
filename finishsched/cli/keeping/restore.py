"""``restore``: a shop made again from its backup."""

from __future__ import annotations

from pathlib import Path

import click

from finishsched.cli.common import answer, folder_at, json_option, world


@click.command("restore")
@click.argument("file", metavar="FILE.zip")
@click.argument("folder", metavar="DIR")
@json_option
def command(file: str, folder: str, as_json: bool) -> None:
    """Make in DIR, which must be new or empty, the shop that FILE was made of."""
    from finishsched.workshop.keeping.backups import restore

    into = folder_at("DIR", folder)
    done = restore(world().cwd / Path(file).expanduser(), into)
    answer(
        as_json,
        lambda: {"dir": str(into), "files": done.files},
        lambda: (f"{done.files} files back in {into}", f"next: finishsched --shop {folder}"),
    )

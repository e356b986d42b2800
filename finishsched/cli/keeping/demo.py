"""``demo``: an invented shop in the middle of its work."""

from __future__ import annotations

import tempfile
from pathlib import Path

import click

from finishsched.cli.common import answer, folder_at, json_option, world


@click.command("demo")
@click.option("--out", metavar="DIR", help="Make the shop here and keep it, and open nothing.")
@json_option
def command(out: str | None, as_json: bool) -> None:
    """Open the bench on an invented shop in the middle of its work, to look round in.

    Try everything: it is thrown away at the end, unless --out says where to keep it.
    """
    from finishsched.workshop.demo.demo import make_demo

    here = world()
    if out is not None or as_json or not here.at_terminal:
        folder = _place(out)
        make_demo(folder, here.now())
        answer(
            as_json,
            lambda: {"dir": str(folder)},
            lambda: (f"made {folder}", f"next: finishsched --shop {folder}"),
        )
        return
    from finishsched.cli.open_bench import show
    from finishsched.workshop.base.workshop import Workshop

    with tempfile.TemporaryDirectory(prefix="finishsched-demo-") as temporary:
        folder = Path(temporary) / "thistle-row"
        make_demo(folder, here.now())
        with Workshop.open(folder, here.now()) as workshop:
            show(workshop)


def _place(out: str | None) -> Path:
    if out is not None:
        return folder_at("--out", out)
    return Path(tempfile.mkdtemp(prefix="finishsched-demo-")) / "thistle-row"

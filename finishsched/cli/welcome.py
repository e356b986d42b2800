"""Bare ``finishsched`` where no shop is: ask what is wanted, and do it."""

from __future__ import annotations

from pathlib import Path

import click

from finishsched.cli.common import world
from finishsched.workshop.base.place import SHOP_FILE

_MOST_KNOWN = 7


def choose_shop() -> tuple[Path, bool] | None:
    """Return the shop to open, and whether it is new; None where nothing is wanted.

    The invented shop is opened here, since it is thrown away at the end.
    """
    from finishsched.bench.welcome import DEMO, NEW, NEW_US, OPEN, welcome
    from finishsched.documents.user_settings import read_settings
    from finishsched.workshop.demo.starter import make_shop

    here = world().cwd
    place = here if not any(here.iterdir()) else here / "shop"
    chosen = welcome(place, _used_before(), read_settings(world().settings_file()))
    if chosen == DEMO:
        from finishsched.cli.keeping.demo import command

        click.get_current_context().invoke(command, out=None, as_json=False)
        return None
    if chosen in (NEW, NEW_US):
        make_shop(place, example=False, units="us" if chosen == NEW_US else "metric")
        return place, True
    return (Path(chosen.removeprefix(OPEN)), False) if chosen.startswith(OPEN) else None


def _used_before() -> list[Path]:
    """Return the shops that the bench was opened on and that are still there, the newest first."""
    try:
        lines = _file().read_text("utf-8").splitlines()
    except (OSError, UnicodeDecodeError):
        return []
    return [Path(line) for line in lines if line and (Path(line) / SHOP_FILE).is_file()]


def remember(folder: Path) -> None:
    """Keep that the bench was opened on a shop; where that cannot be kept, nothing is missed."""
    from finishsched.workshop.base.write_whole import write_chunks

    known = [folder, *(path for path in _used_before() if path != folder)]
    lines = [f"{path}\n".encode() for path in known[:_MOST_KNOWN]]
    try:
        _file().parent.mkdir(parents=True, exist_ok=True)
        write_chunks(_file(), lines)
    except OSError:
        return


def _file() -> Path:
    return world().data_dir() / "shops-used.txt"

"""What ``--version`` says: ours, Python, what it is built on, and where things are."""

from __future__ import annotations

import platform
import sys
from collections.abc import Iterator
from importlib import metadata
from pathlib import Path

from finishsched import __version__
from finishsched.cli.common import shop_named, world

_BUILT_ON = ("click", "pyyaml", "pint", "textual", "python-dateutil", "jinja2", "icalendar")
_EXTRAS = ("ortools", "pillow")


def version_lines() -> Iterator[str]:
    """Give the version on the first line, and below it what a report of a fault needs."""
    yield f"finishsched {__version__}"
    yield f"  Python    {platform.python_version()} on {sys.platform}"
    yield f"  built on  {', '.join(_named(_BUILT_ON))}"
    extras = list(_named(_EXTRAS))
    yield f"  extras    {', '.join(extras) if extras else 'none'}"
    yield f"  program   {Path(__file__).parent.parent}"
    yield f"  settings  {_file(world().settings_file())}"
    yield f"  shop      {_shop()}"


def _named(names: tuple[str, ...]) -> Iterator[str]:
    for name in names:
        try:
            yield f"{name} {metadata.version(name)}"
        except metadata.PackageNotFoundError:
            continue


def _file(path: Path) -> str:
    return str(path) if path.is_file() else f"{path} (not there)"


def _shop() -> str:
    from finishsched.workshop.base.place import NoShopError

    try:
        return str(shop_named(None) or "none found from here")
    except NoShopError as fault:
        return fault.message

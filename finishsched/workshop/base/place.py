"""Where a shop folder is, and what is where in it.

    shop.yaml      the shop
    jobs/          one file a job
    schedules/     the shop's own schedules, beside the shipped ones
    products/      the shop's own products, beside the shipped ones
    journal.db     what happened

Imports nothing of ours, since every command asks it first.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

from finishsched.refusals import RefusalError

SHOP_FILE = "shop.yaml"
JOURNAL_FILE = "journal.db"
PLAN_FILE = ".plan.json"
"""The plan that was shown last; worked out from everything else, and never missed."""
PLAN_NOW_FILE = ".plan-now.json"
"""The plan as it stands, by which it is told what to do now; worked out anew where it is old."""
TOLD_FILE = ".told.json"
"""What was told within the last day; without it some things are said once more."""
PLAN_BEFORE_FILE = ".plan-before-away.json"
"""The plan from before somebody was logged away, for when that is taken back: on its first line the
entry's id, then the plan."""
PUT_BY_FILE = ".put-by.db"
"""Which pieces were finished long ago and need not be read; worked out anew without it."""
CHANGES_FILE = ".documents-before.jsonl"
"""What documents were before the program wrote them, so that it can be undone; never missed."""
CHANGES_LOCK = ".documents-lock"
"""Beside them while a program writes a document."""
FOLDERS = ("jobs", "schedules", "products")


class NoShopError(RefusalError, ValueError):
    """There is no shop folder where one was wanted."""


def find_shop(
    named: str | None, variables: Mapping[str, str], cwd: Path, data_dir: Callable[[], Path]
) -> Path | None:
    """Return the shop folder, or None when there is none.

    It is the one that is named, else the variable's, else the nearest above ``cwd``, else the
    user's data folder.

    Raises:
        NoShopError: when a folder was named, by option or variable, that is no shop.

    """
    for place, origin in (
        (named, "--shop"),
        (variables.get("FINISHSCHED_SHOP"), "FINISHSCHED_SHOP"),
    ):
        if place:
            folder = _resolved(cwd, place, origin)
            if not (folder / SHOP_FILE).is_file():
                raise NoShopError(
                    f"{origin}: {place} holds no {SHOP_FILE}", f"make one: finishsched new {place}"
                )
            return folder
    for folder in (cwd, *cwd.parents):
        if (folder / SHOP_FILE).is_file():
            return folder
    home = data_dir()
    return home if (home / SHOP_FILE).is_file() else None


def _resolved(cwd: Path, place: str, origin: str) -> Path:
    try:
        return (cwd / Path(place).expanduser()).resolve()
    except (RuntimeError, OSError, ValueError):
        raise NoShopError(f"{origin}: {place!r} is no place", "name a shop folder") from None

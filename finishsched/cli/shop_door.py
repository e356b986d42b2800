"""Open the shop for one command, and say what it should know on the way."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime, tzinfo
from typing import TYPE_CHECKING

import click

from finishsched.cli.common import shop_named, world
from finishsched.cli.faults import CommandError

if TYPE_CHECKING:
    from finishsched.workshop.workshop import Workshop


@contextmanager
def open_shop(option: str | None, now: datetime) -> Iterator[Workshop]:
    """Open the shop found from here.

    Raises:
        CommandError: when there is none.

    """
    from finishsched.workshop.workshop import Workshop

    folder = shop_named(option)
    if folder is None:
        raise CommandError(
            "there is no shop here; make one with finishsched new DIR, "
            "name one with --shop DIR, or look round in finishsched demo"
        )
    with Workshop.open(folder, now) as workshop:
        yield workshop
        workshop.mark_looked(now)


def tell(notices: tuple[str, ...]) -> None:
    """Say notices on standard error, so that they are never mixed into an answer."""
    for notice in notices:
        click.echo(f"notice: {notice}", err=True)


def read_instant(text: str | None, zone: tzinfo) -> datetime | None:
    """Return the instant that a person wrote, such as ``18:30`` or ``2026-11-25 18:30``, in UTC.

    A time without a date is the latest one that has passed.

    Raises:
        CommandError: when it is no time.

    """
    if text is None:
        return None
    from datetime import UTC, timedelta

    from dateutil import parser, tz

    now = world().now().astimezone(zone)
    midnight = now.replace(hour=0, minute=0, second=0, microsecond=0, tzinfo=None)
    words = text.strip().lower()
    yesterday = words.startswith("yesterday")
    words = words.removeprefix("yesterday").strip()
    try:
        found = parser.parse(words, default=midnight)
    except (ValueError, OverflowError, TypeError):
        raise CommandError(
            f"--at: {text!r} is not a time; write 18:30, yesterday 18:30 or 2026-11-25 18:30"
        ) from None
    if found.tzinfo is not None:
        return found.astimezone(UTC)
    if yesterday:
        found -= timedelta(days=1)
    local = tz.resolve_imaginary(found.replace(tzinfo=zone))
    if ":" in words and len(words) <= len("18:30:00") and local > now:
        local = tz.resolve_imaginary((found - timedelta(days=1)).replace(tzinfo=zone))
    return local.astimezone(UTC)

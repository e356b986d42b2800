"""Open the shop for one command, and say what it should know on the way."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager, nullcontext
from datetime import datetime, tzinfo
from functools import partial
from typing import TYPE_CHECKING

from finishsched.cli.beside import is_quiet, told_here
from finishsched.cli.common import only_tries, shop_named, world
from finishsched.cli.faults import CommandError
from finishsched.cli.outgoing import say

if TYPE_CHECKING:
    from collections.abc import Iterable

    from finishsched.workshop.base.notice import Notice
    from finishsched.workshop.base.workshop import Workshop
    from finishsched.workshop.views.told_today import ToldToday

NO_SHOP = (
    "there is no shop here; make one with finishsched new DIR, "
    "name one with --shop DIR, or look round in finishsched demo"
)


@contextmanager
def open_shop(option: str | None, now: datetime) -> Iterator[Workshop]:
    """Open the shop found from here.

    Raises:
        CommandError: when there is none.

    """
    from finishsched.journal.faults import JournalFaultError
    from finishsched.workshop.base.entries import (
        NotToBeReadError,
        RefusedError,
        SeveralRefusedError,
    )
    from finishsched.workshop.base.workshop import Workshop

    folder = shop_named(option)
    if folder is None:
        raise CommandError(NO_SHOP)
    with Workshop.open(folder, now) as workshop:
        workshop.reads_anew = partial(_tell_reading, workshop)
        try:
            with workshop.only_trying() if only_tries() else nullcontext():
                yield workshop
        except RefusedError as error:
            each = error.each if isinstance(error, SeveralRefusedError) else [("", error)]
            if any(isinstance(one, NotToBeReadError) for _, one in each):
                tell_shortness(workshop)
            raise
        except JournalFaultError as error:
            # What follows an entry that is safe on the disk never makes it look refused.
            if not workshop.took_entries:
                raise
            tell((f"what was logged is safe; after it: {error}",))
        workshop.mark_looked(now)
        _tell_damage(workshop)


def _tell_reading(workshop: Workshop, done: int, of: int) -> None:
    """Say how far the finished pieces are found again, where that takes longer than a second."""
    from finishsched.cli.working import so_far
    from finishsched.workshop.standing.sentences import reads_anew_words

    so_far(reads_anew_words(done, of, workshop.folder) if done < of else None)


def tell(notices: Iterable[str]) -> None:
    """Say notices on standard error, each once, so that they are never mixed into an answer."""
    if is_quiet():
        return
    said = told_here()
    for notice in notices:
        if notice not in said:
            said.add(notice)
            say(f"notice: {notice}", err=True)


def _tell_damage(workshop: Workshop) -> None:
    """Say what is not sound in the journal: it may show only as the answer is worked out."""
    if workshop.lost:
        from finishsched.workshop.views.notices import journal_damage

        tell(notice.text for notice in journal_damage(workshop.lost, workshop.folder))


def tell_faults(workshop: Workshop, now: datetime) -> None:
    """Say which documents could not be read, once a day."""
    from finishsched.workshop.views.notices import document_faults

    _tell_once(workshop, document_faults(workshop.papers.faults), now)


def tell_shortness(workshop: Workshop) -> None:
    """Say which documents could not be read: what leaves the house may be short of something."""
    from finishsched.workshop.views.notices import document_faults

    tell(notice.text for notice in document_faults(workshop.papers.faults))


def tell_notices(workshop: Workshop, now: datetime) -> None:
    """Say what somebody should know who asks, nothing twice within a day unless it grew worse."""
    from finishsched.workshop.safety.rags import open_rags
    from finishsched.workshop.views.views import shop_notices

    notices = (*shop_notices(workshop, now), *open_rags(workshop, now).notices)
    _tell_once(workshop, notices, now)


def news_among(
    workshop: Workshop, texts: Iterable[str], now: datetime, person: str = ""
) -> frozenset[str]:
    """Return the sentences that were not told within the day, and keep that they are told now.

    To whoever works is told what another was, though both log at one login.
    """
    from finishsched.workshop.base.notice import Notice

    fresh = _told(workshop, now, person).fresh(Notice(text) for text in texts)
    return frozenset(notice.text for notice in fresh)


def keep_as_told(workshop: Workshop, notices: Iterable[Notice], now: datetime) -> None:
    """Keep that the answer itself tells of something, which no notice then says again."""
    _told(workshop, now).fresh(notices)


def _tell_once(workshop: Workshop, notices: Iterable[Notice], now: datetime) -> None:
    if not is_quiet():
        tell(notice.text for notice in _told(workshop, now).fresh(notices))


def _told(workshop: Workshop, now: datetime, person: str = "") -> ToldToday:
    from finishsched.workshop.views.told_today import ToldToday

    return ToldToday(workshop.folder, lambda: now, person)


def tell_clock(workshop: Workshop, now: datetime) -> None:
    """Say that the machine's clock stands wrong: whatever is told of times is wrong with it."""
    from finishsched.workshop.views.notices import clock_stands_wrong

    last = workshop.book().last_logged_at
    tell(notice.text for notice in clock_stands_wrong(last, now, workshop.zone))


def read_instant(text: str | None, zone: tzinfo, option: str = "--at") -> datetime | None:
    """Return in UTC the time that a person wrote for ``--at``, or another option; None for none.

    The date and time that were taken are told, so that a slip is seen at once.

    Raises:
        CommandError: when it is no time.

    """
    from finishsched.workshop.base.wall_clock import WallTimeError, full, read_wall_time

    if text is None:
        return None
    try:
        at = read_wall_time(text, world().now(), zone)
    except WallTimeError as error:
        raise CommandError(f"{option}: {error}") from None
    tell((f"{option} {text}: taken as {full(at, zone)}",))
    return at


def read_ahead(text: str | None, zone: tzinfo, option: str) -> datetime | None:
    """Return in UTC the time to come that a person wrote for an option; None for none.

    Raises:
        CommandError: when it is no time, or past.

    """
    from finishsched.workshop.base.wall_clock import WallTimeError, full, read_time_ahead

    if text is None:
        return None
    try:
        at = read_time_ahead(text, world().now(), zone)
    except WallTimeError as error:
        raise CommandError(f"{option}: {error}") from None
    tell((f"{option} {text}: taken as {full(at, zone)}",))
    return at


def read_day(text: str | None, zone: tzinfo) -> datetime | None:
    """Return in UTC the day, or day and time, that a person wrote for ``--on``; None for none.

    Raises:
        CommandError: when it is neither.

    """
    from finishsched.workshop.base.wall_clock import WallTimeError, read_wall_day

    try:
        return None if text is None else read_wall_day(text, world().now(), zone)
    except WallTimeError as error:
        raise CommandError(f"--on: {error}") from None


def tell_around(command: str) -> None:
    """Say once a day what is wrong with the settings, whatever the command.

    The settings' own command tells its faults itself, and so does the checker.
    """
    file = world().settings_file()
    if command in ("settings", "check", "bench", "completion") or not file.is_file():
        return
    from finishsched.cli.begin.settings import setting_faults

    faults = setting_faults(file)
    if faults and not is_quiet():
        from finishsched.workshop.base.notice import Notice
        from finishsched.workshop.views.told_today import ToldToday

        told = ToldToday(file.parent, world().now)
        tell(notice.text for notice in told.fresh(map(Notice, faults)))


def tell_places(shop: str | None) -> None:
    """Say on standard error which shop and which settings are worked with."""
    file = world().settings_file()
    say(f"shop: {shop_named(shop) or 'none found from here'}", err=True)
    there = "" if file.is_file() else " (not there)"
    say(f"settings: {file}{there}", err=True)

"""What somebody should know who opens the shop, and would not see on any one piece."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime, tzinfo
from pathlib import Path

from finishsched.documents.faults import Fault
from finishsched.model.names import in_words
from finishsched.workshop.base.notice import Notice
from finishsched.workshop.base.spans import full_date, span
from finishsched.workshop.standing.standing import Standing

CLOCK_BEHIND_S = 60.0
CLOCK_AHEAD_S = 400 * 86_400.0
"""A shop in which nothing was logged for so long is rarer than a clock that is wrong."""
NOBODY_LOOKED = "nobody looked for"
NOBODY_LOOKED_S = 3600.0
"""Longer than between two commands of one evening in which coats are laid (our assumption)."""


def nobody_looked(last_look: datetime | None, now: datetime) -> Iterator[Notice]:
    """Say how long nobody looked, when that matters."""
    if last_look is None or (now - last_look).total_seconds() < NOBODY_LOOKED_S:
        return
    yield Notice(f"{NOBODY_LOOKED} {span((now - last_look).total_seconds())}", about=NOBODY_LOOKED)


def document_faults(faults: Sequence[Fault]) -> Iterator[Notice]:
    """Say the first fault in the shop's documents, and how many more there are."""
    if faults:
        more = f" (and {len(faults) - 1} more)" if len(faults) > 1 else ""
        text = f"{faults[0]}{more}; finishsched check tells all"
        yield Notice(text, about=str(faults[0]), gravity=len(faults))


def journal_damage(lost: Sequence[str], folder: Path) -> Iterator[Notice]:
    """Say what is not sound in the journal, and the way to bring back what is."""
    if lost:
        more = f" (and {len(lost) - 1} more)" if len(lost) > 1 else ""
        yield Notice(
            f"the journal is damaged: {lost[0]}{more}; look, but nothing is logged until all "
            f"that is sound is brought back: finishsched restore {folder} NEW-DIR",
            spoils_answers=True,
        )


def clock_stands_wrong(
    last_logged_at: datetime | None, now: datetime, zone: tzinfo
) -> Iterator[Notice]:
    """Say that the machine's clock can hardly be right, by when an entry was last written."""
    if last_logged_at is None:
        return
    behind_s = (last_logged_at - now).total_seconds()
    has, entry = full_date(now, zone), full_date(last_logged_at, zone)
    dates = "" if has == entry else f" (it has {has}, the entry {entry})"
    if behind_s > CLOCK_BEHIND_S:
        yield Notice(
            f"this machine's clock stands {span(behind_s)} "
            f"before an entry that was written earlier{dates}: one of the two is wrong; set the "
            "clock right, or the cure clocks are wrong",
            spoils_answers=True,
        )
    elif -behind_s > CLOCK_AHEAD_S:
        yield Notice(
            f"this machine's clock stands {span(-behind_s)} after the last entry{dates}; where it "
            "is not truly so long ago, set the clock right: every wait is reckoned by it",
            spoils_answers=True,
        )


def notices(
    last_logged_at: datetime | None,
    faults: Sequence[Fault],
    standings: Sequence[Standing],
    now: datetime,
    zone: tzinfo,
) -> Iterator[Notice]:
    """Give, in words, a clock that stands wrong, faults in documents and schedules edited."""
    yield from clock_stands_wrong(last_logged_at, now, zone)
    yield from document_faults(faults)
    changed = [standing.ref for standing in standings if standing.changed_schedule]
    if changed:
        yield Notice(
            f"schedules edited since these pieces began: {in_words(changed)}; each goes on by "
            "the text it began with until you log 'adopt'"
        )

"""What stands beside the pieces: what to do now, the vapour, the rags, the cautions read today."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime, tzinfo
from typing import TYPE_CHECKING

from finishsched.bench import words
from finishsched.model.names import in_words, listed
from finishsched.workshop.base.answers import State
from finishsched.workshop.safety.cautions_today import caution_hash
from finishsched.workshop.standing.together import Row, rows_of
from finishsched.workshop.standing.where import standings
from finishsched.workshop.views.views import due_answer

if TYPE_CHECKING:
    from finishsched.checking.rule import Finding
    from finishsched.safety.cautions import Caution
    from finishsched.workshop.base.answers import BenchView, Later, PieceView
    from finishsched.workshop.base.workshop import Workshop
    from finishsched.workshop.plan.what_now import Suggestion, WhatNow


@dataclass(frozen=True, slots=True)
class Side:
    """All of it, as it stood when it was last asked for."""

    now: tuple[str, ...] = ()
    """What to do in the next quarter of an hour, then what if only ten minutes are left."""
    first: str = ""
    """The piece that comes first in it; empty where nothing can be begun."""
    later: Mapping[str, Later] = field(default_factory=dict)
    """By piece with a step to do that is left for later: why, and until when."""
    left: tuple[str, str] = ("", "")
    """Where nothing can be begun: the first of those pieces to come free, and why in words."""
    vapour: str = ""
    """One line, which begins with ``!`` while a limit is passed; empty for nothing to say."""
    rags: str = ""
    """One line while rags that can heat by themselves are about; else empty."""
    before: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    """By piece whose next coat would pass a limit of the air: what it would do, what helps."""
    read: frozenset[str] = frozenset()
    """Hashes of the cautions that were read today."""

    def later_at(self, now: datetime) -> Mapping[str, Later]:
        """Return what is left for later still at ``now``: its hour may have come since."""
        return {ref: one for ref, one in self.later.items() if one.until is None or one.until > now}

    def is_read(self, caution: Caution) -> bool:
        """Tell whether somebody read ``caution`` today."""
        return bool(self.read) and caution_hash(caution) in self.read

    def unread(self, cautions: Iterable[Caution]) -> tuple[Caution, ...]:
        """Return those of ``cautions`` that nobody read today."""
        return tuple(caution for caution in cautions if not self.is_read(caution))

    def read_words(self, cautions: Iterable[Caution]) -> str:
        """Say in a few words which of ``cautions`` were read today; empty for none."""
        dangers = [one.danger.name.lower() for one in cautions if self.is_read(one)]
        if not dangers:
            return ""
        return f"read today, and they still hold: {', '.join(dict.fromkeys(dangers))}"


NOTHING = Side()
NOTHING_NOW = "in the next 15 min: nothing can be begun"
LOOKING = "begin within 15 min: …"
"""Stands there from an entry on until it is known what comes after it."""
Findings = Mapping[str, "tuple[Finding, ...]"]


def side_of(workshop: Workshop, now: datetime) -> Side:
    """Return what stands beside the pieces at ``now``."""
    from finishsched.workshop.plan.for_later import later_of  # noqa: PLC0415
    from finishsched.workshop.plan.what_now import what_now  # noqa: PLC0415
    from finishsched.workshop.safety.now import safety_now  # noqa: PLC0415  # not before the board

    safety = safety_now(workshop, due_answer(workshop, now), now)
    found = what_now(workshop, now)
    rows = rows_of(standings(workshop), workshop.book(), now)
    titles = _titles_of(rows)
    alike = frozenset(ref for row in rows for ref in row.refs if row.count > 1)
    called = {**titles, **{in_words(row.refs): row.title for row in rows}}
    later = {
        ref: one._replace(why=words.titled(one.why, called)) for ref, one in later_of(found).items()
    }
    left = ("", "") if found.best else _left(later, titles, now, workshop.zone)
    return Side(
        now=now_words(found, titles, now, workshop.zone, alike),
        later=later,
        left=left,
        first=found.best.ref if found.best is not None and found.hands else "",
        vapour=safety.vapour_line,
        rags=rags_words(one.title for one in safety.rags.rags),
        before=safety.before,
        read=safety.read,
    )


def titles_of_rows(workshop: Workshop, now: datetime) -> Mapping[str, str]:
    """Return what the row of each piece is called at ``now``, by its reference."""
    return _titles_of(rows_of(standings(workshop), workshop.book(), now))


def _titles_of(rows: Iterable[Row]) -> dict[str, str]:
    return {ref: row.title for row in rows for ref in row.refs}


def foremost(view: BenchView, side: Side) -> PieceView | None:
    """Return the piece of the large letters: what is to be done now, else the most urgent."""
    first = next((piece for piece in view.pieces if piece.ref == side.first), None)
    if first is None or first.state is State.FINISHED:
        return view.most_urgent
    return first


def findings_of(workshop: Workshop, now: datetime) -> Findings:
    """Return what the rules find in each piece that runs, by piece; the gravest first."""
    from finishsched.workshop.defects.checks import piece_findings  # noqa: PLC0415  # dear, and once

    return {
        standing.ref: piece_findings(workshop, standing.ref, now)
        for standing in standings(workshop)
        if standing.progress is not None and standing.step is not None
    }


def rags_words(titles: Iterable[str]) -> str:
    """Say that rags of these products are about; nothing for none."""
    names = ", ".join(words.plain(title) for title in titles)
    return f"rags can catch fire by themselves: {names}" if names else ""


def now_words(
    found: WhatNow,
    titles: Mapping[str, str],
    now: datetime,
    zone: tzinfo,
    alike: frozenset[str] = frozenset(),
) -> tuple[str, ...]:
    """Say the best thing to do now, and what fits where only ten minutes are left.

    ``titles`` has the row's for pieces that are worked as one, which are ``alike``: its minutes
    are each piece's.
    """

    def said(one: Suggestion) -> str:
        who = f"{one.person}, " if len(found.hands) > 1 else ""
        at = f" from {words.wall(one.start, now, zone)}" if one.start > now else ""
        title = words.plain(titles.get(one.ref, one.title or one.ref))
        what = one.words(words.plain(one.step.title))
        each = " each" if one.ref in alike else ""
        planned = one.planned_later
        later = f" (planned for {words.wall(planned, now, zone)})" if planned else ""
        return f"{who}{title}: {what}{at}, {words.span(one.minutes * 60)}{each}{later}"

    if not found.hands and found.next_hours is not None:
        until = words.wall(found.next_hours, now, zone)
        if found.best is None:
            return (f"no hours until {until}",)
        return (f"after hours, next {until}: {said(found.best)}",)
    if found.best is None and found.too_long is not None and found.too_long.hours_end is not None:
        ends = words.wall(found.too_long.hours_end, now, zone)
        return (f"in the next 15 min: nothing can be begun that is over by {ends}",)
    if found.best is None:
        return (NOTHING_NOW,)
    best = f"begin within 15 min: {said(found.best)}{_shared(found, titles, zone)}"
    if found.if_few is None:
        return (best,)
    return best, f"with ten minutes: {said(found.if_few)}"


def _shared(found: WhatNow, titles: Mapping[str, str], zone: tzinfo) -> str:
    """Say which pieces one mix serves by the plan, and by when; nothing where it serves one."""
    mix = found.one_mix
    if mix is None:
        return ""
    names = [words.plain(titles.get(ref, ref)) for ref in mix.pieces]
    served = listed(list(dict.fromkeys(names)))
    return f"; one mix for {served}, by {mix.good_until.astimezone(zone):%H:%M}"


def _left(
    later: Mapping[str, Later], titles: Mapping[str, str], now: datetime, zone: tzinfo
) -> tuple[str, str]:
    """Return a piece that is left for later and why; the first that is known to come free."""
    known = {ref: one.until for ref, one in later.items() if one.until is not None}
    if not known:
        return "", ""
    ref = min(known, key=lambda ref: known[ref])
    title = words.plain(titles.get(ref, ref))
    return ref, f"{title}: {later[ref].why}, until {words.wall(known[ref], now, zone)}"

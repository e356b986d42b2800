"""Pieces that are worked together: alike by their job's document, or joined for an evening.

Nothing is stored of it. Pieces alike are one row for as long as they are at the same step and in
the same state; one that has a defect of its own, or that is not ready when the others are, stands
apart from that entry on, and comes back with the entry that brings it where they are.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import NamedTuple

from finishsched.journal.events import PiecesJoined
from finishsched.journal.progress import Book
from finishsched.model.names import in_words, listed, natural
from finishsched.model.step import Step
from finishsched.workshop.standing.standing import Standing

MOST_NAMED = 3
"""Of more than so many that are joined, the title counts the rest."""


class Rank(NamedTuple):
    """Where a piece is in its work: what has to be the same for pieces to be worked as one."""

    step: tuple[str, str, str, str]
    """The verb, the title, the product and the motion of the step in hand."""
    begun: bool
    waiting: bool
    not_yet: int
    """How many dry checks said so since."""
    flawed: bool
    """True where a defect was seen since the last step was done."""

    @classmethod
    def of(cls, standing: Standing) -> Rank:
        """Return where ``standing`` is."""
        step, progress = standing.step, standing.progress
        words = _words(step) if step is not None else ("", "", "", "")
        if progress is None:
            return cls(words, begun=False, waiting=False, not_yet=0, flawed=False)
        checks = len(progress.not_yet_at)
        return cls(
            words, begun=True, waiting=progress.waiting, not_yet=checks, flawed=_flawed(standing)
        )


@dataclass(frozen=True, slots=True)
class Row:
    """What is listed as one, and logged by one name."""

    refs: tuple[str, ...]
    """In natural order; a single piece has one."""
    name: str
    """What the command line takes for it: a piece, the id of those alike, or a list of spans."""
    title: str
    """``12 x Drawer front``, ``Lid and Body``, or the title of the one piece."""
    joined: bool = False
    """True for pieces that are joined for an evening, rather than alike."""

    @property
    def count(self) -> int:
        """How many pieces it stands for."""
        return len(self.refs)


def together(found: Iterable[Standing]) -> list[tuple[Standing, ...]]:
    """Return pieces that are alike in groups of those at the same step, in natural order."""
    groups: dict[Rank, list[Standing]] = defaultdict(list)
    for standing in sorted(found, key=lambda one: natural(one.ref)):
        groups[Rank.of(standing)].append(standing)
    return [tuple(group) for group in groups.values()]


def rows_of(found: Sequence[Standing], book: Book, now: datetime) -> tuple[Row, ...]:
    """Return the pieces as they are listed at ``now``: those worked together in one row."""
    rows: list[Row] = []
    left = {standing.ref: standing for standing in found}
    for group in _joined(left, book, now):
        for members in together(left[ref] for ref in group if ref in left):
            if len(members) > 1:
                rows.append(_row_of_joined(members))
                for one in members:
                    del left[one.ref]
    alike: dict[tuple[str, str], list[Standing]] = defaultdict(list)
    for standing in left.values():
        job = standing.ref.partition("/")[0]
        alike[job, standing.piece.alike or standing.ref].append(standing)
    for members_of in alike.values():
        groups = together(members_of)
        largest = max(groups, key=len)
        rows.extend(_row(group, largest=group is largest) for group in groups)
    return tuple(rows)


def _joined_now(book: Book, now: datetime) -> tuple[tuple[str, ...], ...]:
    """Return the pieces that somebody joined and that are joined still, the newest first."""
    told = [event for event in book.told(None, PiecesJoined) if event.at <= now]
    return tuple(
        event.what.pieces
        for event in reversed(told)
        if isinstance(event.what, PiecesJoined) and now < event.what.until
    )


def _joined(left: dict[str, Standing], book: Book, now: datetime) -> list[tuple[str, ...]]:
    """Return each joining that holds, of the pieces that no newer one has."""
    taken: set[str] = set()
    found: list[tuple[str, ...]] = []
    for pieces in _joined_now(book, now):
        if not taken & set(pieces):
            found.append(tuple(ref for ref in pieces if ref in left))
            taken |= set(pieces)
    return found


def _row(group: tuple[Standing, ...], *, largest: bool) -> Row:
    first = group[0]
    if len(group) == 1:
        return Row((first.ref,), first.ref, first.piece.title)
    refs = tuple(one.ref for one in group)
    job = first.ref.partition("/")[0]
    name = f"{job}/{first.piece.alike}" if largest else in_words(refs)
    return Row(refs, name, alike_title(len(group), first.piece.title, first.ref))


def _row_of_joined(members: tuple[Standing, ...]) -> Row:
    alike: dict[tuple[str, str], list[Standing]] = defaultdict(list)
    for one in members:
        alike[one.ref.partition("/")[0], one.piece.alike or one.ref].append(one)
    titles = [_row(tuple(group), largest=False).title for group in alike.values()]
    if len(titles) > MOST_NAMED:
        titles = [*titles[: MOST_NAMED - 1], f"{len(titles) - MOST_NAMED + 1} more"]
    refs = tuple(one.ref for one in members)
    return Row(refs, in_words(refs), listed(titles), joined=True)


def alike_title(count: int, title: str, ref: str) -> str:
    """Return what several pieces alike are called, by the title and the name of one of them."""
    number = ref.rpartition("-")[2]
    return f"{count} x {title.removesuffix(f' {number}')}"


def _words(step: Step) -> tuple[str, str, str, str]:
    return step.verb.value, step.title, step.product or "", step.how


def _flawed(standing: Standing) -> bool:
    """Tell whether a defect was seen since the last step was done, and nothing done about it."""
    progress = standing.progress
    if progress is None or not progress.defects:
        return False
    done = max((event.seq for _, event in progress.done), default=0)
    return progress.defects[-1].seq > done

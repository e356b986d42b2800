"""Blocks: pieces that stand in one row are one thing to a plan, with one set-up and one end.

A row is a block for as long as it is together; one that is taken out is planned by itself, and
comes back with the entry that brings it where the others are. What there are not places for on a
rack goes in as many blocks as it takes.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence

from finishsched.model.names import in_words
from finishsched.model.shop import Shop
from finishsched.workshop.plan.work_left import Work
from finishsched.workshop.standing.together import Row, alike_title


def in_blocks(works: Mapping[str, Work], rows: Iterable[Row], shop: Shop) -> tuple[Work, ...]:
    """Return what is left, of the pieces of each row as one as far as all of it is the same.

    ``works`` are by their pieces; the order of the first of each block is kept.
    """
    found: list[Work] = []
    # What waits for a spot of its own is no block with the others, nor is the spot.
    alone = {ref for work in works.values() if work.of for ref in (work.of, work.ref)}
    for row in rows:
        own = [works[ref] for ref in row.refs if ref in works]
        same: dict[tuple[object, ...], list[Work]] = defaultdict(list)
        for work in own:
            by_itself = work.ref if work.ref in alone else ""
            same[by_itself, *_all_that_counts(work)].append(work)
        for members in same.values():
            blocks = list(_on_the_racks(members, shop))
            found += [_block(block, row) for block in blocks]
    place = {ref: at for at, ref in enumerate(works)}
    return tuple(sorted(found, key=lambda work: min(place[ref] for ref in work.refs)))


def _all_that_counts(work: Work) -> tuple[object, ...]:
    before = work.before.step if work.before is not None else None
    return work.left, work.due, work.waiting, before


def _on_the_racks(members: Sequence[Work], shop: Shop) -> Iterator[Sequence[Work]]:
    verbs = {step.verb for step in members[0].left}
    places = [store.capacity for store in shop.stores if verbs & set(store.verbs)]
    most = max(1, min(places, default=len(members)))
    for first in range(0, len(members), most):
        yield members[first : first + most]


def _block(members: Sequence[Work], row: Row) -> Work:
    """Return the members as one, which is ready when the last of them is."""
    first = members[0]
    if len(members) == 1:
        return first
    refs = tuple(work.ref for work in members)
    last = max(members, key=lambda work: work.before.at.timestamp() if work.before else 0.0)
    whole = refs == row.refs
    stirred = [work.stirred for work in members if work.stirred is not None]
    return first._replace(
        ref=row.name if whole else in_words(refs),
        title=row.title if whole else alike_title(len(members), first.title, first.ref),
        before=last.before,
        stirred=max(stirred, key=lambda one: one[1], default=None),
        others=tuple((work.ref, work.piece) for work in members[1:]),
        first=first.ref,
    )

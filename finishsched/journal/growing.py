"""Entries by piece to which others come one by one, as a notebook of thousands brings them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from itertools import chain

from finishsched.journal.events import Event, Payload
from finishsched.journal.filed import Filed


class GrowingFiled(Filed):
    """Files what comes in place, so that each entry costs the same however many came before it.

    The book before an entry has that entry too, then: whoever folds one by one asks the last book
    only.
    """

    def __init__(self, before: Filed) -> None:
        super().__init__()
        self._before = before
        self._every: dict[str | None, list[Event]] = defaultdict(list)
        self._by_kind: dict[tuple[str | None, type[Payload]], list[Event]] = defaultdict(list)

    def __getitem__(self, piece: str | None) -> tuple[Event, ...]:
        return (*self._before.get(piece, ()), *self._every.get(piece, ()))

    def __iter__(self) -> Iterator[str | None]:
        return iter(dict.fromkeys((*self._before, *self._every)))

    def __len__(self) -> int:
        return sum(1 for _ in self)

    def of_kinds(self, piece: str | None, kinds: tuple[type[Payload], ...]) -> tuple[Event, ...]:
        """Return the entries about ``piece`` that are of some kinds, looking at no others."""
        came = [came for kind in kinds if (came := self._by_kind.get((piece, kind)))]
        later = came[0] if len(came) == 1 else sorted(chain(*came), key=_by_seq)
        return (*self._before.of_kinds(piece, kinds), *later)

    def newest(self, piece: str | None, count: int) -> tuple[Event, ...]:
        """Return the last ``count`` entries about ``piece``."""
        came = self._every.get(piece, [])[-count:]
        return (*self._before.newest(piece, count), *came)[-count:]

    def having(self, new: Mapping[str | None, list[Event]]) -> Filed:
        """Return these entries, with ``new`` ones after them from now on."""
        for piece, events in new.items():
            self._every[piece] += events
            for event in events:
                self._by_kind[piece, type(event.what)].append(event)
        return self


def _by_seq(event: Event) -> int:
    return event.seq

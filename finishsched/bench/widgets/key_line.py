"""The bottom line: the keys in force, as many as fit; each can be tapped."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from textual.content import Content

from finishsched.bench import bindings, keys
from finishsched.bench.widgets.drawn import Drawn
from finishsched.bench.widgets.taps import Tap, as_fit, tap

_ROOMY_WIDTH = 60
_KEYS = {key.id: key for key in keys.BOARD}


class KeyLine(Drawn[Mapping[str, str]]):
    """The keys, the most used first."""

    def draw(self, facts: Mapping[str, str], width: int) -> Content:
        """Return as many keys with their words as fit."""
        gap = "   " if width >= _ROOMY_WIDTH else "  "
        return as_fit(tuple(_hints(facts)), width, gap)

    def taps(self) -> Sequence[Tap]:
        """Return every key of the board that is in force, those of the hints first."""
        force = self.facts or {}
        others = (id_ for id_ in _KEYS if id_ not in keys.HINTS)
        return tuple(_hints(force, (*keys.HINTS, *others)))


def _hints(force: Mapping[str, str], ids: Sequence[str] = keys.HINTS) -> Iterator[Tap]:
    for id_ in ids:
        if name := bindings.first_key(force, id_):
            yield tap(_KEYS[id_], name=name)

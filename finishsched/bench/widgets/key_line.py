"""The bottom line: the keys in force, as many as fit; each can be tapped."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

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


def _hints(force: Mapping[str, str]) -> Iterator[Tap]:
    for id_ in keys.HINTS:
        if name := bindings.first_key(force, id_):
            yield tap(_KEYS[id_], name=name)

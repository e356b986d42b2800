"""The bottom line: the keys in force, as many as fit."""

from __future__ import annotations

from collections.abc import Mapping

from textual.content import Content

from finishsched.bench import keys
from finishsched.bench.widgets.drawn import Drawn

_WORDS = {key.id: key.words for key in keys.BOARD}


class KeyLine(Drawn[Mapping[str, str]]):
    """The keys, the most used first."""

    def draw(self, facts: Mapping[str, str], width: int) -> Content:
        """Return as many keys with their words as fit."""
        line = Content("")
        for id_ in keys.HINTS:
            name = keys.first_key(facts, id_)
            if not name:
                continue
            gap = "   " if line else ""
            hint = Content.assemble(
                gap, (name, "bold $text-primary"), (f" {_WORDS[id_]}", "$text-muted")
            )
            if line.cell_length + hint.cell_length > width:
                break
            line += hint
        return line

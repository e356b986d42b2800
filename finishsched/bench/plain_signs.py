"""The bench in plain signs: letters, borders and bars, for terminals that have no others."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from rich.cells import cell_len
from rich.segment import Segment
from textual.color import Color
from textual.filter import LineFilter

from finishsched.signs import fitting, is_plain


class PlainSigns(LineFilter):
    """Puts a plain sign of the same width in the place of each that may not be drawn."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:  # noqa: ARG002  # Textual's own
        """Return the same segments in plain signs; ``background`` does not matter to them."""
        return [segment if segment.text.isascii() else _in_plain(segment) for segment in segments]


_PLAIN = PlainSigns()


def in_signs_to_be_had(usual: Sequence[LineFilter]) -> Sequence[LineFilter]:
    """Return the filters of an app, with the plain signs where others are not to be had."""
    return [*usual, _PLAIN] if is_plain() else usual


def _in_plain(segment: Segment) -> Segment:
    text = "".join(map(_one_for, segment.text))
    return Segment(text, segment.style, segment.control)


@lru_cache(maxsize=1024)
def _one_for(sign: str) -> str:
    """Return what stands for ``sign``; one that has no stand-in of its width shows as ``?``."""
    plain = fitting(sign, "utf-8", True)  # noqa: FBT003
    width = cell_len(sign)
    return plain if cell_len(plain) == width else "?" * width

"""Pieces that are taken in or left out, a line each: by the letter of a line, or by a tap on it."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from textual.content import Content

from finishsched.bench import words
from finishsched.bench.widgets.drawn import lines
from finishsched.bench.widgets.taps import tapped
from finishsched.workshop.base.answers import PieceView

_SIGNS = "abcdefghiklmoprstuvwxyz"
"""The letters of the lines, in order; those with another meaning on a card are left out."""


def in_or_out(
    pieces: Sequence[PieceView], refs: Collection[str], width: int, *, high: bool = False
) -> Iterator[Content]:
    """Give a line for each of ``pieces``, or two where it is ``high``; those of ``refs`` are in.

    A tap calls ``with`` on it.
    """
    for sign, piece in zip(_SIGNS, pieces, strict=False):
        is_in = piece.ref in refs
        mark = "with" if is_in else "not "
        step = piece.step.title if piece.step else ""
        text = words.fit(f"{mark}  {words.plain(piece.title)}, {step}", max(8, width - 5)).rstrip()
        drawn = Content.assemble(
            (f" {sign} ", "bold reverse"), "  ", (text, "bold" if is_in else "$text-muted")
        )
        drawn = lines(drawn.truncate(width, pad=True), Content(" " * width)) if high else drawn
        yield tapped(drawn, f"screen.with('{piece.ref}')")


def piece_of(sign: str, pieces: Sequence[PieceView]) -> str:
    """Return the piece whose line has the letter ``sign``; empty for none."""
    return next((p.ref for s, p in zip(_SIGNS, pieces, strict=False) if s == sign), "")

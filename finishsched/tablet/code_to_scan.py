"""The code to scan, drawn with the signs of a terminal."""

from __future__ import annotations

from collections.abc import Sequence

import segno

_BORDER = 2
"""Modules of quiet around it. The standard (ISO/IEC 18004) wants four; cameras do with two."""
_HALVES = {(True, True): "█", (True, False): "▀", (False, True): "▄", (False, False): " "}


def code_lines(address: str, *, columns: int, dark_on_light: bool, blocks: bool) -> list[str]:
    """Return the code for an address as lines; none where the terminal is too narrow for it.

    Either its dark parts are drawn, for who prints them in black on white, or its light ones, which
    is the same on a dark terminal; most cameras take it on a light one too. Without ``blocks`` it
    is drawn in letters.
    """
    rows = [
        [bool(module) == dark_on_light for module in row]
        for row in segno.make_qr(address, error="l").matrix_iter(border=_BORDER)
    ]
    if blocks:
        lines = _in_halves(rows, last=[not dark_on_light] * len(rows[0]))
    else:
        lines = ["".join("##" if drawn else "  " for drawn in row) for row in rows]
    return lines if len(lines[0]) <= columns else []


def _in_halves(rows: Sequence[Sequence[bool]], last: Sequence[bool]) -> list[str]:
    """Draw two rows of modules in each line; ``last`` stands below an odd one."""
    pairs = zip(rows[::2], [*rows[1::2], last], strict=False)
    return [
        "".join(_HALVES[pair] for pair in zip(upper, lower, strict=True)) for upper, lower in pairs
    ]

"""Big letters of our own, readable from across the room, in two sizes.

Each letter is five rows of dots. Small letters stand two rows of dots in one line of text, large
ones make every dot two characters wide and one line high.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import zip_longest
from typing import TypeAlias
from unicodedata import combining, normalize

_GLYPHS = {
    "A": ".##. #..# #### #..# #..#",
    "B": "###. #..# ###. #..# ###.",
    "C": ".### #... #... #... .###",
    "D": "###. #..# #..# #..# ###.",
    "E": "#### #... ###. #... ####",
    "F": "#### #... ###. #... #...",
    "G": ".### #... #.## #..# .###",
    "H": "#..# #..# #### #..# #..#",
    "I": "# # # # #",
    "J": "..## ...# ...# #..# .##.",
    "K": "#..# #.#. ##.. #.#. #..#",
    "L": "#... #... #... #... ####",
    "M": "#...# ##.## #.#.# #...# #...#",
    "N": "#...# ##..# #.#.# #..## #...#",
    "O": ".##. #..# #..# #..# .##.",
    "P": "###. #..# ###. #... #...",
    "Q": ".##. #..# #..# #.## .###",
    "R": "###. #..# ###. #.#. #..#",
    "S": ".### #... .##. ...# ###.",
    "T": "##### ..#.. ..#.. ..#.. ..#..",
    "U": "#..# #..# #..# #..# .##.",
    "V": "#...# #...# #...# .#.#. ..#..",
    "W": "#...# #...# #.#.# ##.## #...#",
    "X": "#...# .#.#. ..#.. .#.#. #...#",
    "Y": "#...# .#.#. ..#.. ..#.. ..#..",
    "Z": "##### ...#. ..#.. .#... #####",
    "-": "... ... ### ... ...",
    "0": "#### #..# #..# #..# ####",
    "1": ".#. ##. .#. .#. ###",
    "2": "#### ...# #### #... ####",
    "3": "#### ...# .### ...# ####",
    "4": "#..# #..# #### ...# ...#",
    "5": "#### #... #### ...# ####",
    "6": "#### #... #### #..# ####",
    "7": "#### ...# ..#. .#.. .#..",
    "8": "#### #..# #### #..# ####",
    "9": "#### #..# #### ...# ####",
    "h": "#... #... ###. #..# #..#",
    "m": "..... ..... ##.#. #.#.# #.#.#",
    "i": "# . # # #",
    "n": ".... .... ###. #..# #..#",
    "d": "...# ...# .### #..# .###",
    "g": ".... .### #..# .### .##.",
    "o": ".... .... .##. #..# .##.",
    "f": ".## #.. ##. #.. #..",
    "z": ".... .... #### .##. ####",
    "l": "# # # # #",
    "b": "#... #... ###. #..# ###.",
    "k": "#... #.#. ##.. ##.. #.#.",
    "<": "..# .#. #.. .#. ..#",
    "+": "... .#. ### .#. ...",
    ".": ". . . . #",
    " ": ". . . . .",
}
_HALVES = {(False, False): " ", (True, False): "▀", (False, True): "▄", (True, True): "█"}

LARGE_ROWS = 5
Draw: TypeAlias = Callable[[str], tuple[str, ...]]


def named(title: str, width: int, letters: Sequence[Draw] | None = None) -> tuple[str, ...]:
    """Return as many of a title's first words in small letters as fit into ``width`` cells.

    A count of pieces alike is left out where no more than it would fit. Nothing when not even one
    word fits, or its signs cannot be drawn. Of several ``letters``, the narrowest last, the first
    are taken in which as many words fit as in the last.
    """
    letters = letters or (small,)
    said = _first_words(title, width, letters[-1])
    drawn = (draw(said) for draw in letters)
    return next((rows for rows in drawn if rows and len(rows[0]) <= width), ())


def _first_words(title: str, width: int, draw: Draw) -> str:
    best = said = ""
    bare = "".join(c for c in normalize("NFKD", title) if not combining(c))
    words = bare.upper().split()
    if words[1:2] == ["X"] and words[0].isdigit():
        first = draw(" ".join(words[:3]))
        words = words if first and len(first[0]) <= width else words[2:]
    for word in words:
        said = f"{said} {word.strip(',;:')}".strip()
        rows = draw(said)
        if not rows or len(rows[0]) > width:
            break
        best = said
        if word.endswith((",", ";", ":")):
            break
    return best


def small(text: str) -> tuple[str, ...]:
    """Return ``text`` in three lines, or nothing when a letter is unknown."""
    rows = _dots(text)
    pairs = zip_longest(rows[::2], rows[1::2], fillvalue=())
    return tuple(
        "".join(_HALVES[above, below] for above, below in zip_longest(top, bottom, fillvalue=False))
        for top, bottom in pairs
    )


def tall(text: str) -> tuple[str, ...]:
    """Return ``text`` in five lines, each dot one character wide; as wide as small letters."""
    return tuple("".join("█" if dot else " " for dot in row) for row in _dots(text))


def large(text: str) -> tuple[str, ...]:
    """Return ``text`` in five lines, each dot two characters wide."""
    return tuple("".join("██" if dot else "  " for dot in row) for row in _dots(text))


def _dots(text: str) -> list[tuple[bool, ...]]:
    if not text or any(letter not in _GLYPHS for letter in text):
        return []
    rows: list[tuple[bool, ...]] = []
    for row in range(LARGE_ROWS):
        line = ".".join(_GLYPHS[letter].split()[row] for letter in text)
        rows.append(tuple(dot == "#" for dot in line))
    return rows

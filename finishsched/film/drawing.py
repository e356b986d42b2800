"""A piece in section: wood, veneer, hollow and film, drawn in plain signs with their numbers.

Pure: figures in um in, lines of text out. Film, relief and veneer have each a scale of their own,
since a veneer is twenty times as thick as a film; the numbers beside it are what counts.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

FILM, VENEER, WOOD, AIR = "░", "▒", "█", " "

LEAST_WIDTH, LEAST_HEIGHT = 24, 6


@dataclass(frozen=True, slots=True)
class Section:
    """What is drawn, all likely values in um."""

    film_um: float
    """Over the high spots."""
    relief_um: float
    """What the hollows still want."""
    surface_um: float
    """How far the face in the hollows lies below the high spots."""
    hollow_um: float
    """How deep the hollows of the ground are."""
    veneer_um: float | None
    """None for solid wood."""


def cross_section(
    section: Section, width: int, height: int, tell: Callable[[float], str]
) -> tuple[str, ...]:
    """Return the section as ``height`` lines of ``width`` signs, labels at the right.

    At least 24 by 6. A hollow lies in the middle; the film's top runs over it. ``tell`` puts a
    thickness in um into words.
    """
    width, height = max(width, LEAST_WIDTH), max(height, LEAST_HEIGHT)
    labels = _labels(section, tell)
    label_width = max(map(len, labels))
    columns = max(8, width - label_width - 1)
    ground_rows = max(2, height // 3)
    rows = _rows(section, columns, height - ground_rows, ground_rows)
    lines = []
    for number, row in enumerate(rows):
        label = labels[number] if number < len(labels) else ""
        lines.append(f"{row} {label}"[:width].rstrip())
    return tuple(lines)


def _labels(section: Section, tell: Callable[[float], str]) -> list[str]:
    labels = [f"{FILM} film {tell(section.film_um)}", f"  to fill {tell(section.relief_um)}"]
    if section.veneer_um is not None:
        labels.append(f"{VENEER} veneer {tell(section.veneer_um)}")
    return [*labels, f"{WOOD} wood"]


def _rows(section: Section, columns: int, above: int, ground_rows: int) -> list[str]:
    """Return the rows from the air down: ``above`` rows of film and hollow, then the ground."""
    film_um, hollow_um = section.film_um, section.hollow_um
    # The topmost row is left for a film too thin to fill one.
    scale_um = max(film_um + hollow_um, 1.0) / (above - 1)
    hollow_columns = max(2, columns // 4)
    first = (columns - hollow_columns) // 2
    heights = []
    for column in range(columns):
        inside = first <= column < first + hollow_columns
        top_um = hollow_um + film_um
        heights.append((0.0, top_um - section.surface_um) if inside else (hollow_um, top_um))
    ground = VENEER if section.veneer_um is not None else WOOD
    rows = [
        "".join(
            _sign((row + 0.5) * scale_um, bottom, top, ground, scale_um) for bottom, top in heights
        )
        for row in reversed(range(above))
    ]
    veneer_rows = max(1, ground_rows // 2) if section.veneer_um is not None else 0
    rows += [VENEER * columns] * veneer_rows
    return rows + [WOOD * columns] * (ground_rows - veneer_rows)


def _sign(at_um: float, ground_um: float, top_um: float, ground: str, scale_um: float) -> str:
    if at_um < ground_um:
        return ground
    if at_um < top_um:
        return FILM
    # A film too thin for a row of its own still shows, so that some is never drawn as none.
    thin = 0 < top_um - ground_um < scale_um and at_um - scale_um < ground_um
    return FILM if thin else AIR

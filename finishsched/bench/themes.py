"""Two calm themes: shellac on dark walnut, and ink on drawing paper.

The text colours are given outright, so that each keeps a contrast of 4.5:1 on the three grounds
that it is drawn on.
"""

from __future__ import annotations

from textual.theme import Theme

DARK = Theme(
    name="walnut",
    dark=True,
    primary="#d9a566",
    secondary="#9fb0a8",
    accent="#8fb8c9",
    success="#9cc48a",
    warning="#e8bb5a",
    error="#f08a76",
    foreground="#e9e1d4",
    background="#151210",
    surface="#1d1916",
    panel="#2a2420",
    variables={
        "text-primary": "#e0b079",
        "text-secondary": "#b4bfb8",
        "text-accent": "#9cc3d3",
        "text-success": "#a9d097",
        "text-warning": "#f0c467",
        "text-error": "#ff9d8a",
        "text-muted": "#a99f92",
        "border": "#4a4038",
        "input-selection-background": "#5a4630",
    },
)

LIGHT = Theme(
    name="paper",
    dark=False,
    primary="#8a5214",
    secondary="#4d5d55",
    accent="#1f5d75",
    success="#2f6b1d",
    warning="#855400",
    error="#a32a16",
    foreground="#241d16",
    background="#faf6ee",
    surface="#f3ede1",
    panel="#e7decd",
    variables={
        "text-primary": "#7a4710",
        "text-secondary": "#46544d",
        "text-accent": "#1b5369",
        "text-success": "#285c18",
        "text-warning": "#704600",
        "text-error": "#962512",
        "text-muted": "#62584b",
        "border": "#c4b8a3",
        "input-selection-background": "#e0cba6",
    },
)

THEMES = {"dark": DARK, "light": LIGHT}

"""Two calm themes: shellac on dark walnut, and ink on drawing paper; each in few colours too.

The text colours are given outright, so that each keeps a contrast of 4.5:1 on the three grounds
that it is drawn on. A terminal of sixteen colours would take the nearest of its own, yellow on
white among them; for it each theme names those of the sixteen that can be read on its ground,
whether the terminal shows them by the old palette of text screens or a later one.
"""

from __future__ import annotations

from typing import Any, TypeAlias

from textual.app import App
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

_BLACK, _GREY, _SILVER, _WHITE = "#000000", "#555555", "#aaaaaa", "#ffffff"
_RED, _BLUE, _PURPLE = "#aa0000", "#0000aa", "#aa00aa"
Hues: TypeAlias = tuple[str, str, str, str]
"""Of success, accent, warning and error."""
_BRIGHT_RED, _BRIGHT_GREEN, _BRIGHT_YELLOW, _BRIGHT_CYAN = (
    "#ff5555",
    "#55ff55",
    "#ffff55",
    "#55ffff",
)


def _in_few(name: str, *, dark: bool, text: str, edge: str, chosen: str, hues: Hues) -> Theme:
    """Return a theme of few colours on black or white; ``chosen`` lies under chosen text."""
    ground = _BLACK if dark else _WHITE
    success, accent, warning, error = hues
    return Theme(
        name=name,
        dark=dark,
        primary=accent,
        secondary=text,
        accent=accent,
        success=success,
        warning=warning,
        error=error,
        foreground=text,
        background=ground,
        surface=ground,
        panel=ground,
        variables={
            "text-primary": accent,
            "text-secondary": text,
            "text-accent": accent,
            "text-success": success,
            "text-warning": warning,
            "text-error": error,
            "text-muted": text,
            "border": edge,
            "input-selection-background": chosen,
            "scrollbar": edge,
            "scrollbar-hover": text,
            "scrollbar-active": text,
            "scrollbar-background": ground,
            "scrollbar-background-hover": ground,
            "scrollbar-background-active": ground,
            "scrollbar-corner-color": ground,
        },
    )


DARK_IN_FEW = _in_few(
    "walnut-16",
    dark=True,
    text=_SILVER,
    edge=_SILVER,
    chosen=_BLUE,
    hues=(_BRIGHT_GREEN, _BRIGHT_CYAN, _BRIGHT_YELLOW, _BRIGHT_RED),
)
LIGHT_IN_FEW = _in_few(
    "paper-16",
    dark=False,
    text=_BLACK,
    edge=_GREY,
    chosen=_SILVER,
    hues=(_BLUE, _BLUE, _PURPLE, _RED),
)

THEMES = {"dark": DARK, "light": LIGHT}
IN_FEW = {"dark": DARK_IN_FEW, "light": LIGHT_IN_FEW}
_FEW = ("standard", "windows")
"""What a console of sixteen colours is called."""


def dress(app: App[Any], wish: str) -> None:
    """Give ``app`` the theme wished for, ``dark`` or ``light``, in the colours that it can show."""
    for theme in (*THEMES.values(), *IN_FEW.values()):
        app.register_theme(theme)
    known = IN_FEW if app.console.color_system in _FEW else THEMES
    _begin_in(app, known.get(wish, known["dark"]))


def _begin_in(app: App[Any], theme: Theme) -> None:
    """Give an app that does not run yet its theme, as setting it does.

    Set while it begins, a theme has every style read a second time before anything is drawn.
    """
    app.set_reactive(App.theme, theme.name)
    others = {name: False for name in app.classes if name.startswith("-theme-")}
    own = {f"-theme-{theme.name}": True, "-dark-mode": theme.dark, "-light-mode": not theme.dark}
    app.update_classes(others | own, update=False)
    app._refresh_truecolor_filter(app.ansi_theme)  # noqa: SLF001  # as the toolkit does
    app.stylesheet.set_variables(app.get_css_variables())

"""What a person likes on the bench, wherever they work."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from types import MappingProxyType


class Theme(StrEnum):
    """Light letters on dark, or dark on light."""

    DARK = "dark"
    LIGHT = "light"


@dataclass(frozen=True, slots=True)
class Quiet:
    """The hours in which nothing sounds, in minutes of the day on the shop's wall clock."""

    from_min: int
    to_min: int
    """May be less than ``from_min``: then it is the next day."""


@dataclass(frozen=True, slots=True)
class Settings:
    """The user's own settings; they are no part of a shop."""

    theme: Theme = Theme.DARK
    bell: bool = True
    keys: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    """For a binding's id, the keys that do it, with commas between them."""
    flash: bool = True
    """Whether the top line flashes when something is due."""
    notify: tuple[str, ...] = ()
    """A command and its arguments, run when something is due; the words are its last argument."""
    quiet: Quiet | None = None
    button: str = ""
    """The key that a foot switch or a single button sends; empty for none."""

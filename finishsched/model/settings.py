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
class Settings:
    """The user's own settings; they are no part of a shop."""

    theme: Theme = Theme.DARK
    bell: bool = True
    keys: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    """For a binding's id, the keys that do it, with commas between them."""

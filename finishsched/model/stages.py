"""The stages of a finish."""

from __future__ import annotations

from enum import StrEnum


class StageName(StrEnum):
    """The stages of a finish, in their usual order."""

    PREPARE = "prepare"
    FILL = "fill"
    SEAL = "seal"
    BODY = "body"
    LEVEL = "level"
    POLISH = "polish"
    CURE = "cure"

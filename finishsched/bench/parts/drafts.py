"""What was typed into a form that was left before it was handed in."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime, timedelta
from typing import NamedTuple

from finishsched.bench.host import Host

KEPT_FOR = timedelta(minutes=15)
"""Older, a reading of the air is none of now any more (our assumption)."""


class Draft(NamedTuple):
    """The fields of a form by their ids, and when it was left."""

    values: Mapping[str, str]
    left_at: datetime


class Drafts:
    """Keeps what was typed, by what a form is about, until the form is opened again."""

    def __init__(self, host: Host) -> None:
        self._host = host
        self._kept: dict[str, Draft] = {}

    def keep(self, about: str, values: Mapping[str, str]) -> None:
        """Keep what was typed, and say so."""
        self._kept[about] = Draft(dict(values), self._host.now())
        self._host.say("What you typed is kept: it stands there when you open this again.")

    def take(self, about: str) -> Draft | None:
        """Give what was typed, once; what is old is let go of."""
        draft = self._kept.pop(about, None)
        young = draft is not None and self._host.now() - draft.left_at <= KEPT_FOR
        return draft if young else None

"""Entries that are given in one go have a mark in common, by which they are taken back so."""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from finishsched.journal.events import NewEvent, random_id


def in_one_go(new: Sequence[NewEvent]) -> tuple[NewEvent, ...]:
    """Return entries with a mark in common, where there are several."""
    if len(new) < 2:
        return tuple(new)
    mark = random_id()
    return tuple(_marked(one, mark) for one in new)


def _marked(new: NewEvent, mark: str) -> NewEvent:
    if not any(field.name == "given" for field in dataclasses.fields(new.what)):
        return new
    what: Any = new.what
    return replace(new, what=replace(what, given=mark))

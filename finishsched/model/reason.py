"""Why an answer is what it is."""

from __future__ import annotations

from dataclasses import dataclass

from finishsched.model.said import Said


@dataclass(frozen=True, slots=True)
class Reason:
    """By which rule, from which inputs and from which source a figure came."""

    rule: str | Said
    inputs: tuple[str | Said, ...]
    source: str

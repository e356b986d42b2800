"""The colour, the mark and the big word of each state."""

from __future__ import annotations

from finishsched.workshop.base.answers import State

COLOURS = {
    State.CLOSED: "$text-error",
    State.CHECK: "$text-warning",
    State.TO_DO: "$text-success",
    State.NEARLY: "$text-accent",
    State.DRYING: "$text-secondary",
    State.NOT_BEGUN: "$text-muted",
    State.FINISHED: "$text-muted",
}

BIG_WORDS = {state: state.value.upper() for state in State} | {State.CLOSED: "CLOSED"}


def label(state: State) -> str:
    """Return the mark and the word, as wide for every state."""
    return f"{state.mark} {state.value}".ljust(LABEL_CELLS)


LABEL_CELLS = 2 + max(len(state.value) for state in State)

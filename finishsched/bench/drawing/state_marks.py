"""The colour, the mark and the big word of each state."""

from __future__ import annotations

from finishsched.workshop.base.answers import LATER_WORD, PieceView, State

COLOURS = {
    State.CLOSED: "$text-error",
    State.CHECK: "$text-warning",
    State.TO_DO: "$text-success",
    State.NEARLY: "$text-accent",
    State.DRYING: "$text-secondary",
    State.NOT_BEGUN: "$text-muted",
    State.FINISHED: "$text-muted",
}

_LATER_COLOUR = "$text-secondary"

BIG_WORDS = {state: state.value.upper() for state in State} | {State.CLOSED: "CLOSED"}


def label(piece: PieceView) -> str:
    """Return the mark and the word, as wide for every state."""
    return f"{piece.mark} {piece.word}".ljust(LABEL_CELLS)


def colour(piece: PieceView) -> str:
    """Return the colour of where a piece stands."""
    return _LATER_COLOUR if piece.is_for_later else COLOURS[piece.state]


def big_word(piece: PieceView) -> str:
    """Return the word in large letters."""
    return LATER_WORD.upper() if piece.is_for_later else BIG_WORDS[piece.state]


LABEL_CELLS = 2 + max(len(state.value) for state in State)

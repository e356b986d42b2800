"""The board, and the cards that open over it."""

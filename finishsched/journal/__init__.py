"""What happened at the bench: an append-only journal, and the progress folded from it."""

"""Taking an entry about a piece, and what a person should hear about it."""

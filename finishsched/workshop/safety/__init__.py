"""Vapour, rags, storage and cautions, out of what the journal tells."""

"""Commands that protect the finisher: vent, rags, cautions, store."""

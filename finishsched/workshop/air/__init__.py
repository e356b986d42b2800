"""Readings of the air: by hand, from files, and from files that grow."""

"""The film of a piece as laid and planned, and readings of it."""

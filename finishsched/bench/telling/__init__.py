"""When the bench rings, and what is told to whom: each thing once."""

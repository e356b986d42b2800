"""Where every piece stands: its steps, waits and clocks, and the refusals of entries about it."""

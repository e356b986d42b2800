"""What the bench makes of the pieces at hand: the next thing, a sitting, and what is beside."""

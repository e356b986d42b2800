"""What the faces show of the pieces, and what somebody should know."""

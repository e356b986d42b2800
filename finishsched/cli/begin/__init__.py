"""Commands to begin with: a piece, a schedule, work that was under way before."""

"""What goes wrong with a finish: what it looks like, what made it, and how it is put right."""

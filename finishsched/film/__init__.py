"""Film and veneer: what was laid, what was taken off, and what may still be."""

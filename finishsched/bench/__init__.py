"""The terminal dashboard beside the work: what to do next, and every wait that runs."""

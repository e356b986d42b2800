"""Cuts and alcohol: what to weigh and measure. Plain values in, frozen answers out."""

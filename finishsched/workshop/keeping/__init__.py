"""Whole shops kept and brought back, and notebooks brought in."""

"""Walks from plan to plan: change one, place all again, keep what is no worse."""

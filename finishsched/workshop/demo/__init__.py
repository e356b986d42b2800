"""Shops to start from: an invented one in the middle of its work, and an empty one."""

"""Schedules, mixing and cure clocks for people who finish small wooden objects by hand."""

__version__ = "0.1.0"

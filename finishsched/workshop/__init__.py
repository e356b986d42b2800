"""The one door: opens a shop folder, answers every question and takes every entry.

The command line and the bench both come in here, so that neither ever computes anything of its own.
"""

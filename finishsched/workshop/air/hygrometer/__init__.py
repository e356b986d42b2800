"""Readings of the air from the files that hygrometers and their loggers write.

Text in, readings out: nothing here opens a file, and the time is an argument.
"""

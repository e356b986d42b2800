"""The command line: read words, call the workshop, print. It computes nothing of its own."""

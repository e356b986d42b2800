"""The open shop: its folder and documents, reading and appending, entries in words."""

"""The rules themselves, by what they watch over."""

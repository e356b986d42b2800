"""The bench on other screens."""

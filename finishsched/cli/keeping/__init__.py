"""Commands that keep shops and bring them back, and those that make them."""

"""What the board is made of. Widgets format what they are shown and decide nothing."""

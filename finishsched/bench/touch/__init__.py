"""The bench on a screen that is touched: what the page around it is told, and what it sends."""

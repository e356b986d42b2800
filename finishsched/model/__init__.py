"""The nouns of the trade, immutable. They read nothing and compute nothing about the world."""

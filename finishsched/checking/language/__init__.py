"""How words are spelt and inflected, and the tables that tell what they mean."""

"""The pages to read on the bench: why, defects, the handbook, where rags go."""

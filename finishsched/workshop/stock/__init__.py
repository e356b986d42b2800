"""What is on the shelf, what jobs need, and what each coat draws from it."""

"""What is typed into the bench's forms: read, and made into entries."""

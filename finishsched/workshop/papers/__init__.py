"""What is written about pieces: records, sheets, labels, tables, the handbook."""

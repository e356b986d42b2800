"""What is drawn on the bench from plain values: letters, marks, colours, rows of days, pictures."""

"""The formats of the documents, each declared once."""

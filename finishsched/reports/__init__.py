"""Papers for people: self-contained pages that print well. Nothing here is computed."""

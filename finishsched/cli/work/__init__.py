"""Commands of every evening, about pieces: due, log, sheet, film, defect."""

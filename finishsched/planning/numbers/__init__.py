"""A problem in whole numbers, and what follows from them before anything is placed."""

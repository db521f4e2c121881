"""The template of the guard and what is said of it."""

"""Layouts of a mount, many at once: their geometry and how they move."""

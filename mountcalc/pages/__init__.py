"""Kit to write pages and data: units of display, text, JSON, files, plot style."""

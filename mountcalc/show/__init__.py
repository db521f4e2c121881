"""Results turned into text, data files and pictures."""

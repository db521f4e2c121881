"""Kit to draw: items in metres, dimensions, names, paper and formats."""

"""A scenario as a file with every value explicit."""

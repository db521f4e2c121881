"""Rules between the keys of a scenario file."""

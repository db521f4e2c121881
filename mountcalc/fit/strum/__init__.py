"""A recording of a plucked strand: its tone, and the tension that means."""

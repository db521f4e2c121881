"""What a setting must keep, and the gentlest one that does."""

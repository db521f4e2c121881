"""The picture of a setting."""

"""The oil film of a plain bearing."""

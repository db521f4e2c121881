"""Openings of the guard, and what a hand reaches through them."""

"""Belts and the pulleys they run on: sections, lengths, ratings, rooms, forces."""

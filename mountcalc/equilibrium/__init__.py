"""Where the plate is and what holds it, for any turns and any load."""

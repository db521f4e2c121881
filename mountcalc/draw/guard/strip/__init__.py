"""The strip round the guard."""

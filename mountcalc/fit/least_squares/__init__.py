"""The model of readings, its fit, and what else follows from how sure that is."""

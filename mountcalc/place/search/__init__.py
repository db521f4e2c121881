"""The optimiser: samples, refinement, Pareto front, dimensions that can be marked out."""

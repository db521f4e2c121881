"""The base that carries the hinge."""

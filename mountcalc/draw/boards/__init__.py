"""Templates of both boards."""

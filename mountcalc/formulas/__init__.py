"""Plain functions of SI numbers or arrays, each with its source."""

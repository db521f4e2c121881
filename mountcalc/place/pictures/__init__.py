"""Pictures of a placement."""

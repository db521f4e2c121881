"""Pictures of the loads against turns."""

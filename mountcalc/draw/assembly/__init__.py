"""The whole mount to scale."""

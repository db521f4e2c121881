"""The drawings of a mount at true scale."""

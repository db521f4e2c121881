"""What a search may try and must clear: keys and types."""

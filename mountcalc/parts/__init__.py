"""What to buy and to cut for a mount."""

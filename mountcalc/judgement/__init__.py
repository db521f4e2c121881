"""What every judgement of a mount is made of."""

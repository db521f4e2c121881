"""What boards and hardware of a mount can stand, for how long, and how they give."""

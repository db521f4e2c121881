"""What a mount is made of, where its parts are along the shafts, and how they give."""

"""What errors of building and of knowing do to a mount: many builds of one drawing."""

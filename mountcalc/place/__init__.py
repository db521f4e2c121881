"""Where hinge and bolt may go: a search over layouts."""

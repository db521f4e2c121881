"""Where hinge and bolt may go: layouts by the million, judged in closed form."""

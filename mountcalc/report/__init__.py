"""The report of a mount: one page for the shop's wall and the telephone."""

"""How quantities, threads, oils and screws are written and read."""

"""How much the long tests try: a part of it always, all of it with ``pytest --full``."""

FULL = False  # set from the command line before any test is collected


def size(full, part):
    """``full`` with ``--full``, else ``part``."""
    return full if FULL else part


def examples(full, share=3):
    """How many mounts hypothesis draws: else that share of them, but no fewer than three."""
    return size(full, max(full // share, min(full, 3)))

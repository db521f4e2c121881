"""How well forces and moments have to close."""

__all__ = ["CLOSURE", "of_rounding"]

# Of the largest force or moment in play: the closure that is promised.
CLOSURE = 1e-9
LAST_BIT = 2.0**-52


def of_rounding(scenario):
    """Force [N] of the belts where their length changes by a double's last bit.

    Nothing closes better: it shows where plate and belt carry next to nothing.
    """
    return LAST_BIT * scenario.belt.count * scenario.belt.stiffness

"""When two numbers count as the same: one policy for the whole house.

A comparison takes one of these, by what its numbers have been through. Any other tolerance is of
one place alone, and stands there with its reason: what a rule on the bench shows, what an equation
leaves out, how far a search may stop from its aim.
"""

from __future__ import annotations

EPS = 2.0**-52
"""Of a number: the least by which doubles can differ."""

ROUNDING = 1e-9
"""Of a number, or metres or radians: more than sums and products in doubles leave of it, and less
than any file can say."""

SETTLED = 1e-6
"""Of a limit or a goal: a root, or what was printed and read again, meets it to this share."""

SAME_PLACE = 1e-6
"""[m] Nearer points are one: a thousandth of what the best scale shows."""

MARKED = 1e-4
"""[m] Nobody marks out less: a tenth of a millimetre."""

"""How one value of the file is read where it is no quantity: numbers, names, points, outlines."""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Callable, Iterable, Sequence
from itertools import combinations, pairwise
from typing import NamedTuple, TypeVar

from mountcalc.handbook.belts.designation import Designation, DesignationError, read_designation
from mountcalc.scenario.text import quantities as q
from mountcalc.scenario.text.quantities import ValueTextError, fail
from mountcalc.scenario.text.wording import listed, near_spelling, refused_drive, shown
from mountcalc.scenario.text.writing import DIRECTIONS, Vector
from mountcalc.units import Dimension

Range = tuple[float, float]

_Item = TypeVar("_Item")

_LONGEST_NAME = 120
_MOST_ITEMS = 20
# Control, format, surrogate, line and paragraph characters: they would garble what is printed.
_NOT_IN_NAMES = {"Cc", "Cf", "Cs", "Zl", "Zp"}
_PRESSURE = Dimension(mass=1, length=-1, time=-2)
_PAIR = 2
# What people write for words of ours.
_MEANT = {
    "clockwise": "cw",
    "counterclockwise": "ccw",
    "anticlockwise": "ccw",
    "turnbuckle": "link",
    "eyebolt": "link",
    "weight": "none",
    "imperial": "inch",
    "mm": "metric",
    "lineshaft": "light-line-shaft",
}


_LEAST_CORNERS, _MOST_CORNERS = 3, 200
_NO_AREA = 1e-9  # [m^2]
_BOX = 'two opposite corners wanted (such as [["10 in", "-20 in"], ["14 in", "0 in"]])'
_POLYGON = (
    'three or more corners in order wanted (such as [["0 in", "0 in"], ["9 in", "0 in"], '
    '["0 in", "5 in"]])'
)


class BearingLimit(NamedTuple):
    """A limit as given: ``value`` is a pressure [Pa] or a load [N]."""

    value: float
    is_pressure: bool

    def as_load(self, projected_area: float) -> float:
        """Return the limit as a load [N] on the projected area [m^2]."""
        return self.value * projected_area if self.is_pressure else self.value


def read_number(value: object, low: float, high: float, *, above: bool = False) -> float:
    """Read a plain number within bounds; with ``above``, the low one itself is not allowed."""
    bounds = f"{'above' if above else 'from'} {low:g} to {high:g}"
    if isinstance(value, str):
        q.fail(f"plain number wanted ({bounds}), without quotes or unit, got {shown(value)}")
    if isinstance(value, bool) or not isinstance(value, int | float):
        q.fail(f"plain number wanted ({bounds}), got {shown(value)}")
    # Integers are compared as they are: a huge one does not fit a float.
    if not low <= value <= high or (above and value <= low):
        q.fail(f"number {bounds} wanted, got {shown(value)}")
    return float(value)


def read_flag(value: object) -> bool:
    """Read true or false."""
    if not isinstance(value, bool):
        hint = ", without quotes" if isinstance(value, str) else ""
        q.fail(f"true or false wanted{hint}, got {shown(value)}")
    return value


def read_name(value: object) -> str:
    """Read a title or name: one line of text that prints."""
    if not isinstance(value, str):
        q.fail(f"text wanted, between quotes, got {shown(value)}")
    if not value.strip():
        q.fail(f"text wanted, got {shown(value)}")
    if len(value) > _LONGEST_NAME:
        q.fail(f"text of at most {_LONGEST_NAME} characters wanted, got {shown(value)}")
    if any(unicodedata.category(char) in _NOT_IN_NAMES for char in value):
        q.fail(f"one line of text without control characters wanted, got {shown(value)}")
    return value.strip()


def read_belt(value: object) -> Designation:
    """Read what is printed on a belt, such as "A54" or "SPZ 1250"."""
    wanted = 'designation of a belt wanted (such as "A54", "4L560", "SPZ 1250" or "3V560")'
    if not isinstance(value, str):
        q.fail(f"{wanted}, got {shown(value)}")
    try:
        return read_designation(value)
    except DesignationError as error:
        raise ValueTextError(str(error)) from None


def read_word(value: object, words: Iterable[str], remark: str = "") -> str:
    """Read one of a few words; the remark says more of what is wanted."""
    words = list(words)
    wanted = f"{listed(map(shown, words))} wanted{remark}"
    if not isinstance(value, str):
        q.fail(f"{wanted}, got {shown(value)}")
    if value not in words:
        if refusal := refused_drive(value):
            q.fail(refusal)
        meant = _MEANT.get(re.sub(r"[\s_-]", "", value.casefold()))
        near = meant if meant in words else near_spelling(value, words)
        q.fail(f"{wanted}, got {shown(value)}{f'; did you mean {shown(near)}?' if near else ''}")
    return value


def read_point(value: object) -> Vector:
    """Read a point ``["x", "y"]`` [m]."""
    wanted = 'point wanted (such as ["-20 in", "-4 in"]: x to the right, y up)'
    if not isinstance(value, list) or len(value) != _PAIR:
        q.fail(f"{wanted}, got {shown(value)}")
    coordinates, faults = [], []
    for name, text in zip("xy", value, strict=True):
        try:
            coordinates.append(q.read_quantity(text, q.POSITION))
        except ValueTextError as error:
            faults.append(f"{name}: {error}")
    if faults:
        q.fail("; ".join(faults))
    return coordinates[0], coordinates[1]


def read_direction(value: object) -> float:
    """Read a direction [rad]: an angle from the right, counter-clockwise, or its name."""
    if isinstance(value, str) and value.strip() in DIRECTIONS:
        return DIRECTIONS[value.strip()]
    try:
        return q.read_quantity(value, q.ANGLE_KIND)
    except ValueTextError as error:
        words = f'a direction is "right", "up", "left", "down" or an angle: {error}'
        near = near_spelling(value, DIRECTIONS) if isinstance(value, str) else None
        hint = f"; did you mean {shown(near)}?" if near else ""
        raise ValueTextError(words + hint) from None


def read_travel(value: object) -> Vector:
    """Read the travel ``["-12 deg", "12 deg"]`` [rad]: from the smaller to the larger angle."""
    wanted = 'travel wanted (such as ["-12 deg", "12 deg"])'
    if not isinstance(value, list) or len(value) != _PAIR:
        q.fail(f"{wanted}, got {shown(value)}")
    low, high = (q.read_quantity(text, q.ANGLE_KIND) for text in value)
    got = f"[{shown(value[0])}, {shown(value[1])}]"
    if max(abs(low), abs(high)) > math.pi * (1 + 1e-12):
        q.fail(f"angles from -180 deg to 180 deg wanted, got {got}")
    if low >= high:
        q.fail(f"the smaller angle first and a larger one second wanted, got {got}")
    return low, high


def read_limit(value: object) -> BearingLimit:
    """Read the limit of a bearing: a projected pressure or a load."""
    limit, dimension = q.read_measure(value, q.LIMIT)
    return BearingLimit(limit, dimension == _PRESSURE)


def range_wanted(kind: q.ValueKind) -> str:
    """Say what a range of a kind of quantity looks like."""
    text, larger = shown(kind.examples[0]), shown("15 deg" if kind.name == "angle" else "20 in")
    return f"{kind.name} or range of it wanted (such as {text} or [{text}, {larger}])"


def read_range(value: object, kind: q.ValueKind, widest: float | None = None) -> Range:
    """Read one quantity or ``["low", "high"]``."""
    if isinstance(value, str | q.Si):
        single = q.read_quantity(value, kind)
        return single, single
    if not isinstance(value, list) or len(value) != _PAIR:
        q.fail(f"{range_wanted(kind)}, got {shown(value)}")
    low, high = (q.read_quantity(text, kind) for text in value)
    got = f"[{shown(value[0])}, {shown(value[1])}]"
    if low > high:
        q.fail(f"the smaller {kind.name} first and the larger second wanted, got {got}")
    if widest is not None and high - low > widest * (1 + 1e-9):
        q.fail(f"range of at most 360 deg wanted, got {got}")
    return low, high


def read_several(value: object, wanted: str, read: Callable[[object], _Item]) -> tuple[_Item, ...]:
    """Read a list of different things, or one of them alone."""
    items = value if isinstance(value, list) else [value]
    if not 0 < len(items) <= _MOST_ITEMS:
        q.fail(f"list of 1 to {_MOST_ITEMS} wanted ({wanted}), got {shown(value)}")
    found: list[_Item] = []
    for item in items:
        one = read(item)
        if one in found:
            q.fail(f"each only once wanted, got {shown(item)} twice")
        found.append(one)
    return tuple(found)


def read_whole(value: object, low: int, high: int) -> int:
    """Read a whole number within bounds."""
    if isinstance(value, bool) or not isinstance(value, int) or not low <= value <= high:
        hint = ", without quotes" if isinstance(value, str) else ""
        q.fail(f"whole number from {low} to {high} wanted{hint}, got {shown(value)}")
    return value


def read_box(value: object) -> tuple[Vector, ...]:
    """Read a box between two opposite corners as its four corners [m]."""
    if not isinstance(value, list) or len(value) != _PAIR:
        fail(f"{_BOX}, got {shown(value)}")
    (x0, y0), (x1, y1) = _corners(value)
    corners = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
    if abs(area(corners)) < _NO_AREA:
        fail("a box with some width and height wanted: its corners lie on one line")
    return corners


def read_polygon(value: object) -> tuple[Vector, ...]:
    """Read the corners [m] of a polygon whose edges do not cross or touch."""
    if not isinstance(value, list) or len(value) < _LEAST_CORNERS:
        fail(f"{_POLYGON}, got {shown(value)}")
    if len(value) > _MOST_CORNERS:
        fail(f"at most {_MOST_CORNERS} corners wanted, got {len(value)}")
    corners = _corners(value)
    if corners[0] == corners[-1]:
        corners = corners[:-1]
    fan = ((corners[0], *pair) for pair in pairwise(corners))
    if sum(abs(area(triangle)) for triangle in fan) < _NO_AREA:
        fail("an outline with some area wanted: its corners lie on one line")
    crossing = crossing_edges(corners)
    if crossing is not None:
        first, second = (index + 1 for index in crossing)
        fail(
            "an outline that does not meet itself wanted, its corners in order: the edge from "
            f"corner {first} meets the one from corner {second}"
        )
    return corners


def _corners(value: list[object]) -> tuple[Vector, ...]:
    """Read points; a mistake in one names it by its number."""
    corners, faults = [], []
    for number, item in enumerate(value, 1):
        try:
            corners.append(read_point(item))
        except ValueTextError as error:
            faults.append(f"corner {number}: {error}")
    if faults:
        fail("; ".join(faults[:3]))
    return tuple(corners)


def area(corners: Sequence[Vector]) -> float:
    """Area [m^2] of a polygon, positive where its corners [m] run counter-clockwise."""
    edges = zip(corners, [*corners[1:], corners[0]], strict=True)
    return sum(a[0] * b[1] - a[1] * b[0] for a, b in edges) / 2


def contains(corners: Sequence[Vector], point: Vector) -> bool:
    """Whether a point [m] lies within a polygon: a ray to the right meets it an odd time."""
    inside = False
    for a, b in zip(corners, [*corners[1:], corners[0]], strict=True):
        if (a[1] > point[1]) != (b[1] > point[1]):
            at = a[0] + (point[1] - a[1]) * (b[0] - a[0]) / (b[1] - a[1])
            inside ^= point[0] < at
    return inside


def crossing_edges(corners: Sequence[Vector]) -> tuple[int, int] | None:
    """Return two edges of an outline that meet where they should not, or None."""
    count = len(corners)
    edges = [(corners[index], corners[(index + 1) % count]) for index in range(count)]
    for first, second in combinations(range(count), 2):
        a, b = edges[first], edges[second]
        neighbours = second - first in {1, count - 1}
        if neighbours:
            # Neighbours share a corner; they meet elsewhere only where one turns back on the other.
            shared = b[0] if second - first == 1 else a[0]
            others = (a[0], b[1]) if second - first == 1 else (a[1], b[0])
            if _folded(others[0], shared, others[1]):
                return first, second
        elif _meet(*a, *b):
            return first, second
    return None


def _turn(a: Vector, b: Vector, c: Vector) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _folded(a: Vector, corner: Vector, b: Vector) -> bool:
    """Whether the way from a to b turns straight back at a corner, or does not leave it."""
    along = (a[0] - corner[0]) * (b[0] - corner[0]) + (a[1] - corner[1]) * (b[1] - corner[1])
    return corner in (a, b) or (_turn(a, corner, b) == 0 and along > 0)


def _meet(a: Vector, b: Vector, c: Vector, d: Vector) -> bool:
    """Whether two segments have a point in common."""
    sides = _turn(a, b, c), _turn(a, b, d), _turn(c, d, a), _turn(c, d, b)
    if sides[0] * sides[1] < 0 and sides[2] * sides[3] < 0:
        return True
    within = ((c, a, b), (d, a, b), (a, c, d), (b, c, d))
    return any(
        side == 0 and _between(point, *ends)
        for side, (point, *ends) in zip(sides, within, strict=True)
    )


def _between(point: Vector, a: Vector, b: Vector) -> bool:
    """Whether a point in line with a segment lies on it."""
    return min(a[0], b[0]) <= point[0] <= max(a[0], b[0]) and min(a[1], b[1]) <= point[1] <= max(
        a[1], b[1]
    )

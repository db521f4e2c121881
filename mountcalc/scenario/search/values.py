"""How one value of ``[search]`` or ``[[keep_out]]`` is read: ranges, lists, outlines."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from typing import NoReturn, TypeVar

from mountcalc.handbook.belts.designation import Designation
from mountcalc.scenario.file.values import read_belt, read_choice, read_point, read_word
from mountcalc.scenario.file.wording import listed, shown
from mountcalc.scenario.keep_out import BarredPart
from mountcalc.scenario.model import AdjusterKind, Thread, Vector
from mountcalc.scenario.search.model import Action, Range
from mountcalc.scenario.search.outlines import area, crossing_edges
from mountcalc.scenario.text import quantities as q
from mountcalc.scenario.text.quantities import ValueTextError
from mountcalc.scenario.text.threads import read_thread

__all__ = [
    "ROOM",
    "range_wanted",
    "read_acts",
    "read_barred",
    "read_belts",
    "read_box",
    "read_kinds",
    "read_polygon",
    "read_range",
    "read_threads",
    "read_whole",
]

_Item = TypeVar("_Item")

ROOM = q.Kind("length", ("1/2 in", "12 mm"), q.DISTANCE.scales, 0.0, 1e4, "zero or more")
"""A distance that may be nothing."""

_PLACEABLE = (AdjusterKind.JACK_IN_BASE, AdjusterKind.JACK_IN_PLATE, AdjusterKind.LINK)
_PAIR = 2
_LEAST_CORNERS, _MOST_CORNERS = 3, 200
_MOST_ITEMS = 20
_NO_AREA = 1e-9  # [m^2]
_BOX = 'two opposite corners wanted (such as [["10 in", "-20 in"], ["14 in", "0 in"]])'
_POLYGON = (
    'three or more corners in order wanted (such as [["0 in", "0 in"], ["9 in", "0 in"], '
    '["0 in", "5 in"]])'
)


def _fail(message: str) -> NoReturn:
    raise ValueTextError(message)


def range_wanted(kind: q.Kind) -> str:
    """Say what a range of a kind of quantity looks like."""
    text = shown(kind.examples[0])
    return f"{kind.name} or range of it wanted (such as {text} or [{text}, {shown(_more(kind))}])"


def _more(kind: q.Kind) -> str:
    """Return an example that is larger than the kind's first."""
    return "15 deg" if kind.name == "angle" else "20 in"


def read_range(value: object, kind: q.Kind, widest: float | None = None) -> Range:
    """Read one quantity or ``["low", "high"]``."""
    if isinstance(value, str):
        single = q.read_quantity(value, kind)
        return single, single
    if not isinstance(value, list) or len(value) != _PAIR:
        _fail(f"{range_wanted(kind)}, got {shown(value)}")
    low, high = (q.read_quantity(text, kind) for text in value)
    got = f"[{shown(value[0])}, {shown(value[1])}]"
    if low > high:
        _fail(f"the smaller {kind.name} first and the larger second wanted, got {got}")
    if widest is not None and high - low > widest * (1 + 1e-9):
        _fail(f"range of at most 360 deg wanted, got {got}")
    return low, high


def _read_several(value: object, wanted: str, read: Callable[[object], _Item]) -> tuple[_Item, ...]:
    """Read a list of different things, or one of them alone."""
    items = value if isinstance(value, list) else [value]
    if not 0 < len(items) <= _MOST_ITEMS:
        _fail(f"list of 1 to {_MOST_ITEMS} wanted ({wanted}), got {shown(value)}")
    found: list[_Item] = []
    for item in items:
        one = read(item)
        if one in found:
            _fail(f"each only once wanted, got {shown(item)} twice")
        found.append(one)
    return tuple(found)


def read_kinds(value: object) -> tuple[AdjusterKind, ...]:
    """Read the kinds of adjuster to try."""
    words = [kind.value for kind in _PLACEABLE]
    wanted = f"of {listed(map(shown, words))}"
    return _read_several(value, wanted, lambda item: AdjusterKind(read_word(item, words)))


def read_acts(value: object) -> tuple[Action, ...]:
    """Read what the adjuster may do to the plate."""
    wanted = f"of {listed(shown(action.value) for action in Action)}"
    return _read_several(value, wanted, lambda item: read_choice(item, Action))


def read_threads(value: object) -> tuple[Thread, ...]:
    """Read the threads to try."""
    return _read_several(value, 'of threads, such as "3/8-16"', read_thread)


def read_belts(value: object) -> tuple[Designation, ...]:
    """Read the belts to try."""
    return _read_several(value, 'of designations, such as "A54"', read_belt)


def read_barred(value: object) -> tuple[BarredPart, ...]:
    """Read which parts a keep-out bars."""
    wanted = f"of {listed(shown(part.value) for part in BarredPart)}"
    return _read_several(value, wanted, lambda item: read_choice(item, BarredPart))


def read_whole(value: object, low: int, high: int) -> int:
    """Read a whole number within bounds."""
    if isinstance(value, bool) or not isinstance(value, int) or not low <= value <= high:
        hint = ", without quotes" if isinstance(value, str) else ""
        _fail(f"whole number from {low} to {high} wanted{hint}, got {shown(value)}")
    return value


def read_box(value: object) -> tuple[Vector, ...]:
    """Read a box between two opposite corners as its four corners [m]."""
    if not isinstance(value, list) or len(value) != _PAIR:
        _fail(f"{_BOX}, got {shown(value)}")
    (x0, y0), (x1, y1) = _corners(value)
    corners = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
    if abs(area(corners)) < _NO_AREA:
        _fail("a box with some width and height wanted: its corners lie on one line")
    return corners


def read_polygon(value: object) -> tuple[Vector, ...]:
    """Read the corners [m] of a polygon whose edges do not cross or touch."""
    if not isinstance(value, list) or len(value) < _LEAST_CORNERS:
        _fail(f"{_POLYGON}, got {shown(value)}")
    if len(value) > _MOST_CORNERS:
        _fail(f"at most {_MOST_CORNERS} corners wanted, got {len(value)}")
    corners = _corners(value)
    if corners[0] == corners[-1]:
        corners = corners[:-1]
    fan = ((corners[0], *pair) for pair in pairwise(corners))
    if sum(abs(area(triangle)) for triangle in fan) < _NO_AREA:
        _fail("an outline with some area wanted: its corners lie on one line")
    crossing = crossing_edges(corners)
    if crossing is not None:
        first, second = (index + 1 for index in crossing)
        _fail(
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
        _fail("; ".join(faults[:3]))
    return tuple(corners)

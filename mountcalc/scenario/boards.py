"""The boards of the hinged pair: their sizes where the scenario leaves them open, and their hinges.

What is ``across`` counts along the hinge's line from the middle of the plate's width, positive
towards the motor's pulley.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

from mountcalc.handbook.rows import Datum, datum, load
from mountcalc.record import Record
from mountcalc.scenario.drawn_plate import hinge_edge
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.text.writing import Display, Vector

_FILE = "templates"


class BoardSizes(Record):
    """Sizes of both boards of the hinged pair, and of their hinges [m].

    ``width`` of both, ``thickness`` of the plate, ``alignment``: room to shift the motor along
    its shaft to each side, ``beyond`` the last hole, ``pad`` of metal around a bolt's tip.
    ``edge`` is how far the pin's axis lies outside the board's edge; ``mortise`` is 0 for leaves
    that lie on the board; ``pilot`` is the diameter of the screws' holes, ``base_pilot`` that of
    those in the base; ``hinges`` are the middles of the leaves across, the one furthest from the
    motor's pulley first. ``taken`` is what the scenario leaves open: in words, what was taken,
    and whether that is a length.
    """

    leaf_length: float
    leaf_width: float
    leaf_thickness: float
    edge: float
    number: int
    screws: int
    pilot: float
    base_pilot: float
    mortise: float
    width: float
    thickness: float
    alignment: float
    beyond: float
    pad: float
    hinges: tuple[float, ...]
    taken: Mapping[str, tuple[str, Datum, bool]]


class Leaf(Record):
    """A leaf on a board whose hinged edge is y = 0, between ``left`` and ``right`` [m].

    ``depth`` [m] is how far it reaches over the board, ``screws`` are their centres.
    """

    left: float
    right: float
    depth: float
    screws: tuple[Vector, ...]


def template_size(display: Display, name: str) -> Datum:
    """A size that is taken where the scenario does not say [m]."""
    return datum(_FILE, load(_FILE)["default"][display][name])


@lru_cache(maxsize=64)
def board_sizes(scenario: Scenario) -> BoardSizes:
    """The sizes of the boards of a mount."""
    parts, taken = scenario.parts, dict[str, tuple[str, Datum, bool]]()
    given, frame, display = parts.hinges, parts.frame, scenario.display

    def length(size: float | None, name: str, key: str) -> float:
        if size is not None:
            return size
        found = template_size(display, name)
        taken[name] = key, found, True
        return found.value

    def count(size: int | None, name: str) -> int:
        if size is not None:
            return size
        found = datum(_FILE, load(_FILE)["hinges"][name])
        taken[name] = f"hinge.{name}", found, False
        return int(found.value)

    # The pin's place follows from it wherever it is taken; here it is noted.
    length(given.knuckle_diameter, "knuckle_diameter", "hinge.knuckle_diameter")
    thickness = length(given.leaf_thickness, "leaf_thickness", "hinge.leaf_thickness")
    share = datum(_FILE, load(_FILE)["hinges"]["pilot"]).value
    pilot, base_pilot = (
        share * length(None if one is None else one.diameter, "screw_diameter", "hinge.screw")
        for one in (given.screw_into("plate"), given.screw_into("base"))
    )
    leaf = length(given.leaf_length, "leaf_length", "hinge.leaf_length")
    leaf_width = length(given.leaf_width, "leaf_width", "hinge.leaf_width")
    placed = given.across or ()
    number = count(len(placed) or given.number, "number")
    screws = count(given.screws_per_leaf, "screws_per_leaf")
    width = parts.plate.width
    if width is None:
        if frame is None:
            width = length(None, "width", "plate.width")
        else:
            beside = length(None, "width_beside_feet", "board beside the feet, both sides")
            width = max(frame.feet_along) + frame.hole + beside
        width = max(width, number * leaf, *(2.0 * abs(one) + leaf for one in placed))
    plate = parts.plate.thickness
    pad = None if parts.bolt.pad is None else 0.5 * parts.bolt.pad
    return BoardSizes(
        leaf_length=leaf,
        leaf_width=leaf_width,
        leaf_thickness=thickness,
        edge=hinge_edge(given, display),
        number=number,
        screws=screws,
        pilot=pilot,
        base_pilot=base_pilot,
        mortise=thickness if given.mortise_depth is None else given.mortise_depth,
        width=width,
        thickness=template_size(display, "thickness").value if plate is None else plate,
        alignment=length(None, "alignment", "room to shift the motor along its shaft"),
        beyond=length(None, "length_beyond", "board beyond the last hole"),
        pad=length(pad, "pad", "metal around the bolt's tip"),
        hinges=tuple(sorted(placed)) or evenly_spaced(number, leaf, width),
        taken=taken,
    )


def evenly_spaced(count: int, length: float, width: float) -> tuple[float, ...]:
    """Middles of hinges of a length that stand alike from both ends of a width [m]."""
    if count == 1:
        return (0.0,)
    spare = max(width - count * length, 0.0)
    outermost = 0.5 * (width - length) - min(0.5 * length, spare / (count + 1))
    return tuple(outermost * (2.0 * one / (count - 1) - 1.0) for one in range(count))


def hinge_leaves(sizes: BoardSizes, pulley_side: int = 1) -> tuple[Leaf, ...]:
    """Lay the leaves out along an edge, the motor's pulley to the right (+1) or the left (-1)."""
    length, depth = sizes.leaf_length, sizes.leaf_width - sizes.edge
    step, rows = length / sizes.screws, (2.0 * depth / 3.0, depth / 3.0)
    leaves = []
    for left in sorted(
        0.5 * (sizes.width - length) + pulley_side * across for across in sizes.hinges
    ):
        screws = ((left + (one + 0.5) * step, rows[one % 2]) for one in range(sizes.screws))
        leaves.append(Leaf(left, left + length, depth, tuple(screws)))
    return tuple(leaves)

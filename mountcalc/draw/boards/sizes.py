"""Sizes of boards and hinges: given, or taken with a note; the leaves along a board's edge."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass

from mountcalc.drafting.items import Point
from mountcalc.draw.build import Build, once
from mountcalc.handbook.rows import Datum, datum, load
from mountcalc.scenario.drawn_plate import hinge_edge

_FILE = "templates"


@dataclass(frozen=True, slots=True)
class HingeSizes:
    """A hinge, and how many there are; lengths [m].

    ``edge`` is how far the pin's axis lies outside the board's edge; ``mortise`` is 0 for leaves
    that lie on the board; ``pilot`` is the diameter of the screws' pilot holes.
    """

    leaf_length: float
    leaf_width: float
    leaf_thickness: float
    edge: float
    number: int
    screws: int
    pilot: float
    mortise: float


@dataclass(frozen=True, slots=True)
class BoardSizes:
    """Sizes of both boards of the hinged pair [m].

    ``width`` of both, ``thickness`` of the plate, ``alignment``: room to shift the motor along its
    shaft to each side, ``beyond`` the last hole, ``pad`` of metal around a bolt's tip; ``taken`` is
    what the scenario leaves open, and how sure it is.
    """

    hinges: HingeSizes
    width: float
    thickness: float
    alignment: float
    beyond: float
    pad: float
    taken: Mapping[str, str]

    def notes(self, without: Collection[str]) -> tuple[str, ...]:
        """What was taken, in one sentence; none where all is given."""
        sizes = [text for name, text in self.taken.items() if name not in without]
        return (f"Taken where the scenario does not say: {'; '.join(sizes)}.",) if sizes else ()


def template_size(build: Build, name: str) -> Datum:
    """A size that templates take."""
    return datum(_FILE, load(_FILE)["default"][build.display][name])


@once
def board_sizes(build: Build) -> BoardSizes:
    """The sizes of the boards of a mount."""
    parts, taken = build.scenario.parts, dict[str, str]()
    given, frame = parts.hinges, parts.frame

    def length(size: float | None, name: str, key: str) -> float:
        if size is not None:
            return size
        found = template_size(build, name)
        taken[name] = f"{key} {build.bench(found.value)} ({found.sure})"
        return found.value

    def count(size: int | None, name: str) -> int:
        if size is not None:
            return size
        found = datum(_FILE, load(_FILE)["hinges"][name])
        taken[name] = f"hinge.{name} {found.value:.0f} ({found.sure})"
        return int(found.value)

    # The pin's place follows from it wherever it is taken; here it is noted.
    length(given.knuckle_diameter, "knuckle_diameter", "hinge.knuckle_diameter")
    thickness = length(given.leaf_thickness, "leaf_thickness", "hinge.leaf_thickness")
    screw = None if given.screw is None else given.screw.diameter
    pilot = datum(_FILE, load(_FILE)["hinges"]["pilot"]).value
    pilot *= length(screw, "screw_diameter", "hinge.screw")
    hinges = HingeSizes(
        leaf_length=length(given.leaf_length, "leaf_length", "hinge.leaf_length"),
        leaf_width=length(given.leaf_width, "leaf_width", "hinge.leaf_width"),
        leaf_thickness=thickness,
        edge=hinge_edge(given, build.display),
        number=count(given.number, "number"),
        screws=count(given.screws_per_leaf, "screws_per_leaf"),
        pilot=pilot,
        mortise=thickness if given.mortise_depth is None else given.mortise_depth,
    )
    width = parts.plate.width
    if width is None:
        if frame is None:
            width = length(None, "width", "plate.width")
        else:
            beside = length(None, "width_beside_feet", "board beside the feet, both sides")
            width = max(frame.feet_along) + frame.hole + beside
        width = max(width, hinges.number * hinges.leaf_length)
    plate = parts.plate.thickness
    return BoardSizes(
        hinges=hinges,
        width=width,
        thickness=template_size(build, "thickness").value if plate is None else plate,
        alignment=length(None, "alignment", "room to shift the motor along its shaft"),
        beyond=length(None, "length_beyond", "board beyond the last hole"),
        pad=length(None, "pad", "metal around the bolt's tip"),
        taken=taken,
    )


@dataclass(frozen=True, slots=True)
class Leaf:
    """A leaf on a board whose hinged edge is y = 0, between ``left`` and ``right`` [m].

    ``depth`` [m] is how far it reaches over the board, ``screws`` are their centres.
    """

    left: float
    right: float
    depth: float
    screws: tuple[Point, ...]


def hinge_leaves(sizes: HingeSizes, width: float) -> tuple[Leaf, ...]:
    """Lay the leaves out along an edge."""
    length, count = sizes.leaf_length, sizes.number
    spare = max(width - count * length, 0.0)
    end = min(0.5 * length, spare / (count + 1)) if count > 1 else 0.5 * (width - length)
    pitch = (width - 2.0 * end - length) / (count - 1) if count > 1 else 0.0
    depth, step = sizes.leaf_width - sizes.edge, length / sizes.screws
    rows = (2.0 * depth / 3.0, depth / 3.0)
    leaves = []
    for left in (end + number * pitch for number in range(count)):
        screws = ((left + (one + 0.5) * step, rows[one % 2]) for one in range(sizes.screws))
        leaves.append(Leaf(left, left + length, depth, tuple(screws)))
    return tuple(leaves)

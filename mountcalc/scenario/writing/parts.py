"""Writing the parts that drawings are made from: only what is said of them has a key."""

from __future__ import annotations

from collections.abc import Iterator

from mountcalc.scenario.parts.model import Base, Guard, Hinges, Parts
from mountcalc.scenario.text.quantity_writing import UnitsToWrite, quoted
from mountcalc.scenario.writing.lines import Line

__all__ = ["driven_parts", "motor_parts", "parts_tables", "plate_parts"]


def driven_parts(parts: Parts, units: UnitsToWrite) -> Iterator[Line]:
    """Lines of ``[driven]`` that are for drawings."""
    along = parts.along
    if along.driven_pulley_width is not None:
        width = units.write("length", along.driven_pulley_width)
        yield Line("pulley_width", width, "for drawings only")
    if along.driven_shaft_end is not None:
        end = units.write("position", along.driven_shaft_end)
        yield Line("shaft_end", end, "on the pulley's side, for drawings only")


def motor_parts(parts: Parts, units: UnitsToWrite) -> Iterator[Line]:
    """Lines of ``[motor]`` that are for drawings; parameters as of `driven_parts`."""
    along = parts.along
    if parts.frame is not None:
        yield Line("frame", quoted(parts.frame.name), "gives feet and shaft, for drawings only")
    if parts.packing:
        yield Line("packing", units.write("length", parts.packing), "between plate and feet")
    if along.motor_pulley is not None:
        where = "along the shaft, as the bearings"
        yield Line("pulley_position", units.write("position", along.motor_pulley), where)
    if along.motor_pulley_width is not None:
        width = units.write("length", along.motor_pulley_width)
        yield Line("pulley_width", width, "for drawings only")
    if along.motor_face is not None:
        face = units.write("position", along.motor_face)
        yield Line("face_position", face, "the shoulder that the shaft sticks out from")


def plate_parts(parts: Parts, units: UnitsToWrite) -> Iterator[Line]:
    """Lines of ``[plate]`` that are for drawings; parameters as of `driven_parts`."""
    plate = parts.plate
    sizes = (
        ("length", plate.length, "from the hinged edge to the far one, for drawings only"),
        ("width", plate.width, "along the hinge's line"),
        ("thickness", plate.thickness, "of all layers together"),
    )
    yield from _lengths(sizes, units)
    if plate.layers is not None:
        yield Line("layers", str(plate.layers))
    if plate.material is not None:
        yield Line("material", quoted(plate.material))
    if plate.direction is not None:
        way = "the way it runs from the hinge as drawn"
        yield Line("direction", units.direction(plate.direction), way)


def parts_tables(parts: Parts, units: UnitsToWrite) -> Iterator[Iterator[Line]]:
    """Lines of the tables that are for drawings alone."""
    if parts.hinges != Hinges():
        yield _hinge(parts.hinges, units)
    if parts.guard != Guard():
        yield _guard(parts.guard, units)
    if parts.base != Base():
        yield _base(parts.base, units)


def _hinge(hinges: Hinges, units: UnitsToWrite) -> Iterator[Line]:
    yield Line("[hinge]", comment="one of them, for drawings only")
    sizes = (
        ("leaf_length", hinges.leaf_length, "along the hinge's line"),
        ("leaf_width", hinges.leaf_width, "of one leaf, from the pin's axis"),
        ("leaf_thickness", hinges.leaf_thickness, ""),
        ("knuckle_diameter", hinges.knuckle_diameter, "outside"),
        ("mortise_depth", hinges.mortise_depth, "how deep a leaf is let in"),
    )
    yield from _lengths(sizes, units)
    if hinges.number is not None:
        yield Line("number", str(hinges.number), "of hinges, all alike")
    if hinges.screw is not None:
        yield Line("screw", quoted(hinges.screw.name))
    if hinges.screws_per_leaf is not None:
        yield Line("screws_per_leaf", str(hinges.screws_per_leaf))


def _guard(guard: Guard, units: UnitsToWrite) -> Iterator[Line]:
    yield Line("[guard]", comment="panel and bent strip, for drawings only")
    sizes = (
        ("clearance", guard.clearance, "kept around belt and pulleys over the whole swing"),
        ("slot_clearance", guard.slot_clearance, "kept around the motor's shaft"),
        ("bearing_opening", guard.bearing_opening, "diameter, for a bearing that the panel meets"),
        ("thickness", guard.thickness, "of panel and strip"),
        ("kerf", guard.kerf, "width of a saw cut"),
        ("strip_width", guard.strip_width, ""),
    )
    yield from _lengths(sizes, units)
    if guard.position is not None:
        where = "of the panel's middle, along the shafts"
        yield Line("position", units.write("position", guard.position), where)


def _base(base: Base, units: UnitsToWrite) -> Iterator[Line]:
    yield Line("[base]", comment="what carries the hinge, for drawings only")
    if base.floor is not None:
        yield Line("floor", units.write("position", base.floor), "y of the floor")
    if base.direction is not None:
        way = "the way its face runs from the hinge"
        yield Line("direction", units.direction(base.direction), way)
    if base.thickness is not None:
        yield Line("thickness", units.write("length", base.thickness), "behind that face")


def _lengths(
    sizes: tuple[tuple[str, float | None, str], ...], units: UnitsToWrite
) -> Iterator[Line]:
    """Those lengths that are said, each with its key and comment."""
    for key, length, words in sizes:
        if length is not None:
            yield Line(key, units.write("length", length), words)

"""Writing a scenario as a file with every value explicit, and comments for who opens it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from mountcalc.handbook.belts.designation import read_designation
from mountcalc.scenario.model import Adjuster, AdjusterKind, Bearing, KeepOut, Scenario, ShaftLoad
from mountcalc.scenario.parts import Base, Guard, Hinges, Parts
from mountcalc.scenario.text.wording import one_line
from mountcalc.scenario.text.writing import (
    UNITS_TO_WRITE,
    UnitsToWrite,
    number_text,
    quoted,
)

__all__ = ["Line", "driven_parts", "motor_parts", "parts_tables", "plate_parts", "scenario_text"]

_COMMENT_COLUMN = 44


class Line(NamedTuple):
    """A key with its value as written; or a header or a whole comment with none."""

    key: str
    value: str = ""
    comment: str = ""

    def __str__(self) -> str:
        text = f"{self.key} = {self.value}" if self.value else self.key
        if not self.comment:
            return text
        return f"{text.ljust(_COMMENT_COLUMN - 1)} # {self.comment}"


_SAME_LENGTH = 1e-12
_ZERO_CELSIUS = 273.15  # [K]
_HOW_TO_READ = (
    "Facing the motor's pulley, x runs to the right and y up. All points are as drawn, that is at",
    "plate angle 0; angles are counter-clockwise. Every value that tensions and loads depend on is",
    "explicit: only drawings are left to defaults, where nothing is said of a part.",
)


def scenario_text(
    scenario: Scenario, remarks: Sequence[str] = (), typed: Mapping[str, str] | None = None
) -> str:
    """Write a scenario as the text of a scenario file."""
    if scenario.adjuster.spring is not None:
        raise ValueError("a spring between adjuster and plate has no key in a scenario file")
    units, typed = UNITS_TO_WRITE[scenario.display], typed or {}
    top = [f"# {one_line(remark)}".rstrip() for remark in (*remarks, *_HOW_TO_READ)]
    blocks = [
        _heading(scenario),
        _driven(scenario, units, typed.get("driven.power")),
        *(_bearing(bearing, units) for bearing in scenario.driven.bearings),
        *(_load(load, units) for load in scenario.driven.loads),
        _motor(scenario, units, typed.get("motor.power")),
        _belt(scenario, units),
        _plate(scenario, units),
        _adjuster(scenario.adjuster, units),
        _limits(scenario, units),
        _may_change(scenario),
        *parts_tables(scenario.parts, units),
        *(_keep_out(keep_out, units) for keep_out in scenario.keep_outs),
    ]
    return "\n\n".join(["\n".join(top), *("\n".join(map(str, block)) for block in blocks)]) + "\n"


def _heading(scenario: Scenario) -> Iterator[Line]:
    yield Line("title", quoted(scenario.title))
    yield Line("display", quoted(scenario.display), "units of what you read")


def _driven(scenario: Scenario, units: UnitsToWrite, power: str | None) -> Iterator[Line]:
    driven = scenario.driven
    yield Line("[driven]", comment="the machine's shaft")
    yield Line("shaft", units.point(driven.shaft))
    yield Line("pulley_diameter", units.write("length", 2 * driven.pulley_radius), "PITCH diameter")
    yield Line("pulley_face", quoted(driven.pulley_face), "what the belt runs on")
    where = "along the shaft, as the bearings"
    yield Line("pulley_position", units.write("position", driven.pulley_position), where)
    typed = units.write("power", driven.power) if power is None else quoted(power)
    yield Line("power", typed, "what the machine takes")
    factor = number_text(driven.starting_factor)
    yield Line("starting_factor", factor, "torque at the start over running")
    if driven.max_speed is not None:
        yield Line("max_speed", units.write("speed", driven.max_speed))
    yield Line(
        "traction", number_text(driven.traction), "friction on this pulley, wedging included"
    )
    if driven.shock is not None:
        yield Line("shock", quoted(driven.shock), "how evenly it loads the belt")
    if driven.service_factor is not None:
        yield Line("service_factor", number_text(driven.service_factor))
    if driven.shaft_diameter is not None:
        diameter = units.write("length", driven.shaft_diameter)
        yield Line("shaft_diameter", diameter, "between and beyond the journals")
    if driven.oil is not None:
        celsius = number_text(driven.oil.temperature - _ZERO_CELSIUS)
        oil = quoted(f"ISO VG {driven.oil.grade:.0f} at {celsius} degC")
        yield Line("oil", oil, "in the bearings")
    yield from driven_parts(scenario.parts, units)


def _bearing(bearing: Bearing, units: UnitsToWrite) -> Iterator[Line]:
    kind, area = "force", 1.0
    words = "load"
    if bearing.limit_given_as_pressure:
        kind, area, words = "pressure", bearing.projected_area, "load / (diameter x length)"
    yield Line("[[driven.bearing]]", comment="exactly two")
    yield Line("name", quoted(bearing.name))
    yield Line("position", units.write("position", bearing.position), "of its middle")
    yield Line("journal_diameter", units.write("length", bearing.journal_diameter))
    yield Line("length", units.write("length", bearing.length))
    limit = units.write(kind, bearing.limit / area)
    yield Line("limit", limit, f"{words}, at rest and running")
    yield Line("starting_limit", units.write(kind, bearing.starting_limit / area))
    if bearing.clearance is not None:
        clearance = units.write("length", bearing.clearance)
        yield Line("clearance", clearance, "the bore's diameter less the journal's")
    if bearing.cap_direction is not None:
        yield Line("cap_direction", units.direction(bearing.cap_direction), "from the shaft")
        yield Line("cap_dowelled", _flag(value=bearing.cap_dowelled))
    if bearing.groove_direction is not None:
        yield Line("groove_direction", units.direction(bearing.groove_direction))
    if bearing.service is not None:
        yield Line("service", quoted(bearing.service))


def _load(load: ShaftLoad, units: UnitsToWrite) -> Iterator[Line]:
    yield Line("[[driven.load]]", comment="what else the shaft carries")
    yield Line("name", quoted(load.name))
    if load.on is None:
        yield Line("position", units.write("position", load.position))
    else:
        yield Line("on", quoted(load.on), "it moves with that")
    yield Line("force", units.write("force", load.force))
    yield Line("direction", units.direction(math.atan2(load.direction[1], load.direction[0])))
    yield Line("when", quoted(load.when))


def _motor(scenario: Scenario, units: UnitsToWrite, power: str | None) -> Iterator[Line]:
    motor = scenario.motor
    rotation = "both" if motor.reverses else motor.rotation.value
    yield Line("[motor]")
    yield Line("shaft", units.point(motor.shaft))
    yield Line("pulley_diameter", units.write("length", 2 * motor.pulley_radius), "PITCH diameter")
    yield Line("pulley_face", quoted(motor.pulley_face), "what the belt runs on")
    typed = units.write("power", motor.power) if power is None else quoted(power)
    yield Line("power", typed, "rated")
    yield Line("speed", units.write("speed", motor.speed))
    yield Line("rotation", quoted(rotation), "as seen facing the motor's pulley")
    if motor.torque is not None:
        yield Line("torque", quoted(motor.torque), "of its starts")
    yield Line("weight", units.write("weight", motor.weight))
    yield Line("weight_error", number_text(motor.weight_error), "share; the plate's, too")
    yield Line("center_of_mass", units.point(motor.center_of_mass))
    yield Line("traction", number_text(motor.traction), "friction on this pulley, wedging included")
    yield from motor_parts(scenario.parts, units)


def _belt(scenario: Scenario, units: UnitsToWrite) -> Iterator[Line]:
    belt = scenario.belt
    yield Line("[belt]", comment="its values are those of ONE belt")
    if belt.section is not None:
        yield Line("section", quoted(belt.section))
    yield Line("count", str(belt.count))
    length = units.write("length", belt.length)
    if belt.designation is not None and _is_as_bought(belt.designation, belt.length):
        of_it = f"its pitch length is {length[1:-1]}"
        yield Line("designation", quoted(belt.designation), of_it)
    else:
        yield Line("length", length, "PITCH length when free")
    yield Line("joint", quoted(belt.joint))
    for name, size in {"width": belt.width, "thickness": belt.thickness}.items():
        if size is not None:
            yield Line(name, units.write("length", size))
    stiffness = units.write("force", belt.stiffness)
    yield Line("stiffness", stiffness, "force that would stretch it to twice its length")
    factor = number_text(belt.stiffness_factor)
    yield Line("stiffness_factor", factor, "how far off that may be, either way")
    yield Line("mass", units.write("mass", belt.mass))


def _is_as_bought(designation: str, length: float) -> bool:
    """Whether a belt has the length [m] that its designation gives."""
    return math.isclose(read_designation(designation).pitch_length, length, rel_tol=_SAME_LENGTH)


def _plate(scenario: Scenario, units: UnitsToWrite) -> Iterator[Line]:
    plate = scenario.plate
    low, high = (units.write("angle", end) for end in plate.travel)
    yield Line("[plate]")
    yield Line("hinge", units.point(plate.hinge))
    yield Line("travel", f"[{low}, {high}]", "from as drawn, between its stops")
    yield Line("weight", units.write("weight", plate.weight))
    yield Line("center_of_mass", units.point(plate.center_of_mass))
    yield from plate_parts(scenario.parts, units)


def _adjuster(adjuster: Adjuster, units: UnitsToWrite) -> Iterator[Line]:
    yield Line("[adjuster]")
    yield Line("kind", quoted(adjuster.kind))
    if adjuster.kind is AdjusterKind.NONE:
        return
    if adjuster.acts is not None:
        yield Line("acts", quoted(adjuster.acts), "the force that it can carry")
    if adjuster.thread is not None:
        yield Line("thread", quoted(adjuster.thread.name))
    if adjuster.advance_per_turn is not None:
        advance = units.write("length", adjuster.advance_per_turn)
        yield Line("advance_per_turn", advance, "what one turn moves")
    points = {
        "tip": "where it bears as drawn",
        "base_pin": "",
        "plate_pin": "as drawn",
    }
    for name, words in points.items():
        point = getattr(adjuster, name)
        if point is not None:
            yield Line(name, units.point(point), words)
    if adjuster.axis is not None:
        yield Line("axis", units.direction(adjuster.axis), "the way the tip moves as it extends")
    if adjuster.face is not None:
        yield Line("face", units.direction(adjuster.face), "a direction along what it bears on")
    if adjuster.across is not None:
        words = "from the middle of the plate's width, positive towards the motor's pulley"
        yield Line("across", units.write("position", adjuster.across), words)


def _limits(scenario: Scenario, units: UnitsToWrite) -> Iterator[Line]:
    limits = scenario.limits
    yield Line("[limits]", comment="what a setting must keep")
    yield Line("grip", number_text(limits.grip), "wanted running, 1 is about to slip")
    if limits.starting_grip is not None:
        yield Line("starting_grip", number_text(limits.starting_grip))
    yield Line("bedding", number_text(limits.bedding), "tension of a new belt over a bedded one's")
    yield Line("turn_error", number_text(limits.turn_error), "turns by which a hand misses")
    balance = units.write("force", limits.balance_error)
    yield Line("balance_error", balance, "of one reading of a spring balance")
    yield Line("push_error", number_text(limits.push_error), "share, of a push on a strand")
    yield Line("hum_error", number_text(limits.hum_error), "share, of a plucked strand's swings")
    if limits.adjuster is not None:
        yield Line("adjuster", units.write("force", limits.adjuster))
    if limits.hinge is not None:
        yield Line("hinge", units.write("force", limits.hinge))


def _may_change(scenario: Scenario) -> Iterator[Line]:
    yield Line("[may_change]", comment="what a remedy may touch besides parts that are bought")
    yield Line("rotation", _flag(value=scenario.may_change.rotation))
    yield Line("loads", _flag(value=scenario.may_change.loads))


def _keep_out(keep_out: KeepOut, units: UnitsToWrite) -> Iterator[Line]:
    yield Line("[[keep_out]]", comment="ground that these parts must clear")
    yield Line("name", quoted(keep_out.name))
    yield Line("polygon", f"[{', '.join(units.point(corner) for corner in keep_out.corners)}]")
    yield Line("parts", f"[{', '.join(quoted(part) for part in keep_out.parts)}]")


def _flag(*, value: bool) -> str:
    return "true" if value else "false"


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

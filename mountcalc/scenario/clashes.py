"""Impossible mounts: drawn points and sizes of parts held against each other.

Each check is small and silent where it cannot tell. What no mount can have is an error of the
reader; what is unlikely, or told only by an estimate, is a caution in the scenario's notes.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import NamedTuple

from mountcalc.scenario.drawn_plate import DrawnPlate, LineFrom, drawn_plate
from mountcalc.scenario.model import Acts, AdjusterKind, Scenario, Vector
from mountcalc.scenario.text.threads import nearest_standard
from mountcalc.scenario.text.wording import listed
from mountcalc.scenario.text.writing import UNITS_TO_WRITE

_POINTS = (
    ("motor", "shaft"),
    ("plate", "hinge"),
    ("driven", "shaft"),
    ("adjuster", "tip"),
    ("adjuster", "plate_pin"),
    ("adjuster", "base_pin"),
    ("motor", "center_of_mass"),
    ("plate", "center_of_mass"),
)
_FITS = 2e-3  # [m] (estimate): what drawing and measuring by hand may miss
_SURELY = 6e-3  # [m] (estimate): beyond what they may miss
_BLOCK = 0.3  # [m] (estimate): no block under a bolt's tip is so high
_BRACKET = 0.025  # [m] (estimate): that iron on a plate may reach behind a face
_ALONG = 0.1  # sine below which a bolt runs along a face, and may leave it either way
_CROSSES = 0.3  # sine from which a bolt passes through a board
_SHANK = 0.04  # [m] (estimate): of a bolt with its block behind the tip, at least
_FITTINGS = 0.05  # [m] (estimate): how far iron on a plate may move its centre of mass
_LARGEST_BODY = 3.0  # least radii (estimate) that a motor's body may reach
_OVERHUNG = 0.1  # [m] (estimate) beyond it that what is fixed to a motor moves its centre of mass
_TALLEST = 0.5  # shaft heights (estimate) that the feet may be packed up without a word
_SCREWS = frozenset({AdjusterKind.JACK_IN_BASE, AdjusterKind.JACK_IN_PLATE})


class SwappedPoint(NamedTuple):
    """A mount with one point swapped: its key, how it would be typed, and the mount."""

    key: str
    typed: str
    scenario: Scenario


def swapped_points(scenario: Scenario) -> Iterator[SwappedPoint]:
    """The mounts that differ from a scenario in one point, whose x and y are swapped."""
    units = UNITS_TO_WRITE[scenario.display]
    for table, name in _POINTS:
        point: Vector | None = getattr(getattr(scenario, table), name)
        if point is None or point[0] == point[1]:
            continue
        turned = point[1], point[0]
        changes = {name: turned}
        if table == "motor" and scenario.motor.center_of_mass == point:
            changes["center_of_mass"] = turned
        part = replace(getattr(scenario, table), **changes)
        typed = f"{name} = {units.point(turned)}"
        yield SwappedPoint(f"{table}.{name}", typed, replace(scenario, **{table: part}))


class Clash(NamedTuple):
    """Two things of a mount that cannot both be as they are typed.

    ``key`` is the one to look at first, ``text`` a sentence without its full stop. It is ``sure``
    where no mount can be so; else estimates are in it, or it is only unlikely.
    """

    key: str
    text: str
    sure: bool = False

    @property
    def sentence(self) -> str:
        """The text as a note."""
        return f"{self.text[0].upper()}{self.text[1:]}."


def clashes(scenario: Scenario) -> tuple[Clash, ...]:
    """Hold the points and sizes of a mount against each other."""
    found = _found(scenario)
    if found:
        found[0] = found[0]._replace(text=found[0].text + _swap_hint(scenario))
    return tuple(found)


def cautions(scenario: Scenario) -> tuple[str, ...]:
    """What seems to clash in a mount that may be possible, as sentences; see `clashes`."""
    return tuple(clash.sentence for clash in clashes(scenario))


def _found(scenario: Scenario) -> list[Clash]:
    plate = drawn_plate(scenario)
    return [clash for check in _CHECKS for clash in check(plate)]


def _swap_hint(scenario: Scenario) -> str:
    """Name the point that fits the plate, and clashes with nothing, once x and y are swapped."""
    fit = [
        point
        for point in swapped_points(scenario)
        if _fits_face(point.scenario) and not _found(point.scenario)
    ]
    if not fit:
        return ""
    keys = listed(point.key for point in fit)
    typed = f"{fit[0].typed} would fit" if len(fit) == 1 else "either would fit the other way round"
    return f"; are x and y of {keys} swapped? {typed}"


def _fits_face(scenario: Scenario) -> bool:
    """Whether sizes of parts were there for the drawn points to fit."""
    parts, line = scenario.parts, drawn_plate(scenario).line
    told = scenario.plate.weight > 0 or parts.plate.thickness is not None
    bears = told and scenario.adjuster.kind is AdjusterKind.JACK_IN_BASE
    stands = parts.frame is not None and line.taken_from is LineFrom.GIVEN
    apart = math.dist(scenario.driven.shaft, scenario.motor.shaft)
    radii = scenario.driven.pulley_radius + scenario.motor.pulley_radius
    return apart > radii and (stands or bears)


def _shaft_height(plate: DrawnPlate) -> Iterator[Clash]:
    """The motor's shaft stands off its plate what its frame says."""
    write = plate.write
    frame, packing = plate.scenario.parts.frame, plate.scenario.parts.packing
    if frame is None or plate.line.taken_from is LineFrom.FRAME:
        return
    stands, height = frame.shaft_height + packing, plate.line.shaft_height
    if plate.line.taken_from is not LineFrom.GIVEN:
        apart = math.dist(plate.scenario.motor.shaft, plate.scenario.plate.hinge)
        yield Clash(
            "plate.hinge",
            f"the hinge is drawn {write(apart)} from the motor's shaft, nearer than the "
            f"{write(stands)} at which {_height_of(plate)} has it over the plate's face: the hinge "
            "would be under the motor, so move it, or give plate.direction",
            sure=apart < plate.body,
        )
        return
    off = height - stands
    if abs(off) <= _FITS:
        return
    room = _TALLEST * frame.shaft_height + plate.thickness
    yield Clash(
        "motor.shaft",
        f"the motor's shaft is drawn {write(height)} off the face that runs from the hinge along "
        f"plate.direction, and {_height_of(plate)} has it {write(stands)} off: one of "
        f"{'motor.packing, ' if off > 0 else ''}plate.direction and the two points is wrong (the "
        "hinge's pin is taken to lie in that face)",
        sure=height < plate.body or off > room,
    )


def _height_of(plate: DrawnPlate) -> str:
    frame, packing = plate.scenario.parts.frame, plate.scenario.parts.packing
    assert frame is not None
    return f"frame {frame.name}{f' on {plate.write(packing)} of packing' if packing else ''}"


def _motor_on_plate(plate: DrawnPlate) -> Iterator[Clash]:
    """Without a frame the motor's body still has to find room over the plate, and to reach it."""
    write = plate.write
    adjuster = plate.scenario.adjuster
    if plate.scenario.parts.frame is not None:
        return
    if not (plate.is_known or adjuster.kind is AdjusterKind.JACK_IN_BASE):
        return
    height = plate.line.shaft_height
    told = (
        f"the motor's shaft is drawn {write(height)} off {_line(plate)}, and that of a motor of "
        "this weight is"
    )
    if height < 0.5 * plate.body:
        told += f" at least {write(plate.body)} off (estimate)"
    elif height > plate.highest:
        told += f" at most {write(plate.highest)} off (estimate)"
    else:
        return
    yield Clash("motor.shaft", told)


def _past_end(plate: DrawnPlate) -> Iterator[Clash]:
    """What meets the plate meets it before its far end."""
    write = plate.write
    end, met = plate.end, _meeting(plate)
    if end is None or met is None:
        return
    key, name, along = met
    if not plate.is_known:  # as near to the hinge as the face of a thick plate lets it be
        along = math.sqrt(max(along**2 - plate.thickness**2, 0.0))
    if along > end + _FITS:
        yield Clash(
            key,
            f"{name} is {write(along)} from the hinge along the plate, which ends at {write(end)}: "
            "move it, or give the plate's true length",
            sure=along > end + _SURELY and plate.scenario.adjuster.kind in _SCREWS,
        )


def _behind_hinge(plate: DrawnPlate) -> Iterator[Clash]:
    """Nothing meets a plate on the other side of its hinge."""
    write = plate.write
    met = _meeting(plate)
    if met is None:
        return
    key, name, along = met
    before, behind = plate.shaft, -along
    if not plate.is_known:  # the line runs to the bolt; what is told is where the motor is
        before, behind = along, -plate.shaft
        key, name = "motor.shaft", "the motor's shaft"
    if behind <= _SURELY:
        return
    other = "the motor's shaft" if plate.is_known else met[1]
    yield Clash(
        key,
        f"{name} is {write(behind)} behind the hinge, seen along the plate, and {other} "
        f"{write(before)} before it: no plate that begins at its hinge reaches both",
        sure=plate.is_known and plate.end is not None and plate.scenario.adjuster.kind in _SCREWS,
    )


def _meeting(plate: DrawnPlate) -> tuple[str, str, float] | None:
    """Where the adjuster meets the plate: key, name, how far along it from the hinge [m]."""
    adjuster, frame = plate.scenario.adjuster, plate.frame
    if adjuster.plate_pin is not None:
        return "adjuster.plate_pin", "the link's pin", frame.distance(adjuster.plate_pin)
    if adjuster.tip is None or adjuster.axis is None:
        return None
    if adjuster.kind is AdjusterKind.JACK_IN_BASE:
        return "adjuster.tip", "the bolt's tip", frame.distance(adjuster.tip)
    along, out = frame.slope(adjuster.axis)
    if not plate.is_known or abs(out) < _CROSSES:
        return None
    at = frame.distance(adjuster.tip) - frame.height(adjuster.tip) * along / out
    return "adjuster.tip", "the bolt through the plate", at


def _faces(plate: DrawnPlate) -> Iterator[Clash]:
    """A bolt through the base bears on a face of the plate, and comes from that face's side."""
    write, adjuster = plate.write, plate.scenario.adjuster
    if not plate.is_known or adjuster.kind is not AdjusterKind.JACK_IN_BASE:
        return
    assert adjuster.tip is not None
    assert adjuster.axis is not None
    height, out = plate.frame.height(adjuster.tip), plate.frame.slope(adjuster.axis)[1]
    thickness = plate.scenario.parts.plate.thickness
    if thickness is None and -plate.thickness < height < _FITS:
        return
    on_motors = height > -0.5 * plate.thickness
    face = "the face that the motor stands on" if on_motors else "the plate's back"
    off, away = (height, out) if on_motors else (-height - plate.thickness, -out)
    if away > _ALONG and adjuster.acts is Acts.PUSH:
        yield Clash(
            "adjuster.axis",
            f"the bolt's tip is drawn {_beside(write, off)} {face}, and axis takes it away from "
            f"the plate, {_degrees(away)} out of that face: turn axis round, or put tip on the "
            f"other face{_or_direction(plate)}",
            sure=abs(off) <= _FITS and plate.thickness > _SURELY and thickness is not None,
        )
    elif abs(off) > _FITS and thickness is not None:
        yield Clash(
            "adjuster.tip",
            f"the bolt's tip is drawn {_beside(write, off)} {face}; the plate runs from the hinge "
            f"at {math.degrees(plate.line.direction):.1f} deg (by {plate.line.taken_from.value}) "
            f"and is {write(thickness)} thick: a block carries it, or one of them is wrong",
            sure=off > _BLOCK,
        )


def _beside(write: Callable[[float], str], off: float) -> str:
    if abs(off) <= _FITS:
        return "on"
    return f"{write(abs(off))} {'off' if off > 0 else 'inside'}"


def _or_direction(plate: DrawnPlate) -> str:
    """What else may be amiss where the plate's way was found by the motor's frame."""
    return "" if plate.line.taken_from is LineFrom.GIVEN else ", or give plate.direction"


def _degrees(sine: float) -> str:
    return f"{math.degrees(math.asin(max(-1.0, min(1.0, sine)))):.0f} deg"


def _leaves_plate(plate: DrawnPlate) -> Iterator[Clash]:
    """A bolt through the plate comes out on the side that its axis points to."""
    write, adjuster = plate.write, plate.scenario.adjuster
    if not plate.is_known or adjuster.kind is not AdjusterKind.JACK_IN_PLATE:
        return
    assert adjuster.tip is not None
    assert adjuster.axis is not None
    height, out = plate.frame.height(adjuster.tip), plate.frame.slope(adjuster.axis)[1]
    if abs(out) < _CROSSES:
        yield Clash(
            "adjuster.axis",
            f"the bolt leaves the plate's face at {_degrees(abs(out))}, and below "
            f"{_degrees(_CROSSES)} no bolt passes through a board: axis is the way the tip moves "
            "out of the plate",
        )
        return
    side = "the face that the motor stands on" if out > 0 else "the plate's back"
    behind = -height if out > 0 else height + plate.thickness
    if behind > plate.thickness + _FITS:
        yield Clash(
            "adjuster.axis",
            f"axis takes the bolt's tip out of {side} at {_degrees(abs(out))}, but the tip is "
            f"drawn {write(behind)} behind that face: turn axis round, or move "
            f"tip{_or_direction(plate)}",
            sure=behind > plate.thickness + _BRACKET,
        )


def _in_motor(plate: DrawnPlate) -> Iterator[Clash]:
    """Neither tip nor pin is inside the motor."""
    write, adjuster = plate.write, plate.scenario.adjuster
    names = {"tip": "the bolt's tip", "plate_pin": "the link's pin"}
    frame = plate.scenario.parts.frame
    for key, name in names.items():
        point: Vector | None = getattr(adjuster, key)
        if point is None or _stands_clear(plate):
            continue
        apart = math.dist(point, plate.scenario.motor.shaft)
        if apart < plate.body:
            of = "of this weight" if frame is None else f"of frame {frame.name}"
            yield Clash(
                f"adjuster.{key}",
                f"{name} is {write(apart)} from the motor's shaft, inside the body of a motor "
                f"{of}, which has a radius of at least {write(plate.body)} (estimate)"
                f"{_tell_across(plate)}",
                sure=frame is not None
                and (adjuster.kind is AdjusterKind.JACK_IN_BASE or adjuster.across is not None),
            )


def _under_motor(plate: DrawnPlate) -> Iterator[Clash]:
    """A bolt does not run into the motor's feet, nor into its body."""
    write, adjuster = plate.write, plate.scenario.adjuster
    if adjuster.tip is None or adjuster.axis is None or _stands_clear(plate):
        return
    # Right through the middle, arithmetic leaves a hair that nobody wants to read.
    past, half = round(plate.past_shaft(adjuster.tip, adjuster.axis), 6), plate.half_feet
    if past >= half or math.dist(adjuster.tip, plate.scenario.motor.shaft) < plate.body:
        return
    if adjuster.kind is AdjusterKind.JACK_IN_BASE and not _comes_through_motor(plate):
        return
    across, along = adjuster.across, plate.half_feet_along
    where = f"under the motor, whose feet reach {write(half)} to each side"
    if plate.scenario.parts.frame is None:
        where = f"in the way of the motor, which is at least {write(half)} in radius (estimate)"
    text = f"the bolt passes the motor's shaft at {write(past)}: {where}"
    if across is not None and along is not None:
        text += (
            f" and {write(along)} from the middle along the shaft, where the bolt stands at "
            f"{write(abs(across))}"
        )
    yield Clash(
        "adjuster.tip", text + _tell_across(plate), sure=across is not None and along is not None
    )


def _comes_through_motor(plate: DrawnPlate) -> bool:
    """Whether the motor is in the way of a bolt and its block behind the tip."""
    adjuster, shaft = plate.scenario.adjuster, plate.scenario.motor.shaft
    assert adjuster.tip is not None
    assert adjuster.axis is not None
    behind = (adjuster.tip[0] - shaft[0]) * math.cos(adjuster.axis) + (
        adjuster.tip[1] - shaft[1]
    ) * math.sin(adjuster.axis)
    return 0 < behind < plate.body + _SHANK


def _stands_clear(plate: DrawnPlate) -> bool:
    """Whether the bolt is said to stand beside the motor along the shafts."""
    across, along = plate.scenario.adjuster.across, plate.half_feet_along
    return across is not None and (along is None or abs(across) >= along)


def _tell_across(plate: DrawnPlate) -> str:
    if plate.scenario.adjuster.across is not None:
        return ""
    return "; if it stands beside the motor along the shafts, give adjuster.across"


def _past_side(plate: DrawnPlate) -> Iterator[Clash]:
    """The bolt stands on the plate's width."""
    across, width = plate.scenario.adjuster.across, plate.scenario.parts.plate.width
    if across is not None and width is not None and abs(across) > 0.5 * width:
        yield Clash(
            "adjuster.across",
            f"the bolt is {plate.write(abs(across))} from the middle of the plate, which is "
            f"{plate.write(width)} wide: half of that at most",
            sure=plate.scenario.adjuster.kind in _SCREWS,
        )


def _weights(plate: DrawnPlate) -> Iterator[Clash]:
    """Motor and plate have their centres of mass in themselves."""
    write, scenario = plate.write, plate.scenario
    apart = math.dist(scenario.motor.center_of_mass, scenario.motor.shaft)
    if apart > _LARGEST_BODY * plate.body + _OVERHUNG:
        yield Clash(
            "motor.center_of_mass",
            f"the motor's centre of mass is drawn {write(apart)} from its shaft, and its body is "
            f"at least {write(plate.body)} in radius (estimate): one of the two points is wrong",
        )
    adjuster, center = scenario.adjuster, scenario.plate.center_of_mass
    if not scenario.plate.weight > 0:
        return
    apart = math.dist(center, scenario.plate.hinge)
    if plate.end is not None and apart > plate.end + _BRACKET:
        yield Clash(
            "plate.center_of_mass",
            f"the plate's centre of mass is drawn {write(apart)} from the hinge, and the plate "
            f"ends at {write(plate.end)}",
        )
    off = abs(plate.frame.height(center))
    if off > plate.thickness + _FITTINGS and (
        plate.is_known or adjuster.kind is AdjusterKind.JACK_IN_BASE
    ):
        yield Clash(
            "plate.center_of_mass",
            f"the plate's centre of mass is drawn {write(off)} off {_line(plate)}, and "
            + (
                f"no plate is taken to be thicker than {write(plate.thickness)} (estimate)"
                if scenario.parts.plate.thickness is None
                else f"the plate is {write(plate.thickness)} thick"
            ),
        )


def _line(plate: DrawnPlate) -> str:
    return "the plate's face" if plate.is_known else "the line from the hinge to the bolt's tip"


def _thread(plate: DrawnPlate) -> Iterator[Clash]:
    """The adjuster's thread is one that can be bought."""
    thread = plate.scenario.adjuster.thread
    nearest = None if thread is None else nearest_standard(thread)
    if thread is not None and nearest is not None:
        yield Clash(
            "adjuster.thread",
            f"{thread.name} is no thread of the standard series (coarse, fine or extra fine): the "
            f"nearest is {nearest.name}, {plate.write(nearest.pitch)} a turn; {thread.name} is "
            f"taken as typed, {plate.write(thread.pitch)} a turn",
        )


_CHECKS: tuple[Callable[[DrawnPlate], Iterator[Clash]], ...] = (
    _shaft_height, _motor_on_plate, _past_end, _behind_hinge, _faces, _leaves_plate, _in_motor,
    _under_motor, _past_side, _weights, _thread,
)  # fmt: skip

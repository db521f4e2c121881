"""Impossible mounts: drawn points and sizes of parts held against each other.

Each check is small and silent where it cannot tell. What no mount can have is an error of the
reader; what is unlikely, or told only by an estimate, is a caution in the scenario's notes.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import NamedTuple

from mountcalc.scenario.drawn_plate import DrawnPlate, LineFrom, plate_line
from mountcalc.scenario.model import Acts, AdjusterKind, Scenario
from mountcalc.scenario.odd_sizes import odd_sizes
from mountcalc.scenario.text.threads import nearest_standard
from mountcalc.scenario.text.wording import listed
from mountcalc.scenario.text.writing import UNITS_TO_WRITE, Vector

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
    # Points that fit the plate, and clash with nothing, once x and y are swapped.
    fit = [
        point
        for point in (swapped_points(scenario) if found else ())
        if _fits_face(point.scenario) and not _found(point.scenario)
    ]
    if fit:
        keys = listed(point.key for point in fit)
        would_fit = f"{fit[0].typed} would fit"
        typed = would_fit if len(fit) == 1 else "either would fit the other way round"
        text = f"{found[0].text}; are x and y of {keys} swapped? {typed}"
        found[0] = found[0]._replace(text=text)
    return (*found, *(Clash(key, text) for key, text in odd_sizes(DrawnPlate(scenario))))


def cautions(scenario: Scenario) -> tuple[str, ...]:
    """What seems to clash in a mount that may be possible, as sentences; see `clashes`."""
    return tuple(clash.sentence for clash in clashes(scenario))


def _found(scenario: Scenario) -> list[Clash]:
    plate = DrawnPlate(scenario)
    checks = (
        *(_motor_off_plate, _past_ends, _bears_on_face, _leaves_plate, _in_motor, _past_side),
        *(_weights, _thread),
    )
    return [clash for check in checks for clash in check(plate)]


def _fits_face(scenario: Scenario) -> bool:
    """Whether sizes of parts were there for the drawn points to fit."""
    parts, line = scenario.parts, plate_line(scenario)
    is_sized = scenario.plate.weight > 0 or parts.plate.thickness is not None
    bears = is_sized and scenario.adjuster.kind is AdjusterKind.JACK_IN_BASE
    stands = parts.frame is not None and line.taken_from is LineFrom.GIVEN
    apart = math.dist(scenario.driven.shaft, scenario.motor.shaft)
    radii = scenario.driven.pulley_radius + scenario.motor.pulley_radius
    return apart > radii and (stands or bears)


def _motor_off_plate(plate: DrawnPlate) -> Iterator[Clash]:
    """The motor's shaft stands off its plate what its frame says, or a body of its weight needs."""
    write, parts, height = plate.write, plate.scenario.parts, plate.line.shaft_height
    frame, packing, taken_from = parts.frame, parts.packing, plate.line.taken_from
    if frame is None:
        if plate.has_face and not 0.5 * plate.body <= height <= plate.highest:
            low = height < plate.body
            bound = f"least {write(plate.body)}" if low else f"most {write(plate.highest)}"
            yield Clash(
                "motor.shaft",
                f"the motor's shaft is drawn {write(height)} off {plate.face_words}, and that of a "
                f"motor of this weight is at {bound} off (estimate)",
            )
        return
    stands = frame.shaft_height + packing
    of_frame = f"frame {frame.name}{f' on {write(packing)} of packing' if packing else ''}"
    if taken_from not in {LineFrom.GIVEN, LineFrom.FRAME}:
        apart = math.dist(plate.scenario.motor.shaft, plate.scenario.plate.hinge)
        yield Clash(
            "plate.hinge",
            f"the hinge is drawn {write(apart)} from the motor's shaft, nearer than the "
            f"{write(stands)} at which {of_frame} has it over the plate's face: the hinge "
            "would be under the motor, so move it, or give plate.direction",
            sure=apart < plate.body,
        )
    elif taken_from is LineFrom.GIVEN and abs(off := height - stands) > _FITS:
        yield Clash(
            "motor.shaft",
            f"the motor's shaft is drawn {write(height)} off the face that runs from the hinge "
            f"along plate.direction, and {of_frame} has it {write(stands)} off: one of "
            f"{'motor.packing, ' if off > 0 else ''}plate.direction and the two points is wrong "
            "(the hinge's pin is taken to lie in that face)",
            sure=height < plate.body or off > _TALLEST * frame.shaft_height + plate.thickness,
        )


def _past_ends(plate: DrawnPlate) -> Iterator[Clash]:
    """What meets the plate meets it before its far end, and not on the other side of its hinge."""
    write, end, is_screw = plate.write, plate.end, plate.scenario.adjuster.kind in _SCREWS
    met = _meeting(plate)
    if met is None:
        return
    key, name, along = met
    # As near to the hinge as the face of a thick plate lets it be, where its way is guessed.
    least = along if plate.is_known else math.sqrt(max(along**2 - plate.thickness**2, 0.0))
    if end is not None and least > end + _FITS:
        yield Clash(
            key,
            f"{name} is {write(least)} from the hinge along the plate, which ends at {write(end)}: "
            "move it, or give the plate's true length",
            sure=least > end + _SURELY and is_screw,
        )
    behind, other, before = -along, "the motor's shaft", plate.shaft
    if not plate.is_known:  # the line runs to the bolt; what is told is where the motor is
        behind, other, before = -plate.shaft, name, along
        key, name = "motor.shaft", "the motor's shaft"
    if behind > _SURELY:
        yield Clash(
            key,
            f"{name} is {write(behind)} behind the hinge, seen along the plate, and {other} "
            f"{write(before)} before it: no plate that begins at its hinge reaches both",
            sure=plate.is_known and end is not None and is_screw,
        )


def _meeting(plate: DrawnPlate) -> tuple[str, str, float] | None:
    """Where the adjuster meets the plate: key, name, how far along it from the hinge [m]."""
    adjuster, frame = plate.scenario.adjuster, plate.line
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


def _bears_on_face(plate: DrawnPlate) -> Iterator[Clash]:
    """A bolt through the base bears on a face of the plate, and comes from that face's side."""
    write, adjuster = plate.write, plate.scenario.adjuster
    if not plate.is_known or adjuster.kind is not AdjusterKind.JACK_IN_BASE:
        return
    height, out = plate.tip_height, plate.axis_slope
    thickness = plate.scenario.parts.plate.thickness
    if thickness is None and -plate.thickness < height < _FITS:
        return
    on_motors = height > -0.5 * plate.thickness
    face = plate.faces[on_motors]
    off, away = (height, out) if on_motors else (-height - plate.thickness, -out)
    beside = f"{write(abs(off))} {'off' if off > 0 else 'inside'}" if abs(off) > _FITS else "on"
    if away > _ALONG and adjuster.acts is Acts.PUSH:
        yield Clash(
            "adjuster.axis",
            f"the bolt's tip is drawn {beside} {face}, and axis takes it away from the plate, "
            f"{_degrees(away)} out of that face: turn axis round, or put tip on the other "
            f"face{plate.or_direction}",
            sure=abs(off) <= _FITS and plate.thickness > _SURELY and thickness is not None,
        )
    elif abs(off) > _FITS and thickness is not None:
        yield Clash(
            "adjuster.tip",
            f"the bolt's tip is drawn {beside} {face}; the plate runs from the hinge at "
            f"{math.degrees(plate.line.direction):.1f} deg (by {plate.line.taken_from.value}) "
            f"and is {write(thickness)} thick: a block carries it, or one of them is wrong",
            sure=off > _BLOCK,
        )


def _degrees(sine: float) -> str:
    return f"{math.degrees(math.asin(max(-1.0, min(1.0, sine)))):.0f} deg"


def _leaves_plate(plate: DrawnPlate) -> Iterator[Clash]:
    """A bolt through the plate comes out on the side that its axis points to."""
    if not plate.is_known or plate.scenario.adjuster.kind is not AdjusterKind.JACK_IN_PLATE:
        return
    height, out = plate.tip_height, plate.axis_slope
    behind = -height if out > 0 else height + plate.thickness
    if abs(out) < _CROSSES:
        yield Clash(
            "adjuster.axis",
            f"the bolt leaves the plate's face at {_degrees(abs(out))}, and below "
            f"{_degrees(_CROSSES)} no bolt passes through a board: axis is the way the tip moves "
            "out of the plate",
        )
    elif behind > plate.thickness + _FITS:
        yield Clash(
            "adjuster.axis",
            f"axis takes the bolt's tip out of {plate.faces[out > 0]} at {_degrees(abs(out))}, but "
            f"the tip is drawn {plate.write(behind)} behind that face: turn axis round, or move "
            f"tip{plate.or_direction}",
            sure=behind > plate.thickness + _BRACKET,
        )


def _in_motor(plate: DrawnPlate) -> Iterator[Clash]:
    """Tip and pin are not inside the motor, and a bolt does not run into its feet or body."""
    write, adjuster, shaft = plate.write, plate.scenario.adjuster, plate.scenario.motor.shaft
    frame, across, along = plate.scenario.parts.frame, adjuster.across, plate.half_feet_along
    if across is not None:  # of two bolts the one nearest to the middle of the feet
        feet = plate.scenario.parts.along.motor_feet or 0.0
        across = min((one - feet for one in adjuster.places), key=abs, default=across)
    is_in_base = adjuster.kind is AdjusterKind.JACK_IN_BASE
    if across is not None and (along is None or abs(across) >= along):
        return  # it stands beside the motor along the shafts
    hint = "; if it stands beside the motor along the shafts, give adjuster.across"
    tell_across = hint if across is None else ""
    points = (
        ("tip", "the bolt's tip", adjuster.tip),
        ("plate_pin", "the link's pin", adjuster.plate_pin),
    )
    for key, name, point in points:
        if point is not None and (apart := math.dist(point, shaft)) < plate.body:
            of = "of this weight" if frame is None else f"of frame {frame.name}"
            yield Clash(
                f"adjuster.{key}",
                f"{name} is {write(apart)} from the motor's shaft, inside the body of a motor "
                f"{of}, which has a radius of at least {write(plate.body)} (estimate){tell_across}",
                sure=frame is not None and (is_in_base or across is not None),
            )
    tip, axis, half = adjuster.tip, adjuster.axis, plate.half_feet
    if tip is None or axis is None or math.dist(tip, shaft) < plate.body:
        return
    x, y = tip[0] - shaft[0], tip[1] - shaft[1]
    # Right through the middle, arithmetic leaves a hair that nobody wants to read.
    past = round(abs(x * math.sin(axis) - y * math.cos(axis)), 6)
    behind = x * math.cos(axis) + y * math.sin(axis)
    if past >= half or (is_in_base and not 0 < behind < plate.body + _SHANK):
        return
    where = f"under the motor, whose feet reach {write(half)} to each side"
    if frame is None:
        where = f"in the way of the motor, which is at least {write(half)} in radius (estimate)"
    is_known = across is not None and along is not None
    if across is not None and along is not None:
        where += (
            f" and {write(along)} from the middle along the shaft, where the bolt stands at "
            f"{write(abs(across))}"
        )
    text = f"the bolt passes the motor's shaft at {write(past)}: {where}{tell_across}"
    yield Clash("adjuster.tip", text, sure=is_known)


def _past_side(plate: DrawnPlate) -> Iterator[Clash]:
    """The bolt stands on the plate's width."""
    width, places = plate.scenario.parts.plate.width, plate.scenario.adjuster.places
    across = max(places, key=abs, default=0.0)
    if width is not None and abs(across) > 0.5 * width:
        yield Clash(
            "adjuster.bolt" if plate.scenario.adjuster.bolts else "adjuster.across",
            f"the bolt is {plate.write(abs(across))} from the middle of the plate, which is "
            f"{plate.write(width)} wide: half of that at most",
            sure=plate.scenario.adjuster.kind in _SCREWS,
        )


def _weights(plate: DrawnPlate) -> Iterator[Clash]:
    """Motor and plate have their centres of mass in themselves."""
    write, motor, board = plate.write, plate.scenario.motor, plate.scenario.plate
    apart = math.dist(motor.center_of_mass, motor.shaft)
    if apart > _LARGEST_BODY * plate.body + _OVERHUNG:
        yield Clash(
            "motor.center_of_mass",
            f"the motor's centre of mass is drawn {write(apart)} from its shaft, and its body is "
            f"at least {write(plate.body)} in radius (estimate): one of the two points is wrong",
        )
    if not board.weight > 0:
        return
    key, drawn = "plate.center_of_mass", "the plate's centre of mass is drawn"
    apart = math.dist(board.center_of_mass, board.hinge)
    if plate.end is not None and apart > plate.end + _BRACKET:
        text = f"{drawn} {write(apart)} from the hinge, and the plate ends at {write(plate.end)}"
        yield Clash(key, text)
    off = abs(plate.line.height(board.center_of_mass))
    if plate.has_face and off > plate.thickness + _FITTINGS:
        thick = f"the plate is {write(plate.thickness)} thick"
        if plate.scenario.parts.plate.thickness is None:
            thick = f"no plate is taken to be thicker than {write(plate.thickness)} (estimate)"
        yield Clash(key, f"{drawn} {write(off)} off {plate.face_words}, and {thick}")


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

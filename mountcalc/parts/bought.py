"""What is bought beside the adjuster: belt, pulleys, hinges, screws, bolts of the feet."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from mountcalc.draw import Build, guard_holes, motor_size, rim_radii
from mountcalc.handbook.hardware import Face
from mountcalc.handbook.rows import INCH, Datum, load
from mountcalc.pages.amounts import fine_length, length_text
from mountcalc.parts.amounts import short, two_lengths
from mountcalc.parts.results import Part
from mountcalc.scenario.boards import board_sizes
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.parts import Hinges
from mountcalc.scenario.pulleys import PULLEY_KEYS, PulleyFace
from mountcalc.scenario.text.threads import bolt_diameter
from mountcalc.scenario.text.writing import Display
from mountcalc.strength.bolt_length import NUTS, bolt_size, is_inch_thread, stock_length

_SAME = 1e-4  # [m]


def belt_part(scenario: Scenario) -> Part:
    """The belt, by the name it is bought by where it has one."""
    belt, display = scenario.belt, scenario.display
    long = f"{length_text(belt.length, display)} along its cords"
    if belt.designation is not None:
        size, source = belt.designation.text, "belt.designation"
    else:
        size, source = f"{belt.section}, {long}" if belt.section else long, "belt.length"
    if belt.width is not None and belt.designation is None:
        size += f", {fine_length(belt.width, display)} wide"
    joint = "" if belt.joint == "endless" else f", {belt.joint}"
    several = "; all of one make and age, a matched set" if belt.count > 1 else ""
    return Part("belt", belt.count, size, belt.length, f"{long}{joint}{several}", source)


def pulley_parts(build: Build) -> Iterator[Part]:
    """Both pulleys: diameter, what the belt runs on, bore and face where they are known."""
    scenario, display = build.scenario, build.display
    belt, along = scenario.belt, scenario.parts.along
    frame = scenario.parts.frame
    bores = {
        "motor": None if frame is None else (frame.shaft_diameter, f"frame {frame.name}"),
        "driven": None
        if scenario.driven.shaft_diameter is None
        else (scenario.driven.shaft_diameter, "driven.shaft_diameter"),
    }
    widths = {"motor": along.motor_pulley_width, "driven": along.driven_pulley_width}
    keys = {"motor": "motor.frame", "driven": "driven.shaft_diameter"}
    for of, rim in zip(("motor", "driven"), rim_radii(build), strict=True):
        pulley = scenario.motor if of == "motor" else scenario.driven
        is_grooved = pulley.pulley_face is PulleyFace.GROOVED
        size = f"{short(2.0 * pulley.pulley_radius, display)} pitch diameter"
        if abs(rim - pulley.pulley_radius) > _SAME:
            word = "outside" if is_grooved else "over its rim"
            size += f", {short(2.0 * rim, display)} {word}"
        runs = f"{belt.count} grooves" if belt.count > 1 else "one groove"
        sentence = f"{runs}{f' {belt.section}' if belt.section else ''}" if is_grooved else "flat"
        given = scenario.given.get(of, {})
        source = f"{of}.{next((key for key in PULLEY_KEYS if key in given), 'pulley_diameter')}"
        bore, width, missing = bores[of], widths[of], list[str]()
        if bore is not None:
            size += f", bore {short(bore[0], display)}"
            source += f", {bore[1]}"
        else:
            missing.append(keys[of])
        if width is not None:
            sentence += f", {short(width, display)} wide"
            source += f", {of}.pulley_width"
        else:
            missing.append(f"{of}.pulley_width")
        yield Part(f"{of} pulley", 1, size, None, sentence, source, tuple(missing))


def hinge_parts(scenario: Scenario) -> Iterator[Part]:
    """Hinges and their screws."""
    display, sizes, said = scenario.display, board_sizes(scenario), scenario.parts.hinges
    names = ("leaf_length", "leaf_width", "leaf_thickness", "number")
    leaf = two_lengths(sizes.leaf_length, sizes.leaf_width, display)
    size = f"leaves {leaf}, {short(sizes.leaf_thickness, display)} thick"
    if said.pin_diameter is not None:
        size += f", pin {short(said.pin_diameter, display)}"
    source, missing = _source(sizes.taken, names, "hinge")
    yield Part(
        name="hinge",
        count=sizes.number,
        size=size,
        length=sizes.leaf_length,
        sentence="a leaf's length along the pin, its width from the pin's axis",
        source=source,
        not_told=(*missing, *(() if said.pin_diameter else ("hinge.pin_diameter",))),
        estimate=bool(missing),
    )
    each, faces = sizes.number * sizes.screws, (said.into_plate, said.into_base)
    if Face.THROUGH not in faces and said.base_screw in {None, said.screw}:
        yield _screw(scenario, said, "", 2 * each, "wood screws")
        return
    for board, face in zip(("plate", "base"), faces, strict=True):
        is_through, screw = face is Face.THROUGH, said.screw_into(board)
        what = "machine screws through the board" if is_through else "wood screws"
        yield _screw(scenario, said, board, each, what)
        if is_through:
            across = None if screw is None else f"for {screw.name}"
            for one in ("nut", "washer"):
                name, where = f"{one} for those", f"hinge.into_{board}"
                yield Part(name, each, across, None, "behind the board", where)


def _screw(scenario: Scenario, said: Hinges, board: str, count: int, what: str) -> Part:
    """Those into one board, or into both where none is named."""
    sizes, display, screw = board_sizes(scenario), scenario.display, said.screw_into(board)
    name = f"hinge screw into the {board}" if board else "hinge screw"
    if screw is not None:
        is_own = board == "base" and said.base_screw is not None
        source = "hinge.base_screw" if is_own else "hinge.screw"
        missing = () if screw.length else (source,)
        size, length, sentence = screw.name, screw.length, what
        if what == "wood screws" and size.upper().startswith("M"):
            size = short(screw.diameter, display)
            if length is not None:
                size = two_lengths(screw.diameter, length, display)
            size, sentence = f"{size}, for wood", f"{what} as thick and long as {source} has it"
            missing = (*missing, "hinge.base_screw") if board == "base" and not is_own else missing
    else:
        _, datum, _ = sizes.taken["screw_diameter"]
        size, length = _by_gauge(datum.value, display), None
        missing, source = ("hinge.screw",), f"{datum.source} ({datum.sure})"
        sentence = f"{what}; their length is not told: shorter than the board is thick"
    hole = sizes.base_pilot if board == "base" else sizes.pilot
    pilot = f"; pilot holes {short(hole, display)}" if what == "wood screws" else ""
    estimate = screw is None
    return Part(name, count, size, length, f"{sentence}{pilot}", source, missing, estimate)


def _by_gauge(diameter: float, display: Display) -> str:
    """A wood screw by its number, or in mm."""
    if display is Display.METRIC:
        return f"{short(diameter, display)} thick"
    gauge = load("threads")["gauge"]
    return f"#{(diameter / INCH - gauge['smallest_in']) / gauge['step_in']:.0f}"


def _source(
    taken: Mapping[str, tuple[str, Datum, bool]], names: tuple[str, ...], table: str
) -> tuple[str, tuple[str, ...]]:
    """Where some sizes come from, and the keys that would have told those that were taken."""
    found = [taken.get(name) for name in names]
    missing = tuple(one[0] for one in found if one is not None)
    if not missing:
        return f"[{table}]", ()
    given = "" if len(missing) == len(names) else f"[{table}]; "
    return f"{given}taken: usual sizes (estimates)", missing


def feet_parts(build: Build) -> Iterator[Part]:
    """The bolts of the motor's feet: length from foot, packing, plate, washers and nut."""
    scenario, display, said = build.scenario, build.display, build.scenario.parts.feet
    frame, missing = scenario.parts.frame, list[str]()
    across = None if said.bolt is None else bolt_diameter(said.bolt)
    if said.bolt is None:
        missing.append("feet.bolt")
    if frame is None:
        missing.append("motor.frame")
        size = None if said.bolt is None else said.bolt.name
        text = "number and length hang on the motor's feet, which are not told"
        yield Part("bolt for the motor's feet", None, size, None, text, "", tuple(missing))
        return
    sizes, foot, around = board_sizes(scenario), motor_size(build).foot_height, across or frame.hole
    summed = {
        "the foot (estimate)": foot,
        "packing": scenario.parts.packing,
        "the plate": sizes.thickness,
        "nut and washers (estimate)": NUTS * around,
    }
    words = ", ".join(f"{short(one, display)} {of}" for of, one in summed.items() if one)
    wanted = math.fsum(summed.values())
    is_inch = is_inch_thread(said.bolt.name) if said.bolt else display is Display.INCH
    stock = stock_length(wanted, is_inch=is_inch)
    hole, long = short(frame.hole, display), short(stock or wanted, display)
    size = f"to pass holes of {hole}, {long} long"
    if said.bolt is not None:
        size = said.bolt.name if stock is None else bolt_size(said.bolt, stock)
    if scenario.parts.plate.thickness is None:
        missing.append("plate.thickness")
    keys = "frame" if said.bolt is None else "feet.bolt; frame"
    source = f"{keys} {frame.name} ({frame.source}, {frame.sure})"
    sentence = f"{words}: {short(wanted, display)} at least"
    name = "bolt for the motor's feet"
    yield Part(name, 4, size, stock or wanted, sentence, source, tuple(missing), estimate=True)
    like = "for those bolts" if said.bolt is None else said.bolt.name
    yield Part("nut for them", 4, like, None, "locking, or with a lock nut", source)
    washer = "" if said.washer is None else f"{short(said.washer, display)} outside"
    wide, source = ", wide ones: the plate has slots", "feet.washer" if washer else source
    key = () if washer else ("feet.washer",)
    yield Part("washer for them", 8, washer or like, None, f"above and below{wide}", source, key)


def guard_screws(build: Build) -> Part:
    """What holds the guard's panel."""
    count, across = guard_holes(build)
    return Part(
        name="screw for the guard",
        count=count,
        size=f"to pass holes of {short(across, build.display)}",
        length=None,
        sentence="through the panel into blocks or a batten behind it: length by these",
        source="the guard's drawing (estimates)",
    )

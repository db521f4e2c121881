"""The whole mount to scale: at snug, with install and take-up in outline."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from functools import partial

from mountcalc.drafting.dimensions import SAME, Baseline, Run, baselines
from mountcalc.drafting.drawing import Drawing, settled_with_names
from mountcalc.drafting.items import TEXT_HEIGHT, Arc, Item, Layer, Point
from mountcalc.drafting.names.callouts import named_where_room
from mountcalc.draw.adjuster import draw_adjuster
from mountcalc.draw.boards.section import (
    base_section,
    level_edge,
    say_base_caution,
    say_base_height,
)
from mountcalc.draw.boards.side import board_side, motor_feet
from mountcalc.draw.build import Build, motor_size, rim_radii
from mountcalc.draw.keep_outs import draw_keep_outs, keep_out_cautions
from mountcalc.draw.remarks import LEFT, RIGHT, Remark, Remarks, last_word, reminders
from mountcalc.draw.stop import catches, draw_stop, say_stops
from mountcalc.draw.views import ViewParts, bounds_of, drawing_of, on_sides
from mountcalc.layout import belt_at

_CLEAR = 3 * TEXT_HEIGHT  # from what is drawn to the first dimension line, on paper
_PAST = 0.03  # [m] floor and upright are drawn past the rest
_LEAST_SWING = 1e-6  # [rad]
BASE_NAME = "base"  # its name, which the notes make good where the view is too crowded for it
_CENTRE_PAST = 1.1  # of a pulley's radius to which its centre lines reach


def assembly(build: Build) -> Drawing:
    """The mount seen facing the motor's pulley."""
    parts, level, remarks = _parts(build), level_edge(build), Remarks(build.display)
    _say_places(remarks, build, parts)
    say_stops(remarks, build)
    remarks.add(parts.remarks.all)
    remarks.notes_of(board_side(build).notes)
    remarks.notes_of(build.swing.notes)
    say_base_height(remarks, build)
    say_base_caution(remarks, build)
    remarks.cautions_of(keep_out_cautions(build))
    remarks.cautions_of(reminders(build, "stored energy", "pulleys", "belt"))
    remarks.cautions_of(map(last_word, ("closing", "view")))

    def unnamed(scale: float) -> Drawing:
        items = (*parts.items, *_dimensions(build, parts, scale))
        return drawing_of(build, remarks, "assembly", items, scale=scale)

    def named(drawing: Drawing) -> Drawing:
        spared = [level[0], BASE_NAME]
        names = named_where_room(parts.names, spared, drawing.items, drawing.scale)
        return replace(drawing, items=(*drawing.items, *names))

    return settled_with_names(unnamed, named, parts.items, build.display)


def _parts(build: Build) -> ViewParts:
    parts, swing, board = ViewParts(Remarks(build.display)), build.swing, board_side(build)
    parts.points |= {
        "driven shaft": build.scenario.driven.shaft,
        "hinge pin": build.hinge,
        "motor shaft at snug": build.motor_at_snug,
    }
    _draw_plate_and_motor(parts, build)
    _draw_pulleys_and_belt(parts, build)
    # What carries the hinge, thin: its way may be an estimate.
    corners = base_section(build).corners()
    parts.outline(corners, Layer.EDGE)
    parts.listed["near edge of the base's face"] = corners[0]
    parts.points["far edge of the base's face"] = corners[1]
    parts.name(BASE_NAME, *on_sides(corners, (0.3, 0.5, 0.7, 0.9)))
    draw_adjuster(parts, build)
    for angle, name in ((swing.install, "install"), (swing.take_up, "take-up")):
        if abs(angle - swing.snug) > _LEAST_SWING:
            _draw_other_position(parts, build, angle, name)
    parts.points["far end of the plate's face at snug"] = board.at(board.length, 0.0, swing.snug)
    for stop in catches(build):
        draw_stop(parts, build, stop)
    level, height = level_edge(build)
    draw_keep_outs(parts, build, bounds_of(parts.items), height)
    # The two datum edges.
    left, bottom, right, top = bounds_of(parts.items)
    left, right, x = left - _PAST, right + _PAST, build.scenario.driven.shaft[0]
    layer = Layer.VISIBLE if level == "the floor" else Layer.CENTRE
    parts.line((left, height), (right, height), layer)
    parts.name(level, (right, height), (left, height))
    low, high = min(bottom, height) - _PAST, max(top, height) + _PAST
    parts.line((x, low), (x, high), Layer.CENTRE)
    return parts


def _draw_plate_and_motor(parts: ViewParts, build: Build) -> None:
    """At snug; the motor's feet where the frame tells them."""
    snug, board, hinge = build.swing.snug, board_side(build), build.hinge
    parts.outline(board.corners(snug), Layer.VISIBLE)
    shares = (0.15, 0.3, 0.45, 0.6, 0.75, 0.9)
    places = [(share * board.length, off) for off in (-board.thickness, 0.0) for share in shares]
    parts.name("plate", *(board.at(*place, snug) for place in places))
    parts.circle(hinge, board.edge, Layer.VISIBLE)
    parts.cross(hinge, 1.8 * board.edge)
    parts.name("hinge pin", hinge)
    frame, size, motor = build.scenario.parts.frame, motor_size(build), build.scenario.motor.shaft
    parts.circle(build.motor_at_snug, size.body, Layer.EDGE)
    if frame is None:
        parts.remarks.say("assembly.no_frame")
        return
    parts.outline(motor_feet(build, snug), Layer.EDGE)
    high = board.frame.height(motor) - frame.shaft_height + size.foot_height
    for side in (-0.5 * frame.feet_across, 0.5 * frame.feet_across):
        middle = board.frame.distance(motor) + side
        end = board.at(middle, -board.thickness, snug)
        parts.line(board.at(middle, high, snug), end, Layer.CENTRE)
    parts.remarks.say("assembly.motor")


def _draw_pulleys_and_belt(parts: ViewParts, build: Build) -> None:
    """At snug, the belt by its pitch line."""
    motor, driven, frame = build.scenario.motor, build.scenario.driven, build.scenario.parts.frame
    belt, rims = belt_at(build.mount, build.swing.snug), rim_radii(build)
    shaft = driven.shaft_diameter or max(one.journal_diameter for one in driven.bearings)
    pulleys = (
        ("motor pulley", build.motor_at_snug, motor.pulley_radius, rims[0], belt.motor_arc),
        ("driven pulley", driven.shaft, driven.pulley_radius, rims[1], belt.driven_arc),
    )
    bores = None if frame is None else frame.shaft_diameter, shaft
    for (name, at, radius, rim, _), bore in zip(pulleys, bores, strict=True):
        parts.circle(at, rim, Layer.VISIBLE)
        if rim != radius:
            parts.circle(at, radius, Layer.CENTRE)
        if bore is not None:
            parts.circle(at, 0.5 * bore, Layer.VISIBLE)
        parts.cross(at, _CENTRE_PAST * max(rim, radius))
        parts.round_name(name, at, rim)
    for strand in (belt.tight, belt.slack):
        parts.line(*strand, Layer.VISIBLE)
    parts.items += [Arc(at, radius, *arc, Layer.VISIBLE) for _, at, radius, _, arc in pulleys]


def _draw_other_position(parts: ViewParts, build: Build, plate_angle: float, name: str) -> None:
    """Draw plate, pulley and shaft thin, in another position."""
    board, rim = board_side(build), rim_radii(build)[0]
    motor = build.turned(build.scenario.motor.shaft, plate_angle)
    parts.outline(board.corners(plate_angle), Layer.EDGE)
    parts.circle(motor, rim, Layer.EDGE)
    parts.cross(motor, 0.4 * rim)
    places = [(1.0, share) for share in (0.0, 0.5, 1.0)]
    places += [(share, deep) for share in (0.7, 0.8, 0.9) for deep in (0.0, 1.0)]
    at = (
        board.at(share * board.length, -deep * board.thickness, plate_angle)
        for share, deep in places
    )
    parts.name(name, *at)
    parts.listed[f"motor shaft at {name}"] = motor


def _say_places(remarks: Remarks, build: Build, parts: ViewParts) -> None:
    """List the points by their distances from both datum edges."""
    name, height = level_edge(build)
    remarks.say("assembly.datum_edges", level=name)
    for what, (x, y) in (parts.points | parts.listed).items():
        across, up = x - build.scenario.driven.shaft[0], y - height
        words = []
        if abs(across) > SAME:
            side = LEFT if across < 0 else RIGHT
            words.append(Remark("assembly.across", {"across": abs(across), "side": side}))
        if abs(up) > SAME:
            key = "assembly.below" if up < 0 else "assembly.above"
            words.append(Remark(key, {"up": abs(up)}))
        remarks.say(
            "assembly.place", what=f"{what[0].upper()}{what[1:]}", where=words or "where they cross"
        )
        key = what.replace(" ", "_").replace("'s", "").replace(",", "").replace("-", "_")
        remarks.facts |= {f"{key}_x": across, f"{key}_y": up}


def _dimensions(build: Build, parts: ViewParts, scale: float) -> list[Item]:
    """Baselines on all four sides; heights stand outside the texts above and below."""
    _, bottom, _, top = bounds_of(parts.items, scale)
    clear, points = _CLEAR * scale, list(parts.points.values())
    datum = build.scenario.driven.shaft[0], level_edge(build)[1]
    make = partial(Baseline, datum=datum, scale=scale, display=build.display)
    low, high = _halves(points, Run.ACROSS, datum)
    across = [
        *baselines(make(Run.ACROSS, first=bottom - clear, away=-1), low),
        *baselines(make(Run.ACROSS, first=top + clear, away=1), high),
    ]
    left, _, right, _ = bounds_of([*parts.items, *across], scale)
    near, far = _halves(points, Run.UP, datum)
    return [
        *across,
        *baselines(make(Run.UP, first=left - clear, away=-1), near),
        *baselines(make(Run.UP, first=right + clear, away=1), far),
    ]


def _halves(points: Iterable[Point], run: Run, datum: Point) -> tuple[list[Point], list[Point]]:
    """What to dimension on the lower (left) side and on the other, as many on both."""
    wanted: list[Point] = []
    for point in points:
        distance = point[run.value] - datum[run.value]
        others = (other[run.value] - datum[run.value] for other in wanted)
        if abs(distance) > SAME and all(abs(distance - other) > SAME for other in others):
            wanted.append(point)
    wanted.sort(key=lambda point: point[1 - run.value])
    half = (len(wanted) + 1) // 2
    return wanted[:half], wanted[half:]

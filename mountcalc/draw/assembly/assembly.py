"""The whole mount to scale: at snug, with install and take-up in outline."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from functools import partial

from mountcalc.drafting.dimensions import SAME, Baseline, Run, baselines
from mountcalc.drafting.drawing import Drawing
from mountcalc.drafting.items import TEXT_HEIGHT, Item, Layer, Line, Point
from mountcalc.drafting.names.callouts import named_where_room
from mountcalc.drafting.scales import settled_with_names
from mountcalc.drafting.told import Told
from mountcalc.draw.assembly.adjuster import draw_adjuster
from mountcalc.draw.assembly.drive import draw_drive, draw_other_position
from mountcalc.draw.assembly.stop import Catch, catches
from mountcalc.draw.assembly.stop_parts import draw_stop
from mountcalc.draw.assembly.stop_words import tell_stops
from mountcalc.draw.assembly.words import tell_places
from mountcalc.draw.base.height import base_height, hinge_height, level_edge
from mountcalc.draw.base.parts import BASE_NAME, draw_base
from mountcalc.draw.base.words import base_cautions, base_words
from mountcalc.draw.boards.side import BoardSide, board_side
from mountcalc.draw.build import Build, Swing, turned
from mountcalc.draw.keep_outs import draw_keep_outs, keep_out_cautions
from mountcalc.draw.reminders import closing, reminders, view_caution
from mountcalc.draw.view_parts import ViewParts

__all__ = ["assembly"]

_CLEAR = 3 * TEXT_HEIGHT  # from what is drawn to the first dimension line, on paper
_PAST = 0.03  # [m] floor and upright are drawn past the rest
_LEAST_SWING = 1e-6  # [rad]


def assembly(build: Build) -> Drawing:
    """The mount seen facing the motor's pulley."""
    swing = build.swing
    board = board_side(build)
    stops = catches(build)
    parts = _parts(build, board, swing, stops)
    told = Told(build.display)
    tell_places(told, build, parts.points | parts.listed, level_edge(build))
    tell_stops(told, build, stops)
    told.notes += [*dict.fromkeys(parts.notes), *board.notes, *swing.notes]
    told.notes.extend(base_words(build))
    told.cautions += [*base_cautions(build), *keep_out_cautions(build)]
    told.cautions += [
        *reminders(build, "stored energy", "pulleys", "belt"),
        closing(),
        view_caution(),
    ]
    heights = {"hinge_above_floor": hinge_height(build), "base_top": base_height(build)}
    told.facts |= {name: value for name, value in heights.items() if value is not None}
    unnamed = partial(_unnamed, build, parts, told)
    return settled_with_names(
        unnamed, partial(_named, parts, level_edge(build)[0]), parts.items, build.display
    )


def _parts(build: Build, board: BoardSide, swing: Swing, stops: Iterable[Catch]) -> ViewParts:
    parts = ViewParts()
    hinge, driven = build.scenario.plate.hinge, build.scenario.driven.shaft
    motor = turned(build.scenario.motor.shaft, hinge, swing.snug)
    parts.points |= {
        "driven shaft": driven,
        "hinge pin": hinge,
        "motor shaft at snug": motor,
    }
    draw_drive(parts, build, board, swing)
    draw_base(parts, build)
    draw_adjuster(parts, build, swing, board)
    for angle, name in ((swing.install, "install"), (swing.take_up, "take-up")):
        if abs(angle - swing.snug) > _LEAST_SWING:
            draw_other_position(parts, build, board, angle, name)
    parts.points["far end of the plate's face at snug"] = board.at(board.length, 0.0, swing.snug)
    for stop in stops:
        draw_stop(parts, board, stop)
    bounds = Drawing("", "", "", tuple(parts.items)).bounds()
    draw_keep_outs(parts, build, bounds, level_edge(build)[1])
    _edges(parts, build)
    return parts


def _edges(parts: ViewParts, build: Build) -> None:
    """The two datum edges."""
    bounds = Drawing("", "", "", tuple(parts.items)).bounds()
    name, height = level_edge(build)
    left, right = bounds[0] - _PAST, bounds[2] + _PAST
    layer = Layer.VISIBLE if name == "the floor" else Layer.CENTRE
    parts.items.append(Line((left, height), (right, height), layer))
    parts.name(name, (right, height), (left, height))
    x = build.scenario.driven.shaft[0]
    low, high = min(bounds[1], height) - _PAST, max(bounds[3], height) + _PAST
    parts.items.append(Line((x, low), (x, high), Layer.CENTRE))


def _named(parts: ViewParts, level: str, drawing: Drawing) -> Drawing:
    names = named_where_room(parts.names, [level, BASE_NAME], drawing.items, drawing.scale)
    return replace(drawing, items=(*drawing.items, *names))


def _unnamed(build: Build, parts: ViewParts, told: Told, scale: float) -> Drawing:
    items = (*parts.items, *_dimensions(build, parts, scale))
    return Drawing(
        display=build.display,
        name="assembly",
        title=f"Assembly: {build.scenario.title}",
        view="seen facing the motor's pulley; solid at snug, thin at install and take-up",
        items=items,
        notes=tuple(told.notes),
        cautions=tuple(told.cautions),
        true_scale=False,
        facts=told.facts,
        scale=scale,
        other_hand=told.other_hand,
    )


def _dimensions(build: Build, parts: ViewParts, scale: float) -> list[Item]:
    """Baselines on all four sides; heights stand outside the texts above and below."""
    _, bottom, _, top = Drawing("", "", "", tuple(parts.items), scale=scale).bounds()
    clear = _CLEAR * scale
    datum = build.scenario.driven.shaft[0], level_edge(build)[1]
    make = partial(Baseline, datum=datum, scale=scale, display=build.display)
    points = list(parts.points.values())
    low, high = _halves(points, Run.ACROSS, datum)
    across = [
        *baselines(make(Run.ACROSS, first=bottom - clear, away=-1), low),
        *baselines(make(Run.ACROSS, first=top + clear, away=1), high),
    ]
    whole = Drawing("", "", "", (*parts.items, *across), scale=scale)
    left, _, right, _ = whole.bounds()
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

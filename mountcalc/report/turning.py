"""The bolt turned on the screen: what is told and drawn at each step, all of it computed here."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from mountcalc.layout import Pose, poses_at
from mountcalc.pages.amounts import UNITS, turns_text
from mountcalc.report.blocks import Slider, Step
from mountcalc.report.findings import Findings
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.text.writing import Vector
from mountcalc.table import Row, setting_grid, tension_table, words
from mountcalc.thresholds import ROUNDING

_BETWEEN = 4  # steps from one row of the table to the next
_MOST = 41  # steps in all: more are not told apart by a finger
_SIDE = 400.0  # of a view, in its own units
_ROOM = 1.1  # of what is drawn
_SEEN = 0.3  # of the side, the most that a move may take where it is enlarged
_FACTORS = (100, 50, 20, 10, 5, 2)


def slider_of(found: Findings) -> Slider | None:
    """Steps from the first row of the table to the last, the setting among them.

    Nothing where there are no turns to tell apart.
    """
    scenario, noun = found.scenario, words.adjuster_noun(found.scenario)
    turns = _turns(found)
    if turns.size < 2:  # noqa: PLR2004
        return None
    table, force = tension_table(scenario, turns), UNITS[scenario.display].force
    grid = setting_grid(scenario, table)
    rows = [row.turns for row in found.table.rows]
    steps = tuple(
        Step(
            turns=turns_text(row.turns),
            values=(*cells[1:], _angle(row), end or "-"),
            loads=_loads(scenario, row),
            row=next((i for i, one in enumerate(rows) if one == row.turns), None),
        )
        for row, cells, end in zip(table.rows, grid.rows, grid.ends, strict=True)
    )
    wanted = found.advice.setting.set_turns
    heads = [f"{head}, {unit}" if unit else head for head, unit in grid.heads[1:]]
    return Slider(
        noun=noun,
        heads=(*heads, "plate, deg", "state"),
        load_heads=tuple(f"{name}, {force}" for name in table.rows[0].cases),
        parts=("belt pull", *(one.name for one in scenario.driven.bearings), noun),
        steps=steps,
        start=0 if wanted is None else int(np.abs(turns - wanted).argmin()),
        views=tuple(_views(scenario, turns)),
        label=f"{scenario.title}: the mount as the {noun} turns",
    )


def _turns(found: Findings) -> NDArray[np.float64]:
    """Those of the table, some between, and where it is set."""
    rows = [row.turns for row in found.table.rows if row.turns is not None]
    if len(rows) < 2:  # noqa: PLR2004
        return np.array(rows)
    parts = max(1, min(_BETWEEN, (_MOST - 1) // (len(rows) - 1)))
    turns = np.interp(np.arange(parts * (len(rows) - 1) + 1) / parts, np.arange(len(rows)), rows)
    wanted = found.advice.setting.set_turns
    if wanted is None or np.abs(turns - wanted).min() <= ROUNDING:
        return turns
    return np.sort(np.append(turns, wanted))


def _angle(row: Row) -> str:
    return "-" if row.plate_angle is None else f"{math.degrees(row.plate_angle):.2f}"


def _loads(scenario: Scenario, row: Row) -> tuple[tuple[str, ...], ...]:
    """Pull, bearings and adjuster, each at rest, running and starting; a star at a limit."""
    units = UNITS[scenario.display]
    by_case = (
        (
            (case.shaft_load, None),
            *((one.load, one.share_of_limit) for one in case.bearings),
            (case.adjuster, case.adjuster_share_of_limit),
        )
        for case in row.cases.values()
    )
    return tuple(
        tuple(f"{units.strength(load)}{' *' * ((share or 0.0) >= 1.0)}" for load, share in part)
        for part in zip(*by_case, strict=True)
    )


def _views(scenario: Scenario, turns: NDArray[np.float64]) -> Iterator[str]:
    """The whole mount at each step, and enlarged what moves furthest, as elements of a page."""
    body, poses = poses_at(scenario, turns)
    known = [pose for pose in poses if pose is not None]
    if not known:
        return
    driven, radius = scenario.driven.shaft, scenario.driven.pulley_radius
    points = [(driven[0] + x * radius, driven[1] + y * radius) for x in (-1, 1) for y in (-1, 1)]
    for pose in known:
        x, y = pose.motor_shaft
        points += [(x - body, y - body), (x + body, y + body), *pose.plate, *pose.board]
        if pose.adjuster is not None:
            points += [pose.adjuster.start, pose.adjuster.tip]
    low, high = np.min(points, axis=0), np.max(points, axis=0)
    scale = _SIDE / (_ROOM * float(np.max(high - low)))
    middle = 0.5 * (low + high)
    yield _View(scenario, body, (float(middle[0]), float(middle[1])), scale, "whole").svg(poses)
    first, last = known[0], known[-1]
    pairs = [(first.motor_shaft, last.motor_shaft)]
    if first.adjuster is not None and last.adjuster is not None:
        pairs.append((first.adjuster.tip, last.adjuster.tip))
    start, end = max(pairs, key=lambda pair: math.dist(*pair))
    moved = math.dist(start, end) * scale
    for factor in _FACTORS:
        if 0 < moved * factor <= _SEEN * _SIDE:
            centre = 0.5 * (start[0] + end[0]), 0.5 * (start[1] + end[1])
            name = f"{factor} times larger"
            yield _View(scenario, body, centre, scale * factor, name).svg(poses)
            return


class _View:
    """A square of the drawing's plane, y up, drawn so many units to the metre."""

    def __init__(
        self, scenario: Scenario, body: float, centre: Vector, scale: float, name: str
    ) -> None:
        self.scenario, self.body, self.centre = scenario, body, centre
        self.scale, self.name = scale, name

    def svg(self, poses: Sequence[Pose | None]) -> str:
        """What is fixed, where it was at first in pale, and a group for each step."""
        driven, hinge = self.scenario.driven, self.scenario.plate.hinge
        fixed = self._circle(driven.shaft, driven.pulley_radius)
        fixed += self._dot(driven.shaft) + self._dot(hinge)
        first = next(pose for pose in poses if pose is not None)
        groups = "".join(
            f'<g data-step="{index}">{"" if pose is None else self._pose(pose)}</g>'
            for index, pose in enumerate(poses)
        )
        side = f"{_SIDE:g}"
        return (
            f'<svg viewBox="0 0 {side} {side}" aria-hidden="true" class="view">{fixed}'
            f'<g class="first">{self._pose(first)}</g>{groups}'
            f'<text x="8" y="18">{self.name}</text></svg>'
        )

    def _pose(self, pose: Pose) -> str:
        motor = self.scenario.motor
        drawn = [
            self._line(*pose.belt.tight),
            self._line(*pose.belt.slack),
            self._circle(pose.motor_shaft, motor.pulley_radius),
            self._circle(pose.motor_shaft, self.body, "thin"),
            self._dot(pose.motor_shaft),
            *(self._line(*arm, "thin") for arm in pose.arms),
        ]
        board = pose.board or pose.plate
        drawn += [
            self._line(one, other, "thick")
            for one, other in zip(board, (*board[1:], board[0]), strict=True)
        ]
        if (rod := pose.adjuster) is not None:
            drawn += [self._line(rod.start, rod.tip, "thick"), self._dot(rod.tip)]
            if rod.face is not None:
                drawn.append(self._line(*rod.face))
        return "".join(drawn)

    def _at(self, point: Vector) -> tuple[str, str]:
        x = 0.5 * _SIDE + (point[0] - self.centre[0]) * self.scale
        y = 0.5 * _SIDE - (point[1] - self.centre[1]) * self.scale
        return f"{x:.1f}", f"{y:.1f}"

    def _line(self, start: Vector, end: Vector, look: str = "") -> str:
        (x1, y1), (x2, y2) = self._at(start), self._at(end)
        return f'<path d="M{x1} {y1}L{x2} {y2}"{f" class={look!r}" if look else ""}/>'

    def _circle(self, centre: Vector, radius: float, look: str = "") -> str:
        x, y = self._at(centre)
        size = f"{radius * self.scale:.1f}"
        return f'<circle cx="{x}" cy="{y}" r="{size}"{f" class={look!r}" if look else ""}/>'

    def _dot(self, at: Vector) -> str:
        x, y = self._at(at)
        return f'<circle cx="{x}" cy="{y}" r="3" class="dot"/>'

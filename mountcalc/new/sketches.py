"""Sketches in letters: what is meant by a question, and what was understood of the answers."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from functools import cache

from mountcalc.handbook.rows import load
from mountcalc.new.answers import marks
from mountcalc.new.measurements import Measurements, Question, questions
from mountcalc.new.results import Understood
from mountcalc.pages.amounts import bench_length
from mountcalc.scenario.text.writing import Vector

_COLUMNS, _ROWS = 70, 17  # of the mount's sketch
_TALL = 2.0  # a letter's height over its width, as most terminals have it
_STEEP = 4.0  # a line that is drawn as upright
_ROUND = 720  # points of a circle


@cache
def _marks_in(name: str) -> frozenset[str]:
    return frozenset(re.findall(r"\b[A-Z][0-9]+\b", load("sketches").get(name, "")))


def sketch_of(question: Question, answers: Measurements) -> str:
    """The sketch that shows what a question means, after the answers so far; often none."""
    names = (
        question.group,
        *(f"{question.group} {answers.text(key)}" for key in ("built", "way", "adjuster")),
    )
    mark = marks()[question.key]
    found = next((name for name in names if mark in _marks_in(name)), None)
    return "" if found is None else _with_asked(found, answers)


def _with_asked(name: str, answers: Measurements) -> str:
    """A sketch without what nobody is asked; nothing where no mark is left."""
    sketch = str(load("sketches")[name])
    keys = {mark: key for key, mark in marks().items() if mark in _marks_in(name)}
    known = questions()
    gone = {
        mark
        for mark, key in keys.items()
        if not answers.may_be_asked(key)
        # What the same sketch shows as another way to tell it stays.
        or ((other := known[key].unless) in answers and known[other].group != known[key].group)
    }
    for mark in gone:
        sketch = re.sub(rf"\b{mark}\b(?:, |: .*)?", lambda found: " " * len(found[0]), sketch)
    lines = [line.rstrip() for line in sketch.splitlines()]
    return "" if gone == keys.keys() else "\n".join(filter(None, lines)) + "\n"


def sketches_of(group: str, answers: Measurements) -> list[str]:
    """The sketches of a group that fit what is known; all where that is open."""
    way = answers.text("way") if answers.text("built") == "yes" else "no"
    known = {way, answers.answers.get("adjuster")}
    names = [name for name in load("sketches") if name.split()[0] == group]
    fit = [name for name in names if not known.isdisjoint(name.split()[1:])]
    return [sketch for name in fit or names if (sketch := _with_asked(name, answers))]


def mount_sketch(mount: Understood) -> str:
    """The mount as it was understood, to scale as well as letters can, and where its parts are."""
    scenario, display = mount.scenario, mount.scenario.display
    shaft, motor = scenario.driven.shaft, scenario.motor.shaft
    parts = {name: at for name, at in mount.points.items() if name in _PARTS}
    circles = [
        (shaft, scenario.driven.pulley_radius),
        (motor, scenario.motor.pulley_radius),
    ]
    hinge, end = scenario.plate.hinge, mount.points.get("plate_end", motor)
    corners = [(x + way * r, y + way * r) for (x, y), r in circles for way in (-1.0, 1.0)] + [
        hinge,
        end,
        *parts.values(),
    ]
    grid = _Grid(corners)
    for centre, radius in circles:
        for turn in range(_ROUND):
            angle = math.tau * turn / _ROUND
            grid.put(
                (centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle)), "."
            )
    grid.line(hinge, end)
    if "bolt" in parts and "post" in parts:
        grid.line(parts["bolt"], parts["post"], ":")
    names = {"S": shaft, "M": motor, "H": hinge} | {
        _PARTS[name][0]: at for name, at in parts.items()
    }
    for letter, at in names.items():
        grid.put(at, letter)
    told = {"M": "motor's shaft", "H": "hinge's pin"} | dict(_PARTS.values())
    legend = ["  S  machine's shaft; from there:"]
    for letter, at in names.items():
        if letter != "S":
            across, up = at[0] - shaft[0], at[1] - shaft[1]
            legend.append(
                f"  {letter}  {told[letter]}: {bench_length(abs(across), display)} to the "
                f"{'left' if across < 0 else 'right'}, {bench_length(abs(up), display)} "
                f"{'lower' if up < 0 else 'higher'}"
            )
    if scenario.parts.base.floor is not None:
        depth = bench_length(shaft[1] - scenario.parts.base.floor, display)
        legend.append(f"     the floor: {depth} lower")
    return "\n".join((*grid.lines(), "", *legend))


_PARTS = {
    "bolt": ("B", "where the bolt bears"),
    "post": ("P", "its fixed end"),
}


class _Grid:
    """Letters on a field, as large as holds some points; a later letter hides an earlier one."""

    def __init__(self, points: list[Vector]) -> None:
        across, up = zip(*points, strict=True)
        self.left, self.top = min(across), max(up)
        wide, high = max(across) - self.left, self.top - min(up)
        self.cell = max(wide / (_COLUMNS - 1), high / _TALL / (_ROWS - 1))
        self.letters: dict[tuple[int, int], str] = {}

    def put(self, at: Vector, letter: str) -> None:
        row = round((self.top - at[1]) / (self.cell * _TALL))
        self.letters[row, round((at[0] - self.left) / self.cell)] = letter

    def line(self, start: Vector, end: Vector, letter: str = "") -> None:
        across, up = (b - a for a, b in zip(start, end, strict=True))
        if not letter:  # the one that leans as the line does
            letter = "/" if across * up > 0 else "\\"
            level, upright = abs(up) < abs(across), abs(across) < abs(up) / _STEEP
            letter = "=" if level else "|" if upright else letter
        count = 2 * (_COLUMNS + _ROWS)
        for step in range(count + 1):
            share = step / count
            self.put((start[0] + share * across, start[1] + share * up), letter)

    def lines(self) -> Iterator[str]:
        for row in range(max(row for row, _ in self.letters) + 1):
            columns = [column for one, column in self.letters if one == row]
            letters = (
                self.letters.get((row, at), " ") for at in range(max(columns, default=-1) + 1)
            )
            yield f"   {''.join(letters)}".rstrip()

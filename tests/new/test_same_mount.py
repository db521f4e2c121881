"""The same mount, told otherwise: in a mirror, from another wall and floor, in other units."""

import math
from dataclasses import replace
from fractions import Fraction

import pytest
from sizes import size
from tape_mounts import INCH, answers, seeded, tape_mount

from mountcalc.new.measurements import Measurements
from mountcalc.new.understanding import understood

SEEDS = range(size(60, 3))
GRID = {"inch": INCH / 16, "metric": 1e-3}


def told(said):
    found = understood(Measurements.of(said))
    assert found.contradictions == ()
    return found


def near(one, other, within):
    """Points that were measured; the plate's end goes as a lever with them."""
    assert one.keys() == other.keys()
    for name in one.keys() - {"plate_end"}:
        assert math.dist(one[name], other[name]) <= within, name


def test_in_a_mirror_left_and_right_change_and_nothing_else():
    for seed in SEEDS:
        mount = tape_mount(seed)
        one = told(answers(mount, "both", seeded(seed)))
        other = told(answers(mount.mirrored(), "both", seeded(seed)))
        mirrored = {name: (-x, y) for name, (x, y) in other.points.items()}
        # What lies in the middle of two marks of the rule is rounded to the even one.
        near(one.points, mirrored, GRID["inch"] * math.sqrt(2) + 1e-9)
        low, high = other.scenario.plate.travel
        assert one.scenario.plate.travel == pytest.approx((-high, -low))
        turn = math.pi - other.scenario.parts.plate.direction
        off = math.remainder(one.scenario.parts.plate.direction - turn, math.tau)
        assert abs(off) < math.radians(1)  # both by points that were rounded, as above


def test_where_floor_and_wall_are_changes_nothing():
    for seed in SEEDS:
        mount = tape_mount(seed)
        moved = replace(mount, floor=mount.floor + 5.25, wall=mount.wall + 7.5)
        one, other = (told(answers(each, "both", seeded(seed))) for each in (mount, moved))
        near(one.points, other.points, 1e-9)
        assert one.scenario.plate == other.scenario.plate
        assert one.scenario.adjuster == other.scenario.adjuster
        assert one.scenario.parts.base.floor - other.scenario.parts.base.floor == pytest.approx(
            5.25 * INCH, abs=INCH / 16
        )


def in_millimetres(text):
    number, _, unit = text.rpartition(" ")
    if unit != "in":
        return text
    inches = sum(Fraction(part) for part in number.split())
    return f"{float(inches * Fraction(254, 10)):.10g} mm"


def test_units_change_the_marks_of_the_rule_and_nothing_else():
    for seed in SEEDS:
        said = answers(tape_mount(seed), "both", seeded(seed)) | {"journal_length": "2 1/2 in"}
        metric = {key: in_millimetres(text) for key, text in said.items()} | {"units": "metric"}
        # The same readings in other units, then on another rule.
        near(told(said).points, told(metric | {"units": "inch"}).points, 1e-9)
        half = 0.5 * (GRID["inch"] + GRID["metric"])
        near(told(said).points, told(metric).points, half * math.sqrt(2) + 1e-9)

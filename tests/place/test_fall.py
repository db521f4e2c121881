"""What a plate does when the belt breaks, against energies and scans of the angle."""

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely
from search_grounds import GROUNDS, drawn, search_of
from sizes import size
from slow_shapes import outlines_of

from mountcalc.equilibrium.mount import Mount
from mountcalc.place.as_scenario import as_scenario
from mountcalc.place.feasible.fall import Rests, fall_of
from mountcalc.place.feasible.layouts import ACTIONS
from mountcalc.scenario.model import Acts
from mountcalc.scenario.search import Action

STEP = math.radians(0.05)
SET = 0.01  # plate angle at the set point, inside every travel that is drawn


def cases(search, count, seed):
    """Layouts one by one, with the ends of their travel."""
    layouts, ends = drawn(search, count, seed)
    for index in range(len(layouts)):
        one = layouts.take(slice(index, index + 1))
        yield one, (float(ends[0][index]), float(ends[1][index]))


def fallen(search, one, ends, angle=SET):
    outlines = outlines_of(one, 0, ends, search)
    return fall_of(search, one, ends, angle), outlines


class Slow:
    """The same mount as a scenario of its own, and everything by energies."""

    def __init__(self, search, one, ends):
        self.scenario = as_scenario(search.scenario, search.space, one, 0, ends)
        self.hinge = complex(*self.scenario.plate.hinge)

    def turned(self, point, angle):
        turn = complex(math.cos(angle), math.sin(angle))
        return self.hinge + (complex(*point) - self.hinge) * turn

    def energy(self, angle):
        motor, plate = self.scenario.motor, self.scenario.plate
        return (
            motor.weight * self.turned(motor.center_of_mass, angle).imag
            + plate.weight * self.turned(plate.center_of_mass, angle).imag
        )

    def downhill(self, angle):
        return -np.sign(self.energy(angle + 1e-6) - self.energy(angle - 1e-6))

    def carried(self, angle):
        """The adjuster carries the plate if going downhill is what it holds against."""
        extension = Mount.of(self.scenario).adjuster
        low, high = (float(extension(angle + at).extension) for at in (-1e-6, 1e-6))
        longer = np.sign(high - low) * self.downhill(angle) > 0
        return longer == (self.scenario.adjuster.acts is Acts.PULL)

    def apart(self, angle):
        driven, motor = self.scenario.driven, self.scenario.motor
        center = self.turned(motor.shaft, angle)
        radii = driven.pulley_radius + motor.pulley_radius
        return abs(center - complex(*driven.shaft)) - radii

    def scan(self, search, outlines, angle):
        """Go downhill in small steps until something is met or the energy is least."""
        way = self.downhill(angle)
        polygons = [shapely.Polygon(one.corners) for one in search.space.keep_outs]
        while True:
            after = angle + way * STEP
            if self.energy(after) >= self.energy(angle):
                return Rests.HANGING, angle
            if self.apart(after) <= 0:
                return Rests.PULLEYS, angle
            for name in set(outlines.on_plate) - {"wrench"} if polygons else ():
                part = shapely.union_all(outlines.part(name, after))
                if any(
                    part.intersects(polygon)
                    for polygon, keep_out in zip(polygons, search.space.keep_outs, strict=True)
                    if name in keep_out.parts
                ):
                    return Rests.KEEP_OUT, angle
            angle = after


# A motor that stands up to the left of the driven shaft may fall onto it.
MOTOR_ABOVE = {"motor_direction": (2.4, 2.7), "hinge_x": (-0.6, -0.4)}


@pytest.mark.parametrize(
    ("grounds", "changes", "ends_seen"),
    [
        ("", {}, {Rests.HANGING}),
        (GROUNDS, {}, {Rests.KEEP_OUT}),
        ("", MOTOR_ABOVE, {Rests.HANGING, Rests.PULLEYS}),
    ],
    ids=["free", "keep-outs", "motor above"],
)
def test_where_the_fall_ends(grounds, changes, ends_seen):
    search = search_of(grounds, acts=(Action.PUSH, Action.HOLD_BACK, Action.PULL), **changes)
    seen = set()
    for one, ends in cases(search, size(40, 20 if changes else 12), seed=3):
        fall, outlines = fallen(search, one, ends)
        slow = Slow(search, one, ends)
        if slow.carried(SET):
            assert (fall.rests, fall.angle, fall.drop) == (Rests.ADJUSTER, SET, 0.0)
            seen.add(fall.rests)
            continue
        rests, angle = slow.scan(search, outlines, SET)
        assert fall.rests is rests
        # The fast one stops a hair before contact, which is more of an angle where it grazes.
        assert fall.angle == pytest.approx(angle, abs=2 * STEP if rests is Rests.HANGING else 0.02)
        heights = [slow.turned(slow.scenario.motor.shaft, at).imag for at in (SET, fall.angle)]
        assert fall.drop == pytest.approx(heights[0] - heights[1], abs=1e-9)
        assert slow.energy(fall.angle) < slow.energy(SET) or fall.angle == SET
        assert (fall.against is not None) == (rests is Rests.KEEP_OUT)
        seen.add(rests)
    assert {Rests.ADJUSTER, *ends_seen} <= seen


def test_the_stop_is_just_beyond_the_travel_on_the_side_that_the_weight_drives_to():
    search, corners = search_of(), set()
    for one, ends in cases(search, size(30, 15), seed=4):
        fall, outlines = fallen(search, one, ends)
        slow = Slow(search, one, ends)
        way = slow.downhill(SET)
        stop = fall.stop
        assert stop is not None
        beyond = way * (stop.angle - max(ends, key=lambda at: way * at))
        assert beyond == pytest.approx(math.radians(1.0))
        point = shapely.Point(stop.at)
        # The plate touches it there, and is clear of it through the travel.
        assert shapely.union_all(outlines.part("plate", stop.angle)).distance(point) < 1e-9
        for angle in np.linspace(*ends, 9):
            assert shapely.union_all(outlines.part("plate", angle)).distance(point) > 1e-3
        arm = abs(complex(*stop.at) - one.hinge[0])
        # The corner of the end is in the face under the motor, or behind it, as the weight drives.
        left = (one.along.conj() * one.normal).imag[0]
        behind = 0.0 if way * left > 0 else search.space.plate_thickness
        corners.add(behind)
        assert arm == pytest.approx(math.hypot(float(one.plate_length[0]), behind))
        heights = [slow.turned(slow.scenario.motor.shaft, at).imag for at in (SET, stop.angle)]
        assert stop.drop == pytest.approx(heights[0] - heights[1], abs=1e-12)
    assert len(corners) == 2


def test_a_weight_right_over_or_under_the_hinge_falls_nowhere():
    search = search_of(acts=(Action.PUSH,))
    scenario = search.scenario
    weightless = replace(
        scenario,
        motor=replace(scenario.motor, weight=0.0),
        plate=replace(scenario.plate, weight=0.0),
    )
    for one, ends in cases(search, 3, seed=6):
        fall = fall_of(replace(search, scenario=weightless), one, ends, SET)
        assert (fall.rests, fall.angle, fall.drop, fall.stop) == (Rests.BALANCE, SET, 0.0, None)


def test_an_adjuster_that_pushes_where_the_other_pulls_carries_what_the_other_drops():
    search = search_of("", acts=(Action.PUSH, Action.PULL))
    for one, ends in cases(search, 10, seed=7):
        codes = [ACTIONS.index(act) for act in (Action.PUSH, Action.PULL)]
        rests = {
            fallen(search, replace(one, acts=np.array([code])), ends)[0].rests for code in codes
        }
        # The same axis, carrying compression only or tension only: one of them holds.
        assert len(rests) == 2
        assert Rests.ADJUSTER in rests

"""Layouts with their belts as mounts: where they are and what they carry at plate angles."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from mountcalc.equilibrium.mount import Mount
from mountcalc.linkage import kernels
from mountcalc.linkage.kernels import AdjusterState
from mountcalc.place.feasible.drives import Drives
from mountcalc.place.feasible.layouts import IN_BASE, IN_PLATE, KINDS, LINK, Layouts, Points
from mountcalc.record import Record
from mountcalc.requirements.held import Held
from mountcalc.scenario.hardware import Giving
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.search import SearchSpace
from mountcalc.structure.give import softness_of
from mountcalc.structure.made import plate_of
from mountcalc.structure.places import places_of
from mountcalc.structure.yielding import Levers, give_at_bolts

Array = NDArray[np.float64]

# Newton's steps for a bolt that has turned a little; four do where nothing is near a dead centre.
_MOST_STEPS = 30
# A miss [m] that the step which is taken with it leaves below any rounding.
_NEARLY = 1e-9


def adjusters_of(layouts: Layouts, link_length: float) -> Callable[[Array], AdjusterState]:
    """The adjusters of layouts as a function of plate angles, the layouts on its last axis."""
    kinds, found = np.unique(layouts.kind), []
    for code in kinds:
        which = slice(None) if len(kinds) == 1 else np.flatnonzero(layouts.kind == code)
        some = layouts.take(which)
        last = [some.tip - link_length * some.axis] if code == LINK else [some.axis, some.normal]
        columns = [part for at in (some.hinge, some.tip, *last) for part in _xy(at)]
        jack = kernels.jack_in_base if code == IN_BASE else kernels.jack_in_plate
        found.append((which, kernels.link if code == LINK else jack, columns))

    def adjusters(phi: Array) -> AdjusterState:
        values = np.empty((len(AdjusterState._fields), *phi.shape))
        for which, kernel, columns in found:
            values[..., which] = kernel(phi[..., which], *columns)
        return AdjusterState(*values)

    return adjusters


def compliance_of(statics: Statics) -> Array | float:
    """What plate, adjuster and what it bears on give under a newton [m/N], without a spring.

    From the parts each layout has its own.
    """
    scenario, space, every = statics.scenario, statics.space, statics.layouts
    told = scenario.adjuster.spring
    if told is not Giving.PARTS:
        return 0.0 if told in {None, Giving.RIGID} else 1.0 / float(told)
    board = replace(scenario.parts.plate, thickness=space.plate_thickness)
    if board.thickness != scenario.parts.plate.thickness:
        board = replace(board, layers=None)
    parts, found = replace(scenario.parts, plate=board), np.empty(len(every))
    pins = (0.0, 0.0), (space.link_length, 0.0)
    ways = np.stack([every.kind, every.thread])
    for kind, thread in np.unique(ways, axis=1).T:
        which = np.flatnonzero((ways == [[kind], [thread]]).all(axis=0))
        one, (base, pin) = every.take(which), pins if kind == LINK else (None, None)
        adjuster = replace(
            scenario.adjuster,
            kind=KINDS[kind],
            thread=space.threads[thread],
            base_pin=base,
            plate_pin=pin,
        )
        mount = replace(scenario, parts=parts, adjuster=adjuster)
        plate = plate_of(mount)
        assert plate is not None, "the rules ask for a board"
        softness, base_way = softness_of(mount, plate), scenario.parts.base.direction
        if base_way is not None:
            softness = replace(softness, base=one.side * (base_way - np.angle(one.along)))
        push = np.where(one.kind == IN_PLATE, -one.ahead, one.ahead)
        pull = (complex(*scenario.driven.shaft) - one.motor) * np.conj(one.along)
        places = places_of(mount)
        levers = Levers(
            (one.foot, one.motor_height),
            (one.reach, one.offset),
            (0.0, push),
            plate.thickness,
            places,
        )
        given = give_at_bolts(levers, softness, (pull.real, one.side * pull.imag), places.pulley)
        found[which] = given.total
    return found


def _xy(points: Points) -> tuple[Array, Array]:
    return points.real.copy(), points.imag.copy()


class Statics(Record):
    """Layouts of one search as mounts; all plate angles [rad] have the layouts on the last axis.

    ``scenario`` is the mount that the search starts from, ``space`` what it may try; ``drives`` are
    the layouts' belts.
    """

    scenario: Scenario
    space: SearchSpace
    layouts: Layouts
    drives: Drives

    def take(self, which: NDArray[np.intp]) -> Statics:
        """Those of some layouts."""
        return replace(self, layouts=self.layouts.take(which), drives=self.drives.of(which))

    @cached_property
    def held(self) -> Held:
        """All of them as held mounts, whatever their adjusters."""
        drives = self.drives
        return Held(
            self._mount,
            drives.count,
            drives.pull,
            drives.centrifugal,
            drives.snug,
            self.layouts.tightens,
        )

    @cached_property
    def _mount(self) -> Mount:
        """All of them as one mount of arrays.

        The plate's centre of mass is in the middle of its wood, whose weight the scenario has for
        the longest; the motor's keeps its place by the shaft.
        """
        scenario, space, one = self.scenario, self.space, self.layouts
        of_motor = complex(*scenario.motor.center_of_mass) - complex(*scenario.motor.shaft)
        of_plate = (0.5 * one.plate_length + 1j * one.side * space.plate_middle) * one.along
        return replace(
            Mount.of(scenario),
            stiffness=self.drives.stiffness,
            length=self.drives.length,
            hinge=(one.hinge_x, one.hinge_y),
            motor_shaft=(one.motor_x, one.motor_y),
            motor_center=_xy(one.motor + of_motor),
            plate_center=_xy(one.hinge + of_plate),
            plate_weight=scenario.plate.weight * one.plate_length / space.plate_length,
        )

    @cached_property
    def adjuster(self) -> Callable[[Array], AdjusterState]:
        """The adjusters at plate angles."""
        return adjusters_of(self.layouts, self.space.link_length)

    @property
    def carries(self) -> Array:
        """Sign of the axial force that each adjuster carries: +1 in compression, -1 in tension."""
        return np.where(self.layouts.pulls, -1.0, 1.0)

    def angle_after(self, start: Array, extension: Array) -> Array:
        """Plate angle at which the adjuster has an extension [m], near a known angle."""
        phi = np.array(np.broadcast_to(start, extension.shape))
        moving = np.ones(phi.shape, dtype=bool)
        for _ in range(_MOST_STEPS):
            at = self.adjuster(phi)
            miss = at.extension - extension
            # What has settled stays, whatever else is in the same block.
            phi = np.where(moving, phi - miss / at.extension_slope, phi)
            moving &= ~(np.abs(miss) <= _NEARLY)
            if not np.any(moving):
                break
        return np.where(moving, np.nan, phi)

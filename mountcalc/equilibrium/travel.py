"""The part of the travel that can be used, and where in it the belt becomes snug.

Between dead centres the belt's path and the adjuster's extension are monotonic in the plate
angle, so that every turn has one plate angle. The usable travel is the one such stretch in
which the belt becomes snug; the rest is cut off with a note.
"""

from __future__ import annotations

import math
from enum import StrEnum
from functools import partial
from itertools import pairwise
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.roots import bracketed_roots, roots_between_nodes
from mountcalc.errors import MountError
from mountcalc.record import Record
from mountcalc.scenario.clashes import SwappedPoint, clashes, swapped_points
from mountcalc.scenario.model import AdjusterKind
from mountcalc.scenario.text.writing import Display
from mountcalc.units import si_factor

Array = NDArray[np.float64]

# Cosine of the steepest angle between a jack's axis and the normal of its face: past it the
# tip runs along the face instead of lifting it.
LEAST_BITE = 0.05

_NODES = 1025
# An angle, length or slope smaller than this share of its scale is rounding.
_ROUNDING = 1e-11
# A belt that misses by more of its length was not chosen for these points.
_NO_BELT = 0.05
# A swing [rad] that no hand can make.
_NO_SWING = 1e-5


class EndReason(StrEnum):
    """Why the usable travel ends; the text continues "... where"."""

    STOP = "the travel ends"
    OVERLAP = "the pulleys touch"
    BELT_DEAD_CENTRE = "hinge, motor shaft and driven shaft are in line (dead centre of the belt)"
    ADJUSTER_DEAD_CENTRE = "the adjuster has no lever on the hinge (dead centre of the adjuster)"
    GRAZING = "the adjuster's tip would run along the face instead of lifting it"


class End(Record):
    """One end of the usable travel: plate angle [rad] and why it ends there."""

    angle: float
    reason: EndReason

    @property
    def is_dead(self) -> bool:
        """Whether the mount could go on but no longer do its job."""
        return self.reason not in (EndReason.STOP, EndReason.OVERLAP)


class Travel(Record):
    """The usable travel.

    ``snug`` [rad] lies in it; ``tightens`` is the sign of dL/dphi in it and ``extends`` the
    sign of ds/dphi (0 without an adjuster).
    """

    low: End
    high: End
    snug: float
    tightens: int
    extends: int
    notes: tuple[str, ...]

    @property
    def tight_end(self) -> End:
        """The end at which the belt is tightest."""
        return self.high if self.tightens > 0 else self.low

    @property
    def slack_end(self) -> End:
        """The end at which it is slackest."""
        return self.low if self.tightens > 0 else self.high

    @property
    def tight_angle(self) -> float:
        """Plate angle there [rad]; of many mounts, whose numbers are arrays, one for each."""
        if np.ndim(self.tightens) == 0:
            return self.tight_end.angle
        ends: tuple[Any, Any] = self.high.angle, self.low.angle
        return np.where(np.asarray(self.tightens) > 0, *ends)  # type: ignore[no-any-return]

    @property
    def turn_sign(self) -> int:
        """+1 where a longer adjuster tightens the belt, -1 where a shorter one does."""
        return self.tightens * self.extends


def usable_travel(mount: Mount) -> Travel:
    """Find the stretch of a mount's travel between dead centres in which the belt becomes snug.

    The one that holds the position as drawn if there are several. MountError where swinging the
    plate never changes the belt, or the belt cannot become snug.
    """
    nodes = travel_nodes(mount)
    _refuse_idle_swing(mount, nodes)
    stretches, found = _snug_stretches(mount, nodes)
    if not stretches:
        raise mount.error(
            "plate.travel",
            "nowhere in the travel are the pulleys clear of each other and the adjuster "
            "able to move the plate; move the hinge or widen the travel",
        )
    if not found:
        raise _never_snug(mount, stretches, nodes)
    # How far the position as drawn lies outside a stretch, then how far its snug is from it.
    start, end, snug = min(
        found, key=lambda one: (max(one[0].angle, -one[1].angle, 0.0), abs(one[2]))
    )
    middle = np.asarray(0.5 * (start.angle + end.angle))
    extends = int(np.sign(mount.adjuster(middle).extension_slope)) if mount.has_adjuster else 0
    travel = Travel(
        start,
        end,
        snug,
        tightens=int(np.sign(mount.path(middle).length_slope)),
        extends=extends,
        notes=tuple(_clip_notes(start, end, len(found))),
    )
    end = travel.tight_end
    if end.is_dead and abs(end.angle - snug) < _NO_SWING:
        raise mount.error(
            belt_key(mount),
            f"the belt becomes snug only at a plate angle of {math.degrees(end.angle):.2f} deg, "
            f"where {end.reason.value}: it cannot be tightened from there; take a shorter belt, or "
            "move the hinge",
        )
    return travel


def travel_nodes(mount: Mount) -> Array:
    """Plate angles at which the travel is sampled [rad]."""
    return np.linspace(*mount.scenario.plate.travel, _NODES)


def _snug_stretches(
    mount: Mount, nodes: Array
) -> tuple[list[tuple[End, End]], list[tuple[End, End, float]]]:
    """The stretches that can be used, and those of them in which the belt becomes snug."""
    ends = [End(float(nodes[0]), EndReason.STOP), End(float(nodes[-1]), EndReason.STOP)]
    for reason, values in limits(mount, nodes).items():
        at = partial(_limit, mount, reason)
        ends += [End(float(root), reason) for root in roots_between_nodes(at, nodes, values)]
    ends.sort(key=lambda end: end.angle)
    width = _ROUNDING * max(1.0, float(nodes[-1] - nodes[0]))
    stretches = []
    for start, end in pairwise(ends):
        middle = limits(mount, np.asarray(0.5 * (start.angle + end.angle)))
        clear = (middle.get(one, 1.0) > 0 for one in (EndReason.OVERLAP, EndReason.GRAZING))
        if end.angle - start.angle > width and all(clear):
            stretches.append((start, end))
    found = [
        (start, end, snug)
        for start, end in stretches
        if (snug := _snug(mount, start, end)) is not None
    ]
    return stretches, found


def belt_key(mount: Mount) -> str:
    """Key that gives the belt's length in the scenario."""
    return "belt.length" if mount.scenario.belt.designation is None else "belt.designation"


def _refuse_idle_swing(mount: Mount, nodes: Array) -> None:
    """A hinge on either shaft leaves a path (or an extension) that swinging does not change."""
    path = mount.path(nodes)
    apart = path.span_squared > 0
    if not np.any(np.abs(path.length_slope[apart]) > _ROUNDING * path.center_distance[apart]):
        if not np.any(apart):
            return
        raise mount.error(
            "plate.hinge",
            "swinging the plate does not change the belt's path, because the hinge is on the motor "
            "shaft or on the driven shaft; move the hinge",
        )
    if mount.has_adjuster:
        slope = mount.adjuster(nodes).extension_slope
        if not np.any(np.abs(slope) > _ROUNDING * np.max(path.center_distance)):
            raise mount.error(
                "adjuster",
                "turning it does not swing the plate, because its line passes through the hinge; "
                "move it away from the hinge",
            )


def limits(mount: Mount, phi: Array) -> dict[EndReason, Array]:
    """What changes sign where the usable travel ends, at plate angles ``phi`` [rad]."""
    path = mount.path(phi)
    radii = mount.scenario.motor.pulley_radius + mount.scenario.driven.pulley_radius
    found = {
        EndReason.OVERLAP: path.center_distance - radii,
        EndReason.BELT_DEAD_CENTRE: path.length_slope,
    }
    if mount.has_adjuster:
        adjuster = mount.adjuster(phi)
        found[EndReason.ADJUSTER_DEAD_CENTRE] = adjuster.extension_slope
        if mount.scenario.adjuster.kind is not AdjusterKind.LINK:
            found[EndReason.GRAZING] = np.abs(adjuster.bite) - LEAST_BITE
    return found


def _limit(mount: Mount, reason: EndReason, phi: Array) -> Array:
    return limits(mount, phi)[reason]


def _snug(mount: Mount, start: End, end: End) -> float | None:
    """Plate angle at which the path equals the free length, or None."""
    free = mount.scenario.belt.length
    ends = np.array([start.angle, end.angle])
    excess = mount.path(ends).length - free
    at_end = np.abs(excess) <= _ROUNDING * free
    if np.any(at_end):
        return float(ends[int(np.argmax(at_end))])
    if not excess[0] * excess[1] < 0:
        return None
    return float(bracketed_roots(lambda phi: mount.path(phi).length - free, ends[:1], ends[1:])[0])


def _never_snug(mount: Mount, stretches: list[tuple[End, End]], nodes: Array) -> MountError:
    """Say how far the belt is off, or which point makes a good mount with x and y swapped."""
    ends = np.array([end.angle for stretch in stretches for end in stretch])
    paths = mount.path(ends).length
    free = mount.scenario.belt.length
    if free > np.max(paths):
        nearest, word, end = int(np.argmax(paths)), "long", "longest"
        remedy = "take a shorter belt, or let the plate open further"
    else:
        nearest, word, end = int(np.argmin(paths)), "short", "shortest"
        remedy = "take a longer belt, or let the plate close further"
    belt = mount.scenario.belt
    named = "" if belt.designation is None else f" {belt.designation}, {_length(mount, free)}"
    path, angle = float(paths[nearest]), math.degrees(float(ends[nearest]))
    off = f"{_length(mount, abs(free - path))} too {word} to become snug inside the travel"
    doubtful = abs(free - path) > _NO_BELT * free or bool(clashes(mount.scenario))
    slip = _swapped(mount, nodes) if doubtful else None
    if slip is not None:
        return mount.error(
            slip.key,
            f"x and y look swapped: with {slip.typed} the belt{named} becomes snug; "
            f"as typed it is {off}",
        )
    return mount.error(
        belt_key(mount),
        f"the belt{named} is {off}; the {end} path there, at a plate angle of "
        f"{angle:.2f} deg, is {_length(mount, path)}: {remedy} (mountcalc belts tells which would "
        "fit)",
    )


def _swapped(mount: Mount, nodes: Array) -> SwappedPoint | None:
    """The point that makes a good mount with x and y swapped: a snug belt, and nothing clashes."""
    for point in swapped_points(mount.scenario):
        if not clashes(point.scenario) and _snug_stretches(Mount.of(point.scenario), nodes)[1]:
            return point
    return None


def _length(mount: Mount, length: float) -> str:
    """A length in both units, the scenario's first."""
    units = [f"{length / si_factor('in'):.2f} in", f"{length / si_factor('mm'):.1f} mm"]
    first, second = units if mount.scenario.display is Display.INCH else units[::-1]
    return f"{first} ({second})"


def _clip_notes(start: End, end: End, stretches: int) -> list[str]:
    notes = [
        f"The travel is used only {side} {math.degrees(edge.angle):.2f} deg of plate angle: "
        f"there {edge.reason.value}."
        for edge, side in ((start, "from"), (end, "up to"))
        if edge.reason is not EndReason.STOP
    ]
    if stretches > 1:
        notes.append(
            "The belt becomes snug on both sides of a dead centre; the side nearest to the drawing "
            "is used."
        )
    return notes

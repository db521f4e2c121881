"""The part of the travel that can be used, and where in it the belt becomes snug.

Between dead centres the belt's path and the adjuster's extension are monotonic in the plate
angle, so that every turn has one plate angle. The usable travel is the one such stretch in
which the belt becomes snug; the rest is cut off with a note.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.roots import bracketed_roots, roots_between_nodes
from mountcalc.errors import MountError
from mountcalc.scenario.clashes import SwappedPoint, clashes, swapped_points
from mountcalc.scenario.model import AdjusterKind, Display
from mountcalc.units import si_factor

__all__ = [
    "LEAST_BITE",
    "End",
    "EndReason",
    "Travel",
    "belt_key",
    "limits",
    "travel_nodes",
    "usable_travel",
]

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


@dataclass(frozen=True, slots=True)
class End:
    """One end of the usable travel: plate angle [rad] and why it ends there."""

    angle: float
    reason: EndReason

    @property
    def is_dead(self) -> bool:
        """Whether the mount could go on but no longer do its job."""
        return self.reason not in (EndReason.STOP, EndReason.OVERLAP)


@dataclass(frozen=True, slots=True)
class Travel:
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
    """Find the usable travel of a mount.

    Parameters
    ----------
    mount : Mount
        The mount.

    Returns
    -------
    Travel
        The stretch between dead centres in which the belt becomes snug: the one that holds
        the position as drawn if there are several.

    Raises
    ------
    MountError
        Where swinging the plate never changes the belt, or the belt cannot become snug.
    """
    nodes = travel_nodes(mount)
    _refuse_idle_swing(mount, nodes)
    stretches, found = _snug_stretches(mount, nodes)
    if not stretches:
        raise MountError(
            mount.scenario.source,
            "plate.travel",
            "nowhere in the travel are the pulleys clear of each other and the adjuster "
            "able to move the plate; move the hinge or widen the travel",
        )
    if not found:
        raise _never_snug(mount, stretches, nodes)
    start, end, snug = min(found, key=lambda one: _distance_from_drawn(*one))
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
    _refuse_snug_at_dead_centre(mount, travel)
    return travel


def travel_nodes(mount: Mount) -> Array:
    """Plate angles at which the travel is sampled [rad].

    Parameters
    ----------
    mount : Mount
        The mount.
    """
    return np.linspace(*mount.scenario.plate.travel, _NODES)


def _snug_stretches(
    mount: Mount, nodes: Array
) -> tuple[list[tuple[End, End]], list[tuple[End, End, float]]]:
    """The stretches that can be used, and those of them in which the belt becomes snug."""
    stretches = [
        (start, end)
        for start, end in _stretches(mount, nodes)
        if _is_possible(mount, 0.5 * (start.angle + end.angle))
    ]
    found = [
        (start, end, snug)
        for start, end in stretches
        if (snug := _snug(mount, start, end)) is not None
    ]
    return stretches, found


def _refuse_snug_at_dead_centre(mount: Mount, travel: Travel) -> None:
    """A belt that is snug only where the mount is at its dead centre cannot be tightened."""
    end = travel.tight_end
    if end.is_dead and abs(end.angle - travel.snug) < _NO_SWING:
        raise MountError(
            mount.scenario.source,
            belt_key(mount),
            f"the belt becomes snug only at a plate angle of {math.degrees(end.angle):.2f} deg, "
            f"where {end.reason.value}: it cannot be tightened from there; take a shorter belt, or "
            "move the hinge",
        )


def belt_key(mount: Mount) -> str:
    """Key that gives the belt's length in the scenario.

    Parameters
    ----------
    mount : Mount
        The mount.
    """
    return "belt.length" if mount.scenario.belt.designation is None else "belt.designation"


def _refuse_idle_swing(mount: Mount, nodes: Array) -> None:
    """A hinge on either shaft leaves a path (or an extension) that swinging does not change."""
    path = mount.path(nodes)
    apart = path.span_squared > 0
    if not np.any(np.abs(path.length_slope[apart]) > _ROUNDING * path.center_distance[apart]):
        if not np.any(apart):
            return
        raise MountError(
            mount.scenario.source,
            "plate.hinge",
            "swinging the plate does not change the belt's path, because the hinge is on the motor "
            "shaft or on the driven shaft; move the hinge",
        )
    if mount.has_adjuster:
        slope = mount.adjuster(nodes).extension_slope
        if not np.any(np.abs(slope) > _ROUNDING * np.max(path.center_distance)):
            raise MountError(
                mount.scenario.source,
                "adjuster",
                "turning it does not swing the plate, because its line passes through the hinge; "
                "move it away from the hinge",
            )


def limits(mount: Mount, phi: Array) -> dict[EndReason, Array]:
    """What changes sign where the usable travel ends.

    Parameters
    ----------
    mount : Mount
        The mount.
    phi : ndarray [rad]
        Plate angles.
    """
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


def _limit(mount: Mount, reason: EndReason) -> Callable[[Array], Array]:
    return lambda phi: limits(mount, phi)[reason]


def _is_possible(mount: Mount, phi: float) -> bool:
    found = limits(mount, np.asarray(phi))
    return all(
        found[reason] > 0 for reason in (EndReason.OVERLAP, EndReason.GRAZING) if reason in found
    )


def _stretches(mount: Mount, nodes: Array) -> list[tuple[End, End]]:
    """The travel cut at every dead centre and limit."""
    ends = [End(float(nodes[0]), EndReason.STOP), End(float(nodes[-1]), EndReason.STOP)]
    for reason, values in limits(mount, nodes).items():
        roots = roots_between_nodes(_limit(mount, reason), nodes, values)
        ends += [End(float(root), reason) for root in roots]
    ends.sort(key=lambda end: end.angle)
    width = _ROUNDING * max(1.0, float(nodes[-1] - nodes[0]))
    return [(start, end) for start, end in pairwise(ends) if end.angle - start.angle > width]


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


def _distance_from_drawn(start: End, end: End, snug: float) -> tuple[float, float]:
    """How far the position as drawn lies outside a stretch, then how far its snug is from it."""
    return max(start.angle, -end.angle, 0.0), abs(snug)


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
    path, angle = float(paths[nearest]), math.degrees(float(ends[nearest]))
    off = f"{_length(mount, abs(free - path))} too {word} to become snug inside the travel"
    doubtful = abs(free - path) > _NO_BELT * free or bool(clashes(mount.scenario))
    slip = _swapped(mount, nodes) if doubtful else None
    if slip is not None:
        return MountError(
            mount.scenario.source,
            slip.key,
            f"x and y look swapped: with {slip.typed} the belt{_named(mount)} becomes snug; "
            f"as typed it is {off}",
        )
    return MountError(
        mount.scenario.source,
        belt_key(mount),
        f"the belt{_named(mount)} is {off}; the {end} path there, at a plate angle of "
        f"{angle:.2f} deg, is {_length(mount, path)}: {remedy} (mountcalc belts tells which would "
        "fit)",
    )


def _swapped(mount: Mount, nodes: Array) -> SwappedPoint | None:
    """The point that makes a good mount with x and y swapped: a snug belt, and nothing clashes."""
    for point in swapped_points(mount.scenario):
        if not clashes(point.scenario) and _snug_stretches(Mount.of(point.scenario), nodes)[1]:
            return point
    return None


def _named(mount: Mount) -> str:
    """The belt's name and pitch length, where it was given by its name."""
    belt = mount.scenario.belt
    return "" if belt.designation is None else f" {belt.designation}, {_length(mount, belt.length)}"


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

"""Where the guard's panel stands between what is behind it and the pulleys in front of it."""

from __future__ import annotations

from dataclasses import dataclass

from mountcalc.draw.along.stack import AlongStack
from mountcalc.handbook.rows import datum, load

__all__ = ["Gap", "PanelPlace", "gap_of", "least_air", "panel_place"]

_ROUNDING = 1e-9  # [m]


@dataclass(frozen=True, slots=True)
class Gap:
    """Room for the panel along the shafts [m], counted outward; its width is below zero for none.

    ``behind`` and ``before`` name what bounds it.
    """

    back: float
    front: float
    behind: str
    before: str

    @property
    def width(self) -> float:
        """From what is behind to what is before it [m]."""
        return self.front - self.back


@dataclass(frozen=True, slots=True)
class PanelPlace:
    """Where the panel stands [m], counted outward.

    Attributes
    ----------
    back, front : float [m]
        The panel's faces.
    air_behind, air_before : float [m]
        To what is behind and before it; below zero where they meet.
    spacer : float or None [m]
        From the bearing's face to the panel's back; None without a bearing behind the pulley,
        below zero where the panel would have to stand behind that face.
    fits : bool
        Whether both have the least air.
    """

    back: float
    front: float
    air_behind: float
    air_before: float
    spacer: float | None
    fits: bool


def least_air() -> float:
    """Least air [m] between the panel and what turns or stands next to it (estimate)."""
    return datum("along_shafts", load("along_shafts")["panel"]["least_air"]).value


def gap_of(stack: AlongStack) -> Gap | None:
    """The room that there is for the panel."""
    behind: list[tuple[float, str]] = []
    if stack.motor_face is not None:
        behind.append((stack.motor_face, "the motor's face"))
    if (bearing := stack.bearing_behind) is not None:
        behind.append((bearing.front, bearing.name))
    before = [
        (pulley.back, pulley.name)
        for pulley in (stack.motor_pulley, stack.driven_pulley)
        if pulley is not None
    ]
    if not behind or not before:
        return None
    (back, back_name), (front, front_name) = max(behind), min(before)
    return Gap(back, front, back_name, front_name)


def panel_place(
    stack: AlongStack, gap: Gap, thickness: float, middle: float | None = None
) -> PanelPlace:
    """Put the panel into its gap."""
    at = 0.5 * (gap.back + gap.front) if middle is None else middle
    back, front = at - 0.5 * thickness, at + 0.5 * thickness
    air_behind, air_before = back - gap.back, gap.front - front
    bearing = stack.bearing_behind
    return PanelPlace(
        back=back,
        front=front,
        air_behind=air_behind,
        air_before=air_before,
        spacer=None if bearing is None else back - bearing.front,
        fits=min(air_behind, air_before) >= least_air() - _ROUNDING,
    )

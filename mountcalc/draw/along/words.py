"""The view along the shafts in words: how far everything is from the datum."""

from __future__ import annotations

from mountcalc.drafting.dimensions import SAME
from mountcalc.drafting.told import Told
from mountcalc.draw.along.parts import AlongParts
from mountcalc.draw.along.stack import AlongStack
from mountcalc.pages.bench_lengths import bench_length

__all__ = ["tell_distances"]


def tell_distances(told: Told, parts: AlongParts, stack: AlongStack | None) -> None:
    """Say where everything is that the view dimensions along the shafts."""
    places: dict[str, list[float]] = {}
    outward = 1 if stack is None else stack.outward
    for name, (across, _) in (*parts.driven_points, *parts.motor_points):
        places.setdefault(name, []).append(outward * (across - parts.datum[0]))
    datum, ways = _reference(stack)
    for way, side in zip(ways, (1, -1), strict=True):
        there = [
            _written(told, name, [side * at for at in found])
            for name, found in places.items()
            if max(side * at for at in found) > SAME
        ]
        if there:
            told.note(f"From {datum}, {way}: {'; '.join(there)}.")
    level = [name for name, found in places.items() if max(map(abs, found)) <= SAME]
    others = [name for name in level if name != datum.removeprefix("the ")]
    if others:
        told.note(f"In one plane with {datum}: {'; '.join(others)}.")


def _reference(stack: AlongStack | None) -> tuple[str, tuple[str, str]]:
    """The datum's name, and those of the two ways from it."""
    if stack is None:
        return "the middle of the driven pulley", ("as positions grow", "as positions fall")
    bearing = stack.bearing_behind
    if bearing is None:
        ways = "to the front, where the motor's shaft points", "to the back"
        return "the middle of the driven pulley", ways
    return f"the face of {bearing.name}", ("towards the pulleys", "away from them")


def _written(told: Told, name: str, distances: list[float]) -> str:
    """What is told of one thing: where it is, or from where to where."""
    near, far = min(distances), max(distances)
    # As the dimensions have them, by which they are found again.
    first, last = (bench_length(one, told.display) for one in (max(near, 0.0), far))
    if far - near <= SAME:
        return f"{name} {last}"
    if near < -SAME:  # it reaches past the datum
        return f"{name} up to {last}"
    return f"{name} {first} to {last}"

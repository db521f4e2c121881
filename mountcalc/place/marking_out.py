"""How the best layout is marked out: distances from the driven shaft and along the plate."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from fractions import Fraction

from mountcalc.pages.amounts import spelled
from mountcalc.pages.page import bullets
from mountcalc.place.placed_parts import PlacedParts, block_room, face_wanted
from mountcalc.place.results import PlacedLayout
from mountcalc.scenario.model import AdjusterKind, Scenario
from mountcalc.scenario.search import Action, Search
from mountcalc.scenario.text.writing import Display, Vector
from mountcalc.thresholds import MARKED
from mountcalc.units import si_factor

_SIXTEENTHS = 16
_LEAST_BLOCK = 0.025  # [m] thread for a nut on both sides of a thin block (estimate)
_DRIVEN = "the driven shaft"
_DOES = {
    Action.PUSH: "pushes the plate the way that tightens the belt",
    Action.PULL: "pulls the plate the way that tightens the belt",
    Action.HOLD_BACK: "holds back the plate, which its weight would tighten",
}
_TIE = "\xa0"
_BEFORE_TIE = re.compile(r"(?<=\d) (?=\d+/\d|(?:in|mm|deg|lbf|N)\b)")


def on_rule(value: float, display: Display, *, unit: bool = True) -> str:
    """A distance to the nearest mark of a rule: 1/16 in as a mixed fraction, or 1 mm."""
    name = "in" if display is Display.INCH else "mm"
    steps = _SIXTEENTHS if display is Display.INCH else 1
    exact = Fraction(round(value / si_factor(name) * steps), steps)
    return f"{'-' if exact < 0 else ''}{spelled(abs(exact))}{' ' + name if unit else ''}"


def tied(text: str) -> str:
    """A text whose mixed fractions and units no end of a line will part from their numbers."""
    return _BEFORE_TIE.sub(_TIE, text)


def untied(text: str) -> str:
    """A text that has its ends of lines, with ordinary blanks again."""
    return text.replace(_TIE, " ")


def beside(point: Vector, origin: Vector, display: Display, of: str) -> str:
    """Where a point is, seen from another one, in words instead of signs."""
    right, up = point[0] - origin[0], point[1] - origin[1]
    across = f"{on_rule(abs(right), display)} {'right' if right > 0 else 'left'} of {of}"
    along = f"{on_rule(abs(up), display)} {'above' if up > 0 else 'below'}"
    if abs(right) < MARKED and abs(up) < MARKED:
        return f"at {of}"
    if abs(right) < MARKED:
        return f"straight {along} {of}"
    if abs(up) < MARKED:
        return f"{across}, level with it"
    return f"{across} and {along} it"


def turned(angle: float) -> str:
    """A plate angle in words."""
    degrees = f"{abs(math.degrees(angle)):.2f}"
    if float(degrees) == 0:
        return "as drawn"
    return f"{degrees} deg {'counter-clockwise' if angle > 0 else 'clockwise'}"


def marking_out(search: Search, layout: PlacedLayout, mount: Scenario) -> str:
    """Where everything goes, in the order in which it is marked out."""
    display, driven = search.scenario.display, search.scenario.driven.shaft
    parts, half = PlacedParts.of(layout, mount, search.space), 0.5 * search.space.motor_feet
    rule = "to the nearest 1/16 in" if display is Display.INCH else "to the nearest mm"
    end = beside(parts.on_plate(layout.plate_length, 0.0), layout.hinge, display, "the hinge")
    low, high = layout.motor_foot - half, on_rule(layout.motor_foot + half, display)
    start = on_rule(low, display) if low >= 0 else f"{on_rule(-low, display)} behind the hinge"
    lines = [
        f"Face the motor's pulley. Measure to the middles of shafts, hinge and pins, all as drawn, "
        f"{rule}.",
        f"Hinge: {beside(layout.hinge, driven, display, _DRIVEN)}.",
        f"Plate: {on_rule(layout.plate_length, display)} long from the hinge, "
        f"{on_rule(search.space.plate_thickness, display)} thick. The hinge's pin lies in the face "
        f"that the motor stands on; the far end of that face is {end}.",
        f"Motor: {beside(layout.motor, driven, display, _DRIVEN)}. Its shaft is "
        f"{on_rule(layout.motor_height, display)} from the plate's face, square to it, "
        f"{'above' if layout.motor_side == 'above' else 'below'} the plate (pack up its feet where "
        f"its own shaft height is less), over a point {on_rule(layout.motor_foot, display)} from "
        f"the hinge: the feet reach from {start} to {high} along the plate.",
        _bolt(search, parts),
        *_fixed(parts, display),
    ]
    if layout.nearest is not None and layout.clearance is not None:
        lines.append(f"Nearest: {layout.nearest}, {on_rule(layout.clearance, display)} clear.")
    return untied(bullets(map(tied, lines)))


def _fixed(parts: PlacedParts, display: Display) -> Iterator[str]:
    """Where the bolt's block may stand, or how long the face must be that the bolt bears on."""
    driven = parts.scenario.driven.shaft
    block, face = block_room(parts), face_wanted(parts)
    span = block if face is None else face
    if span is None:
        return
    start, end = (beside(one, driven, display, _DRIVEN) for one in (span.start, span.end))
    length = on_rule(span.length, display)
    if face is not None:
        yield (
            f"Face: over the whole travel the tip slides {length} on it, from {start}, to {end}; "
            "make it longer by the tip's own width."
        )
    elif span.length <= MARKED:
        yield (
            "Block: nowhere is the bolt outside both plate and head over the whole travel: take a "
            "longer bolt_length."
        )
    else:
        least = on_rule(_LEAST_BLOCK, display)
        more = f" That is less than {least}: a longer bolt_length leaves more."
        yield (
            f"Block: it has {length} along the bolt, between head and plate over the whole travel, "
            f"for itself, its nuts and their clearance: from {start}, to {end}."
            f"{more if span.length < _LEAST_BLOCK else ''}"
        )


def _bolt(search: Search, parts: PlacedParts) -> str:
    """Bolt or link: where it bears or is pinned, which way it points, what it does."""
    layout, adjuster = parts.placed, parts.scenario.adjuster
    display, driven = search.scenario.display, search.scenario.driven.shaft
    at = beside(layout.tip, driven, display, _DRIVEN)
    along = f"{on_rule(layout.reach, display)} from the hinge along the plate"
    along += _across(parts, display)
    does = _DOES[Action(layout.acts)]
    if adjuster.kind is AdjusterKind.LINK:
        assert adjuster.base_pin is not None
        return (
            f"Link: its pin in the plate is {along}, {at}; its pin in the base is "
            f"{beside(adjuster.base_pin, driven, display, _DRIVEN)}, "
            f"{on_rule(search.space.link_length, display)} from the other as drawn, square to the "
            f"plate. It {does}."
        )
    assert adjuster.axis is not None
    way = _way(adjuster.axis)
    how = f"it goes through a fixed block, square to the plate as drawn, and comes out {way}"
    if adjuster.kind is AdjusterKind.JACK_IN_PLATE:
        how = (
            f"it goes through the plate, square to it, and its tip comes out {way} against a "
            "fixed face that is parallel to the plate as drawn"
        )
    return (
        f"Bolt: {layout.thread}; its tip bears {along}, {at}; {how}. It {does}; its head is "
        f"{on_rule(search.space.bolt_length, display)} from the tip as drawn."
    )


def _across(parts: PlacedParts, display: Display) -> str:
    """Where square to the plate the adjuster bears, as "... along the plate" goes on."""
    offset = parts.offset
    if abs(offset - parts.space.plate_face) < MARKED:
        level = ", level with" if parts.kind is AdjusterKind.LINK else " on"
        return f"{level} its face on the motor's side"
    if abs(offset - parts.space.plate_back) < MARKED:
        return " on its back, away from the motor"
    side = "out of the face" if offset > 0 else "behind the face"
    return f" and {on_rule(abs(offset), display)} {side} that the motor stands on"


def _way(axis: float) -> str:
    """A direction in words, as a slope that can be laid out with a square."""
    across, up = math.cos(axis), math.sin(axis)
    side, rise = "right" if across > 0 else "left", "up" if up > 0 else "down"
    small, large = sorted((abs(across), abs(up)))
    is_steep = abs(up) > abs(across)
    if small < 0.01:  # noqa: PLR2004  # half a degree: straight
        return f"straight {rise}" if is_steep else f"straight to the {side}"
    slope = f"{10 * small / large:.1f}".removesuffix(".0")
    if is_steep:
        return f"{rise} and to the {side}, {slope} across for every 10 {rise}"
    return f"to the {side} and {rise}, {slope} {rise} for every 10 across"

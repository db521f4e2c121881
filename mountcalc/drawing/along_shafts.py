"""The mount seen square to the shafts: what stands where along them."""

from __future__ import annotations

import math
from functools import partial

from mountcalc.drawing.alignment_words import tell_alignment
from mountcalc.drawing.along_parts import AlongParts, along_parts
from mountcalc.drawing.along_stack import AlongStack, along_stack
from mountcalc.drawing.base_height import base_height, hinge_height
from mountcalc.drawing.base_words import base_words
from mountcalc.drawing.baselines import Baseline, Run, baselines
from mountcalc.drawing.callouts import callouts
from mountcalc.drawing.layout_scale import fits_sheet, settled
from mountcalc.drawing.model import TEXT_HEIGHT, Drawing, Item, Point
from mountcalc.drawing.panel_words import tell_panel, tell_strip
from mountcalc.drawing.reminders import reminders, view_caution
from mountcalc.drawing.shaft_words import tell_driven_end, tell_motor_end, tell_motor_reach
from mountcalc.drawing.swing import Swing, swing_of, turned
from mountcalc.drawing.told import Told
from mountcalc.scenario.model import Scenario

__all__ = ["along_shafts"]

_CLEAR = 3 * TEXT_HEIGHT  # from what is drawn to the first dimension line, on paper


def along_shafts(scenario: Scenario) -> Drawing:
    """The view along the floor, square to the shafts.

    Parameters
    ----------
    scenario : Scenario
        The mount with its parts.

    Returns
    -------
    Drawing
        At snug; positions along the shafts run to the right, as the scenario counts them. What
        cannot be told names the missing key.

    Raises
    ------
    MountError
        Where the belt never becomes snug.
    """
    swing, stack = swing_of(scenario), along_stack(scenario)
    said = _told(scenario, stack, swing)
    parts = along_parts(scenario, stack, swing, to_floor=False)
    said.notes.extend(dict.fromkeys(parts.notes))
    draw = partial(_drawn, scenario, stack, parts, said)
    drawing = settled(draw, parts.items, scenario.display)
    # The floor is drawn where that makes nothing smaller; the notes tell its height anyway.
    parts = along_parts(scenario, stack, swing, to_floor=True)
    lower = _drawn(scenario, stack, parts, said, drawing.reduction)
    return lower if fits_sheet(lower) else drawing


def _told(scenario: Scenario, stack: AlongStack | None, swing: Swing) -> Told:
    told = Told(scenario.display)
    motor = turned(scenario.motor.shaft, scenario.plate.hinge, swing.snug)
    tell_alignment(told, scenario, math.dist(motor, scenario.driven.shaft))
    if stack is None:
        told.note(
            "motor.face_position and motor.pulley_position are needed to tell which side of the "
            "pulleys is the motor's, and with it all else along the shafts."
        )
    else:
        tell_panel(told, scenario, stack)
        tell_strip(told, scenario, stack)
        tell_motor_reach(told, scenario, stack)
        tell_motor_end(told, scenario, stack)
        tell_driven_end(told, scenario, stack)
    told.notes.extend(base_words(scenario))
    told.cautions += [*reminders("stored energy"), view_caution()]
    heights = {"hinge_above_floor": hinge_height(scenario), "base_top": base_height(scenario)}
    told.facts |= {name: value for name, value in heights.items() if value is not None}
    return told


def _drawn(
    scenario: Scenario,
    stack: AlongStack | None,
    parts: AlongParts,
    said: Told,
    reduction: float,
) -> Drawing:
    items: list[Item] = list(parts.items)
    items += _dimensions(scenario, parts, items, reduction)
    items += callouts(parts.names, items, reduction)
    return Drawing(
        name="along-shafts",
        title=f"Along the shafts: {scenario.title}",
        view=_view(stack),
        items=tuple(items),
        notes=tuple(said.notes),
        cautions=tuple(said.cautions),
        true_scale=False,
        facts=said.facts,
        reduction=reduction,
        other_hand=_other_view(stack),
    )


def _view(stack: AlongStack | None) -> str:
    if stack is None:
        return "seen along the floor, square to the shafts"
    return _seen(("left", "right") if stack.outward > 0 else ("right", "right"))


def _other_view(stack: AlongStack | None) -> dict[str, str]:
    if stack is None:
        return {}
    return {
        _view(stack): _seen(("right", "left") if stack.outward > 0 else ("left", "left")),
    }


def _seen(sides: tuple[str, str]) -> str:
    """The view's name: the side that it is seen from, and where positions grow to."""
    return (
        f"seen from the {sides[0]} of one who faces the motor's pulley; positions along the "
        f"shafts grow to the {sides[1]}"
    )


def _dimensions(
    scenario: Scenario, parts: AlongParts, items: list[Item], reduction: float
) -> list[Item]:
    """Baselines: the driven shaft's parts above, the motor's below, heights at the left."""
    _, bottom, _, top = Drawing("", "", "", tuple(items), reduction=reduction).bounds()
    clear = _CLEAR * reduction
    make = partial(Baseline, reduction=reduction, display=scenario.display)
    across = [
        *baselines(make(Run.ACROSS, parts.datum, top + clear, 1), parts.driven_points),
        *baselines(make(Run.ACROSS, parts.datum, bottom - clear, -1), parts.motor_points),
    ]
    left = Drawing("", "", "", (*items, *across), reduction=reduction).bounds()[0]
    heights: list[Point] = [(left, height) for height in parts.heights]
    beside = make(Run.UP, (left, parts.level), left - clear, -1)
    return [*across, *baselines(beside, heights)]

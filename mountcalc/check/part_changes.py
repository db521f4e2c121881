"""Changes to the parts that give out: stronger, slower, longer or turned, as far as is wanted."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import numpy as np

from mountcalc.belts import choose_belt, own_belt
from mountcalc.check.changes import Change, changed, in_steps, larger_pulleys, slower_driven
from mountcalc.check.evaluation import Evaluation
from mountcalc.check.judgements import bearing_loads, load_directions
from mountcalc.errors import MountError
from mountcalc.handbook.belts.designation import read_designation
from mountcalc.judgement import Judgement
from mountcalc.pages.amounts import (
    FORCE,
    POWER,
    at_least,
    force_text,
    length_text,
    power_text,
    rate_text,
)
from mountcalc.scenario.driven import Bearing
from mountcalc.scenario.model import Scenario

# A box that would have to be longer than this many times is another machine's.
_LONGEST = 2.0
_LIGHTER = (0.75, 0.5)
# Of what a part must carry where it was judged, so that a hand has some turns to miss by.
_STRONGER = (1.25, 1.6)
_PRESSED = frozenset({"bearing-limit", "start-up-pressure", "service-pressure"})
_MOST_BELTS = 2
_WIDER = math.radians(20.0)
_LEVELS = math.radians(15.0)


def other_parts(before: Evaluation) -> Iterator[Change]:
    """Parts that the failing judgements themselves name."""
    scenario = before.point.scenario
    snug = before.point.requirements.solved.travel.snug
    for judgement in before.fails.values():
        made: Change | None = None
        match judgement.name:
            case "belt-install" | "belt-take-up":
                yield from _other_belts(scenario)
                yield from _wider_swing(scenario)
            case "belt-pulley" | "motor-pulley" if judgement.share is not None:
                made = larger_pulleys(scenario, snug, judgement.share)
            case "motor-rating":
                made = _stronger_motor(scenario)
            case "driven-speed":
                made = slower_driven(scenario, snug)
            case "adjuster-load" | "hinge-load":
                yield from _stronger_part(scenario, judgement)
            case "spring-travel":
                yield from _longer_spring(scenario, judgement)
            case "groove-direction" | "cap-direction":
                made = _turned_box(before, judgement)
            case _:
                pass
        if made is not None:
            yield made


def _longer_spring(scenario: Scenario, judgement: Judgement) -> Iterator[Change]:
    """A spring of the same rate with more travel before it is solid."""
    coil, display = scenario.adjuster.coil, scenario.display
    if coil is None or judgement.share is None:
        return
    for times in _STRONGER:
        stop = in_steps(times * judgement.share * coil.stop, display)
        longer = replace(coil, stop=stop, free_length=coil.free_length + stop - coil.stop)
        yield Change(
            "longer-spring",
            f"Fit a spring of the same {rate_text(coil.rate, display)} with "
            f"{length_text(stop, display)} of travel before it is solid, about "
            f"{length_text(longer.free_length, display)} long.",
            changed(scenario, "adjuster", coil=longer),
        )


def other_boxes(before: Evaluation) -> Iterator[Change]:
    """Longer boxes for the shaft's bearings, then less of the heaviest load on it."""
    scenario = before.point.scenario
    driven, display = scenario.driven, scenario.display
    pressed = [one for one in before.fails.values() if one.name in _PRESSED]
    for bearing in driven.bearings if pressed else ():
        shares = [one.share for one in pressed if one.subject == bearing.name and one.share]
        length = in_steps(max(shares, default=0.0) * bearing.length, display)
        grown = length / bearing.length
        if not shares or grown > _LONGEST:
            continue
        more = grown if bearing.limit_given_as_pressure else 1.0
        yield Change(
            "longer-box",
            f'Fit "{bearing.name}" with a box {length_text(length, display)} long instead of '
            f"{length_text(bearing.length, display)}, its middle where it is.",
            _with_bearing(
                scenario,
                bearing,
                length=length,
                limit=more * bearing.limit,
                starting_limit=more * bearing.starting_limit,
            ),
        )
    heaviest = max(driven.loads, key=lambda load: load.force, default=None)
    for share in _LIGHTER if pressed and heaviest is not None and heaviest.force > 0 else ():
        assert heaviest is not None
        force = at_least(share * heaviest.force, FORCE, display)
        lighter = tuple(
            replace(one, force=force) if one is heaviest else one for one in driven.loads
        )
        yield Change(
            "lighter-load",
            f'Lighten "{heaviest.name}" to {force_text(force, display)}, or carry the rest of it '
            "in a bearing of its own.",
            changed(scenario, "driven", loads=lighter),
        )


def _other_belts(scenario: Scenario) -> Iterator[Change]:
    """The lengths that fit the mount best."""
    options = (
        one
        for one in choose_belt(scenario).belts
        if one.in_series and not one.is_yours and not one.why_not
    )
    for one in itertools.islice(options, _MOST_BELTS):
        name = read_designation(one.designation)
        other = changed(scenario, "belt", length=one.pitch_length, designation=name)
        yield Change("other-belt", f"Fit a belt {one.designation}.", other)


def _wider_swing(scenario: Scenario) -> Iterator[Change]:
    """Stops as far out as the belt wants, in whole degrees."""
    low, high = scenario.plate.travel
    try:
        belt = own_belt(changed(scenario, "plate", travel=(low - _WIDER, high + _WIDER)))
    except MountError:
        return
    rooms = () if belt is None else (belt.install, belt.take_up)
    ends = sorted(room.plate_angle for room in rooms if room.plate_angle is not None)
    if len(ends) < len(("install", "take-up")):
        return
    low = min(low, math.radians(math.floor(math.degrees(ends[0]))))
    high = max(high, math.radians(math.ceil(math.degrees(ends[1]))))
    yield Change(
        "wider-swing",
        f"Let the plate swing from {math.degrees(low):.0f} to {math.degrees(high):.0f} deg from as "
        "drawn.",
        changed(scenario, "plate", travel=(low, high)),
    )


def _stronger_motor(scenario: Scenario) -> Change:
    power = at_least(scenario.driven.power, POWER, scenario.display)
    return Change(
        "stronger-motor",
        f"Fit a motor rated for {power_text(power, scenario.display)} or more at the same speed, "
        "and type its weight in.",
        changed(scenario, "motor", power=power),
    )


def _stronger_part(scenario: Scenario, judgement: Judgement) -> Iterator[Change]:
    """A part that carries what this one must."""
    name = judgement.name.removesuffix("-load")
    for times in _STRONGER if judgement.value is not None else ():
        limit = at_least(times * (judgement.value or 0.0), FORCE, scenario.display)
        yield Change(
            f"stronger-{name}",
            f"Use a{'n' if name == 'adjuster' else ''} {name} that carries "
            f"{force_text(limit, scenario.display)}.",
            changed(scenario, "limits", **{name: limit}),
        )


def _turned_box(before: Evaluation, judgement: Judgement) -> Change:
    """The groove away from the load, or a cap that is held to its base."""
    scenario = before.point.scenario
    index = [one.name for one in scenario.driven.bearings].index(judgement.subject)
    bearing = scenario.driven.bearings[index]
    if judgement.name == "cap-direction":
        return Change(
            "dowel-cap",
            f'Dowel or gib the cap of "{bearing.name}" to its base.',
            _with_bearing(scenario, bearing, cap_dowelled=True),
        )
    loads = bearing_loads(before.point, index)
    angles = np.array([angle for _, angle in load_directions(bearing, loads)])
    opposite = np.arctan2(-np.sin(angles).sum(), -np.cos(angles).sum())  # farthest from all loads
    away = round(float(opposite) / _LEVELS) * _LEVELS
    return Change(
        "turn-groove",
        f'Turn the groove of "{bearing.name}" to {math.degrees(away) % 360:.0f} deg '
        "(counter-clockwise from the right).",
        _with_bearing(scenario, bearing, groove_direction=away),
    )


def _with_bearing(scenario: Scenario, bearing: Bearing, **values: Any) -> Scenario:  # noqa: ANN401
    """The mount with some values of one bearing changed."""
    bearings = scenario.driven.bearings
    new = tuple(replace(one, **values) if one is bearing else one for one in bearings)
    return changed(scenario, "driven", bearings=new)

"""Changes to the parts that give out: stronger, slower, longer or turned, as far as is wanted."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from dataclasses import replace

from mountcalc.belts import choose_belt, own_belt
from mountcalc.check.bearing_judgements import opposite_to_loads
from mountcalc.check.cures.changes import Change, larger_pulleys, slower_driven
from mountcalc.check.judged import Judged
from mountcalc.errors import MountError
from mountcalc.judgement.results import Judgement
from mountcalc.pages.amounts import at_least, force_text, length_text, power_text
from mountcalc.scenario.model import Bearing, Display, Scenario
from mountcalc.units import si_factor

__all__ = ["other_boxes", "other_parts"]

# A box that would have to be longer than this many times is another machine's.
_LONGEST = 2.0
_BOX_STEP = {Display.INCH: ("in", 0.25), Display.METRIC: ("mm", 5.0)}
_LIGHTER = (0.75, 0.5)
# Of what a part must carry where it was judged, so that a hand has some turns to miss by.
_STRONGER = (1.25, 1.6)
_PRESSED = frozenset({"bearing-limit", "start-up-pressure", "service-pressure"})
_MOST_BELTS = 2
_WIDER = math.radians(20.0)
_LEVELS = math.radians(15.0)


def other_parts(judged: Judged) -> Iterator[Change]:
    """Parts that the failing judgements themselves name."""
    scenario = judged.point.scenario
    snug = judged.point.promises.solved.travel.snug
    for judgement in judged.fails.values():
        match judgement.name:
            case "belt-install" | "belt-take-up":
                yield from _other_belts(scenario)
                yield from _wider_swing(scenario)
            case "belt-pulley" | "motor-pulley" if judgement.share is not None:
                yield larger_pulleys(scenario, snug, judgement.share)
            case "motor-rating":
                yield _stronger_motor(scenario)
            case "driven-speed":
                yield slower_driven(scenario, snug)
            case "adjuster-load" | "hinge-load":
                yield from _stronger_part(scenario, judgement)
            case "groove-direction" | "cap-direction":
                yield from _turned_box(judged, judgement)
            case _:
                pass


def other_boxes(judged: Judged) -> Iterator[Change]:
    """Longer boxes for the shaft's bearings, then less weight on it."""
    scenario = judged.point.scenario
    pressed = [one for one in judged.fails.values() if one.name in _PRESSED]
    for bearing in scenario.driven.bearings:
        shares = [one.share for one in pressed if one.subject == bearing.name and one.share]
        if shares and (longer := _longer(scenario, bearing, max(shares))) is not None:
            yield longer
    if pressed:
        yield from _lighter_load(scenario)


def _other_belts(scenario: Scenario) -> Iterator[Change]:
    """The lengths that fit the mount best."""
    options = (one for one in choose_belt(scenario).belts if one.in_series and not one.is_yours)
    for option in itertools.islice((one for one in options if not one.why_not), _MOST_BELTS):
        belt = replace(scenario.belt, length=option.pitch_length, designation=option.designation)
        yield Change(
            "other-belt", f"Fit a belt {option.designation}.", replace(scenario, belt=belt)
        )


def _wider_swing(scenario: Scenario) -> Iterator[Change]:
    """Stops as far out as the belt wants, in whole degrees."""
    low, high = scenario.plate.travel
    wide = replace(scenario.plate, travel=(low - _WIDER, high + _WIDER))
    try:
        belt = own_belt(replace(scenario, plate=wide))
    except MountError:
        return
    rooms = () if belt is None else (belt.install, belt.take_up)
    angles = [room.plate_angle for room in rooms if room.plate_angle is not None]
    if len(angles) < len(("install", "take-up")):
        return
    low = min(low, math.radians(math.floor(math.degrees(min(angles)))))
    high = max(high, math.radians(math.ceil(math.degrees(max(angles)))))
    yield Change(
        "wider-swing",
        f"Let the plate swing from {math.degrees(low):.0f} to {math.degrees(high):.0f} deg from as "
        "drawn.",
        replace(scenario, plate=replace(scenario.plate, travel=(low, high))),
    )


def _stronger_motor(scenario: Scenario) -> Change:
    power = at_least(scenario.driven.power, "power", scenario.display)
    return Change(
        "stronger-motor",
        f"Fit a motor rated for {power_text(power, scenario.display)} or more at the same speed, "
        "and type its weight in.",
        replace(scenario, motor=replace(scenario.motor, power=power)),
    )


def _stronger_part(scenario: Scenario, judgement: Judgement) -> Iterator[Change]:
    """A part that carries what this one must."""
    if judgement.value is None:
        return
    name = judgement.name.removesuffix("-load")
    article = "an" if name == "adjuster" else "a"
    for times in _STRONGER:
        limit = at_least(times * judgement.value, "force", scenario.display)
        yield Change(
            f"stronger-{name}",
            f"Use {article} {name} that carries {force_text(limit, scenario.display)}.",
            replace(scenario, limits=replace(scenario.limits, **{name: limit})),
        )


def _turned_box(judged: Judged, judgement: Judgement) -> Iterator[Change]:
    """The groove away from the load, or a cap that is held to its base."""
    scenario = judged.point.scenario
    index = [one.name for one in scenario.driven.bearings].index(judgement.subject)
    bearing = scenario.driven.bearings[index]
    if judgement.name == "cap-direction":
        yield Change(
            "dowel-cap",
            f'Dowel or gib the cap of "{bearing.name}" to its base.',
            _with_bearing(scenario, bearing, replace(bearing, cap_dowelled=True)),
        )
        return
    away = round(opposite_to_loads(judged.point, index) / _LEVELS) * _LEVELS
    yield Change(
        "turn-groove",
        f'Turn the groove of "{bearing.name}" to {math.degrees(away) % 360:.0f} deg '
        "(counter-clockwise from the right).",
        _with_bearing(scenario, bearing, replace(bearing, groove_direction=away)),
    )


def _longer(scenario: Scenario, bearing: Bearing, share: float) -> Change | None:
    """A box so much longer that its pressure is right."""
    unit, step = _BOX_STEP[scenario.display]
    step *= si_factor(unit)
    length = math.ceil(share * bearing.length / step - 1e-9) * step
    if length > _LONGEST * bearing.length:
        return None
    longer = replace(bearing, length=length)
    if bearing.limit_given_as_pressure:
        grown = length / bearing.length
        longer = replace(
            longer, limit=grown * bearing.limit, starting_limit=grown * bearing.starting_limit
        )
    return Change(
        "longer-box",
        f'Fit "{bearing.name}" with a box {length_text(length, scenario.display)} long instead of '
        f"{length_text(bearing.length, scenario.display)}, its middle where it is.",
        _with_bearing(scenario, bearing, longer),
    )


def _with_bearing(scenario: Scenario, old: Bearing, new: Bearing) -> Scenario:
    first, second = scenario.driven.bearings
    pair = (new, second) if first is old else (first, new)
    return replace(scenario, driven=replace(scenario.driven, bearings=pair))


def _lighter_load(scenario: Scenario) -> Iterator[Change]:
    """Less of the heaviest load on the driven shaft."""
    loads = scenario.driven.loads
    heaviest = max(loads, key=lambda load: load.force, default=None)
    if heaviest is None or heaviest.force == 0:
        return
    for share in _LIGHTER:
        force = at_least(share * heaviest.force, "force", scenario.display)
        lighter = tuple(replace(one, force=force) if one is heaviest else one for one in loads)
        yield Change(
            "lighter-load",
            f'Lighten "{heaviest.name}" to {force_text(force, scenario.display)}, or carry the '
            "rest of it in a bearing of its own.",
            replace(scenario, driven=replace(scenario.driven, loads=lighter)),
        )

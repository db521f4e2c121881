"""What is judged of the adjuster's bolt: stress, what it turns in, its tip, the hand's force."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from mountcalc.formulas.screw_threads import (
    bolt_stress,
    bolt_thread_area,
    buckling_force,
    collar_torque,
    hand_force,
    holding,
    nut_thread_area,
    raising_torque,
    tip_diameter,
)
from mountcalc.formulas.wood_screws import allowed_lag_withdrawal, washer_pressure
from mountcalc.handbook.hardware import fact
from mountcalc.handbook.wood import Wood, joint_factor
from mountcalc.judgement import Judgement, Measure, Topic, Verdict
from mountcalc.loads import Part
from mountcalc.pages.amounts import FORCE, LENGTH, NUMBER, PRESSURE, TORQUE, in_figures
from mountcalc.scenario.hardware import Holder
from mountcalc.scenario.model import Acts, AdjusterKind, Scenario
from mountcalc.scenario.text.writing import Display
from mountcalc.strength.bolt_length import bolt_length
from mountcalc.strength.carried import Carried, Line, judged, of_part
from mountcalc.structure.made import Bolt, base_wood, bolt_of, plate_of

_SHEAR = 1 / math.sqrt(3.0)  # of a proof stress (von Mises)
_LOCK = (
    "set it, hold it, tighten its lock nut and measure again: the nut takes up the thread's play "
    "and shifts the setting"
)


def bolt_judgements(scenario: Scenario, loads: Sequence[Carried]) -> Iterator[Judgement]:
    """Whether the bolt stands what it carries, holds it by itself, and can be turned by hand."""
    bolt, carried = bolt_of(scenario), [*of_part(loads, Part.BOLT)]
    if bolt is None or not carried:
        return
    display, plate = scenario.display, plate_of(scenario)
    on_plate, on_base = None if plate is None else plate.wood, base_wood(scenario)
    in_base = scenario.adjuster.kind is not AdjusterKind.JACK_IN_PLATE
    pressed, block = (on_plate, on_base) if in_base else (on_base, on_plate)
    yield from judged("bolt-stress", _stressed(bolt, carried, display))
    yield from judged("bolt-buckling", _buckles(scenario, bolt, carried))
    yield from judged("bolt-thread", _held(bolt, block, carried, display))
    if scenario.adjuster.kind is AdjusterKind.LINK:
        yield from judged("nut-washer", _under_nut(bolt, on_base, carried, display))
    elif pressed is not None:
        yield from judged("tip-pressure", _pressed(bolt, pressed, carried, display))
    yield from judged("bolt-turning", _turned(bolt, carried, display))
    yield _holds(bolt)


def _stressed(bolt: Bolt, carried: Sequence[Carried], display: Display) -> Iterator[Line]:
    """Along the bolt, and bent where it stands out of what holds it."""
    share, strong = fact("bolt", "share"), bolt.strength
    limit = share.value * strong.proof
    for load, _, when, _ in carried:
        out = bolt.stands_out or 0.0
        stress = float(bolt_stress(load.out, load.along_plate, out, bolt.core))
        bends = ""
        if bolt.stands_out is not None:
            aside = FORCE.text(abs(load.along_plate), display)
            bends = f", pushed aside by {aside} {LENGTH.text(out, display)} from what holds it"
        yield Line(
            PRESSURE,
            stress,
            limit,
            f"{load.name} ({bolt.thread.name}, {strong.name}) carries "
            f"{FORCE.text(abs(load.out), display)} {when}{bends}: "
            f"{PRESSURE.text(stress, display)} of the {PRESSURE.text(limit, display)} that are "
            "three quarters of its proof stress",
            strong.source,
            strong.sure,
        )


def _buckles(scenario: Scenario, bolt: Bolt, carried: Sequence[Carried]) -> Iterator[Line]:
    """A column from what holds it to its tip, a link from pin to pin; pinned at both ends."""
    out, share, display = bolt.stands_out, fact("bolt", "column"), scenario.display
    is_link, how = scenario.adjuster.kind is AdjusterKind.LINK, "standing out by"
    if is_link and scenario.adjuster.acts is not Acts.PULL:
        found, how = bolt_length(scenario), "from pin to pin"
        out = None if found is None else found.reach[1]
    for load, _, when, _ in carried if out is not None else ():
        assert out is not None
        gives = float(buckling_force(bolt.core, out, bolt.strength.yielding))
        yield Line(
            FORCE,
            max(load.out, 0.0),
            share.value * gives,
            f"{load.name} is pressed by {FORCE.text(max(load.out, 0.0), display)} {when}; {how} "
            f"{LENGTH.text(out, display)} it buckles at {FORCE.text(gives, display)}, of which a "
            "third is allowed",
            f"Johnson and Euler, Shigley 4-12 and 4-13; {share.source}",
            "",
        )


def _held(
    bolt: Bolt, block: Wood | None, carried: Sequence[Carried], display: Display
) -> Iterator[Line]:
    """The thread of nut and bolt, or the wood that holds the thread."""
    length, across = bolt.engagement, bolt.diameter
    for load, duration, when, _ in carried if length is not None else ():
        assert length is not None
        force = abs(load.out)
        carries = f"{load.name} carries {FORCE.text(force, display)} {when}"
        if bolt.holder is Holder.NUT:
            area = min(
                float(bolt_thread_area(across, bolt.thread.pitch, length)),
                float(nut_thread_area(across, length)),
            )
            limit = fact("bolt", "share").value * _SHEAR * bolt.strength.proof * area
            source, sure = "FED-STD-H28, shear areas of threads", "from memory"
            words = f"{LENGTH.text(length, display)} of its thread in steel"
        elif block is None:
            return
        elif bolt.holder is Holder.T_NUT:
            if block.bearing is None:
                return
            flange = fact("bolt", "t_nut_flange").value * across
            pressure = float(washer_pressure(1.0, flange, across))
            limit, bearing = block.bearing.value / pressure, block.bearing
            source, sure = f"{bearing.source}; flange of {LENGTH.text(flange, display)}", "estimate"
            words = f"the flange of a T-nut on {block.name}"
        else:
            outside = across
            if bolt.holder is Holder.INSERT:
                outside *= fact("bolt", "insert").value
            lasting = joint_factor(duration).value
            lag = allowed_lag_withdrawal(block.gravity.value, outside, length)
            limit = float(lag) * lasting
            source, sure = "NDS, lag screws as thick as the thread in the wood", "estimate"
            words = f"{LENGTH.text(length, display)} of thread in {block.name}"
        holds = f"{words} holds {FORCE.text(limit, display)}"
        yield Line(FORCE, force, limit, f"{carries}; {holds}", source, sure)


def _pressed(
    bolt: Bolt, wood: Wood, carried: Sequence[Carried], display: Display
) -> Iterator[Line]:
    """What the tip, or the metal under it, presses the wood with."""
    bearing, size = wood.bearing, bolt.pad or bolt.diameter
    under = "the bare tip" if bolt.pad is None else f"a pad of {LENGTH.text(size, display)}"
    for load, _, when, _ in carried if bearing is not None else ():
        assert bearing is not None
        force = max(load.out, 0.0)
        pressure = force / (0.25 * math.pi * size**2)
        wanted = math.sqrt(4.0 * force / (math.pi * bearing.value))
        yield Line(
            PRESSURE,
            pressure,
            bearing.value,
            f"{under} of {load.name} presses {wood.name} with {PRESSURE.text(pressure, display)} "
            f"{when}; {PRESSURE.text(bearing.value, display)} is allowed, which wants metal "
            f"{LENGTH.text(wanted, display)} wide",
            bearing.source,
            bearing.sure,
        )


def _under_nut(
    bolt: Bolt, wood: Wood | None, carried: Sequence[Carried], display: Display
) -> Iterator[Line]:
    """The base's wood under the washer of an eye-bolt's nut."""
    bearing = None if wood is None else wood.bearing
    size = bolt.pad or fact("bolt", "washer").value * bolt.diameter
    for load, _, when, _ in carried if bearing is not None else ():
        assert bearing is not None
        assert wood is not None
        pressure = float(washer_pressure(abs(load.out), size, bolt.diameter))
        yield Line(
            PRESSURE,
            pressure,
            bearing.value,
            f"a washer of {LENGTH.text(size, display)} under the nut of {load.name} presses "
            f"{wood.name} with {PRESSURE.text(pressure, display)} {when}; "
            f"{PRESSURE.text(bearing.value, display)} is allowed",
            bearing.source,
            bearing.sure,
        )


def _turned(bolt: Bolt, carried: Sequence[Carried], display: Display) -> Iterator[Line]:
    """Torque to tighten the bolt under its load, and the hand's force at the wrench."""
    hand = fact("hand", "force")
    for load, _, when, _ in carried:
        if not when.startswith("at rest"):
            continue
        force, pitch = abs(load.out), bolt.thread.pitch
        torque = float(raising_torque(force, bolt.mean, pitch, bolt.friction))
        torque += float(collar_torque(force, bolt.friction, tip_diameter(bolt.diameter)))
        pull = float(hand_force(torque, bolt.wrench))
        yield Line(
            FORCE,
            pull,
            hand.value,
            f"to tighten {load.name} takes {TORQUE.text(torque, display)} {when}: "
            f"{FORCE.text(pull, display)} on a wrench of {LENGTH.text(bolt.wrench, display)}",
            f"Shigley 8-2 with friction {in_figures(bolt.friction)}; {hand.source}",
            "estimate",
        )


def _holds(bolt: Bolt) -> Judgement:
    """Whether the load cannot turn the bolt; shaking can, so it wants a lock nut all the same."""
    ratio = float(holding(bolt.mean, bolt.thread.pitch, bolt.friction))
    topic = Topic("bolt-holding", "Shigley 8-3")
    measure = Measure.at_least(NUMBER, ratio, 1.0)
    verdict = measure.verdict if measure.verdict is Verdict.FAIL else Verdict.NOTE
    return topic.judge(
        Measure(NUMBER, ratio, 1.0, None, verdict),
        f"the bolt's own friction holds it {in_figures(ratio)} times over"
        f"{'' if ratio >= 1 else ', too little: the load turns it back'}; shaking can still turn "
        f"it: {_LOCK}",
    )

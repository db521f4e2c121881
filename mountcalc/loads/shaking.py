"""What shakes: natural frequencies of plate and strands against all that turns and hums.

The plate with its motor swings about the hinge on the belt and, where something gives between bolt
and plate, on that; how stiffly is the second derivative of the energy, which is the slope of the
moment on the plate. A plate on a bolt that is taken as rigid has no frequency of its own.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from mountcalc.equilibrium.solve import CaseSolution, SolvedMount
from mountcalc.equilibrium.states import State
from mountcalc.formulas.vibration import magnification, natural_frequency, running_span_frequency
from mountcalc.handbook.belts.sections import Torque
from mountcalc.handbook.rows import datum, load
from mountcalc.loads.body import Body, bodies
from mountcalc.loads.results import Meeting, Mode, Ripple, Shaker, Shaking, StartTransient
from mountcalc.record import Record
from mountcalc.scenario.boards import board_sizes
from mountcalc.scenario.drawn_plate import DrawnPlate
from mountcalc.scenario.hardware import Giving
from mountcalc.scenario.model import Acts, Rotation, Scenario
from mountcalc.structure.yielding import Softness, product, state
from mountcalc.units import STANDARD_GRAVITY

_FILE = "shaking"
_STEP = 1e-5  # [rad] of central differences
_MAINS, _POLES = (50.0, 60.0), range(2, 14, 2)
PLATE = "the plate"
STRANDS = ("the tight strand", "the slack strand")


class Inertia(Record):
    """Of motor and plate about the hinge [kg m^2]."""

    motor: float
    plate: float

    @property
    def total(self) -> float:
        """Both [kg m^2]."""
        return self.motor + self.plate


def inertia_of(scenario: Scenario) -> Inertia:
    """The motor counts as a round body about its shaft, the plate as a board about its middle.

    The motor's own part is a bound: its rotor turns with the belt and not with the plate.
    """
    motor, plate, drawn = scenario.motor, scenario.plate, DrawnPlate(scenario)
    frame, board = scenario.parts.frame, board_sizes(scenario)
    radius = drawn.body if frame is None else frame.body_radius
    far = math.dist(motor.center_of_mass, plate.hinge)
    near = math.dist(plate.center_of_mass, plate.hinge)
    length = scenario.parts.plate.length or 2.0 * near
    return Inertia(
        motor.weight / STANDARD_GRAVITY * (far**2 + 0.5 * radius**2),
        plate.weight / STANDARD_GRAVITY * (near**2 + (length**2 + board.thickness**2) / 12.0),
    )


class Swing(Record):
    """How stiffly a plate is held about its hinge [N m/rad], by what does it."""

    belt: float
    weights: float
    give: float

    @property
    def total(self) -> float:
        """All of it; infinite on a rigid bolt."""
        return self.belt + self.weights + self.give

    @property
    def bolt_share(self) -> float:
        """What the bolt takes of a moment that is added [-]."""
        return self.give / self.total if math.isfinite(self.give) else 1.0


def plate_give(body: Body, softness: Softness, thickness: float) -> float:
    """Moment over rotation of the motor about the hinge as its holders give [N m/rad].

    By the energy of what swings it: a force at its centre of mass, square to the way from the
    hinge, of one newton metre.
    """
    x, y, _ = body.weight.at.tolist()
    levers, unit = body.levers(thickness), 1.0 / (x * x + y * y)
    swung = state(levers, softness, (-y * unit, x * unit), (x, y, body.places.motor))
    turned = float(product(levers, softness, swung, swung).total)
    return 1.0 / turned if turned > 0 else math.inf


def swing_of(solved: SolvedMount, name: str, case: CaseSolution, plate: float = math.inf) -> Swing:
    """The slope of the moment on a plate that is held or riding in a load case.

    It is held as stiffly as ``plate`` [N m/rad], which stands for the parts, and by what is told
    of the adjuster besides.
    """
    mount, demand, phi = solved.mount, solved.demands[name], float(case.phi[0])

    def slope(of: np.ndarray) -> float:
        return float(of[1] - of[0]) / (2.0 * _STEP)

    near = solved.balance.at(np.array([phi - _STEP, phi + _STEP]))
    weights = slope(near.weight)
    belt, give = slope(solved.balance.net(near, demand)) - weights, 0.0
    if case.state[0] == State.HELD:
        told = mount
        if mount.scenario.adjuster.spring is Giving.PARTS:
            # Seen by the mass that swings they give otherwise than under the belt's pull.
            told = replace(mount, spring=None)
        give, softness = plate, float(np.ravel(told.compliance(case.adjuster))[0])
        if softness > 0 and near.adjuster is not None:
            # Of k (s_end - s) s': the spring, and the force that it has as its leverage changes.
            slopes = near.adjuster.extension_slope
            leverage = float(np.mean(slopes))
            give = 1.0 / (softness / leverage**2 + 1.0 / plate)
            give -= float(case.adjuster[0]) * slope(slopes)
    return Swing(belt, weights, give)


def shakers(scenario: Scenario, solved: SolvedMount) -> Iterator[Shaker]:
    """All that shakes a mount as it runs."""
    mount = solved.mount
    yield Shaker("the motor's speed", scenario.motor.speed / math.tau)
    yield Shaker("the driven shaft's speed", mount.driven_speed / math.tau)
    yield Shaker("the belt's passing", mount.belt_speed / scenario.belt.length)
    mains = mains_frequency(scenario.motor.speed)
    if mains is not None and scenario.motor.phases == 1:
        yield Shaker("the motor's hum at twice the mains", 2.0 * mains)


def mains_frequency(speed: float) -> float | None:
    """The mains [Hz] on which a motor slips least to a speed [rad/s]; None where none fits."""
    most, turns = datum(_FILE, load(_FILE)["slip"]).value, speed / math.tau
    slips = {1.0 - turns * poles / (2.0 * mains): mains for mains in _MAINS for poles in _POLES}
    fitting = [slip for slip in slips if 0.0 <= slip <= most]
    return slips[min(fitting)] if fitting else None


def shaking(
    solved: SolvedMount, turns: float | None, softness: Softness | None = None
) -> Shaking | None:
    """What shakes a mount as it runs at some turns; None where it has no balance there.

    Parameters
    ----------
    solved : SolvedMount
    turns : float or None [-]
        From zero; without an adjuster it counts for nothing.
    softness : Softness, optional
        Of the parts, where adjuster.stiffness and a spring do not tell; rigid where None.
    """
    cases = solved.cases(solved.place(0.0 if turns is None else turns), with_grip=False)
    case, scenario = cases.running, solved.mount.scenario
    if case.state[0] not in (State.HELD, State.RIDING):
        return None
    inertia, give = inertia_of(scenario), math.inf
    by_parts = case.state[0] == State.HELD and scenario.adjuster.spring in {None, Giving.PARTS}
    if softness is not None and by_parts:
        body = next(one for one in bodies(solved, turns) if one.case == "running")
        give = plate_give(body, softness, board_sizes(scenario).thickness)
    swing = swing_of(solved, "running", case, give)
    plate = _plate_mode(scenario, inertia, swing)
    modes = (plate, *_strand_modes(solved, case))
    found = tuple(shakers(scenario, solved))
    return Shaking(
        inertia=inertia.total,
        modes=modes,
        shakers=found,
        meetings=tuple(_meetings(modes, found)),
        ripple=_ripple(solved, case, plate, swing.bolt_share),
        start=_start(solved, cases.starting),
    )


def _plate_mode(scenario: Scenario, inertia: Inertia, swing: Swing) -> Mode:
    """Swings about the hinge, as soft and as stiff as the belt may be, and what moves them."""
    if inertia.total == 0:
        return Mode(PLATE, math.inf, math.inf, math.inf, {})
    factor = scenario.belt.stiffness_factor
    low, middle, high = (
        float(natural_frequency(swing.total + (times - 1.0) * swing.belt, inertia.total))
        if math.isfinite(swing.give)
        else math.inf
        for times in (1.0 / factor, 1.0, factor)
    )
    moves = {"the motor's weight": -0.5 * inertia.motor / inertia.total}
    moves["the plate's weight"] = -0.5 * inertia.plate / inertia.total
    if math.isfinite(swing.give) and swing.total > 0:
        moves["the belt's stiffness"] = 0.5 * swing.belt / swing.total
        moves["the stiffness at the bolt"] = 0.5 * swing.give / swing.total
    return Mode(PLATE, middle, low, high, moves)


def _strand_modes(solved: SolvedMount, case: CaseSolution) -> Iterator[Mode]:
    """Each strand as it runs."""
    mount, belt = solved.mount, solved.mount.scenario.belt
    if belt.mass <= 0:
        return
    span = math.sqrt(float(mount.path(case.phi[0]).span_squared))
    for name, tension in zip(STRANDS, (case.tight[0], case.slack[0]), strict=True):
        found = float(running_span_frequency(tension, belt.mass, mount.belt_speed, span))
        yield Mode(name, found, found, found, {"the belt's tension": 0.5})


def _meetings(modes: tuple[Mode, ...], found: tuple[Shaker, ...]) -> Iterator[Meeting]:
    """What shakes near a natural frequency; of a strand, near twice that, too.

    A tension that pulses shakes a string sideways at half its own pace.
    """
    apart = datum(_FILE, load(_FILE)["apart"]).value
    for mode in modes:
        for times in (1, 2) if mode.name in STRANDS else (1,):
            low, high = (times * one for one in (mode.low, mode.high))
            for shaker in found:
                if 0 < low * (1 - apart) <= shaker.frequency <= high * (1 + apart):
                    yield Meeting(mode.name, shaker.name, times)


def _ripple(solved: SolvedMount, case: CaseSolution, plate: Mode, share: float) -> Ripple | None:
    """How the bolt's force swings with the torque of a motor on one phase."""
    scenario, mount = solved.mount.scenario, solved.mount
    mains = mains_frequency(scenario.motor.speed)
    if case.state[0] != State.HELD or scenario.motor.phases != 1 or mains is None:
        return None
    swings = datum(_FILE, load(_FILE)["ripple"]).value
    torque = swings * float(case.pull[0]) * mount.count * scenario.motor.pulley_radius
    slope = abs(float(np.ravel(mount.adjuster(case.phi).extension_slope)[0]))
    damping = datum(_FILE, load(_FILE)["damping"]).value
    times = share * float(magnification(2.0 * mains, plate.frequency, damping))
    force, held = times * torque / slope, abs(float(case.adjuster[0]))
    is_one_way = scenario.adjuster.acts is not Acts.BOTH
    return Ripple(2.0 * mains, torque, force, held, loses_contact=is_one_way and force >= held)


def _start(solved: SolvedMount, case: CaseSolution) -> StartTransient | None:
    """A bound on what the rotor's inertia does while it speeds up, before the belt takes it all."""
    if case.state[0] != State.HELD:
        return None
    mount, scenario = solved.mount, solved.mount.scenario
    motor = scenario.motor
    rows = load(_FILE)["starting_torque"]
    most = datum(_FILE, rows["normal" if motor.torque is Torque.NORMAL else "high"])
    torque = most.value * motor.power / motor.speed
    left = max(torque - mount.count * float(case.pull[0]) * motor.pulley_radius, 0.0)
    # It turns the plate against the rotation: clockwise where that is counter-clockwise.
    moment = left if motor.rotation is Rotation.CCW else -left
    at, sudden = mount.adjuster(case.phi), datum(_FILE, load(_FILE)["sudden"]).value
    more = sudden * moment / float(np.ravel(at.extension_slope)[0])
    push = np.array([float(np.ravel(one)[0]) for one in (at.force_x, at.force_y)])
    hinge = case.hinge[0] - more * push
    bolt = float(case.adjuster[0]) + more
    acts = scenario.adjuster.acts
    lifts = (acts is Acts.PUSH and bolt < 0) or (acts is Acts.PULL and bolt > 0)
    return StartTransient(left, bolt, float(np.hypot(*hinge)), lifts)

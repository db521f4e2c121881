"""How well a mount is made, and how well its parts are known.

What is said of an error, "±", is what 19 builds of 20 keep: two standard deviations of a normal
spread about what the scenario says, cut off at three. A factor is kept in the same sense on a
logarithmic scale: up to so many times more or less.
"""

from typing import Annotated

from mountcalc.record import Record
from mountcalc.scenario import keys as k
from mountcalc.scenario.keys import Without
from mountcalc.units import si_factor

# A hole marked out with rule and square and drilled by hand (estimate).
_BY_HAND = si_factor("in") / 16


class Workmanship(Record):
    """How far a build may be off what is drawn, either way.

    ``hinge``, ``bolt`` and ``shaft`` [m] hold for each coordinate of each point: the hinge's pin;
    where the adjuster bears, and a link's pin in the base; either shaft. None stands for what other
    keys say: ``belt_length`` [m] for the published tolerance, ``weights`` [-] for
    ``motor.weight_error``, ``stiffness_factor`` for the belt's, ``turn_error`` for the limits',
    ``spring_rate`` [-] for the spring's ``rate_error``.
    """

    hinge: Annotated[k.Slip, "of its pin, each way; 19 builds of 20 keep it"] = _BY_HAND
    bolt: Annotated[k.Slip, "of where it bears, each way"] = _BY_HAND
    shaft: Annotated[k.Slip, "of either shaft, each way"] = _BY_HAND
    belt_length: Annotated[
        k.Slip | None,
        "how far a belt is off its length",
        Without("the published tolerance; 1 % where there is none"),
    ] = None
    weights: Annotated[
        k.ErrorShare | None, "share that weights are off", Without("motor.weight_error")
    ] = None
    stiffness_factor: Annotated[
        k.Uncertainty | None,
        "how far off the belt's stiffness may be, either way",
        Without("belt.stiffness_factor"),
    ] = None
    # Published tractions of one pair of materials differ by so much (estimate).
    traction_factor: Annotated[k.SmallFactor, "how far off traction may be, either way"] = 1.25
    turn_error: Annotated[
        k.TurnError | None, "turns by which a hand misses", Without("limits.turn_error")
    ] = None
    spring_rate: Annotated[
        k.ErrorShare | None,
        "share that the rate of a coil spring is off",
        Without("adjuster.spring.rate_error"),
    ] = None
    # Wood's modulus and contacts that nobody has measured (estimate).
    give_factor: Annotated[k.SmallFactor, "how far off adjuster.stiffness may be, either way"] = 1.5

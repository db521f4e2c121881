"""How well a mount is made, and how well its parts are known.

What is said of an error, "±", is what 19 builds of 20 keep: two standard deviations of a normal
spread about what the scenario says, cut off at three. A factor is kept in the same sense on a
logarithmic scale: up to so many times more or less.
"""

from typing import Annotated

from mountcalc.record import Record
from mountcalc.scenario import keys as k
from mountcalc.units import Metres, si_factor

# A hole marked out with rule and square and drilled by hand (estimate).
_BY_HAND = si_factor("in") / 16


class Workmanship(Record):
    """How far a build may be off what is drawn, either way.

    ``hinge``, ``bolt`` and ``shaft`` [m] hold for each coordinate of each point: the hinge's pin;
    where the adjuster bears, and a link's pin in the base; either shaft. None stands for what other
    keys say: ``belt_length`` [m] for the published tolerance, ``weights`` [-] for
    ``motor.weight_error``, ``stiffness_factor`` for the belt's, ``turn_error`` for the limits'.
    """

    hinge: Annotated[Metres, k.SLIP, "of its pin, each way; 19 builds of 20 keep it"] = _BY_HAND
    bolt: Annotated[Metres, k.SLIP, "of where it bears, each way"] = _BY_HAND
    shaft: Annotated[Metres, k.SLIP, "of either shaft, each way"] = _BY_HAND
    belt_length: Annotated[Metres | None, k.SLIP, "how far a belt is off its length"] = None
    weights: k.ErrorShare | None = None
    stiffness_factor: k.Uncertainty | None = None
    # Published tractions of one pair of materials differ by so much (estimate).
    traction_factor: Annotated[k.SmallFactor, "how far off traction may be, either way"] = 1.25
    turn_error: k.TurnError | None = None

"""What a fit changes in the scenario, by table and key, in SI."""

from __future__ import annotations

from mountcalc.fit.results import Fit
from mountcalc.scenario.model import Scenario

# The least and the most that belt.stiffness_factor, motor.weight_error and a traction may say.
_LEAST, _MOST, _MOST_SHARE, _MOST_TRACTION = 1.0, 20.0, 0.5, 5.0


def fitted_keys(scenario: Scenario, fit: Fit) -> dict[str, dict[str, float]]:
    """Keys with the values that a fit gives them; the factors take in all of the interval."""
    belt = fit.stiffness
    factor = max(belt.high / belt.value, belt.value / belt.low)
    keys = {
        "belt": {
            "stiffness": belt.value,
            "stiffness_factor": min(max(factor, _LEAST), _MOST),
        },
        "adjuster": {"zero_turns": fit.zero_turns.value},
    }
    heavy = fit.weights
    if heavy is not None:
        error = max(heavy.high - heavy.value, heavy.value - heavy.low) / heavy.value
        keys["motor"] = {
            "weight": scenario.motor.weight * heavy.value,
            "weight_error": min(error, _MOST_SHARE),
        }
        keys["plate"] = {"weight": scenario.plate.weight * heavy.value}
    if fit.traction is not None:  # a pulley's own goes before the belt's
        for part in ("motor", "driven", "belt"):
            said = getattr(scenario, part).traction
            if said is not None:
                traction = min(said * fit.traction.value, _MOST_TRACTION)
                keys.setdefault(part, {})["traction"] = traction
    if fit.give is not None:
        keys["adjuster"]["stiffness"] = fit.give.value
    return keys

"""The services of plain bearings that a scenario may name, and what a limit may be without one."""

from __future__ import annotations

from mountcalc.handbook.bearings import bearing_conditions, bearing_services
from mountcalc.scenario.file.values import read_word
from mountcalc.scenario.file.wording import listed
from mountcalc.scenario.text.quantities import LIMIT
from mountcalc.units import si_factor

__all__ = ["known_services", "read_service", "wanted_limit"]


def known_services() -> tuple[str, ...]:
    """The services that have a range of projected pressure."""
    return tuple(bearing_services())


def read_service(value: object) -> str:
    """Read the service of a bearing."""
    return read_word(value, known_services())


def wanted_limit() -> str:
    """What a bearing's limit wants: ranges by the state of the box, not one number."""
    services = bearing_services()
    ranges = []
    for name, key in bearing_conditions().items():
        ends = services[key].low, services[key].high
        psi = " to ".join(f"{end / si_factor('psi'):.0f}" for end in ends)
        mega = " to ".join(f"{end / si_factor('MPa'):.2g}" for end in ends)
        ranges.append(f"{psi} psi ({mega} MPa) in {name} ({services[key].sure})")
    return f"{LIMIT.wanted}; usual are {listed(ranges)}"

"""Rules between the keys of pulleys and belt."""

from __future__ import annotations

import math
from collections.abc import Iterator

from mountcalc.handbook.belts.flat import flat_material, flat_materials
from mountcalc.handbook.belts.sections import known_sections
from mountcalc.handbook.belts.sections import section as v_section
from mountcalc.scenario.file.facts import Facts, Finding, found
from mountcalc.scenario.file.wording import both, listed, shown
from mountcalc.scenario.pulleys import PULLEY_KEYS, Pulley, PulleyError, pulley_of

__all__ = ["DRIVE_RULES"]

_SAME_PLACE = 1e-6  # [m]
_TWO = 2
_SIDES = ("driven", "motor")
_SIZES = {"width": shown("40 mm"), "thickness": shown("5 mm")}
_BELT_WANTED = {
    "stiffness": 'force that would stretch one belt to twice its length (such as "12000 lbf")',
    "mass": 'mass of one belt per length (such as "0.1 kg/m")',
    "traction": "coefficient of friction, wedging included (such as 0.5)",
}


def _pulleys(facts: Facts) -> Iterator[Finding]:
    """The pulleys must not overlap as drawn."""
    shafts = facts.get("driven.shaft", "motor.shaft")
    if shafts is None:
        return
    distance = math.dist(*shafts)
    if distance < _SAME_PLACE:
        yield found("motor.shaft", "the motor's shaft and the driven shaft are at the same place")
        return
    diameters = [pulley.diameter for side in _SIDES if (pulley := _pulley(facts, side))]
    if len(diameters) == _TWO and distance <= sum(diameters) / 2:
        yield found(
            "motor.shaft",
            f"the pulleys overlap as drawn: the shafts are {both(distance)} apart, the pulleys' "
            f"radii add up to {both(sum(diameters) / 2)}",
        )


def _pulley_sizes(facts: Facts) -> Iterator[Finding]:
    """Each pulley has one size, from which its pitch diameter can be told."""
    for side in _SIDES:
        if side not in facts.tables or _is_half_read(facts, side):
            continue
        try:
            _read_pulley(facts, side)
        except PulleyError as error:
            yield found(f"{side}.{error.key}", str(error))


def _is_half_read(facts: Facts, side: str) -> bool:
    """Whether something that a pulley is told from is there but not good."""
    keys = [f"{side}.{name}" for name in (*PULLEY_KEYS, "pulley_face")]
    keys += ["belt.designation", "belt.section", "belt.thickness"]
    return any(key in facts.present and key not in facts.good for key in keys)


def _read_pulley(facts: Facts, side: str) -> Pulley:
    given = {
        name: facts.good[f"{side}.{name}"]
        for name in PULLEY_KEYS
        if f"{side}.{name}" in facts.present
    }
    face = facts.good.get(f"{side}.pulley_face")
    return pulley_of(given, face, _section(facts), facts.good.get("belt.thickness"))


def _pulley(facts: Facts, side: str) -> Pulley | None:
    """A pulley that is good, or None."""
    if _is_half_read(facts, side):
        return None
    try:
        return _read_pulley(facts, side)
    except PulleyError:
        return None


def _section(facts: Facts) -> str | None:
    """The belt's section, by itself or by its designation."""
    bought = facts.good.get("belt.designation")
    section: str | None = facts.good.get("belt.section") if bought is None else bought.section
    return section


def _belt_length(facts: Facts) -> Iterator[Finding]:
    """A belt has a designation, or a length; a designation has the section in it."""
    if "belt" not in facts.tables:
        return
    both = {"belt.designation", "belt.length"} & facts.present
    if not both:
        yield found(
            "belt.length",
            'missing: length wanted (such as "14 1/2 in" or "370 mm"), the pitch length when free, '
            'or else designation (such as "A54")',
        )
    elif len(both) == _TWO:
        yield found("belt.length", "the designation gives the length: leave one of the two out")
    pair = facts.get("belt.designation", "belt.section")
    if pair is not None and pair[0].section != pair[1].upper():
        yield found(
            "belt.section",
            f"the designation {shown(pair[0].text)} is of section {shown(pair[0].section)}, "
            f"got {shown(pair[1])}",
        )


def _flat_belt(facts: Facts) -> Iterator[Finding]:
    """What is known of a flat belt's material wants its size."""
    material = flat_material(_section(facts) or "")
    if material is None:
        return
    open_keys = [key for key in ("stiffness", "mass") if f"belt.{key}" not in facts.present]
    for key in ("width", "thickness"):
        if open_keys and f"belt.{key}" not in facts.present:
            yield found(
                f"belt.{key}",
                f"missing: length wanted (such as {_SIZES[key]}); {listed(open_keys, 'and')} of "
                f"{material.name} come of its size",
            )


def _belt(facts: Facts) -> Iterator[Finding]:
    """Stiffness, mass and traction come from the section where they are not given."""
    if "belt" not in facts.tables or "belt.designation" in facts.present:
        return
    missing = [name for name in _BELT_WANTED if f"belt.{name}" not in facts.present]
    if {"driven.traction", "motor.traction"} <= facts.present and "traction" in missing:
        missing.remove("traction")
    if not missing:
        return
    wanted = listed((f"{name} ({_BELT_WANTED[name]})" for name in missing), "and")
    if "belt.section" not in facts.present:
        yield found("belt", f"section missing (such as {shown('A')}), or else {wanted}")
    elif (section := facts.get("belt.section")) and not _is_known(section[0]):
        known = listed((*known_sections(), *flat_materials()), "and")
        yield found(
            "belt.section",
            f"nothing is known of section {shown(section[0])} (known: {known}), so give {wanted}",
        )


def _is_known(section: str) -> bool:
    return v_section(section) is not None or flat_material(section) is not None


def _service(facts: Facts) -> Iterator[Finding]:
    """A service factor is given, or looked up by shock and torque."""
    if {"driven.shock", "driven.service_factor"} <= facts.present:
        yield found(
            "driven.service_factor",
            "leave one out: shock is there to look the service factor up by",
        )


DRIVE_RULES = (_pulley_sizes, _pulleys, _belt_length, _belt, _flat_belt, _service)
"""Each takes the facts and yields what is wrong."""

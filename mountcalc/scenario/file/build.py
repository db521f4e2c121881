"""From what a file says to a `Scenario`: defaults are taken here, and named in its notes."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

from mountcalc.handbook.belts.designation import Designation
from mountcalc.handbook.belts.sections import (
    Joint,
    flat_material,
    flat_materials,
    joint_softness,
    known_sections,
)
from mountcalc.handbook.belts.sections import section as v_section
from mountcalc.handbook.rows import Datum
from mountcalc.scenario.file.tables import Facts
from mountcalc.scenario.model import (
    Acts,
    Adjuster,
    AdjusterKind,
    Bearing,
    Belt,
    Display,
    Driven,
    KeepOut,
    Limits,
    MayChange,
    Motor,
    Plate,
    Rotation,
    Scenario,
    ShaftLoad,
    Turning,
)
from mountcalc.scenario.parts import AlongShafts, Base, Guard, Hinges, Parts, PlateBoard
from mountcalc.scenario.pulleys import PULLEY_KEYS, Pulley, PulleyFace, pulley_of
from mountcalc.scenario.text.wording import near_spelling, shown
from mountcalc.scenario.text.writing import Notes

_STARTING_FACTOR = 2.0
_STARTING_OVER_RUNNING_LIMIT = 2.0  # MPTA 401, for starting and occasional peaks


_STIFFNESS_FACTOR = 2.0


def build(facts: Facts, title: str, source: str) -> Scenario:
    """Return the scenario of a file in which nothing is wrong."""
    said = {"title": title, "display": Display.METRIC} | facts.of(Scenario, "")
    notes = Notes(said["display"])
    scenario = Scenario(
        **said,
        driven=_driven(facts, notes),
        motor=_motor(facts, notes),
        belt=build_belt(facts, notes),
        plate=_plate(facts, notes),
        adjuster=_adjuster(facts, notes),
        limits=_limits(facts, notes),
        may_change=_may_change(facts, notes),
        parts=_parts(facts),
        keep_outs=keep_outs(facts),
        source=source,
    )
    _note_parts(scenario, notes)
    return replace(scenario, notes=tuple(notes.sentences))


def _driven(facts: Facts, notes: Notes) -> Driven:
    said, pulley = facts.of(Driven, "driven"), build_pulley(facts, "driven")
    bearings = _bearings(facts, notes)
    said.setdefault("max_speed", None)
    rated, power = facts.good["motor.power"], said.setdefault("power", facts.good["motor.power"])
    if "driven.power" not in facts.good:
        notes.add(
            f"What the machine takes is not given: the motor's rated power of "
            f"{notes.show(rated, 'power')} is taken."
        )
    elif power > rated * (1 + 1e-9):
        notes.add(
            f"The motor is rated at {notes.show(rated, 'power')}, below the "
            f"{notes.show(power, 'power')} that the machine takes."
        )
    if "starting_factor" not in said:
        said["starting_factor"] = _STARTING_FACTOR
        notes.add(
            "The starting torque is not given: twice the running torque is taken. Usual are 1.3 "
            "for a fan or an empty machine to 3.5 for a capacitor-start motor on a heavy wheel "
            "(common practice)."
        )
    said |= {
        "pulley_radius": pulley.diameter / 2,
        "pulley_face": pulley.face,
        "traction": traction_on(facts, "driven", pulley.face, notes),
    }
    return Driven(**said, bearings=bearings, loads=_loads(facts))


def _bearings(facts: Facts, notes: Notes) -> tuple[Bearing, Bearing]:
    first, second = (facts.of(Bearing, "driven.bearing", index) for index in (0, 1))
    if "starting_limit" not in first or "starting_limit" not in second:
        notes.add(
            "A bearing without a starting limit is allowed twice its limit at the start "
            "(MPTA 401, for starting and occasional peaks)."
        )
    return _bearing(first, "bearing 1"), _bearing(second, "bearing 2")


def _bearing(said: dict[str, Any], name: str) -> Bearing:
    area, limit = said["journal_diameter"] * said["length"], said["limit"]
    load, starting = limit.as_load(area), said.get("starting_limit")
    said["limit"] = load
    said["starting_limit"] = (
        _STARTING_OVER_RUNNING_LIMIT * load if starting is None else starting.as_load(area)
    )
    return Bearing(**{"name": name} | said, limit_given_as_pressure=limit.is_pressure)


def _loads(facts: Facts) -> tuple[ShaftLoad, ...]:
    loads = []
    for index in range(facts.counts.get("driven.load", 0)):
        said = facts.of(ShaftLoad, "driven.load", index)
        # The four directions with a name come out exact.
        x, y = math.cos(said["direction"]), math.sin(said["direction"])
        said["direction"] = round(x, 15) + 0.0, round(y, 15) + 0.0
        at_pulley = {"name": f"load {index + 1}", "position": facts.good["driven.pulley_position"]}
        loads.append(ShaftLoad(**at_pulley | said))
    return tuple(loads)


def _motor(facts: Facts, notes: Notes) -> Motor:
    said, pulley = facts.of(Motor, "motor"), build_pulley(facts, "motor")
    reverses = said["rotation"] is Turning.BOTH
    if reverses:
        notes.add(
            "The drive runs both ways: what one table shows is counter-clockwise; settings keep "
            "their promises both ways."
        )
    said.setdefault("center_of_mass", said["shaft"])
    said |= {
        "pulley_radius": pulley.diameter / 2,
        "pulley_face": pulley.face,
        "rotation": Rotation.CCW if reverses else Rotation(said["rotation"].value),
        "traction": traction_on(facts, "motor", pulley.face, notes),
    }
    return Motor(**said, reverses=reverses)


def _plate(facts: Facts, notes: Notes) -> Plate:
    said = facts.of(Plate, "plate")
    if "center_of_mass" in said and "weight" not in said:
        notes.add("The plate has a center of mass but no weight: it counts as weightless.")
    return Plate(**{"weight": 0.0, "center_of_mass": said["hinge"]} | said)


def _adjuster(facts: Facts, notes: Notes) -> Adjuster:
    adjuster = Adjuster(**facts.of(Adjuster, "adjuster"))
    if adjuster.kind is AdjusterKind.NONE:
        return adjuster
    is_link, thread = adjuster.kind is AdjusterKind.LINK, adjuster.thread
    acts = adjuster.acts or (Acts.BOTH if is_link else Acts.PUSH)
    advance = adjuster.advance_per_turn
    if advance is None and thread is not None:
        advance = thread.pitch
        if "x" not in thread.name and "-" not in thread.name:
            notes.add(
                f"The pitch of {thread.name} is not given: the coarse one, "
                f"{notes.show(advance, 'length')}, is taken (ISO 262)."
            )
        if is_link:
            notes.add(
                "One turn is taken to move the link by one pitch, "
                f"{notes.show(advance, 'length')}, as the nut of an eye-bolt does; a turnbuckle "
                "with opposite threads moves two: give advance_per_turn then."
            )
    return replace(adjuster, acts=acts, advance_per_turn=advance)


def _limits(facts: Facts, notes: Notes) -> Limits:
    limits = Limits(**facts.of(Limits, "limits"))
    if limits.grip < 1:
        notes.add(f"The wanted grip of {limits.grip:g} is below 1: the belt may slip running.")
    if limits.starting_grip is not None and limits.starting_grip < 1:
        notes.add(
            f"The wanted starting grip of {limits.starting_grip:g} is below 1: the belt may slip "
            "as it starts."
        )
    return limits


def _may_change(facts: Facts, notes: Notes) -> MayChange:
    may_change = MayChange(**facts.of(MayChange, "may_change"))
    if may_change.rotation and facts.good["motor.rotation"] is Turning.BOTH:
        notes.add("The drive runs both ways, so there is no other rotation to change to.")
    return may_change


def _parts(facts: Facts) -> Parts:
    return Parts(
        plate=PlateBoard(**facts.of(PlateBoard, "plate")),
        hinges=Hinges(**facts.of(Hinges, "hinge")),
        guard=Guard(**facts.of(Guard, "guard")),
        base=Base(**facts.of(Base, "base")),
        along=AlongShafts(**facts.of(AlongShafts, "")),
        **facts.of(Parts, ""),
    )


def _note_parts(scenario: Scenario, notes: Notes) -> None:
    """Note where sizes of parts that are bought and made do not go together."""
    parts, motor = scenario.parts, scenario.motor
    screw, thickness = parts.hinges.screw, parts.plate.thickness
    if screw is not None and thickness is not None and (screw.length or 0.0) > thickness:
        notes.add(
            f"The hinge's screws, {screw.name}, are longer than the plate is thick "
            f"({notes.show(thickness, 'length')})."
        )
    if parts.frame is not None and motor.pulley_radius * 2 <= parts.frame.shaft_diameter:
        notes.add(
            f"The shaft of frame {parts.frame.name}, "
            f"{notes.show(parts.frame.shaft_diameter, 'length')} thick, does not go into a motor "
            f"pulley of {notes.show(2 * motor.pulley_radius, 'length')} pitch diameter."
        )


def keep_outs(facts: Facts) -> tuple[KeepOut, ...]:
    """Return the keep-outs of a file."""
    return tuple(
        KeepOut(**{"name": f"keep-out {index + 1}"} | facts.of(KeepOut, "keep_out", index))
        for index in range(facts.counts.get("keep_out", 0))
    )


def section_name(facts: Facts) -> str | None:
    """The belt's section, by itself or by its designation."""
    bought = facts.good.get("belt.designation")
    section: str | None = facts.good.get("belt.section") if bought is None else bought.section
    return section


def build_pulley(facts: Facts, side: str) -> Pulley:
    """Return one pulley; a PulleyError where its pitch diameter cannot be told."""
    sizes = {key: size for key in PULLEY_KEYS if (size := facts.good.get(f"{side}.{key}"))}
    face, thickness = facts.good.get(f"{side}.pulley_face"), facts.good.get("belt.thickness")
    return pulley_of(sizes, face, section_name(facts), thickness)


def build_belt(facts: Facts, notes: Notes) -> Belt:
    """Return the belt; what was taken for it is noted."""
    said, name = facts.of(Belt, "belt"), section_name(facts)
    section, material = v_section(name or ""), flat_material(name or "")
    if section is not None:
        said = {"width": section.width, "thickness": section.height} | said
    elif name is not None and material is None:
        _note_unknown(name, notes)
    known = section or material
    said["section"] = name if known is None else known.name
    if "designation" in said:
        said["length"] = _length(said["designation"], notes)
    factor = said.setdefault("stiffness_factor", _STIFFNESS_FACTOR)
    if "stiffness" not in said:
        said["stiffness"] = _stiffness(said, notes)
    elif "belt.stiffness_factor" not in facts.good:
        ends = (said["stiffness"] / factor, said["stiffness"] * factor)
        low, high = (notes.show(force, "force") for force in ends)
        notes.add(
            f"The belt's stiffness is taken to lie between {low} and {high}; "
            "give stiffness_factor if you know it better."
        )
    if "mass" not in said:
        said["mass"] = _mass(said, notes)
    return Belt(**said)


def _note_unknown(name: str, notes: Notes) -> None:
    """Say that a section is a name only, and what may have been meant."""
    known = (*known_sections(), *flat_materials())
    near = near_spelling(name, known) or next((each for each in known if name in each), None)
    hint = f" Did you mean {shown(near)}?" if near else ""
    notes.add(f"Nothing is known of a section {shown(name)}: it is taken as a name only.{hint}")


def _length(bought: Designation, notes: Notes) -> float:
    """Pitch length when free [m]."""
    length = notes.show(bought.pitch_length, "length", 5)
    notes.add(
        f"Belt {bought.text} is taken to have a pitch length of {length}, {_sureness(bought.sure)} "
        f"({bought.source}); a real one differs by its tolerance."
    )
    return bought.pitch_length


def _stiffness(belt: dict[str, Any], notes: Notes) -> float:
    """Stiffness EA [N] of the section, or of the material times the size."""
    named, datum, value = _known(belt, "stiffness", "modulus")
    joint, factor = belt.get("joint", Joint.ENDLESS), belt["stiffness_factor"]
    softness = joint_softness(joint)
    value *= softness.value
    joined = ""
    if joint is not Joint.ENDLESS:
        share = f"{softness.value:g} of an endless belt's, being {joint}"
        joined = f" It is {share}, {_origin(softness)}."
    notes.add(
        f"The belt's stiffness is not given: {notes.show(value, 'force')} is taken for "
        f"{named}, {_origin(datum)}.{joined} It may well be {factor:g} times less or "
        f"{factor:g} times more."
    )
    return value


def _mass(belt: dict[str, Any], notes: Notes) -> float:
    """Mass of one belt [kg/m], of the section, or of the material times the size."""
    named, datum, value = _known(belt, "mass", "density")
    notes.add(
        f"The belt's mass is not given: {notes.show(value, 'mass')} is taken for "
        f"{named}, {_origin(datum)}."
    )
    return value


def _known(belt: dict[str, Any], of_section: str, of_material: str) -> tuple[str, Datum, float]:
    """What is known of a belt's section, or of its material: its name, the datum, the value."""
    section, material = v_section(belt["section"]), flat_material(belt["section"])
    if section is not None:
        datum: Datum = getattr(section, of_section)
        return f"section {section.name}", datum, datum.value
    assert material is not None, "the rules between keys require a known section here"
    datum = getattr(material, of_material)
    return material.name, datum, datum.value * belt["width"] * belt["thickness"]


def traction_on(facts: Facts, side: str, face: PulleyFace, notes: Notes) -> float:
    """Return the traction at a pulley: its own, a flat rim's, the belt's, or the section's."""
    own: float | None = facts.good.get(f"{side}.traction")
    if own is not None:
        return own
    name, belts = section_name(facts) or "", facts.good.get("belt.traction")
    section, material = v_section(name), flat_material(name)
    if section is not None and face is PulleyFace.FLAT:
        datum, where = section.traction_on_flat, "as for a V-belt on a flat rim"
    elif belts is not None:
        return float(belts)
    elif section is not None:
        datum, where = section.traction, "as for a V-belt in a grooved pulley"
    else:
        assert material is not None, "the rules between keys require a known section here"
        datum, where = material.traction, f"as for {material.name} on iron"
    what = "The belt's traction" if belts is None else "The traction on a flat rim"
    notes.add(f"{what} is not given: {datum.value:g} is taken, {where}, {_origin(datum)}.")
    return datum.value


def _origin(datum: Datum) -> str:
    """Say how sure a handbook number is, and its source."""
    return f"{_sureness(datum.sure)} ({datum.source})"


def _sureness(sure: str) -> str:
    return "an estimate" if sure == "estimate" else sure

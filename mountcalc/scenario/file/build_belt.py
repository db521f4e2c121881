"""The belt and what it runs on, from what a file says, with the notes of what was taken."""

from __future__ import annotations

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
from mountcalc.scenario.model import Belt
from mountcalc.scenario.pulleys import PULLEY_KEYS, Pulley, PulleyFace, pulley_of
from mountcalc.scenario.text.wording import near_spelling, shown
from mountcalc.scenario.text.writing import Notes

_STIFFNESS_FACTOR = 2.0


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

"""From the tables of a file to the belt and what it runs on, with the notes of what was taken."""

from __future__ import annotations

from mountcalc.handbook.belts.designation import Designation
from mountcalc.handbook.belts.sections import (
    FlatMaterial,
    Joint,
    Section,
    flat_material,
    flat_materials,
    joint_softness,
    known_sections,
)
from mountcalc.handbook.belts.sections import section as v_section
from mountcalc.handbook.rows import Datum
from mountcalc.scenario.file.schema import BeltTable, PulleyTable, ScenarioTable
from mountcalc.scenario.model import Belt, PulleyFace
from mountcalc.scenario.pulleys import PULLEY_KEYS, Pulley, pulley_of
from mountcalc.scenario.text.wording import near_spelling, shown
from mountcalc.scenario.text.writing import Notes

__all__ = ["build_belt", "build_pulley", "section_of", "traction"]

_DEFAULT_STIFFNESS_FACTOR = 2.0


def section_of(belt: BeltTable) -> str | None:
    """The belt's section, by itself or by its designation."""
    return belt.section if belt.designation is None else belt.designation.section


def build_pulley(table: ScenarioTable, side: PulleyTable) -> Pulley:
    """Return one pulley; the rules between keys have been kept."""
    given = {key: value for key in PULLEY_KEYS if (value := getattr(side, key)) is not None}
    return pulley_of(given, side.pulley_face, section_of(table.belt), table.belt.thickness)


def build_belt(table: ScenarioTable, notes: Notes) -> Belt:
    """Return the belt; what was taken for it is noted."""
    belt = table.belt
    name = section_of(belt)
    factor = belt.stiffness_factor or _DEFAULT_STIFFNESS_FACTOR
    section, material = v_section(name or ""), flat_material(name or "")
    if name is not None and section is None and material is None:
        _note_unknown(name, notes)
    return Belt(
        section=section.name if section else material.name if material else name,
        count=belt.count,
        length=_length(belt, notes),
        stiffness=_stiffness(belt, section, material, factor, notes),
        stiffness_factor=factor,
        mass=_mass(belt, section, material, notes),
        designation=None if belt.designation is None else belt.designation.text,
        joint=belt.joint,
        width=belt.width if belt.width is not None or section is None else section.width,
        thickness=belt.thickness if belt.thickness or section is None else section.height,
    )


def _note_unknown(name: str, notes: Notes) -> None:
    """Say that a section is a name only, and what may have been meant."""
    known = (*known_sections(), *flat_materials())
    near = near_spelling(name, known) or next((each for each in known if name in each), None)
    hint = f" Did you mean {shown(near)}?" if near else ""
    notes.add(f"Nothing is known of a section {shown(name)}: it is taken as a name only.{hint}")


def _length(belt: BeltTable, notes: Notes) -> float:
    """Pitch length when free [m]."""
    if belt.designation is None:
        assert belt.length is not None, "the rules between keys require a length here"
        return belt.length
    bought: Designation = belt.designation
    length = notes.show(bought.pitch_length, "length", 5)
    notes.add(
        f"Belt {bought.text} is taken to have a pitch length of {length}, {_sureness(bought.sure)} "
        f"({bought.source}); a real one differs by its tolerance."
    )
    return bought.pitch_length


def _stiffness(
    belt: BeltTable,
    section: Section | None,
    material: FlatMaterial | None,
    factor: float,
    notes: Notes,
) -> float:
    """Return the stiffness EA [N]: given, the section's, or the material's times the size."""
    if belt.stiffness is not None:
        given = belt.stiffness
        if belt.stiffness_factor is None:
            low, high = (notes.show(force, "force") for force in (given / factor, given * factor))
            notes.add(
                f"The belt's stiffness is taken to lie between {low} and {high}; "
                "give stiffness_factor if you know it better."
            )
        return given
    if material is not None:
        assert belt.width is not None
        assert belt.thickness is not None
        datum, named = material.modulus, material.name
        value = datum.value * belt.width * belt.thickness
    else:
        assert section is not None, "the rules between keys require a known section here"
        datum, named = section.stiffness, f"section {section.name}"
        value = datum.value
    softness = joint_softness(belt.joint)
    value *= softness.value
    joined = ""
    if belt.joint is not Joint.ENDLESS:
        joined = (
            f" It is {softness.value:g} of an endless belt's, being {belt.joint}, "
            f"{_origin(softness)}."
        )
    notes.add(
        f"The belt's stiffness is not given: {notes.show(value, 'force')} is taken for "
        f"{named}, {_origin(datum)}.{joined} It may well be {factor:g} times less or "
        f"{factor:g} times more."
    )
    return value


def _mass(
    belt: BeltTable, section: Section | None, material: FlatMaterial | None, notes: Notes
) -> float:
    """Return the mass of one belt [kg/m], given, the section's, or the material's."""
    if belt.mass is not None:
        return belt.mass
    if material is not None:
        assert belt.width is not None
        assert belt.thickness is not None
        datum, named = material.density, material.name
        value = datum.value * belt.width * belt.thickness
    else:
        assert section is not None, "the rules between keys require a known section here"
        datum, named, value = section.mass, f"section {section.name}", section.mass.value
    notes.add(
        f"The belt's mass is not given: {notes.show(value, 'mass')} is taken for "
        f"{named}, {_origin(datum)}."
    )
    return value


def traction(table: ScenarioTable, own: float | None, face: PulleyFace, notes: Notes) -> float:
    """Return the traction at a pulley: its own, a flat rim's, the belt's, or the section's."""
    if own is not None:
        return own
    name = section_of(table.belt) or ""
    section, material = v_section(name), flat_material(name)
    if section is not None and face is PulleyFace.FLAT:
        datum, where = section.traction_on_flat, "as for a V-belt on a flat rim"
    elif table.belt.traction is not None:
        return table.belt.traction
    elif section is not None:
        datum, where = section.traction, "as for a V-belt in a grooved pulley"
    else:
        assert material is not None, "the rules between keys require a known section here"
        datum, where = material.traction, f"as for {material.name} on iron"
    what = "The belt's traction" if table.belt.traction is None else "The traction on a flat rim"
    notes.add(f"{what} is not given: {datum.value:g} is taken, {where}, {_origin(datum)}.")
    return datum.value


def _origin(datum: Datum) -> str:
    """Say how sure a handbook number is, and its source."""
    return f"{_sureness(datum.sure)} ({datum.source})"


def _sureness(sure: str) -> str:
    return "an estimate" if sure == "estimate" else sure

"""From what a file says to a `Scenario` and a `SearchSpace`: defaults are taken here, and noted."""

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
from mountcalc.handbook.hardware import Face
from mountcalc.handbook.rows import Datum
from mountcalc.scenario.driven import (
    STARTING_FACTOR,
    STARTING_OVER_RUNNING_LIMIT,
    Bearing,
    Driven,
    ShaftLoad,
)
from mountcalc.scenario.file.tables import Facts
from mountcalc.scenario.hardware import BoltMake, Feet, Piece, Surroundings
from mountcalc.scenario.model import (
    STIFFNESS_FACTOR,
    Acts,
    Adjuster,
    AdjusterKind,
    BarredPart,
    Belt,
    Bolt,
    Coil,
    KeepOut,
    Limits,
    MayChange,
    Motor,
    Plate,
    Rotation,
    Scenario,
    Turning,
)
from mountcalc.scenario.parts import AlongShafts, Base, Guard, Hinges, Parts, PlateBoard
from mountcalc.scenario.pulleys import PULLEY_KEYS, Pulley, PulleyFace, pulley_of
from mountcalc.scenario.search import TAKEN, SearchBelt, SearchSpace
from mountcalc.scenario.text.quantities import DISTANCE, read_quantity
from mountcalc.scenario.text.wording import near_spelling, shown
from mountcalc.scenario.text.writing import Display, Notes
from mountcalc.scenario.workmanship import Workmanship
from mountcalc.thresholds import ROUNDING

_DRIVEN_SHAFT = "driven shaft"
_CORNERS = 24  # of the polygon round it
_OF_SECTION = {f"belt.{name}" for name in ("section", "stiffness", "mass", "width", "thickness")}


def build(facts: Facts, title: str, source: str) -> Scenario:
    """Return the scenario of a file in which nothing is wrong."""
    said = {"title": title, "display": Display.METRIC} | facts.of(Scenario, "")
    notes, good = Notes(said["display"]), facts.good
    driven, motor, belt = _driven(facts, notes), _motor(facts, notes), build_belt(facts, notes)
    if "plate.center_of_mass" in good and "plate.weight" not in good:
        notes.add("The plate has a centre of mass but no weight: it counts as weightless.")
    plate = facts.made(Plate, "plate", weight=0.0, center_of_mass=good["plate.hinge"])
    adjuster, limits = _adjuster(facts, notes), facts.made(Limits, "limits")
    if limits.grip < 1:
        notes.add(f"The wanted grip of {limits.grip:g} is below 1: the belt may slip running.")
    if limits.starting_grip is not None and limits.starting_grip < 1:
        notes.add(
            f"The wanted starting grip of {limits.starting_grip:g} is below 1: the belt may slip "
            "as it starts."
        )
    may_change = facts.made(MayChange, "may_change")
    if may_change.rotation and motor.reverses:
        notes.add("The drive runs both ways, so there is no other rotation to change to.")
    return Scenario(
        **said,
        driven=driven,
        motor=motor,
        belt=belt,
        plate=plate,
        adjuster=adjuster,
        limits=limits,
        may_change=may_change,
        build=facts.made(Workmanship, "build"),
        parts=_parts(facts, motor, notes),
        keep_outs=keep_outs(facts),
        source=source,
        notes=tuple(notes.sentences),
    )


def _driven(facts: Facts, notes: Notes) -> Driven:
    pulley, good = build_pulley(facts, "driven"), facts.good
    tables = [facts.of(Bearing, "driven.bearing", index) for index in (0, 1)]
    if any("starting_limit" not in bearing for bearing in tables):
        notes.add(
            "A bearing without a starting limit is allowed twice its limit at the start "
            "(MPTA 401, for starting and occasional peaks)."
        )
    bearings = []
    for number, bearing in enumerate(tables, 1):
        area, limit = bearing["journal_diameter"] * bearing["length"], bearing["limit"]
        load, starting = limit.as_load(area), bearing.get("starting_limit")
        bearing["limit"], bearing["limit_given_as_pressure"] = load, limit.is_pressure
        most = STARTING_OVER_RUNNING_LIMIT * load if starting is None else starting.as_load(area)
        bearing["starting_limit"] = most
        bearings.append(Bearing(**{"name": f"bearing {number}"} | bearing))
    loads = []
    for index in range(facts.counts.get("driven.load", 0)):
        load = facts.of(ShaftLoad, "driven.load", index)
        # The four directions with a name come out exact.
        x, y = math.cos(load["direction"]), math.sin(load["direction"])
        load["direction"] = round(x, 15) + 0.0, round(y, 15) + 0.0
        unsaid = {"name": f"load {index + 1}", "position": good["driven.pulley_position"]}
        loads.append(ShaftLoad(**unsaid | load))
    rated, power = good["motor.power"], good.get("driven.power")
    if power is None:
        notes.add(
            f"What the machine takes is not given: the motor's rated power of "
            f"{notes.show(rated, 'power')} is taken."
        )
    elif power > rated * (1 + ROUNDING):
        notes.add(
            f"The motor is rated at {notes.show(rated, 'power')}, below the "
            f"{notes.show(power, 'power')} that the machine takes."
        )
    if "driven.starting_factor" not in good:
        notes.add(
            "The starting torque is not given: twice the running torque is taken. Usual are 1.3 "
            "for a fan or an empty machine to 3.5 for a capacitor-start motor on a heavy wheel "
            "(common practice)."
        )
    unsaid = {"max_speed": None, "power": rated, "starting_factor": STARTING_FACTOR}
    return Driven(
        **unsaid | facts.of(Driven, "driven") | _at_pulley(facts, "driven", pulley, notes),
        bearings=(bearings[0], bearings[1]),
        loads=tuple(loads),
    )


def _at_pulley(facts: Facts, side: str, pulley: Pulley, notes: Notes) -> dict[str, Any]:
    """Fields of the motor or the machine that its pulley gives."""
    return {
        "pulley_radius": pulley.diameter / 2,
        "pulley_face": pulley.face,
        "traction": traction_on(facts, side, pulley.face, notes),
    }


def _motor(facts: Facts, notes: Notes) -> Motor:
    said, pulley = facts.of(Motor, "motor"), build_pulley(facts, "motor")
    reverses = said["rotation"] is Turning.BOTH
    if reverses:
        notes.add(
            "The drive runs both ways: what one table shows is counter-clockwise; settings keep "
            "grip and limits both ways."
        )
    said["rotation"] = Rotation.CCW if reverses else Rotation(said["rotation"].value)
    said.setdefault("center_of_mass", said["shaft"])
    return Motor(**said | _at_pulley(facts, "motor", pulley, notes), reverses=reverses)


def _adjuster(facts: Facts, notes: Notes) -> Adjuster:
    count = facts.counts.get("adjuster.bolt", 0)
    bolts = tuple(facts.made(Bolt, "adjuster.bolt", index) for index in range(count))
    coil = facts.made(Coil, "adjuster.spring") if "adjuster.spring" in facts.tables else None
    adjuster = facts.made(Adjuster, "adjuster", bolts=bolts, coil=coil)
    if bolts:
        adjuster = replace(adjuster, across=sum(one.across for one in bolts) / count)
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


def _parts(facts: Facts, motor: Motor, notes: Notes) -> Parts:
    count = facts.counts.get("wood.piece", 0)
    pieces = tuple(facts.made(Piece, "wood.piece", n, name=f"piece {n + 1}") for n in range(count))
    parts = Parts(
        plate=facts.made(PlateBoard, "plate"),
        hinges=facts.made(Hinges, "hinge"),
        guard=facts.made(Guard, "guard"),
        base=facts.made(Base, "base"),
        along=facts.made(AlongShafts, ""),
        bolt=facts.made(BoltMake, "adjuster"),
        feet=facts.made(Feet, "feet"),
        wood=facts.made(Surroundings, "wood", pieces=pieces),
        **facts.of(Parts, ""),
    )
    screw, thickness, frame = parts.hinges.screw, parts.plate.thickness, parts.frame
    screw = None if parts.hinges.into_plate is Face.THROUGH else screw
    if screw is not None and thickness is not None and (screw.length or 0.0) > thickness:
        notes.add(
            f"The hinge's screws, {screw.name}, are longer than the plate is thick "
            f"({notes.show(thickness, 'length')})."
        )
    if frame is not None and motor.pulley_radius * 2 <= frame.shaft_diameter:
        notes.add(
            f"The shaft of frame {frame.name}, {notes.show(frame.shaft_diameter, 'length')} thick, "
            f"does not go into a motor pulley of {notes.show(2 * motor.pulley_radius, 'length')} "
            "pitch diameter."
        )
    return parts


def keep_outs(facts: Facts) -> tuple[KeepOut, ...]:
    """Return the keep-outs of a file."""
    return tuple(
        facts.made(KeepOut, "keep_out", index, name=f"keep-out {index + 1}")
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
    # The rules between keys require one of the two where stiffness or mass are not given.
    named, size, known = "", 1.0, dict[str, Datum]()
    if section is not None:
        said = {"width": section.width, "thickness": section.height} | said
        name, named = section.name, f"section {section.name}"
        known = {"stiffness": section.stiffness, "mass": section.mass}
    elif material is not None:
        name = named = material.name
        known = {"stiffness": material.modulus, "mass": material.density}
        size = said.get("width", 0.0) * said.get("thickness", 0.0)
    elif name is not None:
        every = (*known_sections(), *flat_materials())
        near = near_spelling(name, every) or next((each for each in every if name in each), None)
        hint = f" Did you mean {shown(near)}?" if near else ""
        notes.add(f"Nothing is known of a section {shown(name)}: it is taken as a name only.{hint}")
    said["section"] = name
    if (bought := said.get("designation")) is not None:
        said["length"] = bought.pitch_length
        notes.add(
            f"Belt {bought.text} is taken to have a pitch length of "
            f"{notes.show(bought.pitch_length, 'length', 5)}, {_origin(bought)}; a real one "
            "differs by its tolerance."
        )
    factor = said.setdefault("stiffness_factor", STIFFNESS_FACTOR)
    if "stiffness" not in said:
        joint = said.get("joint", Joint.ENDLESS)
        softness = joint_softness(joint)
        said["stiffness"] = known["stiffness"].value * size * softness.value
        joined = ""
        if joint is not Joint.ENDLESS:
            share = f"{softness.value:g} of an endless belt's, being {joint}"
            joined = f" It is {share}, {_origin(softness)}."
        notes.add(
            f"The belt's stiffness is not given: {notes.show(said['stiffness'], 'force')} is taken "
            f"for {named}, {_origin(known['stiffness'])}.{joined} It may well be {factor:g} times "
            "less or more."
        )
    elif "belt.stiffness_factor" not in facts.good:
        ends = (said["stiffness"] / factor, said["stiffness"] * factor)
        low, high = (notes.show(force, "force") for force in ends)
        notes.add(
            f"The belt's stiffness is taken to lie between {low} and {high}; "
            "give stiffness_factor if you know it better."
        )
    if "mass" not in said:
        said["mass"] = known["mass"].value * size
        notes.add(
            f"The belt's mass is not given: {notes.show(said['mass'], 'mass')} is taken for "
            f"{named}, {_origin(known['mass'])}."
        )
    return Belt(**said)


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


def _origin(known: Datum | Designation) -> str:
    """Say how sure a number of the handbook is, and its source."""
    return f"{'an estimate' if known.sure == 'estimate' else known.sure} ({known.source})"


def build_search(facts: Facts, display: Display) -> tuple[SearchSpace, tuple[str, ...]]:
    """Return what a search may try, and the notes of defaults that were taken."""
    notes, said = Notes(display), facts.of(SearchSpace, "search")
    if "motor_body" not in said:
        said["motor_body"] = 2 * said["motor_height"][0]
        notes.add(
            "The motor's body is not given: a circle of "
            f"{notes.show(said['motor_body'], 'length')} is taken, twice the least motor height."
        )
    said.setdefault("motor_feet", said["motor_body"])
    if "plate.thickness" in facts.good:
        said.setdefault("plate_thickness", facts.good["plate.thickness"])
    lengths = {
        name: (inch if display is Display.INCH else metric, words)
        for name, (inch, metric, words) in TAKEN.items()
        if name not in said
    }
    if lengths:
        taken = "; ".join(f"{words}: {text}" for text, words in lengths.values())
        notes.add(f"Lengths of the search that are not given are estimates: {taken}.")
    said |= {name: read_quantity(text, DISTANCE) for name, (text, _) in lengths.items()}
    if "threads" not in said:
        said["threads"] = (facts.good["adjuster.thread"],)
    said["belts"] = tuple(_search_belt(facts, bought, notes) for bought in said.get("belts", ()))
    space = SearchSpace(**said)
    if space.thread_length is None:
        words = {AdjusterKind.LINK: "half the length of a link"}
        travels = {
            words.get(kind, "the whole length of a jack"): space.most_travel(kind)
            for kind in space.kinds
        }
        most = "; ".join(f"{name}: {notes.show(far, 'length')}" for name, far in travels.items())
        notes.add(
            "How far the bolt may travel from a new belt to full take-up (thread_length) is not "
            f"given: {most}."
        )
    ground = keep_outs(facts)
    if not space.beside_driven_shaft and _DRIVEN_SHAFT not in {one.name for one in ground}:
        ground = (*ground, _driven_shaft(facts))
    return replace(space, keep_outs=ground), tuple(notes.sentences)


def _search_belt(facts: Facts, bought: Designation, notes: Notes) -> SearchBelt:
    """Return a belt to try: the scenario's in another length, or one of another section."""
    changed = {"belt.length"}
    if bought.section != (section_name(facts) or "").upper():
        changed |= _OF_SECTION
    good = {key: value for key, value in facts.good.items() if key not in changed}
    belt = build_belt(Facts(good=good | {"belt.designation": bought}), notes)
    return SearchBelt(bought.text, belt)


def _driven_shaft(facts: Facts) -> KeepOut:
    """The driven shaft between pulley and bearings, which runs past plate, motor and bolt."""
    journals = (facts.good[f"driven.bearing.{index}.journal_diameter"] for index in (0, 1))
    thick = max(*journals, facts.good.get("driven.shaft_diameter", 0.0))
    (x, y), radius = facts.good["driven.shaft"], thick / 2 / math.cos(math.pi / _CORNERS)
    angles = [2 * math.pi * corner / _CORNERS for corner in range(_CORNERS)]
    corners = tuple((x + radius * math.cos(at), y + radius * math.sin(at)) for at in angles)
    parts = tuple(part for part in BarredPart if part is not BarredPart.BELT)
    return KeepOut(_DRIVEN_SHAFT, corners, parts)

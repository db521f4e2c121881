"""Rules between the keys of a scenario: what no single value can tell.

A rule runs on whatever keys are good and is silent where one that it needs is not.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

from mountcalc.handbook.belts.sections import flat_material, flat_materials, known_sections
from mountcalc.handbook.belts.sections import section as v_section
from mountcalc.scenario.drawn_plate import least_body
from mountcalc.scenario.driven import IDLE_SHARE
from mountcalc.scenario.file.build import build_pulley, section_name
from mountcalc.scenario.file.hardware_rules import hardware
from mountcalc.scenario.file.mount_rules import adjuster, plate
from mountcalc.scenario.file.tables import Facts, Finding, found
from mountcalc.scenario.model import AdjusterKind, BarredPart
from mountcalc.scenario.pulleys import PULLEY_KEYS, PulleyError
from mountcalc.scenario.search import Action
from mountcalc.scenario.text.outlines import contains
from mountcalc.scenario.text.wording import both, listed, shown
from mountcalc.thresholds import ROUNDING, SAME_PLACE

_TWO = 2
_MOST_KEEP_OUTS = 50
_SIZES = {"width": shown("40 mm"), "thickness": shown("5 mm")}
_BELT_WANTED = {
    "stiffness": 'force that would stretch one belt to twice its length (such as "12000 lbf")',
    "mass": 'mass of one belt per length (such as "0.1 kg/m")',
    "traction": "coefficient of friction, wedging included (such as 0.5)",
}
_CLEARANCE_OVER_DIAMETER = 0.1  # from there on it is no running clearance
_ALONG_FACE = 0.05  # least |axis . normal|: beyond it the tip slides instead of pushing
_BEARINGS = ("driven.bearing.0.position", "driven.bearing.1.position")
_JOURNALS = ("driven.bearing.0.journal_diameter", "driven.bearing.1.journal_diameter")

# Keys, how their values do not go together, and what is then said at the first of them: a length
# stands in these words by its place.
_TOGETHER: tuple[tuple[tuple[str, ...], Callable[..., bool], str], ...] = (
    (
        _BEARINGS[::-1],
        lambda second, first: abs(first - second) < SAME_PLACE,
        "both bearings are at the same place along the shaft",
    ),
    (
        ("adjuster.axis", "adjuster.face"),
        lambda axis, face: abs(math.sin(axis - face)) < _ALONG_FACE,
        "the bolt moves along the face that its tip bears on (within 3 degrees): it would "
        "slide instead of pushing; face is the direction along the face, not square to it",
    ),
    (
        ("adjuster.plate_pin", "adjuster.base_pin"),
        lambda plate_pin, base_pin: math.dist(plate_pin, base_pin) < SAME_PLACE,
        "both pins of the link are at the same place",
    ),
    *(
        (
            (f"adjuster.{pin}", "plate.hinge"),
            lambda pin, hinge: math.dist(pin, hinge) < SAME_PLACE,
            "a pin of the link is on the hinge: it turns nothing",
        )
        for pin in ("base_pin", "plate_pin")
    ),
    *(
        (
            ("hinge.mortise_depth", f"{board}.thickness"),
            lambda depth, thickness: depth >= thickness * (1 - ROUNDING),
            f"less than the {board}'s thickness of {{1}} wanted, got {{0}}",
        )
        for board in ("plate", "base")
    ),
    (
        ("hinge.knuckle_diameter", "hinge.leaf_thickness"),
        lambda knuckle, leaf: knuckle <= 2 * leaf * (1 + ROUNDING),
        "more than twice the leaf's thickness wanted, since the leaf is rolled around the pin, "
        "got {0} for a leaf of {1}",
    ),
    (
        ("adjuster.spring.stop", "adjuster.spring.free_length"),
        lambda stop, free_length: stop >= free_length * (1 - ROUNDING),
        "less than the spring's free length of {1} wanted, since its coils take room, got {0}",
    ),
    (
        ("motor.face_position", "motor.pulley_position"),
        lambda face, pulley: abs(face - pulley) < SAME_PLACE,
        "the motor's face is at the middle of its pulley: which way the shaft sticks out "
        "cannot be told",
    ),
    (
        ("driven.shaft_end", *_BEARINGS),
        lambda end, *bearings: min(bearings) < end < max(bearings),
        "a shaft's end beyond the bearings wanted, got one between",
    ),
    (
        ("driven.shaft_end", "driven.pulley_position", *_BEARINGS),
        lambda end, pulley, *bearings: (
            (pulley < min(bearings) and end >= max(bearings))
            or (pulley > max(bearings) and end <= min(bearings))
        ),
        "the end on the pulley's side wanted, got one beyond the other side",
    ),
    (
        ("search.acts", "search.kinds"),
        lambda *tried: tried == ((Action.PULL,), (AdjusterKind.JACK_IN_PLATE,)),
        'a "jack-in-plate" cannot pull: the tip bears on a fixed face; allow "push" or '
        '"hold-back", or another kind',
    ),
)


def _together(facts: Facts) -> Iterator[Finding]:
    for keys, is_wrong, words in _TOGETHER:
        values = facts.get(*keys)
        if values is not None and is_wrong(*values):
            lengths = (both(value) if isinstance(value, float) else "" for value in values)
            yield found(keys[0], words.format(*lengths))


def _pulleys(facts: Facts) -> Iterator[Finding]:
    """Each pulley has one size that its pitch diameter is told from; they do not overlap."""
    diameters = []
    for side in ("driven", "motor"):
        keys = [f"{side}.{name}" for name in (*PULLEY_KEYS, "pulley_face")]
        keys += ["belt.designation", "belt.section", "belt.thickness"]
        if any(key in facts.present and key not in facts.good for key in keys):
            continue
        try:
            diameters.append(build_pulley(facts, side).diameter)
        except PulleyError as error:
            if side in facts.tables:
                yield found(f"{side}.{error.key}", str(error))
    shafts = facts.get("driven.shaft", "motor.shaft")
    if shafts is None:
        return
    distance, radii = math.dist(*shafts), sum(diameters) / 2
    if distance < SAME_PLACE:
        yield found("motor.shaft", "the motor's shaft and the driven shaft are at the same place")
    elif len(diameters) == _TWO and distance <= radii:
        yield found(
            "motor.shaft",
            f"the pulleys overlap as drawn: the shafts are {both(distance)} apart, the pulleys' "
            f"radii add up to {both(radii)}",
        )


def _belt(facts: Facts) -> Iterator[Finding]:
    """A belt has a designation or a length, and a section or what is known of one."""
    if "belt" not in facts.tables:
        return
    lacks, material = facts.lacks, flat_material(section_name(facts) or "")
    named = facts.get("belt.section")
    match lacks("belt", "designation", "length"):
        case [_, _]:
            yield found(
                "belt.length",
                'missing: length wanted (such as "14 1/2 in" or "370 mm"), the pitch length when '
                'free, or else designation (such as "A54")',
            )
        case []:
            yield found("belt.length", "the designation gives the length: leave one of the two out")
    pair = facts.get("belt.designation", "belt.section")
    if pair is not None and pair[0].section != pair[1].upper():
        yield found(
            "belt.section",
            f"the designation {shown(pair[0].text)} is of section {shown(pair[0].section)}, "
            f"got {shown(pair[1])}",
        )
    missing = [] if "belt.designation" in facts.present else lacks("belt", *_BELT_WANTED)
    if not lacks("driven", "traction") and not lacks("motor", "traction"):
        missing = [name for name in missing if name != "traction"]
    wanted = listed((f"{name} ({_BELT_WANTED[name]})" for name in missing), "and")
    if missing and "belt.section" not in facts.present:
        yield found("belt", f"section missing (such as {shown('A')}), or else {wanted}")
    elif missing and named and not (v_section(named[0]) or material):
        known = listed((*known_sections(), *flat_materials()), "and")
        yield found(
            "belt.section",
            f"nothing is known of section {shown(named[0])} (known: {known}), so give {wanted}",
        )
    if material is None or not (by_size := lacks("belt", "stiffness", "mass")):
        return
    for key in lacks("belt", *_SIZES):
        yield found(
            f"belt.{key}",
            f"missing: length wanted (such as {_SIZES[key]}); {listed(by_size, 'and')} of "
            f"{material.name} come of its size",
        )


def _driven(facts: Facts) -> Iterator[Finding]:
    """The machine's load, and where its weights and bearings are."""
    if not facts.lacks("driven", "shock", "service_factor"):
        yield found(
            "driven.service_factor",
            "leave one out: shock is there to look the service factor up by",
        )
    count = facts.counts.get("driven.bearing", _TWO)
    if count != _TWO:
        key = "driven.bearing" + (".2" if count > _TWO else "")
        yield found(key, f"exactly two [[driven.bearing]] wanted, found {count}")
    for table in facts.tables_of("driven.bearing"):
        yield from _bearing(facts, table)
    for table in facts.tables_of("driven.load"):
        places = facts.get(f"{table}.position", "driven.pulley_position")
        match facts.lacks(table, "position", "on"):
            case [_, _] if table in facts.tables:
                yield found(
                    f"{table}.position",
                    'missing: length wanted (such as "14 1/2 in" or "370 mm"), its place along the '
                    'shaft, or else on = "pulley"',
                )
            case [] if places and abs(places[0] - places[1]) >= SAME_PLACE:
                yield found(
                    f"{table}.position",
                    'leave it out: on = "pulley" puts the load where pulley_position is',
                )
    opening = facts.get("guard.bearing_opening", *_JOURNALS)
    if opening is not None and opening[0] <= min(opening[1:]) * (1 + ROUNDING):
        yield found(
            "guard.bearing_opening",
            f"a hole for the bearing around a journal of {both(min(opening[1:]))} wanted, "
            f"got {both(opening[0])}",
        )


def _bearing(facts: Facts, table: str) -> Iterator[Finding]:
    """A start takes no less than running; a clearance is small; only a cap can be dowelled."""
    limits = facts.get(f"{table}.limit", f"{table}.starting_limit")
    sides = facts.get(f"{table}.journal_diameter", f"{table}.length")
    if limits is not None and (sides or limits[0].is_pressure == limits[1].is_pressure):
        limit, starting = (one.as_load(math.prod(sides or ())) for one in limits)
        if starting < limit * (1 - ROUNDING):
            yield found(f"{table}.starting_limit", "a starting limit below the limit itself")
    sizes = facts.get(f"{table}.clearance", f"{table}.journal_diameter")
    if sizes is not None and sizes[0] >= _CLEARANCE_OVER_DIAMETER * sizes[1] * (1 - ROUNDING):
        yield found(
            f"{table}.clearance",
            f"clearance below a tenth of the journal's diameter wanted, got {sizes[0]:.4g} m "
            f"for {sizes[1]:.4g} m (it is the bore's diameter less the journal's)",
        )
    if facts.lacks(table, "cap_dowelled", "cap_direction") == ["cap_direction"]:
        yield found(
            f"{table}.cap_dowelled",
            "goes with cap_direction only: give the side of the shaft that the cap is on "
            '(such as "up")',
        )


def _keep_outs(facts: Facts) -> Iterator[Finding]:
    """Each keep-out is one outline with its own name; none that the belt clears holds its shaft."""
    keys, seen = facts.tables_of("keep_out"), set[str]()
    if len(keys) > _MOST_KEEP_OUTS:
        yield found(
            keys[_MOST_KEEP_OUTS],
            f"at most {_MOST_KEEP_OUTS} [[keep_out]] wanted, found {len(keys)}",
        )
    for key in keys:
        match facts.lacks(key, "box", "polygon"):
            case [_, _] if key in facts.tables:
                yield found(
                    key,
                    'missing: box (such as [["10 in", "-20 in"], ["14 in", "0 in"]]) or polygon '
                    "(three or more such corners in order)",
                )
            case []:
                yield found(f"{key}.polygon", "box or polygon wanted, got both")
        name = facts.good.get(f"{key}.name")
        if name in seen:
            yield found(f"{key}.name", f"a keep-out named {shown(name)} is there already")
        seen.add(name or "")
        shaft, good = facts.get("driven.shaft"), facts.good
        outline = good.get(f"{key}.box") or good.get(f"{key}.polygon")
        is_said = f"{key}.parts" in facts.present
        barred = good.get(f"{key}.parts", () if is_said else (BarredPart.BELT,))
        if shaft and outline and BarredPart.BELT in barred and contains(outline, *shaft):
            yield found(
                key,
                "it holds the driven shaft, so that no belt could clear it; if the belt runs in "
                'front of it, say what it bars: parts = ["plate", "motor", "bolt"]',
            )


def _search(facts: Facts) -> Iterator[Finding]:
    """A search has threads and a motor that stands on its plate, and a machine at work."""
    if "search" not in facts.tables:
        return
    no_thread = "adjuster.kind" in facts.good and facts.lacks("adjuster", "thread")
    if no_thread and facts.lacks("search", "threads"):
        yield found(
            "search",
            'threads missing (such as ["3/8-16", "3/8-24"]), since [adjuster] has no thread',
        )
    motor = facts.get("search.motor_height", "motor.frame")
    if motor is not None and motor[0][0] < (least := least_body(motor[1])):
        (low, _), frame = motor
        yield found(
            "search.motor_height",
            f"from {both(least)} on wanted, the radius that the body of frame {frame.name} has at "
            f"least (estimate; its shaft height is {both(frame.shaft_height)}), got {both(low)}",
        )
    # What idles has no setting, so that no layout could be judged.
    powers = facts.get("driven.power", "motor.power")
    if powers is not None and powers[0] < IDLE_SHARE * powers[1]:
        yield found(
            "driven.power",
            "a search wants the power that the machine takes at work, "
            f"{100 * IDLE_SHARE:g} % of motor.power or more",
        )


_RULES = (_pulleys, _belt, _driven, plate, adjuster, hardware, _together, _keep_outs, _search)


def check(facts: Facts) -> list[Finding]:
    """Return what is wrong between the keys of a scenario."""
    return [finding for rule in _RULES for finding in rule(facts)]

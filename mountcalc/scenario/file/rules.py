"""Rules between the keys of a mount: what no single value can tell."""

from __future__ import annotations

import math
from collections.abc import Iterator

from mountcalc.handbook.belts.sections import flat_material, flat_materials, known_sections
from mountcalc.handbook.belts.sections import section as v_section
from mountcalc.scenario.file.build import build_pulley, section_name
from mountcalc.scenario.file.search import SEARCH_RULES
from mountcalc.scenario.file.tables import Facts, Finding, Rule, found, rule_on
from mountcalc.scenario.model import AdjusterKind, Vector
from mountcalc.scenario.pulleys import PULLEY_KEYS, Pulley, PulleyError
from mountcalc.scenario.text.wording import both, listed, shown

_SAME_PLACE = 1e-6  # [m]
_TWO = 2
_SIDES = ("driven", "motor")
_SIZES = {"width": shown("40 mm"), "thickness": shown("5 mm")}
_BELT_WANTED = {
    "stiffness": 'force that would stretch one belt to twice its length (such as "12000 lbf")',
    "mass": 'mass of one belt per length (such as "0.1 kg/m")',
    "traction": "coefficient of friction, wedging included (such as 0.5)",
}
_CLEARANCE_OVER_DIAMETER = 0.1  # from there on it is no running clearance
_ALONG_FACE = 0.05  # least |axis . normal|: beyond it the tip slides instead of pushing
_TURNING = ("thread", "advance_per_turn")
_JACK_POINTS = ("tip", "axis", "face")
_LINK_POINTS = ("base_pin", "plate_pin")
_REQUIRED = {
    AdjusterKind.JACK_IN_BASE: _JACK_POINTS,
    AdjusterKind.JACK_IN_PLATE: _JACK_POINTS,
    AdjusterKind.LINK: _LINK_POINTS,
    AdjusterKind.NONE: (),
}
_ADJUSTER_WANTED = {
    "tip": 'missing: the point where the tip bears as drawn (such as ["4 in", "-1 in"])',
    "axis": 'missing: the way the tip moves as the screw extends (such as "left")',
    "face": 'missing: a direction along the face that the tip bears on (such as "up")',
    "base_pin": 'missing: the point of the pin in the base (such as ["4 in", "-1 in"])',
    "plate_pin": 'missing: the point of the pin in the plate as drawn (such as ["4 in", "-1 in"])',
}
_ROUNDING = 1e-9
_BEARINGS = ("driven.bearing.0.position", "driven.bearing.1.position")
_JOURNALS = ("driven.bearing.0.journal_diameter", "driven.bearing.1.journal_diameter")


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
            build_pulley(facts, side)
        except PulleyError as error:
            yield found(f"{side}.{error.key}", str(error))


def _is_half_read(facts: Facts, side: str) -> bool:
    """Whether something that a pulley is told from is there but not good."""
    keys = [f"{side}.{name}" for name in (*PULLEY_KEYS, "pulley_face")]
    keys += ["belt.designation", "belt.section", "belt.thickness"]
    return any(key in facts.present and key not in facts.good for key in keys)


def _pulley(facts: Facts, side: str) -> Pulley | None:
    """A pulley that is good, or None."""
    if _is_half_read(facts, side):
        return None
    try:
        return build_pulley(facts, side)
    except PulleyError:
        return None


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
    material = flat_material(section_name(facts) or "")
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
    elif (named := facts.get("belt.section")) and not (v_section(*named) or flat_material(*named)):
        known = listed((*known_sections(), *flat_materials()), "and")
        yield found(
            "belt.section",
            f"nothing is known of section {shown(named[0])} (known: {known}), so give {wanted}",
        )


def _service(facts: Facts) -> Iterator[Finding]:
    """A service factor is given, or looked up by shock and torque."""
    if {"driven.shock", "driven.service_factor"} <= facts.present:
        yield found(
            "driven.service_factor",
            "leave one out: shock is there to look the service factor up by",
        )


def _two_bearings(facts: Facts) -> Iterator[Finding]:
    count = facts.counts.get("driven.bearing", _TWO)
    if count != _TWO:
        key = "driven.bearing" + (".2" if count > _TWO else "")
        yield found(key, f"exactly two [[driven.bearing]] wanted, found {count}")


@rule_on("driven.bearing.1.position", "driven.bearing.0.position")
def _bearings_apart(second: float, first: float) -> str | None:
    same = abs(first - second) < _SAME_PLACE
    return "both bearings are at the same place along the shaft" if same else None


def _starting_limits(facts: Facts) -> Iterator[Finding]:
    for index in range(facts.counts.get("driven.bearing", 0)):
        table = f"driven.bearing.{index}"
        limits = facts.get(f"{table}.limit", f"{table}.starting_limit")
        if limits is None:
            continue
        limit, starting = limits
        area = 1.0
        if limit.is_pressure != starting.is_pressure:
            sides = facts.get(f"{table}.journal_diameter", f"{table}.length")
            if sides is None:
                continue
            area = sides[0] * sides[1]
        if starting.as_load(area) < limit.as_load(area) * (1 - 1e-9):
            yield found(f"{table}.starting_limit", "a starting limit below the limit itself")


def _bearing_boxes(facts: Facts) -> Iterator[Finding]:
    """A clearance is far below the journal's diameter; only a cap can be dowelled."""
    for index in range(facts.counts.get("driven.bearing", 0)):
        table = f"driven.bearing.{index}"
        sizes = facts.get(f"{table}.clearance", f"{table}.journal_diameter")
        if sizes is not None and sizes[0] >= _CLEARANCE_OVER_DIAMETER * sizes[1] * (1 - 1e-9):
            yield found(
                f"{table}.clearance",
                f"clearance below a tenth of the journal's diameter wanted, got {sizes[0]:.4g} m "
                f"for {sizes[1]:.4g} m (it is the bore's diameter less the journal's)",
            )
        cap = {f"{table}.{name}" for name in ("cap_dowelled", "cap_direction")} & facts.present
        if cap == {f"{table}.cap_dowelled"}:
            yield found(
                f"{table}.cap_dowelled",
                "goes with cap_direction only: give the side of the shaft that the cap is on "
                '(such as "up")',
            )


def _loads(facts: Facts) -> Iterator[Finding]:
    """A load has a position of its own, or that of what it sits on."""
    for index in range(facts.counts.get("driven.load", 0)):
        table = f"driven.load.{index}"
        if table not in facts.tables:
            continue
        given = {name for name in ("position", "on") if f"{table}.{name}" in facts.present}
        if not given:
            yield found(
                f"{table}.position",
                'missing: length wanted (such as "14 1/2 in" or "370 mm"), its place along the '
                'shaft, or else on = "pulley"',
            )
        places = facts.get(f"{table}.position", "driven.pulley_position")
        if len(given) == _TWO and places and abs(places[0] - places[1]) >= _SAME_PLACE:
            yield found(
                f"{table}.position",
                'leave it out: on = "pulley" puts the load where pulley_position is',
            )


def _adjuster_keys(facts: Facts) -> Iterator[Finding]:
    """Each kind of adjuster has its own keys."""
    kind = facts.get("adjuster.kind")
    if kind is None:
        return
    required = _REQUIRED[kind[0]]
    allowed = {"kind", *required}
    if kind[0] != AdjusterKind.NONE:
        allowed |= {"acts", "across", *_TURNING}
        if not any(f"adjuster.{name}" in facts.present for name in _TURNING):
            yield found(
                "adjuster.thread",
                'missing: screw thread (such as "3/8-16" or "M10x1.5"), or else advance_per_turn',
            )
    for name in required:
        if f"adjuster.{name}" not in facts.present:
            yield found(f"adjuster.{name}", _ADJUSTER_WANTED[name])
    for key in sorted(facts.present):
        name = key.removeprefix("adjuster.")
        if name != key and name not in allowed:
            yield found(key, _foreign(name, kind[0]))


def _foreign(name: str, kind: AdjusterKind) -> str:
    """Say which kinds of adjuster a key belongs to."""
    if name in ("acts", "across", *_TURNING):
        return f"an adjuster of kind {shown(kind.value)} has no '{name}'"
    kinds = listed(shown(other.value) for other, keys in _REQUIRED.items() if name in keys)
    return f"'{name}' is a key of kind {kinds}, not of kind {shown(kind.value)}"


@rule_on("adjuster.axis", "adjuster.face")
def _jack(axis: float, face: float) -> str | None:
    """A screw must not move along the face that it bears on."""
    if abs(math.sin(axis - face)) >= _ALONG_FACE:
        return None
    return (
        "the screw moves along the face that its tip bears on (within 3 degrees): it would "
        "slide instead of pushing; face is the direction along the face, not square to it"
    )


@rule_on("adjuster.plate_pin", "adjuster.base_pin")
def _link(plate_pin: Vector, base_pin: Vector) -> str | None:
    """A link needs three different places: base pin, plate pin and hinge."""
    apart = math.dist(plate_pin, base_pin)
    return "both pins of the link are at the same place" if apart < _SAME_PLACE else None


def _on_hinge(pin: Vector, hinge: Vector) -> str | None:
    on_it = math.dist(pin, hinge) < _SAME_PLACE
    return "a pin of the link is on the hinge: it turns nothing" if on_it else None


def _adjuster_limit(facts: Facts) -> Iterator[Finding]:
    """Where there is no adjuster, nothing can be asked of it."""
    if facts.get("adjuster.kind") == (AdjusterKind.NONE,) and "limits.adjuster" in facts.present:
        yield found("limits.adjuster", 'an adjuster of kind "none" carries no load')


def _mortise(board: str) -> Rule:
    """A leaf is not let in through the whole plate, nor through the whole base."""

    @rule_on("hinge.mortise_depth", f"{board}.thickness")
    def rule(depth: float, thickness: float) -> str | None:
        if depth < thickness * (1 - _ROUNDING):
            return None
        return f"less than the {board}'s thickness of {both(thickness)} wanted, got {both(depth)}"

    return rule


@rule_on("hinge.knuckle_diameter", "hinge.leaf_thickness")
def _knuckle(knuckle: float, leaf: float) -> str | None:
    """A knuckle is the leaf rolled around the pin."""
    if knuckle > 2 * leaf * (1 + _ROUNDING):
        return None
    return (
        "more than twice the leaf's thickness wanted, since the leaf is rolled around the pin, "
        f"got {both(knuckle)} for a leaf of {both(leaf)}"
    )


def _hinges_on_plate(facts: Facts) -> Iterator[Finding]:
    """All hinges find room side by side along the plate's edge."""
    sizes = facts.get("hinge.leaf_length", "plate.width")
    if sizes is None:
        return
    number = facts.good.get("hinge.number", 1)
    if number * sizes[0] > sizes[1] * (1 + _ROUNDING):
        yield found(
            "plate.width",
            f"{number} hinge{'s' if number > 1 else ''} of {both(sizes[0])} along the hinge's "
            f"line do not fit on a plate of {both(sizes[1])}; its width is along that line",
        )


def _packing(facts: Facts) -> Iterator[Finding]:
    """What lies under the feet tells something only where the feet are known."""
    if "motor.packing" in facts.present and "motor.frame" not in facts.present:
        yield found(
            "motor.packing",
            'goes with frame only: give the frame of the motor (such as "56", "143T" or "IEC 80")',
        )


@rule_on("motor.face_position", "motor.pulley_position")
def _motor_face(face: float, pulley: float) -> str | None:
    """Which way the motor's shaft sticks out is told by face and pulley."""
    if abs(face - pulley) >= _SAME_PLACE:
        return None
    return (
        "the motor's face is at the middle of its pulley: which way the shaft sticks out "
        "cannot be told"
    )


@rule_on("guard.bearing_opening", *_JOURNALS)
def _bearing_opening(opening: float, *journals: float) -> str | None:
    """A bearing is thicker than its journal, and so is the hole for it."""
    thinnest = min(journals)
    if opening > thinnest * (1 + _ROUNDING):
        return None
    return (
        f"a hole for the bearing around a journal of {both(thinnest)} wanted, got {both(opening)}"
    )


@rule_on("driven.shaft_end", "driven.pulley_position", *_BEARINGS)
def _shaft_end(end: float, pulley: float, *bearings: float) -> str | None:
    """The driven shaft ends beyond the bearings, on the side of an overhung pulley."""
    low, high = min(bearings), max(bearings)
    if low < end < high:
        return "a shaft's end beyond the bearings wanted, got one between"
    if (pulley < low and end >= high) or (pulley > high and end <= low):
        return "the end on the pulley's side wanted, got one beyond the other side"
    return None


@rule_on("base.floor", "plate.hinge")
def _floor(floor: float, hinge: Vector) -> str | None:
    return f"the hinge is not above it: its y is {both(hinge[1])}" if floor >= hinge[1] else None


def _plate(facts: Facts) -> Iterator[Finding]:
    weight = facts.get("plate.weight")
    if weight is not None and weight[0] > 0 and "plate.center_of_mass" not in facts.present:
        yield found(
            "plate.center_of_mass",
            'missing: point wanted (such as ["-20 in", "-4 in"]), since the plate has a weight',
        )


_RULES: tuple[Rule, ...] = (
    _pulley_sizes, _pulleys, _belt_length, _belt, _flat_belt, _service,
    _two_bearings, _bearings_apart, _starting_limits, _bearing_boxes, _loads,
    _plate, _adjuster_keys, _jack, _link,
    *(rule_on(f"adjuster.{pin}", "plate.hinge")(_on_hinge) for pin in _LINK_POINTS),
    _adjuster_limit,
    _mortise("plate"), _mortise("base"), _knuckle, _hinges_on_plate, _packing, _motor_face,
    _bearing_opening, _shaft_end, _floor,
    *SEARCH_RULES,
)  # fmt: skip


def check(facts: Facts) -> list[Finding]:
    """Return what is wrong between the keys of a scenario.

    A rule runs on whatever keys are good and is silent where one that it needs is not.
    """
    return [finding for rule in _RULES for finding in rule(facts)]

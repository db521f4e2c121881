"""A commented scenario, table by table, from a mount and answers about machine and motor."""

from __future__ import annotations

import math

from mountcalc.handbook.machine import MotorFrame, box_limit
from mountcalc.handbook.restoring import starting_factors
from mountcalc.new.measurements import questions
from mountcalc.new.mount.belt import put_belt, put_pulley
from mountcalc.new.mount.draft import TAKEN, Draft
from mountcalc.new.mount.plate import Built
from mountcalc.new.mount.space import Search, put_search
from mountcalc.new.tape.places import tape_keys
from mountcalc.scenario.text.writing import Display, quoted
from mountcalc.units import STANDARD_GRAVITY, si_factor

_LB = si_factor("lb") * STANDARD_GRAVITY
# Weight of a motor: that of frame and shaft, and what each horsepower adds (estimate).
_MOTOR_WEIGHT, _PER_HP = 15.0, 25.0  # [lb]
_MOTOR_ERROR = 0.3
_PLYWOOD = 650.0  # [kg/m^3] birch plywood (estimate)
_MACHINES = ("light", "usual", "heavy")
_KINDS = {"block": "jack-in-base", "plate": "jack-in-plate", "eye-bolt": "link", "none": "none"}
_MOST_FACTOR = 20.0
_SAME = 0.0005


def write(
    draft: Draft,
    mount: Built,
    floor: float | None,
    search: Search | None,
    bought: str | None,
) -> str:
    """Return the text of the scenario.

    Parameters
    ----------
    draft : Draft
        Empty; what is taken is noted there.
    mount : Built
    floor : float or None [m]
        How high the machine's shaft is above it.
    search : Search or None
        Of a mount that a place is to be found for.
    bought : str or None
        The belt, where none is known.
    """
    measured = draft.measured
    _put_driven(draft)
    _put_bearings(draft)
    _put_motor(draft, mount)
    put_belt(draft, math.hypot(*mount.points["motor"]), bought)
    _put_plate(draft, mount)
    _put_adjuster(draft, mount)
    if floor is not None:
        draft.table("[base]", "what carries the hinge")
        draft.put("floor", draft.length(-floor), "below the machine's shaft")
    if search is not None:
        put_search(draft, search)
    command = "mountcalc table" if search is None else "mountcalc place"
    head = [
        "Written by mountcalc new from measurements. Facing the motor's pulley, x runs to the "
        "right and y up, from the middle of the machine's shaft; directions count from the right, "
        f"counter-clockwise. Next: {command} on this file.",
        f"What nobody measured is marked {TAKEN}: measure it, put it right here, and take the mark "
        "out. A number of which nobody is sure is no ground to run a machine on.",
    ]
    if search is not None:
        head.append("The mount is not built: [plate] and [adjuster] are a sketch to begin from.")
    return draft.text(measured.text("title") or "", head)


def _put_driven(draft: Draft) -> None:
    measured = draft.measured
    draft.table("[driven]", "the machine's shaft")
    draft.point("shaft", (0.0, 0.0), "everything counts from here")
    put_pulley(draft, "driven")
    out = (measured.text("pulley_to_bearing") or "").lstrip("+ ")
    where = f"{measured.text('pulley_place')} the bearings, from the middle of the nearer one"
    value = quoted(out if measured.text("pulley_place") == "between" else f"-{out}")
    if "pulley_to_bearing" in measured:
        draft.put("pulley_position", value, where)
    else:
        draft.take(
            "pulley_position", value, "pulley_to_bearing", questions()["pulley_to_bearing"].unsaid
        )
    if "machine_power" in measured:
        draft.answer("power", "machine_power", "what it takes at work")
    else:
        rated = quoted(measured.text("motor_power") or "")
        draft.take("power", rated, "machine_power", questions()["machine_power"].unsaid)
    _put_starting_factor(draft)
    if "top_speed" in measured:
        draft.answer("max_speed", "top_speed")


def _put_starting_factor(draft: Draft) -> None:
    """By motor and machine; a motor that is not asked for all it can starts with more."""
    measured, known = draft.measured, starting_factors()
    motor = known.motors.index(
        (measured.text("motor_start") or "").replace("-", " ")
        + (" start" if measured.text("motor_start") == "capacitor" else "")
    )
    text = known.rows[motor][_MACHINES.index(measured.text("machine_start") or "")]
    factor = float(text.split(" to ")[-1])
    rated, taken = measured.value("motor_power"), measured.value("machine_power")
    how = f"{known.motors[motor]}, {measured.text('machine_start')}: {text} ({known.sure})"
    if taken and taken < rated:
        factor *= rated / taken
        how += ", times rating over what it takes"
    draft.put("starting_factor", f"{min(factor, _MOST_FACTOR):.3g}", how)


def _put_bearings(draft: Draft) -> None:
    measured = draft.measured
    kind, condition = (measured.text(f"bearing_{one}") or "" for one in ("kind", "condition"))
    limit, service = box_limit(kind, condition)
    low, high = (draft.units.show(end, "pressure") for end in (service.low, service.high))
    for name, place in (("pulley end", quoted("0 in")), ("far end", "")):
        draft.table("[[driven.bearing]]")
        draft.put("name", quoted(name))
        if place:
            draft.put("position", place, "of its middle: places along the shaft count from here")
        else:
            draft.answer("position", "bearings_apart", "middle to middle")
        draft.answer("journal_diameter", "journal_diameter")
        if "journal_length" in measured:
            draft.answer("length", "journal_length")
        else:
            length = draft.length(2 * measured.value("journal_diameter"))
            draft.take("length", length, "journal_length", questions()["journal_length"].unsaid)
        draft.put(
            "limit",
            quoted(draft.units.show(limit.value, "pressure")),
            f"{kind}, {condition}: of {low} to {high} for {service.name} ({service.sure})",
        )
        draft.put("service", quoted(service.key))
    if "load_weight" in measured:
        draft.table("[[driven.load]]", "what else the shaft carries")
        draft.put("name", quoted("what sits on the shaft"))
        if "load_to_bearing" in measured:
            draft.answer("position", "load_to_bearing")
        else:
            middle = draft.length(measured.value("bearings_apart") / 2)
            draft.take("position", middle, "load_to_bearing", "half-way between the bearings")
        draft.answer("force", "load_weight")
        draft.put("direction", '"down"')


def _put_motor(draft: Draft, mount: Built) -> None:
    measured = draft.measured
    draft.table("[motor]")
    draft.say(_how(draft, "motor"))
    draft.point("shaft", mount.points["motor"])
    put_pulley(draft, "motor")
    draft.answer("power", "motor_power", "on its nameplate")
    draft.answer("speed", "motor_speed", "on its nameplate")
    draft.answer("rotation", "motor_turns", "seen facing the motor's pulley")
    if measured.text("motor_start") == "three-phase":
        draft.put("phases", "3")
    if "motor_weight" in measured:
        draft.answer("weight", "motor_weight", "by the scales")
    else:
        hp = measured.value("motor_power") / si_factor("hp")
        weight = draft.units.write("weight", _rough((_MOTOR_WEIGHT + _PER_HP * hp) * _LB, draft))
        draft.take("weight", weight, "motor_weight", questions()["motor_weight"].unsaid)
        draft.put("weight_error", f"{_MOTOR_ERROR:g}", "so far may a guess be off")
    frame: MotorFrame | None = measured.value("motor_frame")
    if frame is not None:
        draft.answer("frame", "motor_frame")
        packing = mount.height - frame.shaft_height
        if "shaft_height" in measured and packing > draft.grid:
            draft.put("packing", draft.length(packing), "shaft_height less what the frame has")


def _put_plate(draft: Draft, mount: Built) -> None:
    measured, plate = draft.measured, mount.plate
    draft.table("[plate]")
    draft.say(_how(draft, "hinge"))
    draft.point("hinge", plate.hinge)
    ends = [quoted(f"{math.degrees(end):.1f} deg") for end in mount.travel]
    swings = " and ".join(
        f"{measured.text(key)}{'' if key in measured else f' ({TAKEN})'} {way}"
        for key, way in (("swing_looser", "looser"), ("swing_tighter", "tighter"))
    )
    draft.put("travel", f"[{', '.join(ends)}]", f"its far end moves {swings}")
    if "plate_weight" in measured:
        draft.answer("weight", "plate_weight")
    else:
        size = mount.length * measured.value("plate_width") * plate.thickness
        weight = draft.units.write("weight", _rough(size * _PLYWOOD * STANDARD_GRAVITY, draft))
        draft.take("weight", weight, "plate_weight", questions()["plate_weight"].unsaid)
    middle = plate.at(0.5 * mount.length, -0.5 * plate.thickness)
    draft.point("center_of_mass", middle, "the middle of its board")
    if "plate_length" in measured:
        draft.answer("length", "plate_length", "from the hinge to the far end")
    else:
        length = draft.length(mount.length)
        draft.take("length", length, "plate_length", questions()["plate_length"].unsaid)
    draft.answer("width", "plate_width", "along the hinge")
    draft.answer("thickness", "plate_thickness")
    draft.direction("direction", plate.direction, "from the hinge along the face, as it stands")


def _put_adjuster(draft: Draft, mount: Built) -> None:
    measured = draft.measured
    kind = measured.text("adjuster") or ""
    draft.table("[adjuster]")
    draft.put("kind", quoted(_KINDS[kind]), questions()["adjuster"].choices[kind])
    if kind == "none":
        return
    draft.answer("thread", "thread")
    if kind == "eye-bolt":
        pitch = measured.value("thread").pitch
        draft.put("advance_per_turn", draft.units.write("length", pitch), "one pitch a turn")
    for key, value in mount.adjuster.items():
        if isinstance(value, tuple):
            draft.say(_how(draft, "post" if key == "base_pin" else "bolt"))
            draft.point(key, value)
        else:
            draft.direction(key, value)


def _how(draft: Draft, name: str) -> str:
    """What was measured of a point, in one line."""
    measured = draft.measured
    if measured.text("built") == "no":
        return ""
    told = [
        f"{questions()[key].brief}: {measured.text(key)}"
        for key in tape_keys()
        if key in measured and name in key.split("_")
    ]
    return "; ".join(one.replace(" ", "\N{NO-BREAK SPACE}") for one in told)


def _rough(weight: float, draft: Draft) -> float:
    """A weight [N] to the half pound or quarter kilogram."""
    is_inch = draft.measured.display is Display.INCH
    step = 0.5 * _LB if is_inch else 0.25 * STANDARD_GRAVITY
    return max(1, round(weight / step)) * step

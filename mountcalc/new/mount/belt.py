"""Pulleys and belt of a new mount: as they were measured, or the belt to buy."""

from __future__ import annotations

import math
from collections.abc import Iterator

from mountcalc.errors import InputError
from mountcalc.handbook.belts.sections import section as v_section
from mountcalc.linkage import kernels
from mountcalc.measure import Candidate, MeasureQuestion, measure_drive
from mountcalc.new.measurements import Measurements
from mountcalc.new.mount.draft import Draft
from mountcalc.new.results import Contradiction
from mountcalc.scenario.pulleys import PulleyError, PulleyFace, pulley_of
from mountcalc.scenario.text.writing import Display, quoted
from mountcalc.thresholds import ROUNDING

SIDES = ("motor", "driven")
FLAT = {"leather": "flat leather", "rubber": "flat rubber", "plastic": "flat polyamide"}
# What a tape round a pulley may be off from pi times its size across, besides the tape's error.
_ROUND = 0.01
# Sections that most belts are of, in the order in which they are taken; others come after them.
_USUAL = ("A", "B", "C", "D", "E", "3L", "4L", "5L")


def face(measured: Measurements, side: str) -> str:
    """What the belt runs on at a side: "grooved" or "flat"; flat belts run on rims."""
    question = f"{side}_pulley_rim"
    if measured.text("belt_kind") in FLAT and question not in measured:
        return "flat"
    return measured.text(question) or "grooved"


def size(measured: Measurements, side: str) -> tuple[str, str, float]:
    """The scenario's key for a pulley's size, the question that told it, and the size [m]."""
    rim = "rim" if face(measured, side) == "flat" else "outside"
    for way, measures in (("across", "diameter"), ("round", "circumference")):
        question = f"{side}_pulley_{way}"
        if question in measured:
            return f"pulley_{rim}_{measures}", question, measured.value(question)
    raise InputError(f"{side}_pulley_across: wanted, or {side}_pulley_round: a tape round it")


def clashing_sizes(measured: Measurements, draft: Draft) -> Iterator[Contradiction]:
    """Pulleys whose sizes across and round do not belong to one circle."""
    for side in SIDES:
        keys = (f"{side}_pulley_across", f"{side}_pulley_round")
        if not all(key in measured for key in keys):
            continue
        across, about = map(measured.value, keys)
        off = about - math.pi * across
        if abs(off) > _ROUND * about + (1 + math.pi) * measured.value("tape_error"):
            yield Contradiction(
                keys,
                (-off / math.pi, off),
                f"{keys[0]} {draft.show(across)} would be {draft.show(math.pi * across)} round, "
                f"and {keys[1]} says {draft.show(about)}: one of the two is off",
            )


def put_pulley(draft: Draft, side: str) -> None:
    """Write a pulley's size as it was measured."""
    key, question, _ = size(draft.measured, side)
    draft.answer(key, question, "as measured")


def put_belt(draft: Draft, center: float, bought: str | None) -> None:
    """Write the belt; ``bought`` is one that is taken since none is known."""
    measured = draft.measured
    draft.table("[belt]")
    if measured.text("belt_kind") in FLAT:
        _put_flat(draft, center)
    elif "belt" in measured:
        draft.answer("designation", "belt", "as printed on it")
    else:
        why = (
            "nearest to the old belt's outside"
            if "belt_outside" in measured
            else "what suits these pulleys and this swing"
        )
        draft.take("designation", quoted(bought or ""), "belt", why)


def nearest_belt(measured: Measurements, center: float) -> str | None:
    """The belt to buy that is nearest to what was measured; None where one is known, or flat."""
    if "belt" in measured or measured.text("belt_kind") in FLAT:
        return None
    (motor_key, _, motor), (driven_key, _, driven) = (size(measured, side) for side in SIDES)
    question = MeasureQuestion(
        width=measured.value("belt_width"),
        outside=measured.value("belt_outside"),
        center=None if "belt_outside" in measured else center,
        motor_pulley=motor,
        driven_pulley=driven,
        motor_key=motor_key,
        driven_key=driven_key,
        metric=None if measured.display is Display.METRIC else False,
        display=measured.display,
    )
    try:
        found = measure_drive(question).candidates
    except InputError as error:
        key = "belt_outside" if "belt_outside" in measured else "belt_width"
        raise InputError(f"{key}: {str(error).removeprefix('width: ')}") from None

    def doubt(one: Candidate) -> tuple[bool, int]:
        """Whether pulleys are too small for a section, and how usual it is."""
        pitch = [
            pulley_of({key: across}, None, one.section, None).diameter for key, across in sizes
        ]
        least = getattr(v_section(one.section), "least_diameter", None)
        is_small = least is not None and min(pitch) < least.value * (1 - ROUNDING)
        usual = _USUAL.index(one.section) if one.section in _USUAL else len(_USUAL)
        return is_small, usual

    sizes = ((motor_key, motor), (driven_key, driven))
    best = min(found, key=doubt)
    return (best.answer or best.buy).designation


def _put_flat(draft: Draft, center: float) -> None:
    """A flat belt: as long as the tape round it tells, or as is just taut as drawn."""
    measured = draft.measured
    name, thickness = FLAT[measured.text("belt_kind") or ""], measured.value("flat_thickness")
    draft.put("section", quoted(name))
    draft.answer("width", "flat_width")
    draft.answer("thickness", "flat_thickness")
    draft.answer("joint", "flat_joint")
    if "belt_outside" in measured:
        outside = measured.value("belt_outside")
        told = f"by its outside, {measured.text('belt_outside')}: in the middle of its thickness"
        draft.put("length", draft.length(outside - math.pi * thickness), told)
        return
    radii = []
    for side in SIDES:
        key, question, across = size(measured, side)
        try:
            pulley = pulley_of({key: across}, PulleyFace(face(measured, side)), name, thickness)
        except PulleyError as error:
            raise InputError(f"{question}: {error}") from None
        radii.append(pulley.diameter / 2)
    if center <= sum(radii):
        apart = f"the shafts are {draft.show(center)} apart"
        raise InputError(f"driven_to_motor: {apart}, so near that the pulleys would overlap")
    path = float(kernels.open_belt(center, *radii).length)
    draft.take(
        "length", draft.length(path), "belt_outside", "just taut as the mount stands: cut so"
    )

"""A pulley's pitch diameter from however it was measured: named diameters, its rim, or a tape."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from enum import StrEnum
from typing import NamedTuple

from mountcalc.handbook.belts.grooves import pitch_from_datum, pitch_from_outside, pitch_from_rim
from mountcalc.handbook.belts.sections import flat_material
from mountcalc.handbook.belts.sections import section as v_section
from mountcalc.scenario.text.wording import listed, shown


class PulleyFace(StrEnum):
    """What the belt runs on."""

    GROOVED = "grooved"
    FLAT = "flat"


class _Key(NamedTuple):
    """What a key measures: ``round_it`` with a tape, and the face that this tells of."""

    words: str
    face: PulleyFace | None = None
    round_it: bool = False
    from_groove: Callable[[str, float], float | None] | None = None


PULLEY_KEYS = {
    "pulley_diameter": _Key("its pitch diameter, where the belt's cords run"),
    "pulley_datum_diameter": _Key(
        "the datum diameter of its groove", PulleyFace.GROOVED, from_groove=pitch_from_datum
    ),
    "pulley_outside_diameter": _Key(
        "over the rims of its groove", PulleyFace.GROOVED, from_groove=pitch_from_outside
    ),
    "pulley_rim_diameter": _Key("over its flat rim", PulleyFace.FLAT),
    "pulley_outside_circumference": _Key(
        "a tape round the rims of its groove",
        PulleyFace.GROOVED,
        round_it=True,
        from_groove=pitch_from_outside,
    ),
    "pulley_rim_circumference": _Key("a tape round its flat rim", PulleyFace.FLAT, round_it=True),
}
"""The keys that give a pulley's size; exactly one is wanted."""


class PulleyError(ValueError):
    """A pulley whose pitch diameter cannot be told; ``key`` is the one to put right."""

    def __init__(self, key: str, text: str) -> None:
        super().__init__(text)
        self.key = key


class Pulley(NamedTuple):
    """A pulley: pitch ``diameter`` [m], ``face``, and the ``key`` that gave its size."""

    diameter: float
    face: PulleyFace
    key: str


def pulley_of(
    given: Mapping[str, float],
    face: PulleyFace | None,
    section: str | None,
    thickness: float | None,
) -> Pulley:
    """Return a pulley from the keys that were given."""
    if not given:
        raise PulleyError("pulley_diameter", f"missing: {_ways()}")
    if len(given) > 1:
        second = sorted(given, key=list(PULLEY_KEYS).index)[1]
        raise PulleyError(second, f"the pulley has a size already: {_ways()}")
    ((key, size),) = given.items()
    kind = PULLEY_KEYS[key]
    if face is not None and kind.face not in (None, face):
        raise PulleyError(
            "pulley_face", f"{shown(face.value)} does not go with {key} ({kind.words})"
        )
    is_flat_belt = flat_material(section or "") is not None
    if is_flat_belt and PulleyFace.GROOVED in (face, kind.face):
        wrong = "pulley_face" if face is PulleyFace.GROOVED else key
        raise PulleyError(wrong, f"{section} runs on flat rims, not in grooves")
    diameter = _pitch_diameter(key, size / math.pi if kind.round_it else size, section, thickness)
    usual = PulleyFace.FLAT if is_flat_belt else PulleyFace.GROOVED
    return Pulley(diameter, face or kind.face or usual, key)


def _ways() -> str:
    ways = listed(f"{key} ({kind.words})" for key, kind in PULLEY_KEYS.items())
    return f'length wanted (such as "14 1/2 in" or "370 mm") for one of {ways}'


def _pitch_diameter(
    key: str, measured: float, section: str | None, thickness: float | None
) -> float:
    """Pitch diameter [m] from a measured diameter."""
    if key == "pulley_diameter":
        return measured
    known = section is not None and v_section(section) is not None
    from_groove = PULLEY_KEYS[key].from_groove
    if from_groove is not None:
        pitch = from_groove(section or "", measured) if known else None
        wanted = "give belt.section or belt.designation"
        if known:
            wanted = "its grooves have no datum diameter: give pulley_outside_diameter"
    else:
        is_ready = known or thickness is not None
        pitch = pitch_from_rim(section or "", measured, thickness) if is_ready else None
        wanted = "give belt.thickness, or the section of a V-belt"
    if pitch is None:
        named = f"of section {shown(section)}" if section else "of the belt"
        raise PulleyError(
            key,
            f"where the pitch line {named} runs on it is not known: {wanted}, or pulley_diameter",
        )
    if pitch <= 0:
        raise PulleyError(key, "so small a pulley has no pitch diameter for this belt")
    return pitch

"""A pulley's pitch diameter from however it was measured: named diameters, its rim, or a tape."""

from __future__ import annotations

import math
from collections.abc import Mapping
from enum import StrEnum
from typing import NamedTuple

from mountcalc.handbook.belts.grooves import has_datum_diameter, outside_less_pitch, pitch_from_rim
from mountcalc.handbook.belts.sections import flat_material
from mountcalc.scenario.forms import choice
from mountcalc.scenario.keys import Key, Without
from mountcalc.scenario.text.wording import listed, shown


class PulleyFace(StrEnum):
    """What the belt runs on."""

    GROOVED = "grooved"
    FLAT = "flat"


class _Key(NamedTuple):
    """What a key measures: the face that it tells of, ``round_it`` with a tape."""

    words: str
    face: PulleyFace | None = None
    round_it: bool = False


_GROOVED, _FLAT = PulleyFace.GROOVED, PulleyFace.FLAT
PULLEY_KEYS = {
    "pulley_diameter": _Key("its pitch diameter, where the belt's cords run"),
    "pulley_datum_diameter": _Key("the datum diameter of its groove", _GROOVED),
    "pulley_outside_diameter": _Key("over the rims of its groove", _GROOVED),
    "pulley_rim_diameter": _Key("over its flat rim", _FLAT),
    "pulley_outside_circumference": _Key(
        "a tape round the rims of its groove", _GROOVED, round_it=True
    ),
    "pulley_rim_circumference": _Key("a tape round its flat rim", _FLAT, round_it=True),
}
"""The keys that give a pulley's size; exactly one is wanted."""

PULLEY_FORM = tuple(Key(key, words=kind.words) for key, kind in PULLEY_KEYS.items())
"""The same as keys of the field that its radius is."""
ONE_SIZE = Without("another size: one is wanted")
PULLEY_FACE = (
    choice(PulleyFace),
    "what the belt runs on",
    Without("told by its size and the belt"),
)
FRICTION = ("friction on this pulley, wedging included", Without("the belt's"))


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
    every = listed(f"{key} ({kind.words})" for key, kind in PULLEY_KEYS.items())
    ways = f'length wanted (such as "14 1/2 in" or "370 mm") for one of {every}'
    if not given:
        raise PulleyError("pulley_diameter", f"missing: {ways}")
    if len(given) > 1:
        second = sorted(given, key=list(PULLEY_KEYS).index)[1]
        raise PulleyError(second, f"the pulley has a size already: {ways}")
    ((key, size),) = given.items()
    kind, name = PULLEY_KEYS[key], section or ""
    if face is not None and kind.face not in (None, face):
        words = f"{shown(face.value)} does not go with {key} ({kind.words})"
        raise PulleyError("pulley_face", words)
    is_flat_belt = flat_material(name) is not None
    if is_flat_belt and _GROOVED in (face, kind.face):
        wrong = "pulley_face" if face is _GROOVED else key
        raise PulleyError(wrong, f"{section} runs on flat rims, not in grooves")
    pitch, wanted = _pitch(key, size / math.pi if kind.round_it else size, name, thickness)
    if pitch is None:
        of = f"of section {shown(section)}" if section else "of the belt"
        words = f"where the pitch line {of} runs on it is not known: {wanted}, or pulley_diameter"
        raise PulleyError(key, words)
    if pitch <= 0:
        raise PulleyError(key, "so small a pulley has no pitch diameter for this belt")
    usual = _FLAT if is_flat_belt else _GROOVED
    return Pulley(pitch, face or kind.face or usual, key)


def _pitch(
    key: str, measured: float, name: str, thickness: float | None
) -> tuple[float | None, str]:
    """Pitch diameter [m] from a measured one, and what is wanted where it cannot be told."""
    face, over = PULLEY_KEYS[key].face, outside_less_pitch(name)
    if face is None:
        return measured, ""
    if face is _FLAT:
        wanted = "give belt.thickness, or the section of a V-belt"
        return pitch_from_rim(name, measured, thickness), wanted
    if over is None:
        return None, "give belt.section or belt.designation"
    if key != "pulley_datum_diameter":
        return measured - over.value, ""
    wanted = "its grooves have no datum diameter: give pulley_outside_diameter"
    return measured if has_datum_diameter(name) else None, wanted

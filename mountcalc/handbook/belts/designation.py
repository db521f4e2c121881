"""What stands on a V-belt, such as "A54" or "SPZ 1250": its section, and how long that makes it.

Inch belts of the classical sections are numbered by the inches of their inside length, nominally:
from 240 up the number is only a name. Light-duty and narrow inch belts are numbered by tenths of an
inch of their outside or effective length, metric belts by the millimetres of their datum length.
"""

from __future__ import annotations

import math
import re
from functools import lru_cache
from typing import Any, NamedTuple

from mountcalc.handbook.belts.sections import NumberOf, known_sections, section
from mountcalc.handbook.rows import INCH, load, source_of
from mountcalc.record import Record

_FILE = "belt_lengths"
_FORM = re.compile(r"([0-9]?[A-Za-z]+)[ -]?([0-9]{1,5})", re.ASCII)
WANTED = 'designation of a belt wanted (such as "A54", "4L560", "SPZ 1250" or "3V560")'
_NOMINAL_FROM = 240  # inch belts: from here on the number is only a name
_LONGEST_SHOWN = 40


class _Kind(NamedTuple):
    """How a belt is numbered: what is measured, in words, and what stands before the number."""

    measures: NumberOf
    words: str
    gap: str


_KINDS = {
    "inch": _Kind(NumberOf.INSIDE, "its inside length in inches", ""),
    "outside": _Kind(NumberOf.OUTSIDE, "its outside length in tenths of an inch", ""),
    "effective": _Kind(NumberOf.EFFECTIVE, "its effective length in tenths of an inch", ""),
    "mm": _Kind(NumberOf.DATUM, "its datum length in mm", " "),
}


class DesignationError(ValueError):
    """A text that is no designation of a belt; it says what was found and what is wanted."""


class Designation(Record):
    """A belt as it is bought.

    ``text`` is its normal form, ``number`` what stands behind the ``section`` and ``measures`` what
    that is of. ``inside_length``, ``pitch_length`` and ``outside_length`` [m] are nominal.
    ``source`` is that of the pitch length and ``sure`` how sure it is; ``in_series`` tells whether
    a series has this length, ``is_half_step`` that it lies between the lengths that all stock.
    """

    text: str
    section: str
    number: float
    measures: NumberOf
    inside_length: float
    pitch_length: float
    outside_length: float
    source: str
    sure: str
    in_series: bool
    is_half_step: bool

    def __str__(self) -> str:
        return self.text

    @property
    def inside_inches(self) -> float:
        """Inches of the inside length: the number of a classical belt, or of one like it."""
        return self.number if self.measures is NumberOf.INSIDE else self.inside_length / INCH


def read_designation(text: str) -> Designation:
    """Read what stands on a belt, with its lengths.

    DesignationError: not of this form, no known section, or no number that a belt of the section
    has.

    Parameters
    ----------
    text : str
        Section and number, with or without a space or hyphen between; capitals or not.
    """
    match = _FORM.fullmatch(text.strip())
    if match is None:
        raise DesignationError(f"{WANTED}, got {_shown(text)}")
    name, number = match[1].upper(), int(match[2])
    if section(name) is None:
        from difflib import get_close_matches  # noqa: PLC0415  # seldom needed

        near = get_close_matches(name, known_sections(), n=1, cutoff=0.6)
        hint = f"; did you mean {near[0]}?" if near else f" (known: {', '.join(known_sections())})"
        raise DesignationError(f"{WANTED}, got {_shown(text)}: no section {name} is known{hint}")
    ranges = load(_FILE)["numbers"][name]
    for kind, (low, high) in ranges.items():
        if low <= number <= high:
            return numbered(name, kind, number)
    ways = (f"{low} to {high}, {_KINDS[kind].words}" for kind, (low, high) in ranges.items())
    raise DesignationError(
        f"{_shown(text)} is no belt of section {name}: its number is {', or '.join(ways)}"
    )


def _shown(text: str) -> str:
    """The text as it was found, on one line, shortened."""
    short = text if len(text) <= _LONGEST_SHOWN else text[: _LONGEST_SHOWN - 3] + "..."
    return '"' + "".join(char if char.isprintable() else "?" for char in short) + '"'


@lru_cache(maxsize=4096)
def numbered(name: str, kind: str, number: int) -> Designation:
    """Return the belt of a known section with a number, by how it is numbered (`_KINDS`)."""
    made = section(name)
    assert made is not None, "only known sections are numbered"
    row, above = listed_numbers(name, kind).get(number), made.pitch_to_outside
    if kind == "mm":
        pitch = number * 1e-3
        said = row or {"source": "number-mm", "sure": "common practice"}
    elif kind == "inch":
        rule = load(_FILE)["rule"][name]
        nominal = number >= _NOMINAL_FROM and "from_240_in" in rule
        said = row or rule
        inches = said.get("datum_in") or number + rule["from_240_in" if nominal else "add_in"]
        pitch = inches * INCH
    else:
        pitch = number / 10 * INCH - above.value
        # However well the outside length is known, the pitch length is no surer than their
        # difference.
        said = {"source": row["source"] if row else f"number-{kind}", "sure": above.sure}
    return Designation(
        text=f"{name}{_KINDS[kind].gap}{number}",
        section=name,
        number=float(number),
        measures=_KINDS[kind].measures,
        inside_length=pitch - made.inside_to_pitch.value,
        pitch_length=pitch,
        outside_length=pitch + above.value,
        source=source_of(_FILE, said),
        sure=said["sure"],
        in_series=row is not None,
        is_half_step=bool(row and row.get("half_step")),
    )


@lru_cache(maxsize=64)
def listed_numbers(name: str, kind: str) -> dict[int, dict[str, Any]]:
    """Return the numbers that any series of a section has, each with the first such series.

    To that is added the datum length where it is printed, ``datum_in``; not to be changed.
    """
    listed: dict[int, dict[str, Any]] = {}
    for series in load(_FILE)["series"]:
        if series["kind"] != kind:
            continue
        numbers, low, high = series.get("numbers", ()), 0, math.inf
        if "ranges" in series:
            low, high = series["ranges"].get(name, (0, -1))
        elif name not in series["sections"]:
            continue
        if "whole_inches" in series:
            first, last = series["whole_inches"]
            numbers = [10 * inches for inches in range(first, last + 1)]
        for number in numbers:
            if low <= number <= high:
                listed.setdefault(number, series)
        for number, printed in series.get("rows", ()):
            listed.setdefault(number, series | {"datum_in": printed})
    return listed

"""Reading the oil of the bearings: ``"ISO VG 68 at 50 degC"``."""

from __future__ import annotations

import re
from typing import NoReturn

from mountcalc.scenario.file.wording import listed, shown
from mountcalc.scenario.model import Oil
from mountcalc.scenario.text.quantities import ValueTextError, read_number_text
from mountcalc.units import UnknownUnitError, kelvin

__all__ = ["GRADES", "WANTED_OIL", "read_oil"]

WANTED_OIL = 'oil and its temperature wanted (such as "ISO VG 68 at 50 degC" or "VG 68, 120 degF")'
# ISO 3448 (the list is from memory); thicker ones are no oils for journals.
GRADES = (2, 3, 5, 7, 10, 15, 22, 32, 46, 68, 100, 150, 220, 320, 460, 680, 1000, 1500)
"""Viscosity grades that are taken [mm^2/s at 40 degC]."""

_COLDEST, _HOTTEST = 273.15, 393.15  # [K]
_ROUNDING = 1e-9
_LONGEST = 60
_GRADE = re.compile(r"(?:ISO(?:[\s-]*VG)?|VG)[\s-]*(?P<grade>[0-9]{1,6})(?![0-9.])", re.IGNORECASE)
_AT = re.compile(r"\s*(?:,|@|\bat\b)\s*", re.IGNORECASE)
_READING = re.compile(r"(?P<number>[+\-−]?[0-9][0-9.,]*)\s*(?P<scale>.*)")


def read_oil(value: object) -> Oil:
    """Read an oil and its temperature."""
    if not isinstance(value, str) or len(value) > _LONGEST:
        _fail(f"{WANTED_OIL}, got {shown(value)}")
    text = value.strip()
    oil = _GRADE.match(text)
    if oil is None:
        _fail(f"{WANTED_OIL}, got {shown(value)}")
    grade = _grade(int(oil["grade"]), value)
    rest = text[oil.end() :]
    if not rest.strip():
        _fail(f"oil without its temperature: {shown(value)}; {WANTED_OIL}")
    at = _AT.match(rest)
    reading = _READING.fullmatch(rest, at.end()) if at else None
    if reading is None:
        _fail(f"{WANTED_OIL}, got {shown(value)}")
    return Oil(grade, _temperature(reading["number"], reading["scale"].strip(), value))


def _fail(message: str) -> NoReturn:
    raise ValueTextError(message)


def _grade(grade: int, text: str) -> float:
    if grade not in GRADES:
        near = min(GRADES, key=lambda one: abs(one - grade))
        _fail(
            f"no viscosity grade of ISO 3448 from {GRADES[0]} to {GRADES[-1]}: {grade} in "
            f"{shown(text)} (near: {near}; grades are {listed(map(str, GRADES), 'and')})"
        )
    return float(grade)


def _temperature(number: str, scale: str, text: str) -> float:
    """Return the temperature [K]."""
    if not scale:
        _fail(f"temperature without a unit: {shown(text)}; {WANTED_OIL}")
    try:
        temperature = kelvin(read_number_text(number), scale)
    except UnknownUnitError:
        _fail(
            f'unit of temperature not known: {shown(scale)} (known: "degC", "degF" and "K") in '
            f"{shown(text)}; {WANTED_OIL}"
        )
    except ValueTextError:
        _fail(f"temperature not understood: {shown(number)} in {shown(text)}; {WANTED_OIL}")
    if not _COLDEST - _ROUNDING <= temperature <= _HOTTEST + _ROUNDING:
        _fail(
            "temperature from 0 degC to 120 degC (32 degF to 248 degF) wanted, "
            f"got {shown(f'{number} {scale}')}"
        )
    return temperature

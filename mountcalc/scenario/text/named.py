"""What is read by a name: bearing services, motor frames, screws, oils."""

from __future__ import annotations

import re
from collections.abc import Iterable

from mountcalc.handbook.hardware import known_strengths
from mountcalc.handbook.machine import (
    FrameStandard,
    MotorFrame,
    bearing_conditions,
    bearing_services,
    known_frames,
    motor_frame,
)
from mountcalc.handbook.rows import INCH, load
from mountcalc.record import Record
from mountcalc.scenario.text.quantities import (
    LIMIT,
    ValueTextError,
    fail,
    read_number_text,
    refuse,
)
from mountcalc.scenario.text.wording import listed, near_spelling, refused_drive, shown
from mountcalc.scenario.text.writing import number_text
from mountcalc.thresholds import ROUNDING
from mountcalc.units import UnknownUnitError, kelvin, si_factor

WANTED_SCREW = 'screw wanted (such as "#8 x 3/4 in" or "4x20", in mm)'

# What people write for words of ours.
_MEANT = {
    "clockwise": "cw",
    "counterclockwise": "ccw",
    "anticlockwise": "ccw",
    "turnbuckle": "link",
    "eyebolt": "link",
    "weight": "none",
    "imperial": "inch",
    "mm": "metric",
    "lineshaft": "light-line-shaft",
}
_LONGEST_TEXT = 40
_LARGEST_GAUGE = 24  # of wood screws (ASME B18.6.1, from memory)
_THICKEST, _THINNEST, _LONGEST = 12e-3, 1e-3, 0.3  # [m], no hinge's screw is beyond (estimate)
_NUMBER = r"[0-9][0-9./⁄ -]*|[0-9]*\s*[½¼¾⅛⅜⅝⅞]"
_GAUGE = (
    rf"(?i)(?:\#|No\.?)\s*(?P<gauge>[0-9]{{1,2}})(?:-[0-9]{{1,2}})?"
    rf"(?:\s*[x×]\s*(?P<length>{_NUMBER})\s*(?P<unit>in|\"|″|mm)?)?"
)
# A bare number is refused: it may be meant as a gauge or in mm.
_METRIC = (
    r"(?i)(?P<m>M)?\s*(?P<size>[0-9]{1,2}(?:\.[0-9]{1,2})?)\s*(?P<mm>mm)?"
    r"(?:\s*[x×]\s*(?P<length>[0-9]{1,3}(?:\.[0-9]{1,2})?)\s*(?:mm)?)?"
)
WANTED_OIL = 'oil and its temperature wanted (such as "ISO VG 68 at 50 degC" or "VG 68, 120 degF")'
# ISO 3448 (the list is from memory); thicker ones are no oils for journals.
GRADES = (2, 3, 5, 7, 10, 15, 22, 32, 46, 68, 100, 150, 220, 320, 460, 680, 1000, 1500)
"""Viscosity grades that are taken [mm^2/s at 40 degC]."""
_COLDEST, _HOTTEST = 273.15, 393.15  # [K], 0 and 120 degC
_LONGEST_OIL = 60
_GRADE = r"(?i)(?:ISO(?:[\s-]*VG)?|VG)[\s-]*(?P<grade>[0-9]{1,6})(?![0-9.])"
_READING = r"(?i)\s*(?:,|@|\bat\b)\s*(?P<number>[+\-−]?[0-9][0-9.,]*)\s*(?P<scale>.*)"
_DIGITS = r"[0-9]{2,3}"
WANTED_FRAME = 'frame of a motor wanted, between quotes (such as "56", "143T" or "IEC 80")'


class HingeScrew(Record):
    """A wood screw or machine screw: as written, ``diameter`` [m], ``length`` [m] where given."""

    name: str
    diameter: float
    length: float | None


class Oil(Record):
    """Oil of the bearings: ISO viscosity grade [mm^2/s at 40 degC] and temperature [K]."""

    grade: float
    temperature: float

    @property
    def name(self) -> str:
        """As a file has it."""
        return f"ISO VG {self.grade:.0f} at {number_text(self.temperature - _COLDEST)} degC"


def read_word(value: object, words: Iterable[str], remark: str = "") -> str:
    """Read one of a few words; the remark says more of what is wanted."""
    words = list(words)
    wanted = f"{listed(map(shown, words))} wanted{remark}"
    if not isinstance(value, str):
        refuse(wanted, value)
    if value not in words:
        if refusal := refused_drive(value):
            fail(refusal)
        meant = _MEANT.get(re.sub(r"[\s_-]", "", value.casefold()))
        near = meant if meant in words else near_spelling(value, words)
        refuse(wanted, value, f"; did you mean {shown(near)}?" if near else "")
    return value


def read_screw(value: object) -> HingeScrew:
    """Read the size of a screw."""
    text = value.strip() if isinstance(value, str) and len(value) <= _LONGEST_TEXT else ""
    length: float | None = None
    metric, gauged = re.fullmatch(_METRIC, text), re.fullmatch(_GAUGE, text)
    if metric and (metric["m"] or metric["mm"] or metric["length"]):
        diameter = float(metric["size"]) * 1e-3
        length = float(metric["length"]) * 1e-3 if metric["length"] else None
    elif gauged and int(gauged["gauge"]) <= _LARGEST_GAUGE:
        gauge, unit = load("threads")["gauge"], (gauged["unit"] or "in").lower()
        diameter = gauge["smallest_in"] * INCH + gauge["step_in"] * INCH * int(gauged["gauge"])
        if gauged["length"] is not None:
            try:
                length = read_number_text(gauged["length"]) * (1e-3 if unit == "mm" else INCH)
            except ValueTextError:
                refuse(WANTED_SCREW, value)
    else:
        refuse(WANTED_SCREW, value)
    long_enough = length is None or diameter < length <= _LONGEST
    if not _THINNEST <= diameter <= _THICKEST or not long_enough:
        refuse(
            f"{WANTED_SCREW}, 1 to 12 mm thick, longer than thick and at most 300 mm long", value
        )
    return HingeScrew(text, diameter, length)


def read_bolt_strength(value: object) -> str:
    """Read a bolt's grade or class."""
    text = value if isinstance(value, str) and len(value) <= _LONGEST_TEXT else ""
    name = " ".join(text.casefold().removeprefix("class").split())
    if name not in known_strengths():  # no near spelling: it would be another bolt
        refuse(f"{listed(map(shown, known_strengths()))} wanted, as its head is marked", value)
    return name


def read_oil(value: object) -> Oil:
    """Read an oil and its temperature."""
    text = value.strip() if isinstance(value, str) and len(value) <= _LONGEST_OIL else ""
    oil, of = re.match(_GRADE, text), f"in {shown(value)}; {WANTED_OIL}"
    if oil is None:
        refuse(WANTED_OIL, value)
    grade, rest = int(oil["grade"]), text[oil.end() :]
    if grade not in GRADES:
        near = min(GRADES, key=lambda one: abs(one - grade))
        fail(
            f"no viscosity grade of ISO 3448 from {GRADES[0]} to {GRADES[-1]}: {grade} in "
            f"{shown(value)} (near: {near}; grades are {listed(map(str, GRADES), 'and')})"
        )
    if not rest.strip():
        fail(f"oil without its temperature: {shown(value)}; {WANTED_OIL}")
    reading = re.fullmatch(_READING, rest)
    if reading is None:
        refuse(WANTED_OIL, value)
    number, scale = reading["number"], reading["scale"].strip()
    if not scale:
        fail(f"temperature without a unit: {shown(value)}; {WANTED_OIL}")
    try:
        temperature = kelvin(read_number_text(number), scale)
    except UnknownUnitError:
        known = '(known: "degC", "degF" and "K")'
        fail(f"unit of temperature not known: {shown(scale)} {known} {of}")
    except ValueTextError:
        fail(f"temperature not understood: {shown(number)} {of}")
    if not _COLDEST - ROUNDING <= temperature <= _HOTTEST + ROUNDING:
        refuse(
            "temperature from 0 degC to 120 degC (32 degF to 248 degF) wanted", f"{number} {scale}"
        )
    return Oil(float(grade), temperature)


def known_services() -> tuple[str, ...]:
    """The services that have a range of projected pressure."""
    return tuple(bearing_services())


def read_service(value: object) -> str:
    """Read the service of a bearing."""
    return read_word(value, known_services())


def wanted_limit() -> str:
    """What a bearing's limit wants: ranges by the state of the box, not one number."""
    services = bearing_services()
    ranges = []
    for name, key in bearing_conditions().items():
        ends = services[key].low, services[key].high
        psi = " to ".join(f"{end / si_factor('psi'):.0f}" for end in ends)
        mega = " to ".join(f"{end / si_factor('MPa'):.2g}" for end in ends)
        ranges.append(f"{psi} psi ({mega} MPa) in {name} ({services[key].sure})")
    return f"{LIMIT.wanted}; usual are {listed(ranges)}"


def read_frame(value: object) -> MotorFrame:
    """Read the frame of a motor from a scenario."""
    if not isinstance(value, str):
        refuse(WANTED_FRAME, value)
    frame = motor_frame(value)
    if frame is not None:
        return frame
    known = known_frames()
    every = "; ".join(
        f"{one}: {', '.join(name.split()[1] for name in known if one in name)}"
        for one in FrameStandard
    )
    # Of the same number, else of the same series; by spelling only where no number is given, for
    # frames of near spelling but another number are other motors.
    standard, number = re.match(r"\s*(NEMA|IEC)", value, re.IGNORECASE), re.search(_DIGITS, value)
    near: list[str] = []
    if number:
        series = f" {number[0][:2]}"
        near = [name for name in known if re.search(rf" {number[0]}(?![0-9])", name)] or [
            name
            for name in known
            if name.startswith(standard[1].upper() if standard else "") and series in name
        ]
    elif spelling := near_spelling(value, (name.replace(" ", "_") for name in known)):
        near = [spelling.replace("_", " ")]
    hint = f"; did you mean {listed(map(shown, near))}?" if near else ""
    raise ValueTextError(f"nothing is known of motor frame {shown(value)} (known: {every}){hint}")

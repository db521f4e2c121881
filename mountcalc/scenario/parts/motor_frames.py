"""The motor frames that a scenario may name: their foot holes and shaft ends, by the standards."""

from __future__ import annotations

import re
from typing import Any

from mountcalc.handbook.rows import datum, load, measure, source_of
from mountcalc.scenario.file.wording import listed, near_spelling, shown
from mountcalc.scenario.parts.model import FrameStandard, MotorFrame
from mountcalc.scenario.text.quantities import ValueTextError
from mountcalc.units import si_factor

__all__ = ["known_frames", "motor_frame", "read_frame"]

_FILE = "motor_frames"
_NAME = re.compile(r"(?:(NEMA|IEC)[\s-]*)?([0-9]{2,3}[A-Z]{0,3})", re.IGNORECASE)
_WANTED = 'frame of a motor wanted, between quotes (such as "56", "143T" or "IEC 80")'


def known_frames() -> tuple[str, ...]:
    """Names of all frames, each with its standard."""
    return tuple(
        f"{standard.value} {name}" for standard in FrameStandard for name in _rows(standard)
    )


def motor_frame(text: str) -> MotorFrame | None:
    """Look a frame up."""
    match = _NAME.fullmatch(text.strip())
    if match is None:
        return None
    standards = [FrameStandard(match[1].upper())] if match[1] else list(FrameStandard)
    for standard in standards:
        # IEC's names may end in the M of a medium length, or leave it out.
        asked = match[2].upper()
        names = (asked, asked.removesuffix("M"), f"{asked}M")
        for name in names if standard is FrameStandard.IEC else names[:1]:
            if (row := _rows(standard).get(name)) is not None:
                return _frame(standard, name, row)
    return None


def read_frame(value: object) -> MotorFrame:
    """Read the frame of a motor from a scenario."""
    if not isinstance(value, str):
        raise ValueTextError(f"{_WANTED}, got {shown(value)}")
    frame = motor_frame(value)
    if frame is None:
        names = {standard: list(_rows(standard)) for standard in FrameStandard}
        every = "; ".join(f"{key.value}: {', '.join(rows)}" for key, rows in names.items())
        raise ValueTextError(
            f"nothing is known of motor frame {shown(value)} (known: {every}){_did_you_mean(value)}"
        )
    return frame


def _rows(standard: FrameStandard) -> dict[str, dict[str, Any]]:
    rows: dict[str, dict[str, Any]] = load(_FILE)[standard.value.lower()]
    return rows


def _did_you_mean(text: str) -> str:
    """Ask about frames of the same number, else of the same series; a near spelling without one.

    Frames of near spelling but another number are other motors.
    """
    known = known_frames()
    standard = re.match(r"\s*(NEMA|IEC)", text, re.IGNORECASE)
    named = standard[1].upper() if standard else ""
    number = re.search(r"[0-9]{2,3}", text)
    near: list[str] = []
    if number:
        near = [name for name in known if re.search(rf" {number[0]}(?![0-9])", name)]
        near = near or [
            name for name in known if name.startswith(named) and f" {number[0][:2]}" in name
        ]
    elif spelling := near_spelling(text, (name.replace(" ", "_") for name in known)):
        near = [spelling.replace("_", " ")]
    return f"; did you mean {listed(map(shown, near))}?" if near else ""


def _frame(standard: FrameStandard, name: str, row: dict[str, Any]) -> MotorFrame:
    ((unit, along),) = ((key.removeprefix("along_"), row[key]) for key in row if "along_" in key)
    height = measure(row, "height")
    body = load(_FILE)["body"]
    return MotorFrame(
        name=f"{standard.value} {name}",
        standard=standard,
        shaft_height=height,
        feet_across=measure(row, "across"),
        feet_along=tuple(length * si_factor(unit) for length in along),
        shoulder_to_foot=measure(row, "to_foot"),
        hole=measure(row, "hole"),
        slotted=row["slotted"],
        shaft_diameter=measure(row, "shaft"),
        shaft_length=measure(row, "shaft_length"),
        body_radius=height * datum(_FILE, body["radius"]).value,
        body_length=height * datum(_FILE, body["length"]).value,
        sure=row["sure"],
        source=source_of(_FILE, row),
    )

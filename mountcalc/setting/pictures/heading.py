"""The sentences over the picture of a setting: verdict, both ends of the range, how to read it."""

from __future__ import annotations

from mountcalc.equilibrium.states import ZeroKind
from mountcalc.pages.display import UNITS, DisplayUnits, turns_text
from mountcalc.pages.plot_style import plain, turns_words
from mountcalc.requirements.results import Ruler, Setting
from mountcalc.scenario.model import Scenario
from mountcalc.setting.pictures.series import CASE_WORDS
from mountcalc.table import TensionTable, rotation_words

__all__ = ["curves_heading", "verdict"]

_NAME = 40  # characters
_ZERO = {
    ZeroKind.SNUG: "where the belt is just taut by hand",
    ZeroKind.CONTACT: "where the adjuster just touches",
}


def verdict(scenario: Scenario, setting: Setting) -> str:
    """Open or closed, and why."""
    if not setting.open:
        return f"Closed: {setting.why_not_open}."
    units = UNITS[scenario.display]
    old = f"{units.strength(setting.set_tension, 2)} {units.force}"
    if setting.set_turns is None or setting.new_turns is None:
        return f"Open: weight alone puts {old} on each strand, which keeps both promises."
    new = f"{units.strength(setting.new_tension, 2)} {units.force}"
    return (
        f"Open: {turns_text(setting.set_turns)} turns ({old} on each strand) for a belt that has "
        f"bedded in, {turns_text(setting.new_turns)} turns ({new}) for a new one."
    )


def curves_heading(
    scenario: Scenario, setting: Setting, table: TensionTable, *, both_ways: bool
) -> tuple[str, ...]:
    """All lines over the curves."""
    lines = [verdict(scenario, setting), *_ends(setting, UNITS[scenario.display])]
    error = turns_words(setting.turn_error)
    read = f"Zero is {_ZERO[table.zero.kind]}."
    if _has_window(setting):
        read += f" Pale: the range that keeps both. Dark: ±{error} around a setting."
    elif setting.set_turns is not None:
        read += f" Dark: ±{error} around a setting."
    lines.append(read)
    if scenario.motor.reverses:
        lines.append(
            "The drive runs both ways: grip and share are those of the worse way."
            if both_ways
            else f"The drive runs both ways and the range holds for both; the curves are those of "
            f"{rotation_words(scenario)}."
        )
    return tuple(lines)


def _has_window(setting: Setting) -> bool:
    if setting.turns_min is None:
        return False
    return setting.turns_max is None or setting.turns_min < setting.turns_max


def _ends(setting: Setting, units: DisplayUnits) -> tuple[str, str]:
    governs = setting.governs
    fewest = _end("Fewest", setting.turns_min, setting.tension_min, units, governs.min_reason)
    most = _end("Most", setting.turns_max, setting.tension_max, units, governs.max_reason)
    if setting.turns_min is not None:
        fewest += _reached(governs.min, setting) + _aside(governs.min_reason)
    if setting.turns_max is not None:
        most += _at_limit(governs.max, governs.max_reason)
    return f"{fewest}.", f"{most}."


def _end(
    name: str, turns: float | None, tension: float | None, units: DisplayUnits, reason: str | None
) -> str:
    if turns is None:
        return f"{name}: not reached, {reason}" if reason else f"{name}: not reached"
    return f"{name}: {turns:.2f} turns, {units.strength(tension, 2)} {units.force}"


def _reached(ruler: Ruler | None, setting: Setting) -> str:
    if setting.turns_min == 0:
        return ": zero itself has the wanted grip"
    if ruler is None:
        return ""
    if ruler.part is not None:
        return f": with fewer {ruler.limited} is over its limit, {CASE_WORDS[ruler.case]}"
    wanted = f" of {setting.grip_wanted:.3g}" if ruler.case == "running" else ""
    return f": the wanted grip{wanted} is reached, {CASE_WORDS[ruler.case]}"


def _at_limit(ruler: Ruler | None, reason: str | None) -> str:
    if ruler is None or ruler.part is None:
        return f": {reason}" if reason else ""
    limited = ruler.limited if ruler.bearing is None else f'bearing "{_short(ruler.bearing)}"'
    return f": {limited} is at its limit, {CASE_WORDS[ruler.case]}" + _aside(reason)


def _short(name: str) -> str:
    """A user's name cut in its middle: two bearings' names often begin alike."""
    whole = plain(name)
    half = _NAME // 2
    return whole if len(whole) <= _NAME else f"{whole[:half].rstrip()}…{whole[-half:].lstrip()}"


def _aside(reason: str | None) -> str:
    return f" ({reason})" if reason else ""

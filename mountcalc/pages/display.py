"""Numbers as a shop reads them: in the scenario's units, rounded to what can be used."""

from __future__ import annotations

from dataclasses import dataclass

from mountcalc.pages.amounts import SHOWN, figures
from mountcalc.pages.turns import turns_text
from mountcalc.scenario.model import Display
from mountcalc.units import si_factor

__all__ = ["UNITS", "DisplayUnits", "figures", "fitted", "percent", "turns_text"]


@dataclass(frozen=True, slots=True)
class DisplayUnits:
    """Names of the units that people read."""

    length: str
    length_decimals: int
    fine_decimals: int
    force: str
    speed: str
    pressure: str

    def of(self, value: float, unit: str) -> float:
        """An SI value in a named unit."""
        return value / si_factor(unit)

    def long(self, value: float | None) -> str:
        """A distance to mark out or measure, without its unit."""
        return _fixed(value, self.length, self.length_decimals)

    def fine(self, value: float | None) -> str:
        """A small distance for a feeler gauge or calliper, without its unit."""
        return _fixed(value, self.length, self.fine_decimals)

    def strength(self, value: float | None, digits: int = 3, width: int = 8) -> str:
        """A force for a column of that width, without its unit."""
        return "-" if value is None else fitted(value / si_factor(self.force), digits, width)


UNITS = {
    display: DisplayUnits(
        SHOWN["length"][display],
        *decimals,
        *(SHOWN[kind][display] for kind in ("force", "speed", "pressure")),
    )
    for display, decimals in ((Display.INCH, (2, 3)), (Display.METRIC, (1, 2)))
}


def _fixed(value: float | None, unit: str, decimals: int) -> str:
    if value is None:
        return "-"
    text = f"{value / si_factor(unit):.{decimals}f}"
    return text.removeprefix("-") if float(text) == 0 else text


def fitted(value: float, digits: int, width: int) -> str:
    """Like :func:`figures`, with fewer figures or an exponent where the column is narrow."""
    plain = [figures(value, fewer) for fewer in range(digits, 0, -1)]
    short = [f"{value:.{places}e}".replace("e+0", "e").replace("e+", "e") for places in (2, 1, 0)]
    return next(text for text in (*plain, *short, "#" * width) if len(text) <= width)


def percent(share: float | None) -> str:
    """A share as a whole number of percent."""
    return "-" if share is None else f"{100 * share:.0f}"

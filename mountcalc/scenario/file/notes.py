"""The sentences that a scenario notes about itself, in the units of its display."""

from __future__ import annotations

from mountcalc.scenario.model import Display
from mountcalc.units import si_factor

__all__ = ["Notes"]

_UNITS = {
    "force": ("lbf", "N"),
    "mass": ("lb/ft", "kg/m"),
    "power": ("hp", "W"),
    "length": ("in", "mm"),
}


class Notes:
    """Sentences about what was taken, in the units of the scenario's display."""

    def __init__(self, display: Display) -> None:
        self.sentences: list[str] = []
        self._column = 0 if display is Display.INCH else 1

    def add(self, sentence: str) -> None:
        """Note a sentence, once."""
        if sentence not in self.sentences:
            self.sentences.append(sentence)

    def show(self, value: float, kind: str, digits: int = 3) -> str:
        """Show an SI value of a kind of quantity to so many figures."""
        unit = _UNITS[kind][self._column]
        return f"{float(f'{value / si_factor(unit):.{digits}g}'):g} {unit}"

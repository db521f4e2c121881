"""What is said beside a drawing while it is made: sentences, warnings, and the numbers in them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from mountcalc.pages.bench_lengths import fine_length
from mountcalc.scenario.model import Display

__all__ = ["Told"]


@dataclass(slots=True)
class Told:
    """Sentences, warnings and the numbers that stand in them.

    Attributes
    ----------
    display : Display
        Units of the sentences.
    notes, cautions : list of str
        In the order in which they were said.
    facts : dict of str to float [SI]
        The numbers.
    other_hand : dict of str to str
        Notes that name a side of the picture, and what they are in a mirrored copy.
    """

    display: Display
    notes: list[str] = field(default_factory=list)
    cautions: list[str] = field(default_factory=list)
    facts: dict[str, float] = field(default_factory=dict)
    other_hand: dict[str, str] = field(default_factory=dict)

    def write(self, length: float) -> str:
        """A length [m] as a text with its unit."""
        return fine_length(length, self.display)

    def note(self, text: str) -> None:
        """Say something."""
        self.notes.append(text)

    def note_of_side(self, text: str, mirrored: str) -> None:
        """Say something of a side of the picture, and what it is in a mirrored copy."""
        self.note(text)
        if mirrored != text:
            self.other_hand[text] = mirrored

    def caution(self, text: str) -> None:
        """Warn of something."""
        self.cautions.append(text)

    def needs(self, wanted: Mapping[str, object], what: str) -> bool:
        """Say which keys are missing; whether any is."""
        missing = [key for key, value in wanted.items() if value is None]
        if missing:
            verb = "is" if len(missing) == 1 else "are"
            self.note(f"{_listed(missing)} {verb} needed to tell {what}.")
        return bool(missing)


def _listed(keys: list[str]) -> str:
    return " and ".join(part for part in (", ".join(keys[:-1]), keys[-1]) if part)

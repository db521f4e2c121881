"""The name by which a length of a section is bought, published series or not."""

from __future__ import annotations

from mountcalc.handbook.belts.designation import Designation, DesignationError, read_designation
from mountcalc.handbook.belts.lengths import series
from mountcalc.handbook.belts.sections import Measures
from mountcalc.handbook.rows import INCH

__all__ = ["named_length"]

_MM = 1e-3
_SAME_LENGTH = 0.3e-3  # [m]
# A classical number is up to some inches below the pitch length, a narrow one as much above.
_NUMBERS_BELOW, _NUMBERS_ABOVE = 7, 2


def named_length(section: str, pitch_length: float) -> Designation | None:
    """Find the designation that has a pitch length.

    Parameters
    ----------
    section : str
        Such as ``"A"`` or ``"SPZ"``.
    pitch_length : float [m]
        Wanted to within 0.3 mm.

    Returns
    -------
    Designation or None
        None where no number of the section stands for that length.
    """
    published = [
        belt for belt in series(section) if abs(belt.pitch_length - pitch_length) <= _SAME_LENGTH
    ]
    if published:
        return min(published, key=lambda belt: abs(belt.pitch_length - pitch_length))
    inches = round(pitch_length / INCH)
    whole = range(inches - _NUMBERS_BELOW, inches + _NUMBERS_ABOVE + 1)
    for number in [*whole, *(10 * n for n in whole)]:
        if (found := _read(section, number, pitch_length)) is not None:
            return found
    # A length that happens to be a whole number of millimetres is not so named where inches are.
    if any(belt.measures is not Measures.DATUM for belt in series(section)):
        return None
    return _read(section, round(pitch_length / _MM), pitch_length)


def _read(section: str, number: int, pitch_length: float) -> Designation | None:
    """The belt of a number, if that is its pitch length [m]."""
    try:
        found = read_designation(f"{section} {number}")
    except DesignationError:
        return None
    return found if abs(found.pitch_length - pitch_length) <= _SAME_LENGTH else None

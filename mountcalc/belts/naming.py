"""The name by which a length of a section is bought, published series or not."""

from __future__ import annotations

from mountcalc.belts.designation import Designation, DesignationError, read_designation

__all__ = ["named_length"]

_INCH, _MM = 0.0254, 1e-3
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
    inches = round(pitch_length / _INCH)
    whole = range(inches - _NUMBERS_BELOW, inches + _NUMBERS_ABOVE + 1)
    numbers = [*whole, *(10 * n for n in whole), round(pitch_length / _MM)]
    for number in numbers:
        try:
            found = read_designation(f"{section} {number}")
        except DesignationError:
            continue
        if abs(found.pitch_length - pitch_length) <= _SAME_LENGTH:
            return found
    return None

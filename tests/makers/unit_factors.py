"""Work out ``mountcalc/data/unit_factors.txt`` from ``mountcalc/data/units.txt``.

Run ``python tests/makers/unit_factors.py`` after a change to the definitions; a test compares.
"""

from pathlib import Path

import mountcalc
from mountcalc.units import UnknownUnitError, small_unit_names, unit_of_library

FACTORS = Path(mountcalc.__file__).parent / "data" / "unit_factors.txt"
_HEADER = """\
# Worked out from units.txt by the units library (tests/makers/unit_factors.py): do not edit.
# name, SI value of one, powers of length, mass, time and angle
"""


def factors_text():
    lines = []
    for name in small_unit_names():
        for spelling in (name, f"{name}s"):
            try:
                unit = unit_of_library(spelling)
            except UnknownUnitError:
                continue  # no plural of a lone letter
            if spelling != name and unit != unit_of_library(name):
                continue  # another unit's own name
            dimension = unit.dimension
            powers = (dimension.length, dimension.mass, dimension.time, dimension.angle)
            lines.append(" ".join([spelling, repr(unit.factor), *(f"{one:g}" for one in powers)]))
    return _HEADER + "\n".join(sorted(set(lines))) + "\n"


if __name__ == "__main__":
    FACTORS.write_text(factors_text(), encoding="utf-8")

"""Write the film table of the package: ``python tests/makers/make_film_table.py``.

It solves Reynolds' equation at every entry (half a minute) and replaces
``mountcalc/data/film_table.txt``.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
from reynolds import AROUND, HALF_LENGTH, FilmNumbers, solve_reynolds

TABLE = Path(__file__).parents[2] / "mountcalc" / "data" / "film_table.txt"

RATIOS = (0.25, 0.35, 0.5, 0.7, 1.0, 1.25, 1.5, 2.0, 2.5, 3.0, 3.5, 4.0)
ECCENTRICITIES = (0.001, *(k / 20 for k in range(1, 19)), 0.92, 0.94, 0.95, 0.96, 0.97)

HEADER = f"""\
# The oil film of a full round (360 deg) journal bearing of finite length, our own solution.
#
# Made by tests/makers/make_film_table.py, which solves Reynolds' equation by
# reynolds.py beside it, on a mesh of {AROUND} steps around and {HALF_LENGTH} along half
# the length. Oil comes in at no pressure along the thickest film; the film ends where pressure
# and its gradient vanish together (Swift and Stieber); one viscosity throughout; no groove, no
# joint, no tilt. Do not edit: make it anew.
#
# L/D          length over diameter
# eps          eccentricity in radial clearances c; the thinnest film is (1 - eps) c
# S            Sommerfeld number (r/c)^2 mu N / P, N in rev/s, P = load / (L D)
# attitude     angle from the load to the thinnest film [deg]
# flow         Q / (r c N L), Q drawn in at the thickest film
# side         share of Q that leaves at the ends
# P/pmax       projected over greatest pressure
# Friction follows: (r/c) f = 2 pi^2 S / sqrt(1 - eps^2) + eps sin(attitude) / 2.
#
#  L/D    eps            S  attitude      flow       side    P/pmax
"""


def lines(ratio: float, numbers: FilmNumbers) -> list[str]:
    columns = zip(
        numbers.eccentricity,
        numbers.sommerfeld,
        np.degrees(numbers.attitude),
        numbers.flow,
        numbers.side_share,
        numbers.pressure_ratio,
        strict=True,
    )
    return [
        f"{ratio:6.2f} {eps:6.3f} {s:#12.6g} {attitude:9.4f} {flow:9.5f} {side:#10.5g} {peak:9.5f}"
        for eps, s, attitude, flow, side, peak in columns
    ]


def main() -> None:
    rows = [row for ratio in RATIOS for row in lines(ratio, solve_reynolds(ratio, ECCENTRICITIES))]
    TABLE.write_text(HEADER + "\n".join(rows) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()

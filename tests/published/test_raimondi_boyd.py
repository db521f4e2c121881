"""Raimondi and Boyd, "A solution for the finite journal bearing and its application to analysis and
design", Trans. ASLE 1 (1958) 159-209, full bearing with side flow; the table as reprinted in
Bhandari, Design of Machine Elements, Table 16.1. The rows are from memory, those of L/D = 1 at
eps = 0.4, 0.6 and 0.8 read in print (Jindal, Machine Design, examples 17-2 to 17-5).
"""

import numpy as np
import pytest
from reynolds import solve_reynolds

from mountcalc.formulas.film import film_from_table

# S, (r/c) f and Q for 0.1 <= eps <= 0.9; the published table is itself within that.
TABLE = 0.02
# Published at eps = 0.97, 1 to 3 % below three solutions of ours; P/p_max read less finely.
LAST_ROW, SIDE, PEAK, PEAK_LAST_ROW = 0.04, 0.012, 0.04, 0.07
ATTITUDE_DEG = 0.8

# eps, S, attitude [deg], (r/c) f, Q/(r c N L), Qs/Q, P/p_max
PUBLISHED = {
    1.0: [
        (0.1, 1.33, 79.5, 26.4, 3.37, 0.150, 0.540),
        (0.2, 0.631, 74.02, 12.8, 3.59, 0.280, 0.529),
        (0.4, 0.264, 63.10, 5.79, 3.99, 0.497, 0.484),
        (0.6, 0.121, 50.58, 3.22, 4.33, 0.680, 0.415),
        (0.8, 0.0446, 36.24, 1.70, 4.62, 0.842, 0.313),
        (0.9, 0.0188, 26.45, 1.05, 4.74, 0.919, 0.247),
        (0.97, 0.00474, 15.47, 0.514, 4.82, 0.973, 0.152),
    ],
    0.5: [
        (0.1, 4.31, 81.62, 85.6, 3.43, 0.173, 0.523),
        (0.2, 2.03, 74.94, 40.9, 3.72, 0.318, 0.506),
        (0.4, 0.779, 61.45, 17.0, 4.29, 0.552, 0.441),
        (0.6, 0.319, 48.14, 8.10, 4.85, 0.730, 0.365),
        (0.8, 0.0923, 33.31, 3.26, 5.41, 0.874, 0.267),
        (0.9, 0.0313, 23.66, 1.60, 5.69, 0.939, 0.206),
        (0.97, 0.00609, 13.75, 0.610, 5.88, 0.980, 0.126),
    ],
    0.25: [
        (0.1, 16.2, 82.31, 322, 3.45, 0.180, 0.515),
        (0.2, 7.57, 75.18, 153, 3.76, 0.330, 0.489),
        (0.4, 2.83, 60.86, 61.1, 4.37, 0.567, 0.415),
        (0.6, 1.07, 46.72, 26.7, 4.99, 0.746, 0.334),
        (0.8, 0.261, 31.04, 8.80, 5.60, 0.884, 0.240),
        (0.9, 0.0736, 21.85, 3.50, 5.91, 0.945, 0.180),
        (0.97, 0.0101, 12.22, 0.922, 6.12, 0.984, 0.108),
    ],
}
# L/D without end: outside the table of the package, not outside its solver. Published Q at
# eps = 0.8 and 0.9 (.760, .411) is off by 3 and 5 % against the two-dimensional solution.
ENDLESS = [
    (0.1, 0.240, 69.10, 4.80, 3.03),
    (0.2, 0.123, 67.26, 2.57, 2.83),
    (0.4, 0.0626, 61.94, 1.52, 2.26),
    (0.6, 0.0389, 54.31, 1.20, 1.56),
    (0.8, 0.0210, 42.22, 0.961, None),
    (0.9, 0.0115, 31.62, 0.756, None),
]

ROWS = [(ratio, *row) for ratio, rows in PUBLISHED.items() for row in rows]


@pytest.mark.parametrize(("ratio", "eps", "s", "phi", "friction", "flow", "side", "peak"), ROWS)
def test_finite_length(ratio, eps, s, phi, friction, flow, side, peak):
    entry = film_from_table(eps, ratio)
    allowed = TABLE if eps <= 0.9 else LAST_ROW
    assert entry.sommerfeld == pytest.approx(s, rel=allowed)
    assert entry.friction == pytest.approx(friction, rel=allowed)
    assert entry.flow == pytest.approx(flow, rel=TABLE)
    assert entry.side_share == pytest.approx(side, rel=SIDE)
    assert np.degrees(entry.attitude) == pytest.approx(phi, abs=ATTITUDE_DEG)
    assert entry.pressure_ratio == pytest.approx(peak, rel=PEAK if eps <= 0.9 else PEAK_LAST_ROW)


@pytest.mark.parametrize(("ratio", "attitude"), [(1.0, 85.0), (0.5, 88.5), (0.25, 89.5)])
def test_no_load(ratio, attitude):
    entry = film_from_table(0.001, ratio)
    assert np.degrees(entry.attitude) == pytest.approx(attitude, abs=ATTITUDE_DEG)
    assert entry.flow == pytest.approx(np.pi, rel=2e-3)


# A bearing hundreds of diameters long: its ends no longer matter to 1 %.
def test_endless_bearing():
    solved = solve_reynolds(300.0, [row[0] for row in ENDLESS])
    for i, (_, s, attitude, friction, flow) in enumerate(ENDLESS):
        assert solved.sommerfeld[i] == pytest.approx(s, rel=TABLE)
        assert np.degrees(solved.attitude[i]) == pytest.approx(attitude, abs=ATTITUDE_DEG)
        assert solved.friction[i] == pytest.approx(friction, rel=TABLE)
        if flow:
            assert solved.flow[i] == pytest.approx(flow, rel=TABLE)


# The paper's rule for other lengths, y = (D/L)^3 (- (1 - l)(1 - 2l)(1 - 4l) y_inf / 8 + ...) with
# l = L/D, from memory, on its own published S. It is an interpolation through four lengths.
INTERPOLATION = 0.05


@pytest.mark.parametrize("ratio", [0.35, 0.7, 2.0])
def test_their_interpolation_in_length(ratio):
    l1, l2, l4 = 1 - ratio, 1 - 2 * ratio, 1 - 4 * ratio
    for eps, endless in ((0.2, 0.123), (0.4, 0.0626), (0.6, 0.0389)):
        one, half, quarter = (
            next(row[1] for row in PUBLISHED[length] if row[0] == eps)
            for length in (1.0, 0.5, 0.25)
        )
        number = (
            -l1 * l2 * l4 * endless / 8
            + l2 * l4 * one / 3
            - l1 * l4 * half / 4
            + l1 * l2 * quarter / 24
        ) / ratio**3
        assert film_from_table(eps, ratio).sommerfeld == pytest.approx(number, rel=INTERPOLATION)

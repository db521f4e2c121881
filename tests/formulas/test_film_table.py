"""The film table is what its maker makes, its solver is right, and between entries it is smooth."""

import make_film_table
import numpy as np
import other_mesh
import pytest
from film_limits import short_bearing_attitude, short_bearing_eccentricity
from hypothesis import given
from hypothesis import strategies as st
from reynolds import AROUND, HALF_LENGTH, solve_reynolds
from sizes import size

from mountcalc.formulas import film as film_table
from mountcalc.formulas.film import (
    eccentricity_from_table,
    film_from_table,
    short_bearing_sommerfeld,
)

NAMES = ("sommerfeld", "attitude", "friction", "flow", "side_share", "pressure_ratio")

# The other solution is of second order on a coarser mesh: 1 % for what it integrates, and for the
# side flow, which hangs on a gradient at the end, 2.5 %.
OTHER_MESH, OTHER_MESH_SIDE = 0.01, 0.025
# Two meshes of the package's own solver; the side flow of a long bearing gains most.
FINER_MESH, FINER_MESH_SIDE = 0.002, 0.004
# Interpolation between entries, on the mesh of the table.
BETWEEN, BETWEEN_SIDE = 0.003, 0.006

RATIOS, ECCENTRICITIES = st.floats(0.25, 4.0), st.floats(0.001, 0.97)


def compare(one, other, tolerance, side_tolerance):
    for name in NAMES:
        wanted = np.ravel(getattr(other, name))
        allowed = side_tolerance if name == "side_share" else tolerance
        assert np.ravel(getattr(one, name)) == pytest.approx(wanted, rel=allowed), name


@pytest.mark.parametrize("ratio", size([0.25, 0.7, 3.0], [0.7]))
def test_made_anew_some_rows_are_those_of_the_file(ratio):
    picked = (0.001, 0.4, 0.8, 0.97)
    assert set(picked) <= set(make_film_table.ECCENTRICITIES)
    rows = make_film_table.TABLE.read_text(encoding="utf-8").splitlines()
    stored = np.loadtxt([row for row in rows if row.startswith(f"{ratio:6.2f}")])
    stored = stored[np.isin(stored[:, 1], picked)]
    fresh = np.loadtxt(make_film_table.lines(ratio, solve_reynolds(ratio, picked)))
    assert stored == pytest.approx(fresh, rel=1e-4)  # the last printed digit


def test_file_holds_every_entry_and_its_header_the_mesh():
    text = make_film_table.TABLE.read_text(encoding="utf-8")
    assert text.startswith(make_film_table.HEADER)
    rows = np.loadtxt(text.splitlines())
    pairs = [(r, e) for r in make_film_table.RATIOS for e in make_film_table.ECCENTRICITIES]
    assert rows[:, :2] == pytest.approx(np.round(pairs, 3))
    ends = rows[:, 0].min(), rows[:, 0].max(), rows[:, 1].min(), rows[:, 1].max()
    assert ends == (
        film_table.LEAST_RATIO,
        film_table.GREATEST_RATIO,
        film_table.LEAST_ECCENTRICITY,
        film_table.GREATEST_ECCENTRICITY,
    )


@pytest.mark.parametrize("ratio", size([0.35, 0.7, 2.0, 3.0], [0.35, 2.0]))
def test_another_solution_on_another_mesh(ratio):
    for eps in (0.1, 0.5, 0.8, 0.9):
        other = other_mesh.solve(ratio, eps)
        compare(film_from_table(eps, ratio), other, OTHER_MESH, OTHER_MESH_SIDE)


@pytest.mark.parametrize("ratio", size([0.25, 1.0, 4.0], [1.0]))
def test_a_finer_mesh_changes_little(ratio):
    eps = [0.3, 0.9]
    finer = solve_reynolds(ratio, eps, AROUND * 3 // 2, HALF_LENGTH * 4 // 3)
    compare(solve_reynolds(ratio, eps), finer, FINER_MESH, FINER_MESH_SIDE)


@pytest.mark.parametrize("ratio", size([0.29, 0.42, 0.85, 1.7, 2.2, 3.8], [0.42, 2.2]))
def test_between_entries_the_table_is_the_solution(ratio):
    places = [0.02, 0.13, 0.47, 0.775, 0.93, 0.965]
    solved = solve_reynolds(ratio, places)
    for i, eps in enumerate(places):
        entry = film_from_table(eps, ratio)
        for name in NAMES:
            allowed = BETWEEN_SIDE if name == "side_share" else BETWEEN
            assert getattr(entry, name) == pytest.approx(getattr(solved, name)[i], rel=allowed)


@given(eps=ECCENTRICITIES, ratio=RATIOS)
def test_eccentricity_inverts_the_sommerfeld_number(eps, ratio):
    number = film_from_table(eps, ratio).sommerfeld
    back = eccentricity_from_table(number, ratio)
    if back is None:  # rounding at the ends of the table
        assert min(eps - 0.001, 0.97 - eps) < 1e-9
    else:
        assert back == pytest.approx(eps, abs=1e-9)


@given(eps=st.floats(0.001, 0.965), more=st.floats(1e-3, 0.5), ratio=RATIOS)
def test_sommerfeld_number_falls_with_eccentricity_and_with_length(eps, more, ratio):
    here = film_from_table(eps, ratio).sommerfeld
    assert film_from_table(min(eps + more, 0.97), ratio).sommerfeld < here
    assert film_from_table(eps, min(ratio * (1 + more), 4.0)).sommerfeld <= here


@given(eps=ECCENTRICITIES, ratio=RATIOS)
def test_shares_are_shares(eps, ratio):
    entry = film_from_table(eps, ratio)
    assert 0 < entry.side_share < 1
    assert 0 < entry.pressure_ratio < 1
    assert 0 < entry.attitude < np.pi / 2


@pytest.mark.parametrize("ratio", [0.25, 4.0])
def test_journal_that_runs_central_rubs_as_petroff_says(ratio):
    entry = film_from_table(0.001, ratio)
    assert entry.friction == pytest.approx(2 * np.pi**2 * entry.sommerfeld, rel=1e-5)
    assert entry.flow == pytest.approx(np.pi, rel=2e-3)  # half the clearance, all of it


@pytest.mark.parametrize("eps", [0.05, 0.3, 0.6])
def test_short_bearing_is_the_limit_of_small_length(eps):
    def gap(ratio):
        solved = solve_reynolds(ratio, eps)
        return abs(solved.sommerfeld[0] / short_bearing_sommerfeld(eps, ratio) - 1)

    # The end correction of a short bearing is of first to second order in its length.
    assert gap(0.02) < 0.002
    assert gap(0.02) < gap(0.1) < gap(0.25) < 0.08
    solved = solve_reynolds(0.02, eps)
    assert solved.attitude[0] == pytest.approx(short_bearing_attitude(eps), rel=0.002)


@given(eps=st.floats(1e-4, 0.999), ratio=st.floats(0.01, 10))
def test_short_bearing_eccentricity_inverts(eps, ratio):
    number = short_bearing_sommerfeld(eps, ratio)
    assert short_bearing_eccentricity(number, ratio) == pytest.approx(eps, rel=1e-9)


@pytest.mark.parametrize(("eps", "ratio"), [(0.98, 1.0), (0.0, 1.0), (0.5, 0.24), (0.5, 4.01)])
def test_nothing_is_extrapolated(eps, ratio):
    with pytest.raises(ValueError, match="outside the film table"):
        film_from_table(eps, ratio)
    if not 0.25 <= ratio <= 4:
        with pytest.raises(ValueError, match="outside the film table"):
            eccentricity_from_table(1.0, ratio)
    else:
        assert eccentricity_from_table(1e9 if eps == 0 else 1e-9, ratio) is None

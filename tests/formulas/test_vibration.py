"""Free vibration: pendulums, a running string cut into pieces, a body on a spring."""

import math

import numpy as np
import pytest
from scipy.linalg import eig

from mountcalc.formulas.belt import span_frequency
from mountcalc.formulas.vibration import magnification, natural_frequency, running_span_frequency


def test_a_hanging_rod_swings_as_a_pendulum_of_two_thirds_of_it():
    mass, length, gravity = 3.0, 0.6, 9.80665
    found = natural_frequency(mass * gravity * length / 2, mass * length**2 / 3)
    assert found == pytest.approx(math.sqrt(gravity / (2 * length / 3)) / math.tau)


def test_nothing_that_brings_it_back_has_no_frequency():
    assert natural_frequency(-5.0, 1.0) == 0.0


def running_string(tension, mass, speed, span, pieces=150):
    """The lowest frequency of m w_tt + 2 m v w_xt = (T - m v^2) w_xx, cut into pieces."""
    step, count = span / pieces, pieces - 1
    ones = np.ones(count - 1)
    first = (np.diag(ones, 1) - np.diag(ones, -1)) / (2 * step)
    second = (np.diag(ones, 1) + np.diag(ones, -1) - 2 * np.eye(count)) / step**2
    none = np.zeros((count, count))
    state = np.block(
        [
            [none, np.eye(count)],
            [(tension - mass * speed**2) / mass * second, -2 * speed * first],
        ]
    )
    found = np.abs(eig(state, right=False).imag)
    return found[found > 1e-6].min() / math.tau


@pytest.mark.parametrize("speed", [0.0, 10.0, 25.0])
def test_a_strand_that_runs_is_slower_than_one_that_stands(speed):
    tension, mass, span = 120.0, 0.12, 0.5
    found = running_span_frequency(tension, mass, speed, span)
    assert found == pytest.approx(running_string(tension, mass, speed, span), rel=1e-3)
    assert bool(found < span_frequency(tension, mass, span)) is (speed > 0)


def test_a_strand_that_stands_is_a_string():
    assert running_span_frequency(80.0, 0.1, 0.0, 0.4) == pytest.approx(
        span_frequency(80.0, 0.1, 0.4)
    )


def test_a_strand_as_fast_as_its_waves_is_not_brought_back():
    assert running_span_frequency(0.1 * 30**2, 0.1, 30.0, 0.4) == pytest.approx(0.0)
    assert running_span_frequency(0.0, 0.1, 0.0, 0.4) == pytest.approx(0.0)


@pytest.mark.parametrize("damping", [0.0, 0.03, 0.4])
def test_a_ripple_passes_as_it_is_at_a_standstill_and_at_root_two(damping):
    """All curves of transmissibility meet there (any text on vibration)."""
    for ratio in (0.0, math.sqrt(2.0)):
        assert magnification(ratio * 20.0, 20.0, damping) == pytest.approx(1.0)


def test_at_resonance_damping_alone_bounds_it():
    assert magnification(20.0, 20.0, 0.03) == pytest.approx(math.sqrt(1 + 1 / 0.06**2))


def test_what_is_held_rigidly_passes_on_what_it_gets():
    assert magnification(120.0, math.inf, 0.03) == 1.0


def test_arrays_are_as_numbers():
    found = natural_frequency(np.array([1.0, 4.0]), 2.0)
    assert found == pytest.approx([natural_frequency(1.0, 2.0), natural_frequency(4.0, 2.0)])

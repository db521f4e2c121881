"""The generated kernels are those of the symbolic model, and behave as arrays should."""

import numpy as np
import pytest
import sympy as sp
from sizes import size as full_or_part

from mountcalc.linkage import kernels
from mountcalc.linkage.generate import KERNELS_PATH, generated_source
from mountcalc.linkage.symbolic import KERNELS

# Values agree to rounding; a few operations are ordered differently.
ROUNDING = 1e-12
# Central difference with step 1e-6: error about 1e-12 / 1e-6 of rounding plus 1e-12 of curvature.
STEP, DIFFERENCE = 1e-6, 1e-8

POINTS = full_or_part(3, 1)  # thirty digits take their time
IDS = [kernel.name for kernel in KERNELS]


def sample(kernel, size, seed=5):
    """Arguments in the domain: pulleys apart, jacks that bite, pins apart."""
    random = np.random.default_rng(seed)
    values = {
        "phi": (-0.5, 0.5), "H_x": (-0.1, 0.1), "H_y": (-0.1, 0.1), "M_x": (0.3, 0.4),
        "M_y": (0.1, 0.3), "D_x": (1.0, 1.5), "D_y": (-0.4, 0.4), "r": (0.03, 0.1),
        "R": (0.03, 0.3), "P_x": (0.2, 0.4), "P_y": (-0.1, 0.1), "e_x": (0.0, 0.1),
        "e_y": (0.9, 1.0), "n_x": (-0.1, 0.1), "n_y": (0.9, 1.0), "Q_x": (0.2, 0.4),
        "Q_y": (0.1, 0.2), "B_x": (0.2, 0.4), "B_y": (-0.6, -0.4), "C": (0.5, 2.0),
    }  # fmt: skip
    arguments = [random.uniform(*values[str(symbol)], size=size) for symbol in kernel.parameters]
    if kernel.name == "swing_to":  # a distance that the motor reaches, away from in line
        phi, radius = random.uniform(0.8, 1.2, size=size), np.full(size, 0.05)
        path = kernels.belt_path(phi, *arguments[1:], radius, radius)
        arguments[0] = path.center_distance
    return arguments


def test_source_is_what_the_model_generates():
    written = KERNELS_PATH.read_text(encoding="utf-8")
    if f"Generated with sympy {sp.__version__}." in written:
        assert written == generated_source()
    else:  # another sympy may order terms differently: then the values decide
        namespace = {"__name__": "regenerated"}
        exec(compile(generated_source(), "regenerated", "exec"), namespace)  # noqa: S102
        for kernel in KERNELS:
            arguments = sample(kernel, 20)
            for old, new in zip(
                getattr(kernels, kernel.name)(*arguments),
                namespace[kernel.name](*arguments),
                strict=True,
            ):
                assert old == pytest.approx(new, rel=ROUNDING, abs=ROUNDING)


@pytest.mark.parametrize("kernel", KERNELS, ids=IDS)
def test_values_are_those_of_the_expressions(kernel):
    arguments = sample(kernel, POINTS)
    computed = getattr(kernels, kernel.name)(*arguments)
    for index in range(POINTS):
        point = {
            symbol: float(values[index])
            for symbol, values in zip(kernel.parameters, arguments, strict=True)
        }
        for name, (expression, _) in kernel.outputs.items():
            exact = float(expression.evalf(30, subs=point))
            assert getattr(computed, name)[index] == pytest.approx(
                exact, rel=ROUNDING, abs=ROUNDING
            ), name


@pytest.mark.parametrize("kernel", KERNELS, ids=IDS)
def test_arrays_of_any_shape_broadcast_and_equal_scalars(kernel):
    function = getattr(kernels, kernel.name)
    arguments = sample(kernel, 4)
    first = np.linspace(-0.2, 0.2, 3)[:, np.newaxis]
    if str(kernel.parameters[0]) == "C":
        first = arguments[0] * (1 + 0.01 * first)
    table = function(first, *arguments[1:])
    for name in kernel.outputs:
        assert getattr(table, name).shape == (3, 4), name
    one = function(
        float(first[2, 1 % first.shape[1]]), *(float(values[1]) for values in arguments[1:])
    )
    for name in kernel.outputs:
        assert getattr(one, name).shape == ()
        assert getattr(table, name)[2, 1] == pytest.approx(
            float(getattr(one, name)), rel=ROUNDING, abs=ROUNDING
        )


@pytest.mark.parametrize(
    ("name", "value", "slope"),
    [
        ("belt_path", "length", "length_slope"),
        ("open_belt", "length", "length_slope"),
        ("plate_point", "y", "y_slope"),
        ("jack_in_base", "extension", "extension_slope"),
        ("jack_in_plate", "extension", "extension_slope"),
        ("link", "extension", "extension_slope"),
    ],
)
def test_slopes_are_derivatives(name, value, slope):
    kernel = next(kernel for kernel in KERNELS if kernel.name == name)
    function = getattr(kernels, name)
    first, *others = sample(kernel, 200)
    up, down = (getattr(function(first + step, *others), value) for step in (STEP, -STEP))
    assert getattr(function(first, *others), slope) == pytest.approx(
        (up - down) / (2 * STEP), abs=DIFFERENCE
    )


def test_open_belt_is_the_belt_on_the_plate():
    """The two forms of the path, by arcsine on the plate and by arctangent of C."""
    path = next(kernel for kernel in KERNELS if kernel.name == "belt_path")
    arguments = sample(path, 200)
    on_plate = kernels.belt_path(*arguments)
    strands = kernels.strands(*arguments)
    belt = kernels.open_belt(on_plate.center_distance, *arguments[-2:])
    assert belt.length == pytest.approx(on_plate.length, rel=ROUNDING)
    assert belt.span**2 == pytest.approx(on_plate.span_squared, rel=ROUNDING)
    assert belt.beta == pytest.approx(strands.beta, abs=ROUNDING)
    assert belt.length_slope == pytest.approx(2 * np.cos(strands.beta), rel=ROUNDING)


@pytest.mark.parametrize("name", ["jack_in_base", "jack_in_plate", "link"])
def test_adjuster_force_has_the_lever_of_its_extension(name):
    """Virtual work: the unit force's moment about the hinge is ds/dphi."""
    kernel = next(kernel for kernel in KERNELS if kernel.name == name)
    arguments = sample(kernel, 200)
    out = getattr(kernels, name)(*arguments)
    hinge_x, hinge_y = arguments[1:3]
    moment = (out.at_x - hinge_x) * out.force_y - (out.at_y - hinge_y) * out.force_x
    assert moment == pytest.approx(out.extension_slope, rel=1e-10, abs=1e-12)


def test_extension_is_zero_as_drawn():
    for name in ("jack_in_base", "jack_in_plate", "link"):
        kernel = next(kernel for kernel in KERNELS if kernel.name == name)
        _, *others = sample(kernel, 10)
        assert getattr(kernels, name)(0.0, *others).extension == pytest.approx(0.0, abs=1e-15)

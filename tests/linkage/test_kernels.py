"""The generated kernels are those of the symbolic model, and behave as arrays should."""

import numpy as np
import pytest
import sympy as sp
from sizes import size as full_or_part

from mountcalc.linkage import kernels as positions
from mountcalc.linkage import partials
from mountcalc.linkage.generate import MODULES, generated_source

# Values agree to rounding; a few operations are ordered differently.
ROUNDING = 1e-12
# Central difference with step 1e-6: error about 1e-12 / 1e-6 of rounding plus 1e-12 of curvature.
STEP, DIFFERENCE = 1e-6, 1e-8

POINTS = full_or_part(3, 1)  # thirty digits take their time
KERNELS = [kernel for symbolic in MODULES.values() for kernel in symbolic]
IDS = [kernel.name for kernel in KERNELS]


def function_of(kernel):
    """The generated function."""
    return getattr(partials if hasattr(partials, kernel.name) else positions, kernel.name)


def named(name):
    return next(kernel for kernel in KERNELS if kernel.name == name)


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
        path = positions.belt_path(phi, *arguments[1:], radius, radius)
        arguments[0] = path.center_distance
    return arguments


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.stem)
def test_source_is_what_the_model_generates(path):
    written, generated = path.read_text(encoding="utf-8"), generated_source(MODULES[path])
    if f"Generated with sympy {sp.__version__}." in written:
        assert written == generated
    else:  # another sympy may order terms differently: then the values decide
        namespace = {"__name__": "regenerated"}
        exec(compile(generated, "regenerated", "exec"), namespace)  # noqa: S102
        for kernel in MODULES[path]:
            arguments = sample(kernel, 20)
            for old, new in zip(
                function_of(kernel)(*arguments), namespace[kernel.name](*arguments), strict=True
            ):
                assert old == pytest.approx(new, rel=ROUNDING, abs=ROUNDING)


@pytest.mark.parametrize("kernel", KERNELS, ids=IDS)
def test_values_are_those_of_the_expressions(kernel):
    arguments = sample(kernel, POINTS)
    computed = function_of(kernel)(*arguments)
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
    function = function_of(kernel)
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
    kernel = named(name)
    function = getattr(positions, name)
    first, *others = sample(kernel, 200)
    up, down = (getattr(function(first + step, *others), value) for step in (STEP, -STEP))
    assert getattr(function(first, *others), slope) == pytest.approx(
        (up - down) / (2 * STEP), abs=DIFFERENCE
    )


@pytest.mark.parametrize(
    ("name", "value", "points"),
    [
        ("belt_path", "length", "HMD"),
        ("plate_point", "y", "HP"),
        ("jack_in_base", "extension", "H"),
        ("jack_in_plate", "extension", "H"),
        ("link", "extension", "HQB"),
    ],
)
def test_partials_are_central_differences(name, value, points):
    """Of the value and of its slope, by each coordinate; a link's length is what it has more."""
    kernel = named(name)
    arguments, found = sample(kernel, 200), function_of(named(f"{name}_partials"))
    found = found(*arguments)
    places = {str(symbol): at for at, symbol in enumerate(kernel.parameters)}

    def difference(by, of):
        def shifted(step):
            moved = [one + step * (at == places[by]) for at, one in enumerate(arguments)]
            drawn = np.hypot(moved[3] - moved[5], moved[4] - moved[6]) if name == "link" else 0.0
            return getattr(positions, name)(*moved)._asdict()[of] + drawn * (of == value)

        return (shifted(STEP) - shifted(-STEP)) / (2 * STEP)

    for of in (value, f"{value}_slope"):
        for by in (f"{letter}_{axis}" for letter in points for axis in "xy"):
            told = getattr(found, f"{of}_{by}")
            assert told == pytest.approx(difference(by, of), abs=DIFFERENCE), (of, by)
    bent = getattr(found, f"{value}_curvature")
    assert bent == pytest.approx(difference("phi", f"{value}_slope"), abs=DIFFERENCE)


@pytest.mark.parametrize("name", ["jack_in_base", "jack_in_plate"])
def test_a_tip_beside_its_place_is_nearer_the_face_or_further_from_it(name):
    """By plain geometry: along the axis it meets the face as drawn so much later or earlier."""
    arguments = sample(named(name), 200)
    found = getattr(partials, f"{name}_partials")(*arguments)
    phi, hinge_x, hinge_y, tip_x, tip_y, e_x, e_y, n_x, n_y = arguments
    for axis, n_of in (("x", n_x), ("y", n_y)):

        def extension(step, axis=axis, n_of=n_of):
            further = -step * n_of / (e_x * n_x + e_y * n_y)
            x = tip_x + step * (axis == "x") + further * e_x
            y = tip_y + step * (axis == "y") + further * e_y
            out = getattr(positions, name)(phi, hinge_x, hinge_y, x, y, e_x, e_y, n_x, n_y)
            return out.extension + further, out.extension_slope

        up, down = extension(STEP), extension(-STEP)
        for of, one, other in zip(("extension", "extension_slope"), up, down, strict=True):
            told = getattr(found, f"{of}_T_{axis}")
            assert told == pytest.approx((one - other) / (2 * STEP), abs=DIFFERENCE)


def test_open_belt_is_the_belt_on_the_plate():
    """The two forms of the path, by arcsine on the plate and by arctangent of C."""
    path = named("belt_path")
    arguments = sample(path, 200)
    on_plate = positions.belt_path(*arguments)
    strands = positions.strands(*arguments)
    belt = positions.open_belt(on_plate.center_distance, *arguments[-2:])
    assert belt.length == pytest.approx(on_plate.length, rel=ROUNDING)
    assert belt.span**2 == pytest.approx(on_plate.span_squared, rel=ROUNDING)
    assert belt.beta == pytest.approx(strands.beta, abs=ROUNDING)
    assert belt.length_slope == pytest.approx(2 * np.cos(strands.beta), rel=ROUNDING)


@pytest.mark.parametrize("name", ["jack_in_base", "jack_in_plate", "link"])
def test_adjuster_force_has_the_lever_of_its_extension(name):
    """Virtual work: the unit force's moment about the hinge is ds/dphi."""
    kernel = named(name)
    arguments = sample(kernel, 200)
    out = getattr(positions, name)(*arguments)
    hinge_x, hinge_y = arguments[1:3]
    moment = (out.at_x - hinge_x) * out.force_y - (out.at_y - hinge_y) * out.force_x
    assert moment == pytest.approx(out.extension_slope, rel=1e-10, abs=1e-12)


def test_extension_is_zero_as_drawn():
    for name in ("jack_in_base", "jack_in_plate", "link"):
        kernel = named(name)
        _, *others = sample(kernel, 10)
        assert getattr(positions, name)(0.0, *others).extension == pytest.approx(0.0, abs=1e-15)

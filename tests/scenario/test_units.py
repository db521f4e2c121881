"""Units of measure: factors that are exact by definition, and what is no unit."""

import math
import subprocess
import sys

import pytest
from unit_factors import FACTORS, factors_text

from mountcalc.scenario.text.wording import dimension_name
from mountcalc.units import (
    FORCE,
    LENGTH,
    UnitError,
    UnknownUnitError,
    near_units,
    parse_unit,
    si_factor,
    small_unit_names,
    unit_of_library,
)

# NIST SP 811 (2008), appendix B.8 gives these factors; those of the foot, pound and standard
# gravity are exact, the others follow from them.
NIST = {
    "in": 0.0254,
    "inch": 0.0254,
    "inches": 0.0254,
    "ft": 0.3048,
    "feet": 0.3048,
    "yd": 0.9144,
    "mil": 2.54e-5,
    "lb": 0.45359237,
    "oz": 0.45359237 / 16,
    "lbf": 4.4482216152605,
    "ozf": 4.4482216152605 / 16,
    "kgf": 9.80665,
    "kip": 4448.2216152605,
    "tons": 907.18474,
    "psi": 6894.757293168361,
    "ksi": 6894757.293168361,
    "bar": 1e5,
    "hp": 550 * 0.3048 * 4.4482216152605,
    "metric_horsepower": 735.49875,
    "PS": 735.49875,
    "rpm": math.pi / 30,
    "rev": 2 * math.pi,
    "deg": math.pi / 180,
    "arcmin": math.pi / 10800,
    "grad": math.pi / 200,
    "MPa": 1e6,
    "N/mm^2": 1e6,
    "N/mm2": 1e6,
    "N/mm²": 1e6,
    "lbf/in^2": 6894.757293168361,
    "lb/ft": 0.45359237 / 0.3048,
    "ft lbf": 0.3048 * 4.4482216152605,
    "ft-lbf/s": 0.3048 * 4.4482216152605,
    "rev per min": math.pi / 30,
    "1/s": 1.0,
    "/min": 1 / 60,
    "µm": 1e-6,
    "μm": 1e-6,
    '"': 0.0254,
    "'": 0.3048,
    "°": math.pi / 180,
    "m s⁻¹": 1.0,
}


@pytest.mark.parametrize(("text", "factor"), NIST.items())
def test_factor(text, factor):
    assert si_factor(text) == pytest.approx(factor, rel=1e-14)


def test_a_name_of_the_large_registry_is_known():
    assert si_factor("furlong") == pytest.approx(201.168, rel=1e-5)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("in", "a length"),
        ("lb", "a mass"),
        ("lbf", "a force"),
        ("rpm", "a speed of rotation"),
        ("Hz", "a frequency"),
        ("%", "a plain ratio"),
        ("deg", "an angle"),
        ("kg/m", "a mass per length"),
        ("psi", "a pressure"),
        ("W", "a power"),
        ("N m", "a torque or energy"),
        ("kelvin", "a temperature"),
        ("A", "a quantity of another kind"),
    ],
)
def test_dimension_in_words(text, words):
    assert dimension_name(parse_unit(text).dimension) == words


@pytest.mark.parametrize("text", ["inhc", "MM", "pin", "kinch", "degC", "dBm", "Ns", "x"])
def test_no_such_unit(text):
    with pytest.raises(UnknownUnitError) as caught:
        parse_unit(text)
    assert caught.value.name == text


@pytest.mark.parametrize(
    "text", ["", "*m", "m*", "kg//m", "m^9", "m^99", "m^0", "m^0.5", "(m)", "m)", "m m^", "2 m"]
)
def test_not_built_like_a_unit(text):
    with pytest.raises(UnitError):
        parse_unit(text)


def test_near_units_are_of_the_wanted_kind_first():
    assert near_units("inhc", (LENGTH,))[0] == "inch"
    assert near_units("MM", (LENGTH,))[0] == "mm"
    assert near_units("lbd", (FORCE,)) == ["lbf"]
    assert near_units("qqqqqq") == []


def test_the_stored_factors_are_the_librarys():
    stored, worked_out = FACTORS.read_text("utf-8").split(), factors_text().split()
    assert len(stored) == len(worked_out)
    for one, other in zip(stored, worked_out, strict=True):
        # The last digit of a factor may differ between versions of the library.
        assert one == other or float(one) == pytest.approx(float(other), rel=1e-14)


@pytest.mark.parametrize("name", small_unit_names())
def test_a_stored_unit_is_read_like_the_librarys(name):
    ours, library = parse_unit(name), unit_of_library(name)
    assert ours.factor == pytest.approx(library.factor, rel=1e-14)
    assert ours.dimension == library.dimension


def test_common_units_do_not_load_the_library():
    code = (
        "import sys; from mountcalc.units import si_factor;"
        "[si_factor(u) for u in ('in', 'lbf', 'kg/m', 'psi', 'rpm', 'hp', 'lbs')];"
        "sys.exit('pint' in sys.modules)"
    )
    subprocess.run([sys.executable, "-c", code], check=True)

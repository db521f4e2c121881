"""Belt data by section: what is there, and that it hangs together."""

from itertools import pairwise

import pytest

from mountcalc.scenario.belt_defaults import belt_defaults, known_sections

SURE = {"published", "common practice", "from memory", "estimate"}


@pytest.mark.parametrize("section", known_sections())
def test_every_datum_has_a_value_a_source_and_how_sure_it_is(section):
    row = belt_defaults(section)
    for datum in (row.stiffness, row.mass, row.traction):
        assert datum.value > 0
        assert datum.source
        assert datum.sure in SURE


def test_sections():
    sections = "A AX B BX C CX D E 3V 5V 8V 3L 4L 5L Z SPZ SPA SPB SPC"
    assert " ".join(known_sections()) == sections
    assert belt_defaults("spz") is belt_defaults("SPZ")
    assert belt_defaults("Q") is None


@pytest.mark.parametrize(
    ("section", "y_lbf"),
    [("A", 6), ("AX", 7), ("B", 9), ("BX", 10), ("C", 16), ("CX", 18), ("D", 30),
     ("3V", 4), ("8V", 22)],
)  # fmt: skip
def test_stiffness_is_that_of_the_deflection_test(section, y_lbf):
    # A span pushed in by 1/64 of its length is 2 (1/64)^2 = 1/2048 longer: EA = 2048 Y.
    expected = 2048 * y_lbf * 4.4482216152605
    assert belt_defaults(section).stiffness.value == pytest.approx(expected, rel=2e-3)


def test_stiffness_of_5v_covers_both_ways_to_it():
    # 2048 Y with Y = 12 lbf (from memory), and printed force and tension pairs (common practice).
    for way in (2048 * 12 * 4.4482216152605, 47e3):
        assert 0.5 < belt_defaults("5V").stiffness.value / way < 2.0


@pytest.mark.parametrize(
    ("section", "kc"), [("A", 0.561), ("B", 0.965), ("C", 1.716), ("D", 3.498), ("E", 5.041)]
)
def test_mass_agrees_with_the_centrifugal_constant(section, kc):
    # Shigley's Mechanical Engineering Design, Table 17-16: Fc [lbf] = Kc (V / 1000)^2, V [ft/min];
    # so m = Kc g (60 / 1000)^2 [lb/ft]. Belt tables round to two digits, and differ by up to 9 %.
    pound_per_foot = kc * 32.174 * (60 / 1000) ** 2
    assert belt_defaults(section).mass.value == pytest.approx(pound_per_foot * 1.48816, rel=0.09)


def test_traction_is_shigleys():
    # e^(0.5123 pi) = 5: the tension ratio at half a turn.
    assert belt_defaults("A").traction.value == 0.5123


def test_larger_belts_are_stiffer_and_heavier():
    for family in (("3L", "4L", "5L"), ("Z", "A", "B", "C", "D", "E"), ("3V", "5V", "8V"),
                   ("SPZ", "SPA", "SPB", "SPC")):  # fmt: skip
        rows = [belt_defaults(section) for section in family]
        for smaller, larger in pairwise(rows):
            assert smaller.stiffness.value < larger.stiffness.value
            assert smaller.mass.value < larger.mass.value

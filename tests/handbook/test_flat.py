"""Flat belts: what is taken for a material lies within what is published of it."""

import pytest

from mountcalc.handbook.belts.sections import Joint, flat_material, flat_materials, joint_softness
from mountcalc.handbook.rows import load

DATA = load("flat_belts")
POUND_PER_CUBIC_INCH = 27679.9  # [kg/m3]


@pytest.mark.parametrize("name", flat_materials())
def test_every_datum_has_a_value_a_source_and_how_sure_it_is(name):
    row = flat_material(name)
    for number in (row.modulus, row.density, row.traction, row.least_diameter_over_thickness):
        if number is not None:
            assert number.value > 0
            assert len(number.source) > 8
            assert number.sure in {"published", "common practice", "from memory", "estimate"}


def test_materials():
    assert flat_materials() == ("flat leather", "flat rubber", "flat polyamide")
    assert flat_material(" Flat  Leather ") is flat_material("flat leather")
    assert flat_material("A") is None
    assert flat_material("flat") is None
    assert flat_material("flat rubber").least_diameter_over_thickness is None


def test_leather_is_an_estimate():
    # Khurmi and Gupta, Theory of Machines, Example 11.2, has E = 100 N/mm2 of a belt of no named
    # material; old handbooks have 140 to 170 of leather (from memory). For bending alone less is
    # taken (Jindal, Machine Design, Example 20-1: 40 N/mm2).
    modulus = flat_material("flat leather").modulus
    assert modulus.sure == "estimate"
    assert "Khurmi" not in modulus.source
    assert 0.5 * 170e6 < modulus.value < 2 * 100e6
    assert DATA["bending_modulus"]["MPa"] * 1e6 < flat_material("flat leather").modulus.value


def friction(pair):
    (row,) = [row for row in DATA["friction"] if row["pair"] == pair]
    return row["low"], row["high"]


@pytest.mark.parametrize(
    ("name", "pair"), [("flat leather", "leather on iron, dry"), ("flat leather", "leather"),
                       ("flat rubber", "rubber")],
)  # fmt: skip
def test_traction_is_within_what_is_published(name, pair):
    low, high = friction(pair)
    assert low <= flat_material(name).traction.value <= high


def test_oil_and_leather_faces_are_on_their_own_sides():
    dry = flat_material("flat leather").traction.value
    assert (
        friction("leather on iron, oily")[1]
        < dry
        < friction("leather on a leather-faced pulley")[0]
    )
    low, high = friction("plastic on steel")
    assert 0.2 < low < high < 0.5


def shigley(word):
    return [row for row in DATA["row"] if row["name"].startswith(word)]


def test_polyamide_is_between_shigleys_two_types():
    # Shigley's Mechanical Engineering Design, Table 17-2, types F-1 and A-3.
    material, rows = flat_material("flat polyamide"), shigley("polyamide")
    weights = [weight for row in rows for weight in row["weight_lbf_in3"]]
    middle = (min(weights) + max(weights)) / 2 * POUND_PER_CUBIC_INCH
    assert material.density.value == pytest.approx(middle, rel=1e-3)
    assert material.traction.value == min(row["friction"] for row in rows)
    ratios = [row["least_diameter_in"] / row["thickness_in"] for row in rows]
    assert material.least_diameter_over_thickness.value == pytest.approx(max(ratios), rel=0.01)


def test_leather_against_shigleys_rows():
    # Table 17-2 (from memory): 11/64 in on 3 in to 23/64 in on 9 in.
    material, rows = flat_material("flat leather"), shigley("leather")
    single = [row for row in rows if "single" in row["name"]]
    ratios = [row["least_diameter_in"] / row["thickness_in"] for row in single]
    assert material.least_diameter_over_thickness.value == pytest.approx(max(ratios), rel=0.01)
    assert max(row["least_diameter_in"] / row["thickness_in"] for row in rows) < 25.1
    low, high = rows[0]["weight_lbf_in3"]
    assert low * POUND_PER_CUBIC_INCH * 0.99 < material.density.value < high * POUND_PER_CUBIC_INCH
    # The traction taken is more cautious than that table's.
    assert all(material.traction.value <= row["friction"] for row in rows)


def test_joined_belts_are_softer():
    shares = [joint_softness(joint).value for joint in (Joint.LINKED, Joint.LACED, Joint.ENDLESS)]
    assert shares == sorted(shares)
    assert shares[0] > 0
    assert shares[-1] == 1.0
    assert joint_softness(Joint.LACED).sure == "estimate"

"""From what was measured to the belt to buy: round trips, published drives, and what is refused."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.constants import inch
from scipy.spatial import ConvexHull

from mountcalc.errors import InputError
from mountcalc.handbook.belts.designation import read_designation
from mountcalc.handbook.belts.grooves import outside_less_pitch
from mountcalc.handbook.belts.lengths import series
from mountcalc.handbook.belts.sections import NumberOf, known_sections
from mountcalc.handbook.belts.sections import section as v_section
from mountcalc.linkage import kernels
from mountcalc.measure.drive import MeasureQuestion
from mountcalc.measure.measure import measure_drive
from mountcalc.scenario.text.writing import Display

# Lengths come back to rounding.
ROUNDING = 1e-12
# Half of the last digit that is printed.
TENTH, HUNDREDTH = 0.05 * inch, 0.005 * inch

WITH_SERIES = [name for name in known_sections() if series(name)]


def is_metric(belt):
    return belt.measures is NumberOf.DATUM


def alike(belt):
    """Belts of its section that are named in the same unit, from short to long."""
    return [one for one in series(belt.section) if is_metric(one) == is_metric(belt)]


def bought(belt, **reading):
    """The one candidate for a reading of a belt whose section and unit are known."""
    (found,) = measure_drive(
        MeasureQuestion(section=belt.section, metric=is_metric(belt), **reading)
    ).candidates
    return found


@pytest.mark.parametrize("name", WITH_SERIES)
@pytest.mark.parametrize("reading", ["inside", "outside", "pitch"])
def test_a_belts_own_length_leads_back_to_it(name, reading):
    for belt in series(name):
        found = bought(belt, **{reading: getattr(belt, f"{reading}_length")})
        assert found.buy.designation == belt.text
        assert found.pitch_length == pytest.approx(belt.pitch_length, abs=ROUNDING)
        assert found.buy.difference == pytest.approx(0.0, abs=ROUNDING)


@pytest.mark.parametrize("name", WITH_SERIES)
def test_a_string_leads_back_to_the_belt(name):
    belts = series(name)
    told = measure_drive(MeasureQuestion(designation=belts[0].text)).facts
    for belt in belts[:: max(1, len(belts) // 12)]:
        facts = measure_drive(MeasureQuestion(designation=belt.text)).facts
        flat = bought(belt, string=facts.string_over_flat_rims, motor_flat=True, driven_flat=True)
        assert flat.buy.designation == belt.text
        if told.string_over_grooves is None:
            with pytest.raises(InputError, match="grooves"):
                bought(belt, string=1.0)
        else:
            assert bought(belt, string=facts.string_over_grooves).buy.designation == belt.text


@pytest.mark.parametrize("name", WITH_SERIES)
def test_centers_lead_back_to_the_belt(name):
    belts = series(name)
    for belt in belts[:: max(1, len(belts) // 12)]:
        pulleys = {
            "motor_pulley": belt.pitch_length / 12,
            "driven_pulley": belt.pitch_length / 7,
        }
        told = measure_drive(MeasureQuestion(designation=belt.text, **pulleys)).facts.belt
        found = bought(belt, center=told.center_distance, **pulleys)
        assert found.buy.designation == belt.text
        assert found.buy.center_distance == pytest.approx(told.center_distance, abs=ROUNDING)
        assert found.buy.wrap_motor + found.buy.wrap_driven == pytest.approx(2 * math.pi)


@given(data=st.data(), share=st.floats(-0.49, 0.49))
def test_less_than_half_the_spacing_does_not_mislead(data, share):
    belts = alike(data.draw(st.sampled_from([series(name)[0] for name in WITH_SERIES])))
    place = data.draw(st.integers(0, len(belts) - 1))
    beside = place + (1 if share > 0 else -1)
    belt, other = belts[place], belts[min(max(beside, 0), len(belts) - 1)]
    off = abs(share) * (other.pitch_length - belt.pitch_length)
    found = bought(belt, pitch=belt.pitch_length + off)
    assert found.buy.designation == belt.text
    assert found.buy.difference == pytest.approx(-off, abs=ROUNDING)


def test_neighbours_are_the_next_of_the_series():
    for belt in series("B"):
        found = bought(belt, pitch=belt.pitch_length)
        ordered = alike(belt)
        place = [one.text for one in ordered].index(belt.text)
        shorter = None if place == 0 else ordered[place - 1].text
        longer = None if place == len(ordered) - 1 else ordered[place + 1].text
        assert (found.shorter and found.shorter.designation) == shorter
        assert (found.longer and found.longer.designation) == longer


# The strings of these drives are walked round: hulls of circles of many points.
POINTS = 40_000
# An inscribed polygon of so many sides is short by pi^2/6 of the square of a side's share.
HULL = 1e-8


def tight_round(center, *diameters):
    """Length of a string drawn tight round two discs, the second at a distance."""
    angles = np.linspace(0, 2 * np.pi, POINTS, endpoint=False)
    circle = np.column_stack([np.cos(angles), np.sin(angles)])
    discs = [
        0.5 * diameter * circle + (x, 0) for diameter, x in zip(diameters, (0, center), strict=True)
    ]
    return ConvexHull(np.vstack(discs)).area  # in a plane, the area of a hull is its perimeter


@pytest.mark.parametrize("flat", [(False, False), (True, True), (False, True), (True, False)])
@pytest.mark.parametrize("diameters", [(0.09, 0.3), (0.25, 0.1)])
def test_a_string_is_a_hull_and_the_belt_another(flat, diameters):
    """Pulleys by their rims; the belt's pitch line is one known distance off each of these."""
    section, center = v_section("B"), 0.7
    groove = measure_drive(MeasureQuestion(designation="B85")).facts.outside_less_pitch
    rise = [-section.inside_to_pitch.value / math.pi if one else groove for one in flat]
    rims = [diameter + more for diameter, more in zip(diameters, rise, strict=True)]
    keys = ["pulley_rim_diameter" if one else "pulley_outside_diameter" for one in flat]
    (found,) = measure_drive(
        MeasureQuestion(
            string=tight_round(center, *rims),
            section="B",
            motor_pulley=rims[0],
            driven_pulley=rims[1],
            motor_key=keys[0],
            driven_key=keys[1],
        )
    ).candidates
    belt = tight_round(center, *diameters)
    assert found.pitch_length == pytest.approx(belt, abs=HULL)
    assert found.buy.center_distance == pytest.approx(
        center + 0.5 * found.buy.difference, abs=0.1 * abs(found.buy.difference) + HULL
    )


def test_a_string_over_like_pulleys_needs_no_pulleys():
    question = {"string": 2.2, "section": "A"}
    without = measure_drive(MeasureQuestion(**question)).candidates[0]
    with_them = measure_drive(
        MeasureQuestion(**question, motor_pulley=0.09, driven_pulley=0.3)
    ).candidates[0]
    assert without.pitch_length == with_them.pitch_length
    assert without.buy.center_distance is None
    assert without.buy.why_no_center == "both pulleys are wanted for it"
    assert with_them.buy.why_no_center is None


def test_a_belt_that_sits_deeper_is_shorter_by_two_pi_of_it():
    """What the note on worn grooves says, by the open belt's formula."""
    notes = measure_drive(MeasureQuestion(string=2.0, section="A", display=Display.METRIC)).notes
    deep = kernels.open_belt(0.7, 0.045 - 0.001, 0.15 - 0.001).length
    less = float(kernels.open_belt(0.7, 0.045, 0.15).length - deep)
    assert less * 1000 == pytest.approx(2 * math.pi, rel=1e-9)
    assert any("1 mm" in note and f"{less * 1000:.0f} mm less" in note for note in notes)


def test_b85_from_a_tape_in_inches():
    """85 in inside, 88 in outside, 86.8 in pitch (ANSI/RMA IP-20-1988 and common practice)."""
    for reading in ({"inside": 85 * inch}, {"outside": 88 * inch}, {"pitch": 86.8 * inch}):
        found = measure_drive(MeasureQuestion(section="b", metric=False, **reading)).candidates[0]
        assert found.buy.designation == "B85"
        assert found.pitch_length == pytest.approx(86.8 * inch, abs=HUNDREDTH)


def test_shigley_example_17_4():
    """7.4 in and 11 in pulleys, shafts 42.4 in apart: B112, 113.8 in on the pitch line."""
    found = measure_drive(
        MeasureQuestion(
            center=42.4 * inch,
            motor_pulley=7.4 * inch,
            driven_pulley=11 * inch,
            section="B",
            metric=False,
        )
    ).candidates[0]
    assert found.buy.designation == "B112"
    assert found.pitch_length == pytest.approx(113.8 * inch, abs=TENTH)
    assert found.buy.center_distance == pytest.approx(42.4 * inch, abs=TENTH)


def test_shigley_problem_17_18():
    """5.4 in and 16 in pulleys: B85 puts the shafts 26.05 in apart, wrap 156.5 deg."""
    told = measure_drive(
        MeasureQuestion(designation="B85", motor_pulley=5.4 * inch, driven_pulley=16 * inch)
    ).facts.belt
    assert told.center_distance == pytest.approx(26.05 * inch, abs=HUNDREDTH)
    assert math.degrees(told.wrap_motor) == pytest.approx(156.5, abs=0.05)
    found = measure_drive(
        MeasureQuestion(
            center=26.05 * inch, motor_pulley=5.4 * inch, driven_pulley=16 * inch, metric=False
        )
    )
    assert "B85" in [one.buy.designation for one in found.candidates]


def test_wentzell_14_2():
    """4 in and 6 in pulleys 19 in apart: L = 53.76 in (take 54), which puts them 19.12 in apart."""
    pulleys = {"motor_pulley": 4 * inch, "driven_pulley": 6 * inch}
    found = measure_drive(MeasureQuestion(center=19 * inch, section="A", **pulleys)).candidates[0]
    assert found.pitch_length == pytest.approx(53.76 * inch, abs=HUNDREDTH)
    taken = measure_drive(MeasureQuestion(pitch=54 * inch, section="A", **pulleys)).candidates[0]
    center = taken.buy.center_distance - taken.buy.difference / (2 * math.cos(math.asin(1 / 19)))
    assert center == pytest.approx(19.12 * inch, abs=HUNDREDTH)


def test_a_light_duty_belt_and_its_like():
    """4L460 is about A44 (common practice), which no series has but the trade does."""
    light = read_designation("4L460")
    found = measure_drive(
        MeasureQuestion(pitch=light.pitch_length, section="A", metric=False)
    ).candidates[0]
    assert found.if_stocked.designation == "A44"
    assert abs(found.if_stocked.difference) < 0.1 * inch
    assert not found.if_stocked.in_series
    assert any("A44 would be nearer" in remark for remark in found.remarks)


def test_every_section_that_fits_is_answered_nearest_first():
    found = measure_drive(MeasureQuestion(pitch=2.0)).candidates
    assert len(found) > 10
    off = [(one.answer is None, abs((one.answer or one.buy).difference)) for one in found]
    assert off == sorted(off)
    for name in WITH_SERIES:
        lengths = [belt.pitch_length for belt in series(name)]
        if lengths[0] <= 2.0 <= lengths[-1]:
            assert name in {one.section for one in found}


def test_a_width_tells_the_section():
    found = measure_drive(MeasureQuestion(outside=1.5, width=0.66 * inch)).candidates
    names = {one.section for one in found}
    assert "B" in names
    assert not {"A", "C", "SPZ"} & names
    for one in found:
        assert one.top_width == pytest.approx(0.66 * inch, rel=0.1 / 0.9)


def test_only_one_naming_is_answered_if_wanted():
    metric = measure_drive(MeasureQuestion(pitch=1.43, metric=True)).candidates
    inches = measure_drive(MeasureQuestion(pitch=1.43, metric=False)).candidates
    assert "SPA" in {one.section for one in metric}
    assert "AX" in {one.section for one in inches}
    for one in metric:
        assert is_metric(read_designation(one.buy.designation))
    for one in inches:
        assert not is_metric(read_designation(one.buy.designation))


def test_small_pulleys_are_remarked():
    pulleys = {"motor_pulley": 2.5 * inch, "driven_pulley": 9 * inch}
    small = measure_drive(MeasureQuestion(pitch=2.0, section="A", **pulleys)).candidates[0]
    assert any("2.5 in in pitch diameter, is below the least" in one for one in small.remarks)
    pulleys["motor_pulley"] = 3.5 * inch
    enough = measure_drive(MeasureQuestion(pitch=2.0, section="A", **pulleys)).candidates[0]
    assert not any("below the least" in one for one in enough.remarks)


def test_worn_grooves_are_spoken_of_where_there_are_grooves():
    def said(**faces):
        return measure_drive(MeasureQuestion(string=2.0, section="A", **faces)).notes

    assert any("worn grooves" in one for one in said())
    assert not any("worn grooves" in one for one in said(motor_flat=True, driven_flat=True))


@pytest.mark.parametrize("reading", ["inside", "outside", "string"])
def test_a_conversion_names_its_source(reading):
    found = measure_drive(MeasureQuestion(section="SPZ", **{reading: 1.4})).candidates[0]
    section = v_section("SPZ")
    datum = {
        "inside": section.inside_to_pitch,
        "outside": section.pitch_to_outside,
        "string": outside_less_pitch("SPZ"),
    }[reading]
    assert f"({datum.source}; {datum.sure})" in found.how


def test_pulleys_that_overlap_with_a_belt_are_told():
    told = measure_drive(
        MeasureQuestion(designation="A31", motor_pulley=0.25, driven_pulley=0.3)
    ).facts.belt
    assert told.center_distance is None
    assert told.why_no_center == "the pulleys would overlap"


@pytest.mark.parametrize(
    ("question", "text"),
    [
        (
            {},
            "exactly one of inside, outside, pitch, string, center or designation is wanted, "
            "found none",
        ),
        ({"inside": 1.0, "string": 1.0}, "found inside and string"),
        ({"inside": 0.0}, "inside: a length above zero is wanted, found 0 m"),
        ({"pitch": math.nan}, "pitch: a length above zero is wanted"),
        ({"outside": math.inf}, "outside: a length above zero is wanted"),
        ({"inside": 1.0, "width": -1.0}, "width: a length above zero is wanted"),
        ({"inside": 1.0, "section": "SPX"}, 'section: "SPX" is not known, wanted'),
        ({"inside": 1.0, "section": "flat leather"}, "a flat belt has no designation"),
        ({"inside": 1.0, "section": "A", "width": 0.013}, "section or width is wanted, not both"),
        ({"inside": 1.0, "width": 0.2}, "no section is near 7.87 in wide; the nearest are"),
        ({"inside": 90.0}, "no section that fits has a published length near"),
        ({"inside": 0.1, "section": "A"}, "the published lengths of section A run from"),
        ({"center": 1.0}, "only with both pulleys' sizes"),
        ({"pitch": 1.0, "motor_pulley": 0.1}, "both pulleys are wanted, or none"),
        ({"center": 0.1, "motor_pulley": 0.1, "driven_pulley": 0.2}, "the pulleys overlap; from"),
        ({"designation": "A54", "section": "A"}, "leave section and width out"),
        ({"designation": "A5x4"}, "designation: "),
        ({"string": 2.0, "section": "A", "driven_flat": True}, "only if both pulleys are measured"),
        (
            {"pitch": 2.0, "motor_pulley": 0.1, "driven_pulley": 0.2, "motor_key": "size"},
            'motor pulley: "size" is none of',
        ),
        (
            {
                "string": 0.5,
                "section": "A",
                "motor_pulley": 0.1,
                "driven_pulley": 0.2,
                "driven_flat": True,
            },
            "the string is too short for these pulleys",
        ),
        (
            {
                "pitch": 1.0,
                "section": "A",
                "motor_pulley": 0.001,
                "driven_pulley": 0.2,
                "motor_key": "pulley_outside_diameter",
            },
            "motor pulley: so small a pulley has no pitch diameter",
        ),
        (
            {
                "pitch": 1.0,
                "section": "5L",
                "motor_pulley": 0.1,
                "driven_pulley": 0.2,
                "driven_key": "pulley_datum_diameter",
            },
            "driven pulley: grooves of section 5L have no datum diameter; give its pitch",
        ),
        (
            {
                "pitch": 1.0,
                "section": "A",
                "motor_pulley": 0.1,
                "driven_pulley": 0.2,
                "driven_key": "pulley_outside_diameter",
                "driven_flat": True,
            },
            'driven pulley: "flat" does not go with pulley_outside_diameter',
        ),
    ],
)
def test_what_cannot_be_answered_is_refused_in_one_line(question, text):
    with pytest.raises(InputError) as caught:
        measure_drive(MeasureQuestion(**question))
    assert text in str(caught.value)
    assert "\n" not in str(caught.value)


@given(
    reading=st.sampled_from(["inside", "outside", "pitch", "string", "center"]),
    length=st.floats(1e-3, 30.0),
    pulleys=st.one_of(st.none(), st.tuples(st.floats(0.02, 1.0), st.floats(0.02, 1.0))),
    flat=st.tuples(st.booleans(), st.booleans()),
    section=st.sampled_from([None, *known_sections()]),
)
def test_any_question_has_an_answer_or_one_line(reading, length, pulleys, flat, section):
    motor, driven = pulleys or (None, None)
    question = MeasureQuestion(
        **{reading: length},
        motor_pulley=motor,
        driven_pulley=driven,
        motor_flat=flat[0],
        driven_flat=flat[1],
        section=section,
    )
    try:
        found = measure_drive(question).candidates
    except InputError as error:
        assert "\n" not in str(error)
        assert "nan" not in str(error)
        return
    for one in found:
        assert math.isfinite(one.pitch_length)
        for belt in (one.shorter, one.longer):
            if belt is not None:
                assert abs(belt.difference) >= abs(one.buy.difference) - ROUNDING

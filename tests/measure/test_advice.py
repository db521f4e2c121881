"""What is near enough to be bought, and that what to do else would do."""

import re

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from scipy.constants import inch, milli

from mountcalc.handbook.belts.designation import read_designation
from mountcalc.handbook.belts.lengths import length_tolerance, series
from mountcalc.handbook.belts.sections import known_sections
from mountcalc.linkage import kernels
from mountcalc.measure.drive import MeasureQuestion
from mountcalc.measure.measure import measure_drive
from mountcalc.measure.page import measure_text
from mountcalc.scenario.text.writing import Display

METRIC = {"display": Display.METRIC, "metric": None}
PULLEYS = {"motor_pulley": 0.08, "driven_pulley": 0.24}
# Sentences have whole millimetres, percent two figures.
SHOWN = 0.5 * milli + 1e-9


def one_of(**question):
    (found,) = measure_drive(MeasureQuestion(**question)).candidates
    return found


def page(**question):
    text = measure_text(measure_drive(MeasureQuestion(**question)), question["display"], more=True)
    return " ".join(text.split())


def test_what_is_47_mm_off_is_not_sold():
    """A belt 947 mm long was answered with SPZ 900; SPZ 950, a half step, is near enough."""
    assert one_of(pitch=0.947, section="SPZ", **METRIC).answer.designation == "SPZ 950"
    between = page(pitch=0.924, section="SPZ", **METRIC)
    assert "Buy: nothing yet. No published length of section SPZ is near enough" in between
    assert "between SPZ 900, 24 mm shorter, and SPZ 950, 26 mm longer" in between
    assert "Move the motor about 12 mm nearer for SPZ 900, or about 13 mm further off" in between
    assert "fit a pulley about 15 mm smaller for SPZ 900, which changes the speed" in between


def test_a_belt_of_the_tape_says_how_far_off_it_is():
    text = page(outside=40.5 * inch, section="A", display=Display.INCH, metric=False)
    assert "Buy: A38, 0.50 in shorter than what was found, which is near enough." in text


@given(
    name=st.sampled_from(known_sections()),
    length=st.floats(0.3, 18.0),
    room=st.none() | st.floats(0.001, 0.1),
)
def test_only_what_is_near_enough_is_bought(name, length, room):
    belts = series(name)
    if not belts[0].pitch_length < length < belts[-1].pitch_length:
        return
    found = one_of(pitch=length, section=name, room=room, **METRIC)
    off = found.buy.pitch_length - length
    known = length_tolerance(read_designation(found.buy.designation))
    usual = 0.01 * found.buy.pitch_length
    short, long = (known.short, known.long) if known else (usual, usual)
    within = -long <= off <= short or (room is not None and abs(off) / 2 <= room)
    assert found.near_enough is within
    assert (found.what_to_do == ()) is (found.answer is not None)
    if found.answer is None:
        shorter, longer = (
            next(one for one in ordered if keep(one.pitch_length))
            for ordered, keep in (
                (belts[::-1], lambda one: one <= length),
                (belts, lambda one: one > length),
            )
        )
        first = found.what_to_do[0]
        for belt, more in ((shorter, length - shorter.pitch_length),
                           (longer, longer.pitch_length - length)):  # fmt: skip
            words = rf"{belt.text}, (\d+) mm (shorter|longer)"
            assert float(re.search(words, first)[1]) == pytest.approx(more / milli, abs=0.5001)


def test_an_old_belt_may_be_the_next_shorter_one():
    """Within the 2 % by which an old belt may read long; a string does not stretch so."""
    assert "it may be SPZ 900, stretched by 1.1 %" in page(pitch=0.91, section="SPZ", **METRIC)
    assert "stretched by" not in page(pitch=0.924, section="SPZ", **METRIC).split("HOW FAR")[0]
    pulleys = {"motor_pulley": 0.08, "driven_pulley": 0.12}
    center = measure_drive(
        MeasureQuestion(designation="SPZ 900", **pulleys)
    ).facts.belt.center_distance
    taken = page(center=center + 0.005, section="SPZ", **METRIC, **pulleys)
    assert "nothing yet" in taken
    assert "stretched by" not in taken


def test_room_of_the_motor_makes_a_belt_near_enough():
    question = {"pitch": 0.924, "section": "SPZ", **METRIC}
    assert one_of(room=0.0115, **question).answer is None
    assert one_of(room=0.0125, **question).answer.designation == "SPZ 900"


@example(length=3.2189123864616858)  # the speed is that of the size that is told
@given(length=st.floats(1.0, 3.4))
def test_what_to_do_would_do(length):
    """Moved so, or with the other pulley, the belt's path is as long as the belt."""
    found = one_of(pitch=length, section="SPZ", **METRIC, **PULLEYS)
    if found.answer is not None:
        return
    motor, driven = (0.5 * size for size in PULLEYS.values())
    center = found.buy.center_distance
    slope = 2.1  # of path over centres, at most: an amount is shown to half a millimetre
    texts = " ".join(found.what_to_do)
    for amount, way, name in re.findall(r"(\d+) mm (nearer|further off) for (SPZ \d+)", texts):
        belt = read_designation(name)
        now = measure_drive(MeasureQuestion(designation=name, **PULLEYS)).facts.belt.center_distance
        start = now - (1 if way == "further off" else -1) * float(amount) * milli
        path = float(kernels.open_belt(start, motor, driven).length)
        assert path == pytest.approx(length, abs=slope * SHOWN)
        assert belt.in_series
    size, name, percent, way = re.search(
        r"pulley of (\d+) mm in pitch diameter for (SPZ \d+): the driven shaft then turns ([\d.]+) "
        r"% (faster|slower)",
        texts,
    ).groups()
    start = center - 0.5 * found.buy.difference  # near enough to the centres that were
    path = float(kernels.open_belt(start, motor, 0.5 * float(size) * milli).length)
    assert path == pytest.approx(read_designation(name).pitch_length, abs=2.5 * milli)
    faster = 2 * driven / (float(size) * milli) - 1
    assert (faster > 0) is (way == "faster")
    assert abs(faster) * 100 == pytest.approx(float(percent), abs=0.75)


def test_a_belt_that_lies_in_the_same_grooves_is_named():
    assert "Z 920. It may carry less" in page(pitch=0.924, section="SPZ", **METRIC)
    text = page(pitch=41.5 * inch, section="BX", display=Display.INCH, metric=False)
    assert "nothing yet" not in text  # BX40 is stocked


def test_past_the_end_of_a_series_there_is_one_neighbour():
    text = page(pitch=3.63, section="SPZ", **METRIC)
    assert "is past SPZ 3550, 80 mm shorter. Move the motor about 40 mm nearer" in text


def test_only_whole_inches_of_a_and_b_are_stocked_without_a_list():
    """C belts come by their list: C114 is nothing to ask for, A114 is."""
    found = one_of(pitch=116.9 * inch, section="C", display=Display.INCH, metric=False)
    assert found.if_stocked is None
    assert found.answer is None
    asked = one_of(pitch=115.3 * inch, section="A", display=Display.INCH, metric=False)
    assert asked.answer.designation == "A114"
    text = page(pitch=115.3 * inch, section="A", display=Display.INCH, metric=False)
    assert "Buy: A114, if it can be had: it is in no published series" in text


def test_without_a_section_none_near_says_so():
    text = page(pitch=510 * inch, display=Display.INCH, metric=False)
    assert "E480 -29.00 no E420 E540" in text
    assert "No section has a published length near enough" in text

"""What cannot be, or is not told: one clear line that begins with the question to ask again."""

import math
import re

import pytest
from measured_mount import BOLT, HANGING, HEIGHTS, LEVEL, LOW, MOUNT, PULLEYS, SIDES, SPANS, of

from mountcalc.errors import InputError
from mountcalc.new.answers import marks
from mountcalc.new.measurements import Measurements, questions

SWING = ("plate_length", "swing_tighter", "swing_looser")


def test_the_mount_that_all_others_here_differ_from_is_understood():
    for said in (
        MOUNT,
        MOUNT | SPANS,
        SPANS | LEVEL | SIDES | PULLEYS | {"hinge_to_bolt": "14 in"},
    ):
        found = of(said)
        assert found.contradictions == ()
        motor, hinge = found.points["motor"], found.points["hinge"]
        assert motor == pytest.approx((-20.5 * 0.0254, -4 * 0.0254), abs=0.003)
        assert hinge == pytest.approx((-24 * 0.0254, -13 * 0.0254), abs=0.003)


@pytest.mark.parametrize(
    ("said", "key", "words"),
    [
        ({}, "driven_height", "wanted"),
        ({"hinge_to_bolt": "14 in", "driven_to_bolt": "12 in"}, "driven_height", "wanted"),
        ({k: v for k, v in MOUNT.items() if k != "hinge_wall"}, "hinge_wall", "hinge's pin"),
        ({k: v for k, v in MOUNT.items() if k != "motor_height"}, "motor_height", "motor's shaft"),
        (HEIGHTS | PULLEYS, "hinge_to_bolt", "where the bolt bears"),
        (HEIGHTS | BOLT | {"driven_pulley_across": "9 in"}, "motor_pulley_across", "wanted"),
        (SPANS | {"way": "distances"} | PULLEYS, "driven_height", "wanted"),
        (SPANS | LEVEL | PULLEYS, "hinge_lies", "two mounts"),
        (SPANS | LEVEL | PULLEYS | {"hinge_lies": "below"}, "motor_lies", "two mounts"),
        # Hinge and both shafts in one line, to the eye and by the tape: on which side is a guess.
        (
            SPANS | LEVEL | SIDES | PULLEYS | {"hinge_to_driven": "30 9/16 in"},
            "hinge_height",
            "hinge's pin",
        ),
        (MOUNT | {"hinge_height": "36 in", "motor_height": "36 in"}, "hinge_height", "one line"),
        (
            MOUNT | {"hinge_wall": "19 in", "hinge_height": "30 in", "motor_frame": "56"},
            "shaft_height",
            "would be under the motor",
        ),
        (MOUNT | {"shaft_height": "12 in"}, "shaft_height", "9.657 in"),
        (MOUNT | {"swing_looser": "6 ft"}, "swing_looser", "twice its length"),
        (MOUNT | {"adjuster": "none", "built": "no"}, "room_left", "wanted"),
        (MOUNT | {"belt": "", "belt_width": "3 in"}, "belt_width", "no section"),
        (MOUNT | {"motor_wall": "37 in"}, "motor_wall", "overlap"),
        (
            HEIGHTS | PULLEYS | LOW | {"adjuster": "eye-bolt", "hinge_to_bolt": "14 in"},
            "bolt_to_post",
            "3 7/8 in below the floor; post_height would tell",
        ),
        (
            SPANS
            | SIDES
            | PULLEYS
            | {"driven_height": "12 in", "motor_height": "8 in", "hinge_to_bolt": "14 in"},
            "hinge_to_motor",
            "the hinge's pin would be",
        ),
    ],
)
def test_what_is_wanted_or_cannot_be_is_told_by_the_question(said, key, words):
    with pytest.raises(InputError) as refused:
        of(said)
    told = str(refused.value)
    assert told.startswith(f"{key}: ")
    assert words in told
    assert "\n" not in told
    assert key in questions()


@pytest.mark.parametrize(
    ("answer", "words"),
    [
        ({"driven_height": "-3 in"}, "zero or more"),
        ({"hinge_to_motor": "0 in"}, "0.1 mm"),
        ({"driven_height": "36"}, "without a unit"),
        ({"thread": "big"}, "screw thread wanted"),
        ({"wall_side": "lft"}, 'did you mean "left"?'),
        ({"motor_powr": "1 hp"}, "did you mean motor_power?"),
        ({"title": 3}, "a text wanted"),
    ],
)
def test_an_answer_that_says_nothing_is_refused_by_its_key(answer, words):
    with pytest.raises(InputError, match=r'^["a-z_]+: ') as refused:
        Measurements.of(answer)
    assert words in str(refused.value)
    assert "\n" not in str(refused.value)


@pytest.mark.parametrize(
    ("said", "suspects", "words"),
    [
        # A side longer than both others.
        (
            SPANS | LEVEL | SIDES | PULLEYS | {"hinge_to_motor": "50 in"},
            {"hinge_to_motor", "hinge_to_driven", "driven_to_motor"},
            "add up to 48 3/16 in, less than hinge_to_motor, 50 in",
        ),
        # Heights further apart than the shafts are: without their distance, the hinge is too far.
        (
            SPANS | LEVEL | SIDES | PULLEYS | {"motor_height": "8 in"},
            {"motor_height", "driven_height"},
            "differ by 28 in, more than driven_to_motor, 20 7/8 in",
        ),
        (
            MOUNT | SPANS | {"hinge_height": "24 in"},
            {"hinge_height"},
            "1 1/16 in more than they say",
        ),
        (MOUNT | SPANS | {"motor_wall": "23 1/2 in"}, {"motor_wall"}, "more than they say"),
        (MOUNT | {"motor_lies": "right"}, {"motor_lies", "wall_side"}, "on the other side"),
        # One slip that puts the motor on the other side, at the same height and distance.
        (
            PULLEYS | HANGING | {"motor_wall": "42 in", "motor_lies": "left"},
            {"driven_wall", "motor_wall", "motor_lies", "wall_side"},
            "unless driven_wall is off by 4 1/4 in, motor_wall is off by 4 1/16 in or wall_side",
        ),
        (
            MOUNT | {"driven_pulley_round": "20 in"},
            {"driven_pulley_across", "driven_pulley_round"},
            "one of the two is off",
        ),
        (
            MOUNT | {"adjuster_does": "holds"},
            {"adjuster_does", *HEIGHTS, *BOLT},
            "or let it act the other way",
        ),
        (MOUNT | {"belt": "A20"}, {"belt", *HEIGHTS, *SWING}, "it is too short at any distance"),
        (MOUNT | {"belt": "A40"}, {"belt", *HEIGHTS, *SWING}, "the belt A40 never gets snug"),
    ],
)
def test_measurements_that_clash_are_named(said, suspects, words):
    (clash,) = of(said).contradictions
    assert set(clash.suspects) == suspects
    assert words in clash.sentence
    assert "\n" not in clash.sentence
    assert " = " not in clash.sentence


def test_a_belt_that_never_gets_snug_is_told_by_the_distance_of_the_shafts():
    """In marks and questions; belt and places are asked again, whichever of them it was."""
    slipped = MOUNT | {"motor_wall": "17 1/2 in"}
    (clash,) = of(slipped).contradictions
    assert clash.suspects == ("belt", *HEIGHTS, *SWING)
    assert "the shafts are 22 7/8 in apart" in clash.sentence  # 22 1/2 across and 4 up
    for key in clash.suspects:
        assert f"{marks()[key]} ({questions()[key].brief})" in clash.sentence
    assert not re.search(r"[a-z][._][a-z]|angle|deg", clash.sentence)
    # Over these pulleys a belt of that length fits the distance told (Shigley, Eq. 17-2).
    apart = float(re.search(r"wants them (\d+) in apart", clash.sentence)[1])
    read = of(MOUNT).scenario
    r, big_r = (one / 0.0254 for one in (read.motor.pulley_radius, read.driven.pulley_radius))
    lean = math.asin((big_r - r) / apart)
    length = 2 * apart * math.cos(lean) + math.pi * (big_r + r) + 2 * lean * (big_r - r)
    assert length == pytest.approx(read.belt.length / 0.0254, abs=1 / 16)


def test_two_slips_are_told_as_two():
    (clash,) = of(
        MOUNT | SPANS | {"motor_height": "35 in", "hinge_to_driven": "30 in"}
    ).contradictions
    assert clash.sentence.startswith("two of the measurements must be off")
    assert {"motor_height", "hinge_to_driven"} <= set(clash.suspects)


def test_a_place_that_readings_leave_loose_is_told():
    # The hinge's distances meet at a flat angle.
    flat = (
        SPANS | LEVEL | SIDES | PULLEYS | {"hinge_to_driven": "30 1/4 in", "hinge_to_bolt": "14 in"}
    )
    (remark,) = of(flat).remarks
    assert remark.startswith("The hinge's pin is known to about")
    assert "Measure hinge_height, too." in remark


def test_a_swing_that_was_measured_on_a_plate_of_unknown_length_is_told():
    swing = {"swing_tighter": "3 in"}
    (remark,) = of(MOUNT | swing).remarks
    assert remark.endswith("Measure plate_length.")
    assert of(MOUNT | swing | {"plate_length": "16 in"}).remarks == ()

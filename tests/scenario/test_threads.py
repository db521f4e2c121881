"""Designations of screw threads."""

import pytest

from mountcalc.scenario.text.quantities import ValueTextError
from mountcalc.scenario.text.threads import WANTED_THREAD, read_thread

INCH = 25.4e-3


@pytest.mark.parametrize(
    ("text", "per_inch"),
    [
        # Shigley's Mechanical Engineering Design, Table 8-2 (ANSI B1.1-1974)
        ("1/4-20", 20),
        ("5/16-18", 18),
        ("3/8-16", 16),
        ("7/16-14", 14),
        ("1/2-13", 13),
        ("1/4-28", 28),
        ("5/16-24", 24),
        ("3/8-24", 24),
        ("1/2-20", 20),
        # ways of writing them
        ("3/8-16 UNC", 16),
        ("3/8-16 UNC-2A", 16),
        ("3/8 - 16", 16),
        ('3/8"-16', 16),
        ("0.375-16", 16),
        ("½-13", 13),
        ("1-8 UNC", 8),
        ("1 1/8-7", 7),
        ("1-1/8-7", 7),
        ("#10-24", 24),
        ("No. 10-32 UNF", 32),
        ("1/2-10 ACME", 10),
    ],
)
def test_inch_pitch(text, per_inch):
    thread = read_thread(text)
    assert thread.pitch == pytest.approx(INCH / per_inch, rel=1e-14)
    assert thread.right_handed
    assert thread.name == text


@pytest.mark.parametrize(
    ("text", "pitch_mm"),
    [
        # ISO 262 coarse pitches
        ("M5", 0.8),
        ("M6", 1.0),
        ("M8", 1.25),
        ("M10", 1.5),
        ("M12", 1.75),
        ("M16", 2.0),
        # pitch given
        ("M10x1.5", 1.5),
        ("M10 x 1.25", 1.25),
        ("M10×1", 1.0),
        ("M9x1", 1.0),
        ("M10-6g", 1.5),
        ("Tr16x4", 4.0),
    ],
)
def test_metric_pitch(text, pitch_mm):
    assert read_thread(text).pitch == pytest.approx(pitch_mm * 1e-3, rel=1e-14)


@pytest.mark.parametrize(
    "text", ["3/8-16-LH", "3/8-16 LH", "3/8-16 UNC-2A-LH", "M10-LH", "M10x1.5-6g-LH", "M10 left"]
)
def test_left_handed(text):
    assert not read_thread(text).right_handed


@pytest.mark.parametrize(
    ("value", "why"),
    [
        ("3/8", ""),
        ("", ""),
        ("M", ""),
        (10, ""),
        ("M10x1,5", ""),
        ("/-16", ""),
        ("1/0-16", ""),
        ("M9", ': give the pitch too, as in "M9x1.5"'),
        ("10-24", ': write "#10-24" if it is the numbered size'),
        ("#7-20", ": numbered sizes are #0, #1, #2, #3, #4, #5, #6, #8, #10 or #12"),
        ("M10x15", ": a pitch of 15 mm does not go with 10 mm"),
        ("M10x0.001", ": a pitch of 0.001 mm does not go with 10 mm"),
        ("3/8-1", ": a pitch of 25.4 mm does not go with 9.525 mm"),
        ("3/8-0", ": threads per inch above zero wanted"),
        ("M0x1", ": a diameter of 0 mm is no screw's"),
    ],
)
def test_message(value, why):
    got = str(value) if isinstance(value, int) else f'"{value}"'
    with pytest.raises(ValueTextError) as caught:
        read_thread(value)
    assert str(caught.value) == f"{WANTED_THREAD}, got {got}{why}"


def test_numbered_sizes_follow_the_gauge():
    with pytest.raises(ValueTextError, match=r"does not go with 4\.826 mm"):  # 0.190 in
        read_thread("#10-2")

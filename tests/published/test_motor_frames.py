"""Foot holes and shaft ends of motor frames.

- NEMA MG 1 part 4, dimensions of foot-mounted frames, inches: D, 2E, 2F, BA, H, U, N-W.
- IEC 60072-1, dimensions of foot-mounted frames, mm: H, A, B, C, K, D, E. Heights and shaft
  diameters of 71 to 100L as printed, the rest from memory, as NEMA's frames of 203 and up are.
- NEMA MG 1 part 4, from memory: 2F by series and third figure.
- ISO/R 775, long series of shaft ends, from memory: the length that goes with a diameter.
- ISO 3, the R 20 series of preferred numbers, which IEC's dimensions are taken from.
"""

import pytest
from scipy.constants import inch, milli

from mountcalc.handbook.machine import FrameStandard, known_frames, motor_frame
from mountcalc.handbook.rows import load

NEMA = {
    "42": (2 + 5 / 8, 3 + 1 / 2, (1 + 11 / 16,), 2 + 1 / 16, 9 / 32, 3 / 8, 1 + 1 / 8),
    "48": (3, 4 + 1 / 4, (2 + 3 / 4,), 2 + 1 / 2, 11 / 32, 1 / 2, 1 + 1 / 2),
    "56": (3 + 1 / 2, 4 + 7 / 8, (3,), 2 + 3 / 4, 11 / 32, 5 / 8, 1 + 7 / 8),
    "56H": (3 + 1 / 2, 4 + 7 / 8, (3, 5), 2 + 3 / 4, 11 / 32, 5 / 8, 1 + 7 / 8),
    "143T": (3 + 1 / 2, 5 + 1 / 2, (4,), 2 + 1 / 4, 11 / 32, 7 / 8, 2 + 1 / 4),
    "145T": (3 + 1 / 2, 5 + 1 / 2, (5,), 2 + 1 / 4, 11 / 32, 7 / 8, 2 + 1 / 4),
    "182": (4 + 1 / 2, 7 + 1 / 2, (4 + 1 / 2,), 2 + 3 / 4, 13 / 32, 7 / 8, 2 + 1 / 4),
    "184": (4 + 1 / 2, 7 + 1 / 2, (5 + 1 / 2,), 2 + 3 / 4, 13 / 32, 7 / 8, 2 + 1 / 4),
    "182T": (4 + 1 / 2, 7 + 1 / 2, (4 + 1 / 2,), 2 + 3 / 4, 13 / 32, 1 + 1 / 8, 2 + 3 / 4),
    "184T": (4 + 1 / 2, 7 + 1 / 2, (5 + 1 / 2,), 2 + 3 / 4, 13 / 32, 1 + 1 / 8, 2 + 3 / 4),
    "203": (5, 8, (5 + 1 / 2,), 3 + 1 / 8, 13 / 32, 3 / 4, 2 + 1 / 4),
    "204": (5, 8, (6 + 1 / 2,), 3 + 1 / 8, 13 / 32, 3 / 4, 2 + 1 / 4),
    "213": (5 + 1 / 4, 8 + 1 / 2, (5 + 1 / 2,), 3 + 1 / 2, 13 / 32, 1 + 1 / 8, 3),
    "215": (5 + 1 / 4, 8 + 1 / 2, (7,), 3 + 1 / 2, 13 / 32, 1 + 1 / 8, 3),
    "213T": (5 + 1 / 4, 8 + 1 / 2, (5 + 1 / 2,), 3 + 1 / 2, 13 / 32, 1 + 3 / 8, 3 + 3 / 8),
    "215T": (5 + 1 / 4, 8 + 1 / 2, (7,), 3 + 1 / 2, 13 / 32, 1 + 3 / 8, 3 + 3 / 8),
    "224": (5 + 1 / 2, 9, (6 + 3 / 4,), 3 + 1 / 2, 13 / 32, 1, 3),
    "225": (5 + 1 / 2, 9, (7 + 1 / 2,), 3 + 1 / 2, 13 / 32, 1, 3),
}
FROM_MEMORY = ("203", "204", "213", "215", "213T", "215T", "224", "225")
IEC = {
    "56": (56, 90, (71,), 36, 5.8, 9, 20),
    "63": (63, 100, (80,), 40, 7, 11, 23),
    "71": (71, 112, (90,), 45, 7, 14, 30),
    "80": (80, 125, (100,), 50, 10, 19, 40),
    "90S": (90, 140, (100,), 56, 10, 24, 50),
    "90L": (90, 140, (125,), 56, 10, 24, 50),
    "100L": (100, 160, (140,), 63, 12, 28, 60),
    "112M": (112, 190, (140,), 70, 12, 28, 60),
}
R20 = (36, 40, 45, 50, 56, 63, 71, 80, 90, 100, 112, 125, 140, 160, 180)
SHAFT_END = {
    9: 20,
    11: 23,
    14: 30,
    16: 40,
    19: 40,
    22: 50,
    24: 50,
    28: 60,
}  # ISO/R 775, long series
BOLTS = {
    "42": 1 / 4,
    "48": 5 / 16,
    "56": 5 / 16,
    "14": 5 / 16,
    "18": 3 / 8,
    "20": 3 / 8,
    "21": 3 / 8,
    "22": 3 / 8,
}  # by series [in]


def dimensions(name, unit):
    frame = motor_frame(name)
    return (
        frame.shaft_height / unit,
        frame.feet_across / unit,
        pytest.approx([length / unit for length in frame.feet_along]),
        frame.shoulder_to_foot / unit,
        frame.hole / unit,
        frame.shaft_diameter / unit,
        frame.shaft_length / unit,
    )


@pytest.mark.parametrize(
    ("name", "unit", "printed"),
    [(f"NEMA {name}", inch, row) for name, row in NEMA.items()]
    + [(f"IEC {name}", milli, row) for name, row in IEC.items()],
)
def test_every_dimension(name, unit, printed):
    for got, wanted in zip(dimensions(name, unit), printed, strict=True):
        expected = list(wanted) if isinstance(wanted, tuple) else pytest.approx(wanted, rel=1e-12)
        assert got == expected


def test_no_frame_is_left_out():
    assert known_frames() == (*(f"NEMA {name}" for name in NEMA), *(f"IEC {name}" for name in IEC))


@pytest.mark.parametrize("name", NEMA)
def test_the_number_of_a_nema_frame_tells_its_shaft_height(name):
    digits = "".join(char for char in name if char.isdigit())
    rule = int(digits) / 16 if len(digits) == 2 else int(digits[:2]) / 4
    assert motor_frame(f"NEMA {name}").shaft_height == pytest.approx(rule * inch)


@pytest.mark.parametrize("name", NEMA)
def test_a_nema_hole_is_the_bolt_and_a_thirty_second(name):
    assert motor_frame(f"NEMA {name}").hole == pytest.approx((BOLTS[name[:2]] + 1 / 32) * inch)


@pytest.mark.parametrize(("short", "long"), [
    ("143T", "145T"), ("182", "184"), ("182T", "184T"), ("203", "204"), ("213", "215"),
    ("213T", "215T"), ("224", "225"),
])  # fmt: skip
def test_two_lengths_of_a_nema_series_differ_between_the_feet_only(short, long):
    a, b = motor_frame(short), motor_frame(long)
    assert b.feet_along[0] > a.feet_along[0]
    rest = ("shaft_height", "feet_across", "shoulder_to_foot", "hole", "shaft_diameter")
    assert all(getattr(a, key) == getattr(b, key) for key in rest)


# 2F [in] by the first two figures, for the third from one up.
LENGTHS = {
    "14": (3, 3.5, 4, 4.5, 5, 5.5, 6.25, 7),
    "18": (4, 4.5, 5, 5.5, 6.25, 7, 8),
    "20": (4.5, 5, 5.5, 6.5, 7, 8),
    "21": (4.5, 5, 5.5, 6.25, 7, 8),
    "22": (5, 5.5, 6.25, 6.75, 7.5, 9),
}


@pytest.mark.parametrize("name", [name for name in NEMA if len(name.rstrip("TH")) == 3])
def test_the_third_figure_of_a_nema_frame_tells_how_far_apart_its_feet_are(name):
    frame = motor_frame(f"NEMA {name}")
    assert frame.feet_along == pytest.approx([LENGTHS[name[:2]][int(name[2]) - 1] * inch])
    # 2E goes with the height: 1.57 to 1.67 of it.
    assert 1.57 < frame.feet_across / frame.shaft_height < 1.67


def test_iec_112_may_leave_out_its_m():
    assert motor_frame("IEC 112") == motor_frame("IEC 112M")
    assert motor_frame("IEC 80M") == motor_frame("IEC 80")


# A and C of 112 lie half a step of R 20 off: 190 mm is of R 40, 70 mm is 71 rounded.
BESIDE_R20 = {("112M", 180): 190, ("112M", 71): 70}


@pytest.mark.parametrize("name", IEC)
def test_iec_dimensions_are_steps_of_the_preferred_numbers(name):
    """H is in R 20; A is four steps above it, C four below, B one to three above by length."""
    frame = motor_frame(f"IEC {name}")
    height = round(frame.shaft_height / milli)
    step = R20.index(height)
    assert height == int("".join(char for char in name if char.isdigit()))
    across, to_foot = R20[step + 4], R20[step - 4]
    assert frame.feet_across == pytest.approx(BESIDE_R20.get((name, across), across) * milli)
    assert frame.shoulder_to_foot == pytest.approx(BESIDE_R20.get((name, to_foot), to_foot) * milli)
    steps = {"S": 1, "L": 3}.get(name[-1], 2)
    assert frame.feet_along == pytest.approx([R20[step + steps] * milli])


@pytest.mark.parametrize("name", IEC)
def test_iec_shafts_are_of_the_long_series(name):
    frame = motor_frame(f"IEC {name}")
    length = SHAFT_END[round(frame.shaft_diameter / milli)]
    assert frame.shaft_length == pytest.approx(length * milli)


@pytest.mark.parametrize("name", known_frames())
def test_shaft_and_body_keep_off_the_plane_of_the_feet(name):
    frame = motor_frame(name)
    assert frame.shaft_diameter / 2 < frame.body_radius < frame.shaft_height
    assert frame.shoulder_to_foot + max(frame.feet_along) < frame.body_length


def test_how_sure_each_row_is():
    data = load("motor_frames")
    for name, row in data["nema"].items():
        assert row["sure"] == ("from memory" if name in FROM_MEMORY else "published")
    assert {row["sure"] for row in data["iec"].values()} == {"from memory"}
    assert {row["sure"] for row in data["body"].values()} == {"estimate"}
    for name in known_frames():
        frame = motor_frame(name)
        start = "NEMA MG 1" if frame.standard is FrameStandard.NEMA else "IEC 60072-1"
        assert frame.source.startswith(start)

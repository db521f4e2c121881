"""Names of motor frames, as a scenario may write them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mountcalc.handbook.machine import known_frames, motor_frame
from mountcalc.scenario.text.named import read_frame
from mountcalc.scenario.text.quantities import ValueTextError

KNOWN = (
    "(known: NEMA: 42, 48, 56, 56H, 143T, 145T, 182, 184, 182T, 184T, 203, 204, 213, 215, 213T, "
    "215T, 224, 225; IEC: 56, 63, 71, 80, 90S, 90L, 100L, 112M)"
)


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("56", "NEMA 56"),
        ("NEMA 56", "NEMA 56"),
        ("nema-56h", "NEMA 56H"),
        ("143t", "NEMA 143T"),
        (" 182T ", "NEMA 182T"),
        ("IEC 56", "IEC 56"),
        ("80", "IEC 80"),
        ("IEC 80", "IEC 80"),
        ("iec80", "IEC 80"),
        ("80M", "IEC 80"),
        ("90L", "IEC 90L"),
        ("IEC 90s", "IEC 90S"),
        ("100L", "IEC 100L"),
    ],
)
def test_ways_of_writing_them(text, name):
    assert read_frame(text).name == name


@pytest.mark.parametrize("name", known_frames())
def test_a_name_reads_back(name):
    assert motor_frame(name).name == name
    bare = name.split()[1]
    both = f"NEMA {bare}" in known_frames()
    assert motor_frame(bare).name == (f"NEMA {bare}" if both else name)


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        ("NEMA 71", '; did you mean "IEC 71"?'),
        ("90", '; did you mean "IEC 90S" or "IEC 90L"?'),
        ("143", '; did you mean "NEMA 143T"?'),
        ("56C", '; did you mean "NEMA 56", "NEMA 56H" or "IEC 56"?'),
        ("147T", '; did you mean "NEMA 143T" or "NEMA 145T"?'),
        ("IEC 9O", '; did you mean "IEC 90S"?'),
        ("IEC 132", ""),
        ("IEC 180", ""),
        ("NEWA 5", '; did you mean "NEMA 56"?'),
        ("foot", ""),
        ("7" * 400, ""),
        ("", ""),
    ],
)
def test_an_unknown_frame_is_told_with_the_known_ones(text, hint):
    with pytest.raises(ValueTextError) as caught:
        read_frame(text)
    message = str(caught.value)
    assert message.startswith("nothing is known of motor frame ")
    assert message.endswith(KNOWN + hint)


@pytest.mark.parametrize(("value", "got"), [(56, "56"), (True, "true"), (["56"], "a list of 1")])
def test_a_frame_is_text(value, got):
    with pytest.raises(ValueTextError) as caught:
        read_frame(value)
    assert str(caught.value) == (
        'frame of a motor wanted, between quotes (such as "56", "143T" or "IEC 80"), got ' + got
    )


@given(
    st.text(max_size=12) | st.from_regex(r"(NEMA|IEC)?[ -]?[0-9]{1,3}[A-Z]{0,3}", fullmatch=True)
)
def test_any_text_is_a_known_frame_or_told(text):
    try:
        frame = read_frame(text)
    except ValueTextError as error:
        assert KNOWN in str(error)
    else:
        assert frame.name in known_frames()
        number = "".join(char for char in frame.name if char.isdigit())
        assert number in text

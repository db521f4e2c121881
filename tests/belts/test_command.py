"""`belts`, `card` and `measure` as users meet them: keys, exit codes, one line for each mistake."""

import json
import math
import re

import pytest

from mountcalc.belts.choice import choose_belt
from mountcalc.scenario.reader import read_scenario

PROMISED = {
    "designation": str,
    "pitch_length_mm": float,
    "snug_plate_angle_deg": float,
    "center_distance_mm": float,
    "install_ok": bool,
    "take_up_ok": bool,
    "rating_kW": (float, type(None)),
    "belts_needed": (int, type(None)),
    "ok": bool,
    "why_not": list,
}
PAIR = {
    "kept", "motor_named", "motor_pulley_mm", "driven_named", "driven_pulley_mm", "driven_rpm",
    "speed_error", "pitch_length_mm", "designation", "difference_mm",
}  # fmt: skip

ROOM = {"needed_mm", "there_mm", "plate_angle_deg", "ok", "source", "sure"}
END = {"pitch_length_mm", "snug_plate_angle_deg", "center_distance_mm", "room_mm", "ok"}


def plain(done):
    assert done.code == 0
    assert done.err == ""
    return json.loads(done.out, parse_constant=pytest.fail)


def test_json_has_the_promised_keys(mountcalc, scenario_file):
    choice = plain(mountcalc("belts", scenario_file, "--json"))
    assert choice["belts"]
    for belt in choice["belts"]:
        for key, kind in PROMISED.items():
            assert isinstance(belt[key], kind), key
        assert belt["ok"] == (not belt["why_not"])
        assert all(isinstance(why, str) for why in belt["why_not"])
        assert set(belt["install"]) == ROOM
        assert set(belt["take_up"]) == set(belt["install"])
        for end in (belt["shortest"], belt["longest"]):
            assert end is None or end.keys() == END
    assert choice["pulleys"] == []
    assert choice["wanted_speed_rpm"] is None


def test_json_is_the_result_in_the_units_of_its_keys(mountcalc, cider):
    choice = plain(mountcalc("belts", cider, "--json"))
    result = choose_belt(read_scenario(cider))
    assert len(choice["belts"]) == len(result.belts)
    for belt, one in zip(choice["belts"], result.belts, strict=True):
        assert belt["designation"] == one.designation
        assert belt["pitch_length_mm"] == pytest.approx(1e3 * one.pitch_length)
        assert belt["center_distance_mm"] == pytest.approx(1e3 * one.center_distance)
        assert belt["snug_plate_angle_deg"] == pytest.approx(math.degrees(one.snug_plate_angle))
        assert belt["rating_kW"] == pytest.approx(one.rating / 1e3)
        assert belt["belts_needed"] == one.belts_needed
        for end, there in ((belt["shortest"], one.shortest), (belt["longest"], one.longest)):
            assert end["ok"] is there.ok
            assert end["room_mm"] == pytest.approx(there.room and 1e3 * there.room)
    drive = choice["drive"]
    assert drive["driven_rpm"] == pytest.approx(575)
    assert drive["design_power_kW"] == pytest.approx(1.3 * 0.4 * 0.745699872)
    assert drive["belt_speed_m_s"] == pytest.approx(math.pi * 3 * 0.0254 * 1725 / 60)


def test_text_and_json_tell_of_the_same_belts(mountcalc, scenario_file):
    text = mountcalc("belts", scenario_file)
    assert text.code == 0
    assert text.err == ""
    assert max(map(len, text.out.splitlines())) <= 80
    assert not re.search(r"\bnan\b|\binf\b|None", text.out)
    for belt in plain(mountcalc("belts", scenario_file, "--json"))["belts"]:
        status = "ok[?]?" if belt["ok"] else "out"
        row = rf"^  {re.escape(belt['designation'])}[*~]* .* {status}( [a-z ]+)?$"
        assert re.search(row, text.out, re.MULTILINE)


@pytest.mark.parametrize("speed", ["500 rpm", "52.35987755982988 rad/s", "0.55e3 rpm"])
def test_a_wanted_speed_brings_pulleys(mountcalc, cider, speed):
    choice = plain(mountcalc("belts", cider, "--json", "--driven-speed", speed))
    assert choice["wanted_speed_rpm"] == pytest.approx(550 if speed[0] == "0" else 500)
    assert choice["pulleys"]
    for pair in choice["pulleys"]:
        assert pair.keys() == PAIR
        assert pair["driven_rpm"] <= 600  # max_speed of the mill
        assert (pair["motor_named"], pair["driven_named"]) == ("outside", "rim")
        off = pair["driven_rpm"] / choice["wanted_speed_rpm"] - 1
        assert pair["speed_error"] == pytest.approx(off, abs=1e-12)
    page = mountcalc("belts", cider, "--driven-speed", speed).out
    assert f"PULLEYS for {choice['wanted_speed_rpm']:.1f} rpm" in page


def test_a_speed_above_the_shafts_own_brings_none(mountcalc, cider):
    """The mill's max_speed is 600 rpm: nothing is offered for 1000, and the page says why."""
    assert plain(mountcalc("belts", cider, "--json", "--driven-speed", "1000 rpm"))["pulleys"] == []
    page = mountcalc("belts", cider, "--driven-speed", "1000 rpm").out
    assert "no pair of preferred diameters comes near 1000 rpm" in re.sub(r"\s+", " ", page)


@pytest.mark.parametrize(
    ("speed", "words"),
    [
        ("", "speed of rotation wanted"),
        ("500", "number without a unit"),
        ("fast", "speed of rotation wanted"),
        ("0 rpm", "above zero"),
        ("-5 rpm", "above zero"),
        ("nan rpm", "no finite number"),
        ("inf rpm", "no finite number"),
        ("1e300 rpm", "too large"),
        ("1e-300 rpm", "too small"),
        ("500 mm", "got a length"),
        ("500 rpn", "rpn"),
        ("__import__('os').getpid() rpm", "wanted"),
        ("5\n00 rpm", "wanted"),
    ],
)
def test_bad_speeds_are_one_line_and_exit_2(mountcalc, cider, speed, words):
    done = mountcalc("belts", cider, "--driven-speed", speed)
    assert done.code == 2
    assert done.out == ""
    assert done.err.startswith("mountcalc: driven-speed: ")
    assert done.err.count("\n") == 1
    assert words in done.err


def test_a_speed_is_read_before_the_file(mountcalc, tmp_path):
    done = mountcalc("belts", tmp_path / "missing.toml", "--driven-speed", "fast")
    assert done.code == 2
    assert "driven-speed" in done.err
    done = mountcalc("belts", tmp_path / "missing.toml")
    assert done.code == 2
    assert done.err.count("\n") == 1
    assert "missing.toml" in done.err


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ('designation = "A60"', 'designation = "Q60"', "belt.designation: "),
        ('designation = "A60"', 'designation = "A9999999"', "belt.designation: "),
        (
            'designation = "A60"',
            'section = "flat leather"\nwidth = "2 in"\nthickness = "0.2 in"\nlength = "90 in"',
            "belt.length: the belt does not become snug in the travel",
        ),
    ],
)
def test_mistakes_of_a_file_are_one_line_with_its_place(
    mountcalc, cider, tmp_path, old, new, words
):
    text = cider.read_text()
    assert old in text
    bad = tmp_path / "bad.toml"
    bad.write_text(text.replace(old, new))
    done = mountcalc("belts", bad)
    assert done.code == 2
    assert done.out == ""
    assert done.err.count("\n") == 1
    assert re.match(rf"{re.escape(str(bad))}:\d+: ", done.err)
    assert words in done.err


def test_no_length_is_no_error(mountcalc, cider, tmp_path):
    """The section has a series, but nothing of it fits: an empty list, and the page says so."""
    file = tmp_path / "narrow.toml"
    text, wide = cider.read_text(), '"-8 deg", "17 deg"'
    assert wide in text
    file.write_text(text.replace(wide, '"-0.05 deg", "0.05 deg"'))
    assert plain(mountcalc("belts", file, "--json"))["belts"] == []
    assert "No published length becomes snug" in mountcalc("belts", file).out


@pytest.mark.parametrize(
    "turns", ["", "two", "0:2:1", "0:1", "nan", "1/0", "__import__('os')", "1 2 3"]
)
def test_a_card_is_for_one_setting(mountcalc, cider, tmp_path, turns):
    """What does not read as one number is asked for as one, not as a range; before the file."""
    for file in (cider, tmp_path / "missing.toml"):
        done = mountcalc("card", file, "--turns", turns)
        assert done.code == 2
        assert done.out == ""
        assert done.err.startswith("mountcalc: turns: one number is wanted here, such as 2")
        assert done.err.count("\n") == 1
        assert "step" not in done.err
        assert repr(turns) in done.err


def test_help(mountcalc):
    page = mountcalc("belts", "--help")
    assert page.code == 0
    assert 'mountcalc belts cider-mill.toml --driven-speed "500 rpm"' in page.out
    assert "--json" in page.out
    overview = mountcalc("--help").out
    for command in ("belts", "card", "measure"):
        assert re.search(rf"^\s*{command}\b", overview, re.MULTILINE)


@pytest.mark.parametrize("command", [("belts",), ("card",), ("measure",)])
def test_a_wrong_call_is_no_traceback(mountcalc, command, cider):
    calls = [(*command, "--nonsense")]
    calls.append(command if command != ("measure",) else ("measure", str(cider)))
    for arguments in calls:
        done = mountcalc(*arguments)
        assert done.code == 2
        assert done.out == ""
        assert "Traceback" not in done.err

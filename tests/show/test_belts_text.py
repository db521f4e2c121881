"""The page of a choice of belts: its width, its numbers, and what it says of each length."""

import json
import math
import re
from dataclasses import replace

import pytest
from scipy.constants import hp, inch, kilo, milli, minute

from mountcalc.scenario.model import Display, PulleyFace
from mountcalc.scenario.reader import read_scenario
from mountcalc.show.belts_text import belts_text
from mountcalc.show.data import as_json
from mountcalc.tasks.belt_choice import choose_belt

RPM = 2 * math.pi / minute
ROW = re.compile(
    r"  (?P<belt>[A-Z0-9].*?[\d.](?: in| mm)?)(?P<mark>\*?~?) +(?P<pitch>[\d.]+)"
    r" +(?P<plate>-?[\d.]+) +(?P<center>[\d.]+) +(?P<fit>[\d.]+)/(?P<fit_wanted>[\d.]+)"
    r" +(?P<take>[\d.]+)/(?P<take_wanted>[\d.]+) +(?P<wrap>\d+) +(?P<rating>[\d.]+|-)"
    r" +(?P<count>\d+|-)  (?P<verdict>ok|out)"
)
UNIT = {Display.INCH: inch, Display.METRIC: milli}
POWER = {Display.INCH: hp, Display.METRIC: kilo}
PITCH_DIGITS = {Display.INCH: 0.005, Display.METRIC: 0.05}
ROOM_DIGIT = {Display.INCH: 0.1, Display.METRIC: 1.0}
ANGLE_DIGITS, RATING_DIGITS = 0.005, 0.005


def flat(text):
    return re.sub(r"\s+", " ", text)


def with_belt(scenario, **changes):
    return replace(scenario, belt=replace(scenario.belt, designation=None, **changes))


def wider(scenario, degrees):
    end = math.radians(degrees)
    return replace(scenario, plate=replace(scenario.plate, travel=(-end, end)))


HARD = {
    "as it is": lambda mill: mill,
    "metric": lambda mill: replace(mill, display=Display.METRIC),
    "many lengths": lambda mill: wider(with_belt(mill, section="4L"), 60),
    "many metric lengths": lambda mill: replace(
        wider(with_belt(mill, section="SPZ", length=1.6001), 80), display=Display.METRIC
    ),
    "no length": lambda mill: wider(mill, 0.05),
    "a length without a name": lambda mill: with_belt(mill, length=61.12 * inch),
    "no section": lambda mill: with_belt(mill, section=None),
    "a long title": lambda mill: replace(mill, title="Mill " * 24),
    "one long word": lambda mill: replace(mill, title="M" * 120),
    "small pulleys": lambda mill: replace(
        mill, motor=replace(mill.motor, pulley_radius=0.02), driven=replace(mill.driven, power=5e4)
    ),
    "flat motor pulley": lambda mill: replace(
        mill, motor=replace(mill.motor, pulley_face=PulleyFace.FLAT)
    ),
    "large": lambda mill: wider(large(mill), 30),
}


def large(mill):
    """Ten times as large, with belts of section D of up to 17 m."""

    def far(point):
        return 10 * point[0], 10 * point[1]

    belt = replace(mill.belt, section="D", designation=None, length=10 * mill.belt.length, count=12)
    driven, motor, plate, jack = mill.driven, mill.motor, mill.plate, mill.adjuster
    return replace(
        mill,
        display=Display.METRIC,
        belt=belt,
        driven=replace(driven, shaft=far(driven.shaft), pulley_radius=10 * driven.pulley_radius),
        motor=replace(motor, shaft=far(motor.shaft), pulley_radius=10 * motor.pulley_radius),
        plate=replace(plate, hinge=far(plate.hinge)),
        adjuster=replace(jack, tip=far(jack.tip)),
    )


@pytest.fixture(params=HARD)
def hard(request, cider):
    scenario = HARD[request.param](read_scenario(cider))
    return scenario, choose_belt(scenario, 500 * RPM)


@pytest.fixture
def shipped(scenario_file):
    scenario = read_scenario(scenario_file)
    return scenario, choose_belt(scenario, 400 * RPM)


def assert_page(scenario, choice):
    page = belts_text(scenario, choice)
    assert max(map(len, page.splitlines())) <= 80
    assert not re.search(r"\bnan\b|\binf\b|\bNone\b", page)
    assert not re.search(r"\bsafe(ly|ty)?\b", page, re.IGNORECASE)


def test_shipped_pages_are_for_80_columns(shipped):
    assert_page(*shipped)


def test_hard_pages_are_for_80_columns(hard):
    assert_page(*hard)


def rows(scenario, choice):
    page = belts_text(scenario, choice)
    if not choice.belts:
        assert "THE LENGTHS" not in page
        return []
    block = page.split("THE LENGTHS")[1].splitlines()[3:]
    return [ROW.fullmatch(line) for line in block[: len(choice.belts)]]


def assert_rows(scenario, choice):
    """Each number stands for the one of the result, to the digits that are shown."""
    unit, display = UNIT[scenario.display], scenario.display
    found = rows(scenario, choice)
    assert len(found) == len(choice.belts)
    for row, one in zip(found, choice.belts, strict=True):
        assert row is not None
        assert row["belt"] == one.designation
        assert row["mark"] == ("*" if one.is_yours else "") + ("" if one.in_series else "~")
        assert row["verdict"] == ("ok" if one.ok else "out")
        digit = PITCH_DIGITS[display] + 1e-9
        assert float(row["pitch"]) == pytest.approx(one.pitch_length / unit, abs=digit)
        assert float(row["center"]) == pytest.approx(one.center_distance / unit, abs=digit)
        plate = math.degrees(one.snug_plate_angle)
        assert float(row["plate"]) == pytest.approx(plate, abs=ANGLE_DIGITS + 1e-9)
        wrap = math.degrees(min(one.wrap_motor, one.wrap_driven))
        assert float(row["wrap"]) == pytest.approx(wrap, abs=0.5 + 1e-9)
        assert row["count"] == ("-" if one.belts_needed is None else str(one.belts_needed))
        if one.rating is None:
            assert row["rating"] == "-"
        else:
            rating = one.rating / POWER[display]
            assert float(row["rating"]) == pytest.approx(rating, abs=RATING_DIGITS + 1e-9)
        for name, room in (("fit", one.install), ("take", one.take_up)):
            there, wanted = room.there / unit, room.needed / unit
            assert there - ROOM_DIGIT[display] < float(row[name]) <= there + 1e-6
            assert float(row[f"{name}_wanted"]) == pytest.approx(
                wanted, abs=ROOM_DIGIT[display] / 2 + 1e-9
            )


def test_shipped_numbers_are_those_of_the_result(shipped):
    assert_rows(*shipped)


def test_hard_numbers_are_those_of_the_result(hard):
    assert_rows(*hard)


def test_room_that_is_not_enough_does_not_look_so(shipped):
    short = 0
    for row, one in zip(rows(*shipped), shipped[1].belts, strict=True):
        for name, room in (("fit", one.install), ("take", one.take_up)):
            if not room.ok:
                short += 1
                assert float(row[name]) < float(row[f"{name}_wanted"])
    assert short or len(shipped[1].belts) == 1


def test_every_reason_and_every_remark_is_told(hard):
    scenario, choice = hard
    page = flat(belts_text(scenario, choice))
    for one in choice.belts:
        for said in (*one.why_not, *one.remarks):
            assert flat(said) in page
    for note in choice.notes:
        assert flat(note) in page


def test_a_reason_that_all_share_is_told_once(cider):
    mill = HARD["small pulleys"](read_scenario(cider))
    choice = choose_belt(mill)
    (shared,) = choice.drive.why_not
    assert all(shared in one.why_not for one in choice.belts)
    page = flat(belts_text(mill, choice))
    assert page.count(flat(shared)) == 1
    assert f"Every length: {flat(shared)}." in page
    assert "No length will do; the least bad is" in page


def test_the_verdict_names_the_first_and_the_other_good_ones(cider):
    mill = read_scenario(cider)
    choice = choose_belt(mill)
    good = [one.designation for one in choice.belts if one.ok]
    verdict = flat(belts_text(mill, choice).split("Verdict:")[1].split("\n\n")[0])
    assert verdict.strip().startswith(good[0])
    assert all(name in verdict for name in good)
    out = [one.designation for one in choice.belts if not one.ok]
    assert out
    assert not any(re.search(rf"\b{name}\b", verdict) for name in out)


def test_the_verdict_says_what_becomes_of_your_belt(cider):
    mill = read_scenario(cider)
    for inches, words in (
        (65.3, "Yours, A64, is out."),
        (90.3, "Yours never becomes snug in the travel."),
    ):
        other = with_belt(mill, length=inches * inch)
        assert words in flat(belts_text(other, choose_belt(other)))
    nothing = HARD["no length"](mill)
    page = flat(belts_text(nothing, choose_belt(nothing)))
    assert "No published length becomes snug: the travel takes paths from" in page


def test_the_drives_numbers_are_those_of_the_result(shipped):
    scenario, choice = shipped
    page = flat(belts_text(scenario, choice))
    drive = choice.drive
    assert f"driven shaft at {drive.driven / RPM:.0f} rpm" in page
    assert f"{drive.service_factor:g} = " in page
    assert flat(drive.service_factor_source) in page
    if drive.table_rating is None:
        assert flat(drive.rating_why_not) in page
    else:
        unit = {Display.INCH: "hp", Display.METRIC: "kW"}[scenario.display]
        power = drive.table_rating / POWER[scenario.display]
        assert f"{power:.2f} {unit} a belt before the factors" in page
        for other in drive.other_ratings:
            assert f"{other.table_rating / POWER[scenario.display]:.2f} {unit} by" in page


def test_pulleys_are_told_only_for_a_wanted_speed(shipped):
    scenario, choice = shipped
    page = belts_text(scenario, choice)
    block = page.split("PULLEYS for 400 rpm")[1].split("\n\n")[0].splitlines()[2:]
    assert len(block) == len(choice.pulleys)
    for line, pair in zip(block, choice.pulleys, strict=True):
        motor, driven, speed, off, length, *name = line.split()
        assert float(motor) * UNIT[scenario.display] == pytest.approx(pair.motor_pulley, rel=0.01)
        assert float(driven) * UNIT[scenario.display] == pytest.approx(pair.driven_pulley, rel=0.01)
        assert float(speed) == pytest.approx(pair.driven / RPM, rel=6e-4)
        assert float(off.rstrip("%")) == pytest.approx(100 * pair.speed_error, abs=0.051)
        assert float(length) * UNIT[scenario.display] == pytest.approx(pair.pitch_length, rel=1e-3)
        assert " ".join(name) == (pair.designation or "-")
    assert "PULLEYS for" not in belts_text(scenario, replace(choice, pulleys=(), wanted_speed=None))


def test_no_pair_is_said(cider):
    mill = read_scenario(cider)
    choice = replace(choose_belt(mill), wanted_speed=500 * RPM)
    assert "no pair of preferred diameters comes near 500 rpm" in flat(belts_text(mill, choice))


def test_json_has_no_nan(hard):
    plain = json.loads(as_json(hard[1]), parse_constant=pytest.fail)
    assert len(plain["belts"]) == len(hard[1].belts)

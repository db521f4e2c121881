"""The restorer's sheet: warmth by hand, limits and directions in words, steps in order, the log."""

import dataclasses
import functools
import json
import math
import re
from itertools import pairwise
from pathlib import Path

import pytest
from random_mounts import seeded_mount

from mountcalc import read_scenario
from mountcalc.card import bench_card
from mountcalc.check.check import check
from mountcalc.errors import MountError
from mountcalc.formulas.bearing_rules import least_film
from mountcalc.pages.amounts import in_figures
from mountcalc.pages.as_json import as_json
from mountcalc.report.blocks import Grid, Points, Text
from mountcalc.report.paper import sheets
from mountcalc.report.restorer.boxes import old_boxes, rise_text, warmth_text
from mountcalc.report.restorer.log_sheet import log_section
from mountcalc.report.restorer.sheet import restorer_sections, restorer_sheet
from mountcalc.requirements.readings import readings_of
from mountcalc.requirements.results import MethodName
from mountcalc.requirements.setting import gentlest_setting
from mountcalc.scenario.text.named import Oil
from mountcalc.scenario.text.writing import Display

SCENARIOS = Path(__file__).parents[2] / "scenarios"
MOUNTS = [
    "cider-mill", "feed-mill", "forge-blower", "grindstone", "job-press", "seed-cleaner",
    "wood-lathe",
]  # fmt: skip


def sheet_of(scenario):
    return restorer_sheet(scenario, *_judged(scenario))


def first_box(scenario, like):
    """The first box of a mount that is loaded as one ``like`` it."""
    return old_boxes(scenario, _judged(like)[0])[0]


@functools.lru_cache(maxsize=8)
def _judged(scenario):
    return check(scenario), bench_card(scenario)


@pytest.fixture(scope="module", params=MOUNTS)
def shipped(request):
    scenario = read_scenario(SCENARIOS / f"{request.param}.toml")
    return scenario, _judged(scenario)[0], sheet_of(scenario)


@pytest.fixture(scope="module")
def mill():
    return read_scenario(SCENARIOS / "cider-mill.toml")


def with_bearing(scenario, **changes):
    first, second = scenario.driven.bearings
    bearings = dataclasses.replace(first, **changes), second
    return with_driven(scenario, bearings=bearings)


def with_driven(scenario, **changes):
    return dataclasses.replace(scenario, driven=dataclasses.replace(scenario.driven, **changes))


def test_rubbing_by_pressure_times_speed(shipped):
    """f W V over C L D is f pV / C, with the pV that the check tells."""
    _, judged, sheet = shipped
    frictions = {"well oiled": 0.05, "fairly oiled": 0.08, "poorly oiled": 0.12}
    for box, report in zip(sheet.boxes, judged.bearings, strict=True):
        rubbing = {one.oiled: one for one in box.heats if one.oiled != "flooded"}
        assert list(rubbing) == list(frictions)
        for way, friction in frictions.items():
            heat = rubbing[way]
            assert heat.power_low == heat.power_high
            assert heat.power_low == pytest.approx(friction * box.load * report.surface_speed)
            assert heat.rise_low == pytest.approx(friction * report.pressure_speed / 420)
            assert heat.rise_high == pytest.approx(3 * heat.rise_low)


def test_a_full_film_is_told_where_it_is_thick_enough(mill):
    """The film of the check at the temperature that the sheet finds sheds what it makes."""
    told = with_driven(with_bearing(mill, clearance=5e-5), oil=Oil(68.0, 323.15))
    box = first_box(told, mill)
    flooded = box.heats[0]
    assert (box.film, box.oil_grade, flooded.oiled) == (True, 68.0, "flooded")
    for rise, power, shedding in (
        (flooded.rise_high, flooded.power_low, 140),
        (flooded.rise_low, flooded.power_high, 420),
    ):
        warm = with_driven(told, oil=Oil(68.0, 293.15 + 2 * rise))
        film = check(warm).bearings[0].film
        area = told.driven.bearings[0].projected_area
        assert film.power_lost == pytest.approx(power, rel=1e-3)
        assert film.power_lost == pytest.approx(shedding * area * rise, rel=2e-3)
        assert film.minimum_film > least_film(told.driven.bearings[0].journal_diameter)
    # Ten times the clearance: no film is as thick as that, and nothing is said of drops.
    worn = first_box(with_bearing(told, clearance=2e-3), mill)
    assert (worn.film, worn.drops_per_minute, worn.thinnest_grade) == (False, None, None)
    assert [one.oiled for one in worn.heats] == ["well oiled", "fairly oiled", "poorly oiled"]
    assert any("has no full film" in one for one in worn.told)
    assert any("worn: take shims out" in one for one in worn.told)


def test_clearance_and_oil_of_the_file_are_held_against_what_is_usual(mill):
    tight = first_box(with_bearing(mill, clearance=1e-5), mill)
    assert any("tight: put shims in" in one for one in tight.told)
    usual = first_box(with_bearing(mill, clearance=4e-5), mill)
    assert any("it has that or near it" in one for one in usual.told)
    assert not any("The file has its oil" in one for one in first_box(mill, mill).told)
    cold = first_box(with_driven(mill, oil=Oil(100.0, 283.15)), mill)
    assert cold.oil_grade == 100
    assert any("The file has its oil at 50 °F" in one for one in cold.told)


@pytest.mark.parametrize(
    ("psi", "words"),
    [
        (10, "is below that of an old, worn or unknown box, 15 to 35 psi"),
        (15, "is in the range of an old, worn or unknown box, 15 to 35 psi"),
        (35, "is in the range of an old, worn or unknown box, 15 to 35 psi"),
        (
            60,
            "is above that of an old, worn or unknown box, 15 to 35 psi, and below that of a sound",
        ),
        (120, "is in the range of a sound one, scraped in and oiled, 100 to 150 psi"),
        (180, "is in the range of a new one of babbitt, as rated, 145 to 200 psi"),
        (250, "is above what any box in this table is given"),
    ],
)
def test_the_limit_by_the_state_of_the_box(mill, psi, words):
    wider = mill.with_(
        driven={"bearing": [{"limit": f"{psi} psi", "starting_limit": "500 psi"}, {}]}
    )
    limit = first_box(wider, mill).told[0]
    assert words in limit
    assert f"limit of {psi} psi" in limit


def test_the_direction_of_the_load_is_the_checks(mill):
    """Without cap and groove in words of the compass; with them the check's own sentence."""
    report = _judged(mill)[0].bearings[0]
    at = next(one.direction for one in report.cases if one.case == "running")
    assert math.degrees(at) == pytest.approx(213, abs=0.5)
    told = first_box(mill, mill).told
    assert any("points down and to the left" in one and "MPTA" in one for one in told)
    capped = with_bearing(mill, cap_direction=at)
    sentences = [
        one.sentence for one in _judged(capped)[0].judgements if one.name == "cap-direction"
    ]
    told = first_box(capped, capped).told
    assert sentences
    assert set(sentences) <= set(told)
    assert not any("MPTA" in one for one in told)


def test_temperatures_as_they_are_read():
    assert warmth_text(333.15, Display.METRIC) == "60 °C"
    assert warmth_text(333.15, Display.INCH) == "140 °F"
    # Outwards: never a narrower range than was found.
    assert rise_text(8.99, 26.96, Display.METRIC) == "8.9 to 27 °C"
    assert rise_text(10.0, 101.0, Display.INCH) == "18 to 190 °F"


def test_the_first_box_that_may_pass_the_stop_is_named(shipped):
    _, _, sheet = shipped
    for box in sheet.boxes:
        passing = [one.oiled for one in box.heats if 293.15 + one.rise_high > 333.15]
        said = [one for one in box.told if "it may pass" in one]
        assert len(said) == bool(passing)
        assert all(one.startswith(passing[0].capitalize()) for one in said)


ORDER = ("Unplug", "by hand, a whole turn", "Oil both", "motor alone, belt off", "straight edge")
AFTER = ("guard on", "Start, the machine empty", "light work", "After a day", "log")


def test_steps_come_in_the_order_of_doing(shipped):
    scenario, judged, sheet = shipped
    setting = gentlest_setting(scenario)
    first = sheet.first_run[0]
    assert judged.ok is first.startswith("Unplug")
    assert judged.ok or "change that before anything runs" in first
    wanted = ORDER + (AFTER if setting.open else ("Go no further",))
    places = [
        next(i for i, step in enumerate(sheet.first_run) if words in step) for words in wanted
    ]
    assert places == sorted(places)
    start = 0 if judged.ok else 1
    set_it = sheet.first_run[start + len(ORDER)]
    if not setting.open:
        assert sheet.first_run[-1] == set_it
    elif "weight sets the tension" not in set_it:
        shown = readings_of(setting.methods[0], scenario)
        assert f", {shown.aim} " in set_it
        assert f"never above {shown.never_above}" in set_it
    turns = {"ccw": "counter-clockwise", "cw": " clockwise"}[scenario.motor.rotation.value]
    assert turns in sheet.first_run[start + 3]


def test_the_log_has_what_the_check_says_time_does(shipped):
    scenario, judged, sheet = shipped
    rows = {row.when: row for row in sheet.log.rows}
    said = {one.name: one.sentence for one in judged.judgements}
    old = [rows[f"a {when}"].old for when in ("day", "month", "year")]
    if gentlest_setting(scenario).set_turns is None or any(
        "Leave the" in one or "Leave it" in one for one in sheet.first_run
    ):
        assert old == [None] * 3
        return
    if "tension-left" not in said:  # nothing is known of the plate: it does not creep
        first = sheet.log.rows[0].old
        assert old == [first] * 3
        assert first.turns_to_add is None
        return
    turns = re.search(r"Then up to (.*) turns restore it", said["tension-left"])[1]
    assert re.split(", | and ", turns) == [in_figures(one.turns_to_add, 2) for one in old]
    new = [rows[f"a {when}"].new for when in ("day", "month", "year")]
    size = 4.4482216152605 if scenario.display is Display.INCH else 1.0
    for one, when in zip(new, ("day", "month", "year"), strict=True):
        ends = [in_figures(end / size) for end in (one.left_low, one.left_high)]
        assert f"{ends[0]} to {ends[1]} " in said["new-belt-left"]
        assert when in said["new-belt-left"]


def test_the_log_reads_what_falls_as_the_belt_does(shipped):
    scenario, _, sheet = shipped
    setting = gentlest_setting(scenario)
    first = sheet.log.rows[0]
    if first.old is None:
        return
    way = next(one for one in setting.methods if one.name is not MethodName.TURNS)
    shown = readings_of(way, scenario)
    if way is setting.methods[0]:
        assert (first.old.reading, first.new.reading) == (shown.aim, shown.new_aim)
    year = sheet.log.rows[-1].old
    low, *_ = map(float, year.reading.split(" to "))
    assert low <= float(first.old.reading)
    assert year.left_low <= year.left_high <= first.old.left_low


def test_oily_leather_costs_half_of_the_grip():
    blower = read_scenario(SCENARIOS / "forge-blower.toml")
    (said,) = [one.text for one in sheet_of(blower).dressing if "Oily leather holds" in one.text]
    dry, oily = map(float, re.search(r"from ([\d.]+) to ([\d.]+)\.", said).groups())
    grips = [
        check(blower.with_(driven={"traction": one}, motor={"traction": one}))
        for one in (0.3, 0.15)
    ]
    values = [
        next(one.value for one in each.judgements if (one.name, one.case) == ("grip", "running"))
        for each in grips
    ]
    assert (dry, oily) == pytest.approx(tuple(values), abs=0.006)
    assert oily < 0.55 * dry


def test_no_dressing_on_rubber(mill):
    assert any("No dressing at all" in one.text for one in sheet_of(mill).dressing)


def test_sections_are_whole(shipped):
    scenario, _, sheet = shipped
    sections = *restorer_sections(scenario, sheet), log_section(scenario, sheet)
    assert len({one.name for one in sections}) == len(sections)
    for section in sections:
        assert section.blocks
        for block in section.blocks:
            if isinstance(block, Grid):
                assert {len(row) for row in block.rows} == {len(block.heads)}
            texts = block.items if isinstance(block, Points) else ()
            texts = (block.text,) if isinstance(block, Text) else texts
            assert all(one and "None" not in one and "nan" not in one.split() for one in texts)
    warm, form, do = sections[-1].blocks
    assert warm.form
    assert form.form
    assert warm.rows[0] == ("5 min of running", "", "")
    assert [row[0] for row in form.rows].count("") == 3
    assert all(cell == "" for row in form.rows for cell in row[1 + ("left alone" in form.heads) :])
    told = " ".join(do.items)
    assert all(row.look in told and row.when in told.lower() for row in sheet.log.rows)


def test_cells_to_write_in_are_wide_enough(shipped):
    """18 mm each on the narrowest paper, whatever type the report is set in."""
    scenario, _, sheet = shipped
    laid = sheets((scenario.title,), [log_section(scenario, sheet)], 210.0, 271.0)
    forms = [piece for column in laid.columns for piece in column if piece.uprights]
    assert len(forms) > len(sheet.log.rows)
    for piece in forms:
        ends = (*piece.uprights, piece.rules[0][1])
        widths = [high - low for low, high in pairwise(ends)]
        # Before the first upright stands when; what is left alone is not written in, either.
        written = widths[("left alone" in text_of(forms) and len(widths) > 2) :]
        assert min(written) > 18


def text_of(pieces):
    return " ".join(word.text for piece in pieces for word in piece.words)


def test_no_log_brings_a_belt_back_to_a_setting_that_is_not_there(shipped):
    scenario, _, sheet = shipped
    looks = " ".join(row.look for row in sheet.log.rows)
    if gentlest_setting(scenario).set_turns is None:
        assert "bring the belt back." not in looks
    assert ("has no setting to bring" in looks) is (scenario.title.startswith("Job press"))


UNITS = re.compile(r"_(N|W|K|mm|MPa)$")


def test_json_names_units_and_has_no_nan(shipped):
    _, _, sheet = shipped
    plain = json.loads(as_json(sheet))
    assert plain["air_K"] == pytest.approx(293.15)

    def numbers(value, key=""):
        if isinstance(value, dict):
            for name, one in value.items():
                yield from numbers(one, name)
        elif isinstance(value, list):
            for one in value:
                yield from numbers(one, key)
        elif isinstance(value, float):
            yield key

    plain_numbers = {"drops_per_minute", "thinnest_grade", "oil_grade", "turns_to_add"}
    plain_numbers |= {"starting_factor"}
    assert [key for key in numbers(plain) if not UNITS.search(key)] == [
        key for key in numbers(plain) if key in plain_numbers
    ]


@pytest.mark.parametrize("seed", range(4))
def test_random_mounts_have_a_sheet(seed):
    scenario = seeded_mount(seed)
    try:
        sheet = sheet_of(scenario)
    except MountError:
        return
    assert as_json(sheet)
    assert [*restorer_sections(scenario, sheet), log_section(scenario, sheet)]

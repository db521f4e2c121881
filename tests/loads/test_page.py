"""What a page tells of the loads on each part is what was computed, in the units that it names."""

import json
import math
import re
from pathlib import Path

import pytest

from mountcalc.check.check import check
from mountcalc.check.page import check_text
from mountcalc.loads import Part, Wood, parts_text
from mountcalc.requirements.setting import gentlest_setting
from mountcalc.scenario.reader import read_scenario

SCENARIOS = Path(__file__).parents[2] / "scenarios"
LBF = 4.4482216152605
LBF_IN = LBF * 0.0254


def one_line(text):
    return " ".join(text.split())


@pytest.fixture(scope="module")
def mill():
    scenario = read_scenario(SCENARIOS / "cider-mill.toml")
    return scenario, check(scenario)


def numbers(text, words):
    return [float(one) for one in re.search(words, text).groups()]


def test_the_page_has_the_worst_of_every_part(mill):
    scenario, found = mill
    # Two figures are shown.
    text, near = one_line(parts_text(found.loads, scenario.display)), {"rel": 0.05}

    def worst(size, part, on=Wood.PLATE, name=""):
        return max(
            size(one)
            for one in found.loads
            if one.part is part and one.on is on and one.name.startswith(name)
        )

    for name in ("hinge 1", "hinge 2"):
        told = numbers(
            text,
            rf"{name.capitalize()}: its pin ([\d.]+) lbf; a screw in the plate up to ([\d.]+) lbf "
            r"drawn out and ([\d.]+) lbf across; a screw in the base up to ([\d.]+) lbf drawn out",
        )
        wanted = [
            worst(lambda one: math.hypot(one.out, one.along_plate), Part.HINGE, name=name),
            worst(lambda one: one.out, Part.SCREW, name=name),
            worst(lambda one: one.side, Part.SCREW, name=name),
            worst(lambda one: one.out, Part.SCREW, Wood.BASE, name),
        ]
        assert told == pytest.approx([one / LBF for one in wanted], **near)
    assert numbers(text, r"Bolt 1: ([\d.]+) lbf along") == pytest.approx(
        [worst(lambda one: abs(one.out), Part.BOLT) / LBF], **near
    )
    assert numbers(text, r"a bolt up to ([\d.]+) lbf pulled") == pytest.approx(
        [worst(lambda one: one.out, Part.FOOT) / LBF], **near
    )
    bending, twist, shear = numbers(
        text, r"bending ([\d.]+) lbf in at [a-z ]+, twist ([\d.]+) lbf in at .*shear ([\d.]+) lbf"
    )
    assert bending * LBF_IN == pytest.approx(worst(lambda one: abs(one.moment), Part.PLATE), **near)
    assert twist * LBF_IN == pytest.approx(worst(lambda one: abs(one.twist), Part.PLATE), **near)
    assert shear * LBF == pytest.approx(worst(lambda one: abs(one.out), Part.PLATE), **near)


def test_it_stands_behind_the_answer_of_a_check(mill):
    scenario, found = mill
    section = one_line(parts_text(found.loads, scenario.display))
    assert section in one_line(check_text(scenario, found, more=True))
    assert section not in one_line(check_text(scenario, found))


def test_json_has_every_load_with_its_unit(mill):
    _, found = mill
    loads = json.loads(json.dumps(found.to_dict()))["loads"]
    assert len(loads) == len(found.loads)
    first, same = loads[0], found.loads[0]
    assert first["part"] == "hinge"
    assert first["on"] == "plate"
    assert first["out_N"] == same.out
    assert first["across_mm"] == pytest.approx(1e3 * same.across)
    setting = gentlest_setting(mill[0])
    assert {one["turns"] for one in loads} == {setting.set_turns, setting.new_turns}
    assert {one["case"] for one in loads} == {"rest", "running", "starting"}
    assert set(first) == {
        "part", "name", "case", "out_N", "along_plate_N", "along_shafts_N", "moment_N_m",
        "twist_N_m", "on", "at_mm", "across_mm", "turns",
    }  # fmt: skip


def test_a_mount_that_rests_on_nothing_has_no_loads():
    scenario = read_scenario(SCENARIOS / "cider-mill.toml")
    assert parts_text((), scenario.display) == ""


def test_loads_are_those_that_strength_is_judged_by():
    found = check(read_scenario(SCENARIOS / "seed-cleaner.toml"))
    said = next(one for one in found.judgements if one.name == "bolt-stress").sentence
    most = max(abs(one.out) for one in found.loads if one.part is Part.BOLT)
    assert numbers(said, r"carries ([\d.]+) N") == pytest.approx([most], rel=0.005)


def test_a_pull_along_an_eye_bolt_is_not_across_it():
    found = check(read_scenario(SCENARIOS / "feed-mill.toml"))
    assert {one.side for one in found.loads if one.part is Part.BOLT} == {0.0}

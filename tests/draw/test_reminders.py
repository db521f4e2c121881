"""The cautions of guards fit the belt that is drawn, and the units that its user reads."""

import pathlib
import re
from dataclasses import replace

import pytest

from mountcalc.draw.assembly import assembly
from mountcalc.draw.build import Build
from mountcalc.draw.guard.panel import guard_panel
from mountcalc.draw.remarks import reminders
from mountcalc.scenario.reader import read_scenario
from mountcalc.scenario.text.writing import Display

pytestmark = pytest.mark.usefixtures("plain_names")

SCENARIOS = pathlib.Path(__file__).parents[2] / "scenarios"


def mount(name):
    return read_scenario(SCENARIOS / f"{name}.toml")


def on_floor(scenario, floor):
    base = replace(scenario.parts.base, floor=floor)
    return replace(scenario, parts=replace(scenario.parts, base=base))


def test_a_level_belt_has_the_rule_for_level_belts_alone():
    # Its shafts are 20 1/2 in apart and 4 in up: 11 degrees. The upper run is below 42 in.
    low = mount("cider-mill")
    (said,) = reminders(Build(low), "belt")
    assert said.startswith("A horizontal belt with both runs 42 in or less above the floor is ")
    for floor in (None, -42 * 0.0254):  # not known, and 46 1/2 in below the pulley's top
        (said,) = reminders(Build(on_floor(low, floor)), "belt")
        assert "at least 15 in above the belt" in said
    for drawing in (assembly(Build(low)), guard_panel(Build(low))):
        assert not any("inclined" in one for one in drawing.cautions)


def test_an_inclined_belt_has_no_rule_for_level_belts():
    # 360 mm across and 253 mm down: 35 degrees.
    steep = mount("wood-lathe")
    for drawing in (assembly(Build(steep)), guard_panel(Build(steep))):
        belts = [
            one for one in drawing.cautions if one.endswith("from memory).") and "belt is e" in one
        ]
        assert len(belts) == 1
        assert belts[0].startswith("A vertical or inclined belt is enclosed by a guard")
        assert not any("horizontal" in one for one in drawing.cautions)


# 7 ft, 15 in and 42 in in metres; limits that bar are rounded to the side that bars more.
@pytest.mark.parametrize(
    ("inches", "metres", "up"), [(84, 2.13, False), (15, 0.39, True), (42, 1.06, False)]
)
def test_metric_reminders_are_the_same_lengths(inches, metres, up):
    said = " ".join(reminders(Build(on_floor(mount("cider-mill"), None)), "pulleys", "belt"))
    metric = replace(on_floor(mount("cider-mill"), None), display=Display.METRIC)
    other = " ".join(reminders(Build(metric), "pulleys", "belt"))
    inch_text = "7 ft" if inches == 84 else f"{inches} in"
    assert inch_text in said
    assert f"{metres:.2f} m" in other
    assert not re.search(r"\d (in|ft)\b", other)
    away = metres - inches * 0.0254
    assert -0.01 < away < 0.01
    assert (away > 0) == up

"""Where no published length becomes snug: moved as the note says, the belt that it names does."""

import re
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from mountcalc.belts.choice import choose_belt
from mountcalc.scenario.reader import parse_scenario
from mountcalc.scenario.text.writing import Display

MILL = (Path(__file__).parents[2] / "scenarios" / "cider-mill.toml").read_text(encoding="utf-8")
WAY = re.compile(
    r"([A-Z]+ ?\d+), ([\d.]+) (in|mm) (?:shorter|longer), would want motor, hinge and adjuster "
    r"([\d.]+) (?:in|mm) (nearer to|further from) the driven shaft"
)
UNIT = {"in": 0.0254, "mm": 1e-3}
# The amount is shown to 0.01 in or 1 mm; a little more is moved, so that it does not matter.
SHOWN = {"in": 0.01 * 0.0254, "mm": 1.1e-3}


def narrow(display, travel='["3 deg", "3.5 deg"]'):
    text = re.sub(r"(?m)^travel = .*", f"travel = {travel}", MILL)
    return replace(parse_scenario(text), display=display)


def moved(scenario, by):
    """The mill with its driven shaft that much further off, which is the mount moved back."""
    driven, motor = np.array(scenario.driven.shaft), np.array(scenario.motor.shaft)
    turned = (driven - motor) / np.linalg.norm(driven - motor)
    shaft = tuple(float(one) for one in driven + by * turned)
    return replace(scenario, driven=replace(scenario.driven, shaft=shaft))


@pytest.mark.parametrize("display", Display)
def test_moved_as_it_says_the_named_belt_becomes_snug(display):
    mill = narrow(display)
    found = choose_belt(mill)
    assert found.belts == ()
    (note,) = [one for one in found.notes if "nearest published lengths" in one]
    ways = WAY.findall(note)
    assert [way for *_, way in ways] == ["nearer to", "further from"]
    for name, off, unit, move, way in ways:
        assert 0 < float(off) * UNIT[unit] < 0.05
        sign = 1 if way == "further from" else -1
        # Through the whole travel, whose paths differ by more than what is shown.
        step = sign * (float(move) * UNIT[unit] + SHOWN[unit])
        assert name in {one.designation for one in choose_belt(moved(mill, step)).belts}
        short = sign * (float(move) * UNIT[unit] - 2 * SHOWN[unit])
        assert name not in {one.designation for one in choose_belt(moved(mill, short)).belts}


def test_nothing_is_said_where_a_length_becomes_snug():
    found = choose_belt(narrow(Display.INCH, '["-12 deg", "14 deg"]'))
    assert found.belts
    assert not any("nearest published lengths" in one for one in found.notes)

"""What restorers go by: one table of starting factors, temperatures in order, sources."""

import re
import tomllib
from pathlib import Path

import pytest
from scipy.constants import inch

import mountcalc
from mountcalc.formulas.bearing_heat import FILM_OVER_BOX
from mountcalc.formulas.oil import oil_grades
from mountcalc.handbook.restoring import (
    box_temperatures,
    drops_a_minute,
    oily_leather,
    room,
    shop_oils,
    shop_rules,
    starting_factors,
    usual_clearance,
    usual_oil,
)

PACKAGE = Path(mountcalc.__file__).parent
DATA = tomllib.loads((PACKAGE / "data/restoring.toml").read_text(encoding="utf-8"))


def test_the_cider_mill_has_the_same_starting_factors():
    text = (PACKAGE.parent / "scenarios/cider-mill.toml").read_text(encoding="utf-8")
    lines = [line.lstrip("# ") for line in text.splitlines() if line.startswith("#   ")]
    cells = [re.split(r" {2,}", line) for line in lines]
    start = cells.index(["motor", *starting_factors().machines])
    rows = list(zip(starting_factors().motors, starting_factors().rows, strict=True))
    assert [(name, tuple(rest)) for name, *rest in cells[start + 1 : start + 4]] == rows
    told = " ".join(line.strip("# ") for line in text.splitlines())
    assert starting_factors().source.split("; ")[1] in told


def test_locked_rotor_of_the_standard_is_the_most_of_the_table():
    """NEMA MG 1-12.32 (from memory): 46, 57, 85, 119 oz ft, 9 lb ft at 1/4 to 1 hp, 1725 rpm."""
    torques = [one / 16 for one in (46, 57, 85, 119)] + [9.0]
    times = [
        locked / (63025 / 12 * power / 1725)
        for locked, power in zip(torques, (1 / 4, 1 / 3, 1 / 2, 3 / 4, 1), strict=True)
    ]
    low, high = map(float, starting_factors().rows[-1][-1].split(" to "))
    assert min(times) == pytest.approx(low, abs=0.05)
    assert sorted(times)[2] == pytest.approx(high, abs=0.05)


def test_a_box_is_stopped_before_its_film_is_too_hot():
    """Trumpler, in Shigley, ch. 12 (from memory): 250 F, 121 degC in the film."""
    warm, stop, at_once = (one.temperature for one in box_temperatures())
    assert room().value < warm < stop < at_once
    air = room().value
    assert at_once == pytest.approx(air + (394.26 - air) / FILM_OVER_BOX, abs=1.0)
    # The same for a summer's day of 40 degC: the film is then cooler for the same box.
    assert 40 + 273.15 + FILM_OVER_BOX * (at_once - 40 - 273.15) < 394.26


def test_clearance_oil_and_drops():
    # 0.001 in per inch and 0.0005 in (common practice): a shaft of 1 1/4 in.
    assert usual_clearance(1.25 * inch) == pytest.approx(0.00175 * inch)
    assert usual_oil().value in shop_oils()
    assert set(shop_oils()) <= set(map(float, oil_grades()))
    assert drops_a_minute(1e-6 / 60) == pytest.approx(20)  # a millilitre a minute
    assert oily_leather().value == pytest.approx(0.15)


def test_every_row_says_how_sure_it_is():
    known = {"published", "from memory", "common practice", "estimate"}
    said = re.findall(r'sure = "([^"]*)"', (PACKAGE / "data/restoring.toml").read_text("utf-8"))
    assert set(said) <= known
    assert len(said) >= 30
    sentences = [one for kind in ("oil_advice", "box_advice") for one in shop_rules(kind)]
    sentences += [one for kind in DATA["belt_advice"] for one in shop_rules("belt_advice", kind)]
    for one in sentences:
        assert one.text.endswith(".")
        assert "safe" not in one.text

"""What the notes say of the belt is of this mount: arcs, sag, and when to look at it again."""

import dataclasses
from pathlib import Path

import pytest

from mountcalc.handbook.belts.sections import Joint
from mountcalc.requirements.notes import arcs_share, left_out, notes, sag
from mountcalc.requirements.requirements import requirements_of
from mountcalc.scenario.reader import read_scenario

SCENARIOS = Path(__file__).parents[2] / "scenarios"


def solved(name, **belt):
    scenario = read_scenario(SCENARIOS / f"{name}.toml")
    scenario = dataclasses.replace(scenario, belt=dataclasses.replace(scenario.belt, **belt))
    return requirements_of(scenario).solved


def said(one):
    return {note.id: note for note in left_out(one)}


@pytest.fixture(scope="module")
def mill():
    return solved("cider-mill")


def test_the_arcs_are_those_of_this_mount(mill):
    press = solved("job-press")
    shares = [round(100 * arcs_share(one)) for one in (mill, press)]
    assert shares[0] < shares[1]
    for one, percent in zip((mill, press), shares, strict=True):
        assert f"both strands together by {percent} %" in said(one)["arcs-more"].text
        assert said(one)["arcs-more"].numbers == {"percent": 100 * arcs_share(one)}


def test_an_idle_drive_has_no_arcs_to_tell_of(mill):
    scenario = mill.mount.scenario
    idle = dataclasses.replace(scenario, driven=dataclasses.replace(scenario.driven, power=0.0))
    assert arcs_share(requirements_of(idle).solved) == 0.0


def test_sag_is_told_of_a_heavy_slack_belt_only(mill):
    assert "sag" not in said(mill)
    heavy = solved("cider-mill", mass=2.0, stiffness=3e5)
    hangs, more = sag(heavy)
    assert more > 0.02
    assert f"hangs {hangs / 0.0254:.2f}".rstrip("0") in said(heavy)["sag"].text
    assert f"adds {100 * more:.0f} % to its tension" in said(heavy)["sag"].text
    assert sag(solved("cider-mill", mass=0.0)) == (0.0, 0.0)


def test_a_flat_belt_has_no_hours_of_v_belts():
    flat, grooved = (
        " ".join(note.text for note in notes(solved(name)))
        for name in ("forge-blower", "cider-mill")
    )
    assert "24 hours" in grooved
    assert "24 hours" not in flat
    assert "each day of use" in flat
    assert "small range of tension only (Stolarski" in flat
    linked = notes(solved("cider-mill", joint=Joint.LINKED))
    assert any("each day of use" in note.text for note in linked)
    assert "Stolarski" not in grooved

"""What all drawings of a mount share is found once."""

from dataclasses import replace

import pytest

from mountcalc.draw import build as build_module
from mountcalc.draw.boards.section import base_section
from mountcalc.draw.boards.side import board_side
from mountcalc.draw.build import Build, once
from mountcalc.draw.drawings import DRAWINGS, drawings_of
from mountcalc.draw.guard.shape import guard_shape
from mountcalc.scenario.reader import read_scenario


def test_the_travel_is_found_once_for_all_drawings(cider, monkeypatch):
    found = []
    travel = build_module.usable_travel
    monkeypatch.setattr(build_module, "usable_travel", lambda one: found.append(one) or travel(one))
    drawings = drawings_of(Build(read_scenario(str(cider))), DRAWINGS)
    assert [one.name for one in drawings] == list(DRAWINGS)
    assert len(found) == 1


@pytest.mark.parametrize("find", [board_side, base_section, guard_shape])
def test_two_builds_share_nothing(cider, find):
    mill = read_scenario(str(cider))
    plate = replace(mill.parts.plate, thickness=0.03)
    thicker = Build(replace(mill, parts=replace(mill.parts, plate=plate)))
    one = Build(mill)
    assert find(one) is find(one)
    assert find(one) is not find(thicker)
    assert board_side(thicker).thickness == 0.03 != board_side(one).thickness


def test_what_cannot_be_found_is_not_kept(cider):
    @once
    def fails(build):
        raise ValueError(build.scenario.title)

    mill = Build(read_scenario(str(cider)))
    for _ in range(2):
        with pytest.raises(ValueError, match="Cider mill"):
            fails(mill)
    assert not mill.found

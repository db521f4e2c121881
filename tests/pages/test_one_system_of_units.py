"""Who works in inches reads inches alone, who works in millimetres reads those alone."""

import pathlib
import re

import pytest

from mountcalc.drafting.items import Label
from mountcalc.drafting.paper.pages import pages
from mountcalc.draw.build import Build
from mountcalc.draw.drawings import DRAWINGS, drawings_of
from mountcalc.scenario.reader import read_scenario
from mountcalc.scenario.text.writing import Display
from mountcalc.setting.advice import advise
from mountcalc.setting.page import setting_text

SCENARIOS = pathlib.Path(__file__).parents[2] / "scenarios"
FOREIGN = {
    Display.INCH: re.compile(r"\d (mm|cm|m|J|N|kg)\b"),
    Display.METRIC: re.compile(r"\d (in|ft|lbf?|ft lbf)\b|/64"),
}


def foreign_to(display, texts):
    return [text for text in texts if FOREIGN[display].search(text)]


@pytest.mark.parametrize("name", ["cider-mill", "wood-lathe"])
@pytest.mark.usefixtures("plain_names")  # where they stand is nothing to their units
def test_drawings_have_one_system_of_units(name):
    mount = read_scenario(SCENARIOS / f"{name}.toml")
    sheet = "letter" if mount.display is Display.INCH else "a4"
    for drawing in drawings_of(Build(mount), DRAWINGS):
        assert not foreign_to(mount.display, (*drawing.notes, *drawing.cautions))
        printed = [
            " ".join(
                stroke.text
                for patch in page.patches
                for stroke in patch.strokes
                if isinstance(stroke, Label)
            )
            for page in pages(drawing, sheet)
        ]
        assert not foreign_to(mount.display, printed)


@pytest.mark.parametrize("name", ["cider-mill", "wood-lathe"])
def test_how_fine_a_setting_is_has_one_system_of_units(name):
    mount = read_scenario(SCENARIOS / f"{name}.toml")
    text = setting_text(mount, advise(mount), more=True)
    fine = text.split("HOW FINE IT IS")[1].split("\n\n")[0]
    assert not foreign_to(mount.display, fine.splitlines())

"""A scenario written again with fitted keys: the person's own text, but for these."""

import difflib
import tomllib
from pathlib import Path

import pytest

from mountcalc.fit.fitted_file import fitted_text
from mountcalc.scenario.reader import parse_scenario

SHIPPED = sorted((Path(__file__).parents[2] / "scenarios").glob("*.toml"))
MILL = next(path for path in SHIPPED if path.stem == "cider-mill")
KEYS = {
    "belt": {"stiffness": '"11830 lbf"', "stiffness_factor": "1.083"},
    "adjuster": {"zero_turns": "0.31"},
}
HOW = "on 2026-05-08 from 5 readings"
LAYOUTS = {
    "inline": 'belt = {section = "A"} # mine\nadjuster={kind="link"}\n[motor]\na = 1\n',
    "empty": "belt = {}\nadjuster = {}\n",
    "dotted": 'belt.section = "A" # mine\nbelt.length = "60 in"\nadjuster.kind = "link"\n',
    "scattered": '"belt".section="A"\nadjuster.x="b"\nbelt.length="3"\n[motor]\nx=1',
    "spaces": '[ belt ]\n"section"="A"# mine\n\t# and more\n\n\n# next\n["adjuster"]',
    "indented": '[belt]\n  stiffness="1 N"\n\n  [adjuster]\n  kind="link"\n',
    "many lines": "[belt]\nlength = '''\n6 in'''\nstiffness='''\n1 N'''\n[adjuster]\n",
    "one letter": "[belt]\r\n# é\r\n\r\n[adjuster]\r\nx = 1\r\n",
}


def changes(before, after):
    """Lines that went and lines that came."""
    lines = difflib.ndiff(before.splitlines(), after.splitlines())
    return [line for line in lines if line[0] in "+-"]


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_shipped_scenarios_keep_every_other_line_and_read_back(path):
    text = path.read_text(encoding="utf-8")
    keys = dict(KEYS)
    if path.stem == "forge-blower":
        del keys["adjuster"]
    written = fitted_text(text, keys, HOW)
    came = [line for line in changes(text, written) if line[0] == "+"]
    assert len(came) == sum(map(len, keys.values()))
    went = [line for line in changes(text, written) if line[0] == "-"]
    assert [line for line in went if not line.startswith("- stiffness")] == []
    before, after = parse_scenario(text, path.name), parse_scenario(written, path.name)
    assert after.belt.stiffness == pytest.approx(11830 * 4.4482216152605)
    assert after.belt.stiffness_factor == 1.083
    assert after.adjuster.zero_turns == (0.31 if "adjuster" in keys else None)
    fitted = {"stiffness": before.belt.stiffness, "stiffness_factor": before.belt.stiffness_factor}
    back = after.with_(belt=fitted, **({"adjuster": {"zero_turns": None}} if len(keys) > 1 else {}))
    assert (back.belt, back.adjuster, back.driven, back.motor, back.plate, back.limits) == (
        before.belt, before.adjuster, before.driven, before.motor, before.plate, before.limits,
    )  # fmt: skip


def test_what_stood_there_stays_beside_what_was_fitted_and_is_not_told_twice():
    text = MILL.read_text(encoding="utf-8")
    once = fitted_text(text, KEYS, HOW)
    assert changes(text, once) == [
        '- stiffness = "12000 lbf"             # known to about a factor of two: see the low-high '
        "range",
        f'+ stiffness = "11830 lbf" # fitted {HOW}; before "12000 lbf", known to about a factor of '
        "two: see the low-high range",
        f"+ stiffness_factor = 1.083 # fitted {HOW}",
        f"+ zero_turns = 0.31 # fitted {HOW}",
    ]
    assert fitted_text(once, KEYS, HOW) == once
    again = fitted_text(once, {"belt": {"stiffness": '"9 kN"'}}, "on 2026-06-01 from 8 readings")
    assert (
        'stiffness = "9 kN" # fitted on 2026-06-01 from 8 readings; before "12000 lbf", known to '
        "about"
    ) in again


@pytest.mark.parametrize("name", LAYOUTS)
def test_any_layout_is_kept(name):
    text = LAYOUTS[name]
    written = fitted_text(text, KEYS, HOW)
    found = tomllib.loads(written)
    assert found["belt"]["stiffness"] == "11830 lbf"
    assert found["adjuster"]["zero_turns"] == 0.31
    for line in text.splitlines():
        if "{" not in line and "stiffness" not in line and "1 N" not in line:
            assert line in written.splitlines()
    assert ("mine" in text) == ("mine" in written)
    assert fitted_text(written, KEYS, HOW) == written
    assert written.count("\r") == (written.count("\n") if "\r" in text else 0)

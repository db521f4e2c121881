"""What is told of a mount whose plate and adjuster give."""

from dataclasses import replace

import pytest

import mountcalc as library
from mountcalc.requirements.requirements import requirements_of
from mountcalc.requirements.results import MethodName
from mountcalc.requirements.setting import gentlest_setting
from mountcalc.scenario.model import AdjusterKind
from mountcalc.scenario.reader import read_scenario
from mountcalc.strength.bolt_length import bolt_length
from mountcalc.table.table import tension_table

STIFFNESSES = (3e5, 3e3)  # [N/m]: a plate of plywood, a spring


@pytest.fixture
def adjusted(scenario_file):
    scenario = read_scenario(scenario_file)
    if scenario.adjuster.kind is AdjusterKind.NONE:
        pytest.skip("no adjuster that could give")
    return scenario.with_(adjuster={"spring": None, "stiffness": None})


def giving(scenario, stiffness):
    return scenario.with_(adjuster={"stiffness": stiffness, "spring": None})


@pytest.mark.parametrize("stiffness", STIFFNESSES)
def test_a_prop_that_comes_loose_leaves_the_tension_that_was_weighed(adjusted, stiffness):
    """The prop holds the plate where the balance had it; loose, it carries nothing of it."""
    scenario = giving(adjusted, stiffness)
    setting = gentlest_setting(scenario)
    if not setting.open:
        pytest.skip("no setting")
    solved = requirements_of(scenario).solved
    weighed = next(one for one in setting.methods if one.name is MethodName.BALANCE)
    aim = requirements_of(scenario).turns_for(setting.set_tension)
    rest = solved.at_rest(aim)
    mount, phi = solved.mount, rest.phi
    # With the adjuster clear, this is what the balance shows more than with the slack belt.
    moment = mount.count * rest.tension * mount.path(phi).length_slope
    gained = (moment + mount.weight_moment(phi) - mount.weight_moment(solved.travel.snug)) * (
        solved.travel.tightens / setting.spring_balance.radius
    )
    if not weighed.trustworthy or weighed is setting.methods[0]:
        assert gained[0] == pytest.approx(weighed.aim, rel=1e-6)
    # An adjuster that only touches there gives yet by what it is to carry.
    touching = float(mount.adjuster(phi).extension[0]) - solved.zero_extension
    give = float(rest.adjuster[0]) / stiffness
    assert aim[0] * solved.advance == pytest.approx(touching + give, rel=1e-9)
    assert give != 0


def test_the_page_has_the_plate_propped_where_it_gives(cider, mountcalc, tmp_path):
    path = tmp_path / "gives.toml"
    for stiffness, said, unsaid in (
        ('"rigid"', "bring the bolt up until it just touches", "prop"),
        ('"300 N/mm"', "until the prop just comes loose", "just touches"),
    ):
        path.write_text(
            cider.read_text().replace('stiffness = "parts"', f"stiffness = {stiffness}")
        )
        for command in ("setting", "card"):
            text = " ".join(mountcalc(command, path).out.split())
            weigh = text[text.index("Weigh:") :]
            assert said in weigh
            assert unsaid not in weigh
    text = " ".join(mountcalc("table", path, "--more").out.split())
    assert "Plate and adjuster give by 1700 lbf/in together" in text
    assert "plate and adjuster are taken as rigid" not in text


@pytest.mark.parametrize("stiffness", STIFFNESSES)
def test_the_table_has_what_the_next_turn_adds(adjusted, stiffness):
    scenario, step = giving(adjusted, stiffness), 1e-3
    turns = 2.0 if stiffness > 1e5 else 20.0
    rows = tension_table(scenario, [turns - step, turns, turns + step]).rows
    by_steps = (rows[2].tension - rows[0].tension) / (2 * step)
    assert rows[1].tension_per_turn == pytest.approx(by_steps, rel=1e-5)
    rigid = tension_table(adjusted, [turns / 10, turns / 10 + step]).rows
    assert by_steps < (rigid[1].tension - rigid[0].tension) / step


def test_layouts_that_are_found_have_the_give(cider):
    text = cider.with_name("fretsaw-bench.toml").read_text()
    gives = text.replace('thread = "3/8-24"', 'thread = "3/8-24"\nstiffness = "50 N/mm"', 1)
    found = library.place(library.parse_search(gives), count=1, samples=1024)
    assert any("solved and judged with what gives" in one for one in found.placement.notes)
    scenario, layout = found.scenarios[0], found.placement.layouts[0]
    # One travel in search and in parts, as far as install and take-up are written.
    assert layout.bolt_travel == bolt_length(scenario).travel
    assert scenario.adjuster.spring == pytest.approx(50e3)
    assert library.parse_scenario(scenario.to_toml()).adjuster == scenario.adjuster
    turns = [layout.set_turns]
    assert requirements_of(scenario).tension(turns)[0] == pytest.approx(layout.set_tension)
    rigid = replace(scenario, adjuster=replace(scenario.adjuster, spring=None))
    assert layout.set_tension < 0.9 * requirements_of(rigid).tension(turns)[0]

"""What is said to change what fails changes it: each cure is applied and judged again."""

import dataclasses
import math
from pathlib import Path

import pytest
from setting_mounts import rigid

from mountcalc.check import check as check_module
from mountcalc.check.changes import nearer_pulley
from mountcalc.check.check import check, cures, with_cures
from mountcalc.check.evaluation import evaluate
from mountcalc.check.quiet_changes import QUIETED
from mountcalc.check.results import NOTHING
from mountcalc.handbook.belts.designation import read_designation
from mountcalc.judgement import Verdict, key_of
from mountcalc.pages.amounts import turns_text
from mountcalc.scenario.driven import LoadPlace, ShaftLoad, When
from mountcalc.scenario.reader import read_scenario
from mountcalc.strength.changes import NAMES

SCENARIOS = Path(__file__).parents[2] / "scenarios"


@pytest.fixture(scope="module")
def mill():
    return read_scenario(SCENARIOS / "cider-mill.toml")


def with_driven(scenario, **changes):
    return dataclasses.replace(scenario, driven=dataclasses.replace(scenario.driven, **changes))


def with_bearing(scenario, index, **changes):
    bearings = list(scenario.driven.bearings)
    bearings[index] = dataclasses.replace(bearings[index], **changes)
    return with_driven(scenario, bearings=tuple(bearings))


def with_limits(scenario, **changes):
    return dataclasses.replace(scenario, limits=dataclasses.replace(scenario.limits, **changes))


def with_belt(scenario, name):
    bought = read_designation(name)
    belt = dataclasses.replace(scenario.belt, designation=bought, length=bought.pitch_length)
    return dataclasses.replace(scenario, belt=belt)


def with_travel(scenario, *degrees):
    plate = dataclasses.replace(scenario.plate, travel=tuple(map(math.radians, degrees)))
    return dataclasses.replace(scenario, plate=plate)


def with_small_motor_pulley(scenario):
    motor = dataclasses.replace(scenario.motor, pulley_radius=1.4 * 0.0254)
    return dataclasses.replace(scenario, motor=motor)


def assert_cured(judged):
    """All that is promised of cures; returns them."""
    found = cures(judged)
    applied = {cure.change.name: evaluate(cure.change.scenario) for cure in found.values()}
    for key, cure in found.items():
        again = applied[cure.change.name]
        verdicts = {key_of(one): one.verdict for one in again.judgements}
        assert verdicts.get(key, Verdict.PASS) is Verdict.PASS, (key, cure.change.name)
        assert not again.fails.keys() - judged.fails.keys()
        if cure.change.name != "reset" and again.point.turns is not None:
            assert f"set it anew: {turns_text(again.point.turns)} turns" in cure.sentence
    said = {key_of(one): one.what_to_change for one in with_cures(judged)}
    for key in judged.fails:
        assert said[key] == (found[key].sentence if key in found else NOTHING)
    # Of boards, hardware and what shakes cautions have cures, too.
    kept = [key for key in said if key not in judged.fails and key[0] not in NAMES | QUIETED]
    assert not any(said[key] for key in kept)
    return found


def with_flywheel(mill, weight):
    """The far bearing pressed by a wheel beyond it, whatever the belt does."""
    wheel = ShaftLoad("flywheel", 20 * 0.0254, weight, (0.0, -1.0), When.ALWAYS)
    heavy = with_driven(mill, loads=(*mill.driven.loads, wheel))
    # The only range that was read in print, so that it fails a mount; the box is short for it.
    short = 35 / 200 * 3 * 0.0254
    heavy = with_bearing(
        heavy, 1, service="rated-line-shaft", length=short, limit=3e3, starting_limit=6e3
    )
    return with_bearing(heavy, 0, limit=3e3, starting_limit=6e3)


@pytest.mark.parametrize(("weight", "share", "box"), [(450.0, 1.2, True), (1050.0, 2.6, False)])
def test_a_bearing_that_a_flywheel_overloads_is_not_told_to_tighten(mill, weight, share, box):
    flywheel = with_flywheel(mill, weight)
    judged = evaluate(flywheel, 0.25)
    over = judged.fails["service-pressure", "far end", "running"]
    assert over.share > share
    assert ("grip", "", "running") in judged.fails
    found = assert_cured(judged)
    assert ("grip", "", "running") in found
    assert (key_of(over) in found) == box
    said = {key_of(one): one.what_to_change for one in with_cures(judged)}
    assert not said[key_of(over)].lower().startswith("tighten")


def test_loads_that_may_be_moved_are_moved(mill):
    flywheel = with_flywheel(mill, 450.0)
    free = dataclasses.replace(
        flywheel, may_change=dataclasses.replace(flywheel.may_change, loads=True)
    )
    found = assert_cured(evaluate(free))
    assert found["service-pressure", "far end", "running"].change.name == "loads-elsewhere"


def test_what_nothing_cures_is_said_so(mill):
    """A limit that the wheel alone breaks many times over, of a box that is not for sale."""
    wheel = ShaftLoad("stone", 20 * 0.0254, 9000.0, (0.0, -1.0), When.ALWAYS)
    crushed = with_driven(mill, loads=(wheel,))
    told = {key_of(one): one.what_to_change for one in check(crushed).judgements}
    assert told["bearing-limit", "far end", "rest"] == NOTHING


def test_a_driven_pulley_that_would_meet_the_motors_is_no_cure(mill):
    """100 rpm of the driven shaft want one of 51.75 in, with 20.9 in from shaft to shaft."""
    slow = with_driven(mill, max_speed=100 * math.tau / 60)
    told = {key_of(one): one.what_to_change for one in check(slow).judgements}
    assert told["driven-speed", "", ""] == NOTHING


def test_one_cure_for_all_that_fails(mill):
    judged = evaluate(mill, 6.0)
    found = assert_cured(judged)
    assert set(found) == set(judged.fails)
    assert {cure.change.name for cure in found.values()} == {"reset"}


def test_the_weight_of_a_pulley_comes_along_when_that_is_moved_to_cure():
    press = read_scenario(SCENARIOS / "job-press.toml")
    at = press.driven.pulley_position
    heavy = ShaftLoad("pulley", at, 20.0, (0.0, -1.0), When.ALWAYS, LoadPlace.PULLEY)
    loaded = with_driven(press, loads=(*press.driven.loads, heavy))
    moved = nearer_pulley(loaded, 0.0).scenario
    assert moved.driven.loads[-1].position == moved.driven.pulley_position != at
    left_behind = with_driven(moved, loads=loaded.driven.loads)
    key = ("bearing-limit", "wheel side", "rest")
    shares = [
        next(one.share for one in evaluate(mount, 2.0).judgements if key_of(one) == key)
        for mount in (moved, left_behind)
    ]
    assert shares[0] < shares[1]
    for found in assert_cured(evaluate(loaded)).values():
        driven = found.change.scenario.driven
        assert driven.loads[-1].position == driven.pulley_position


@pytest.mark.parametrize(
    ("name", "spoilt", "expected"),
    [
        ("motor-rating", lambda s: with_driven(s, power=1.2 * s.motor.power), "stronger-motor"),
        ("driven-speed", lambda s: with_driven(s, max_speed=50.0), "slower-driven"),
        ("hinge-load", lambda s: with_limits(s, hinge=80.0), None),
        ("adjuster-load", lambda s: with_limits(s, adjuster=80.0), None),
        ("belt-install", lambda s: with_travel(s, -2.0, 17.0), None),
        ("belt-install", lambda s: with_travel(s, -2.0, 9.0), "wider-swing"),
        ("belt-take-up", lambda s: with_belt(s, "A64"), "other-belt"),
        ("belt-pulley", with_small_motor_pulley, "larger-pulleys"),
        ("groove-direction", lambda s: with_bearing(s, 0, groove_direction=3.6), "turn-groove"),
        ("cap-direction", lambda s: with_bearing(s, 0, cap_direction=3.6), "dowel-cap"),
    ],
)
def test_parts_that_fail(mill, name, spoilt, expected):
    judged = evaluate(spoilt(mill))
    assert [key for key in judged.fails if key[0] == name]
    found = assert_cured(judged)
    names = {cure.change.name for key, cure in found.items() if key[0] == name}
    assert names
    assert expected is None or names == {expected}


def test_amounts_that_are_told_are_those_that_were_solved(mill):
    stronger = cures(evaluate(with_driven(mill, power=0.5036 * 745.6998715822702)))
    (cure,) = {cure.change.name: cure for cure in stronger.values()}.values()
    assert "0.51 hp" in cure.sentence
    assert cure.change.scenario.motor.power == pytest.approx(0.51 * 745.6998715822702)


def test_what_passes_costs_no_cure(monkeypatch):
    def refused(*_):
        raise AssertionError("nothing fails, so nothing is to be solved again")

    judged = evaluate(rigid(read_scenario(SCENARIOS / "wood-lathe.toml")))
    assert not judged.fails
    monkeypatch.setattr(check_module, "evaluate", refused)
    assert with_cures(judged) == judged.judgements
    assert all(one.verdict is not Verdict.FAIL for one in judged.judgements)

"""What is told of a mount with a coil spring: set by its length, judged by its travel, drawn."""

import json
import re
from dataclasses import replace

import pytest
from scipy.constants import inch, lbf

from mountcalc.check.check import cures
from mountcalc.check.evaluation import evaluate
from mountcalc.judgement import Verdict
from mountcalc.requirements.requirements import requirements_of
from mountcalc.requirements.results import MethodName
from mountcalc.requirements.setting import gentlest_setting
from mountcalc.scenario.reader import parse_scenario, read_scenario
from mountcalc.table.table import tension_table

MM = 1e-3


@pytest.fixture
def mill(cider):
    return cider.with_name("feed-mill.toml")


def words(text):
    return " ".join(text.split())


def lengths(text):
    return [float(one) for one in re.findall(r"([\d.]+) mm", text)]


def test_pressed_in_as_the_page_says_the_belt_has_what_it_says(mill, mountcalc):
    scenario = read_scenario(mill)
    setting, coil = gentlest_setting(scenario), scenario.adjuster.coil
    way = next(one for one in setting.methods if one.name is MethodName.SPRING)
    assert way.trustworthy
    assert way.unit == "mm"
    for command in ("setting", "card"):
        page = words(mountcalc(command, mill).out)
        told = page[page.index("Spring:") :].partition("bring it back")[0]
        free, aim, new, least = lengths(told)[:4]
        assert free == pytest.approx(coil.free_length / MM)
        for length, pressed in ((aim, way.aim), (new, way.new_aim), (least, way.never_above)):
            assert free - length == pytest.approx(pressed, abs=0.5)
        # A hand that leaves the spring at that length, by the table of the same mount.
        rows = tension_table(scenario, [0.05 * step for step in range(200, 700)]).rows
        row = min(rows, key=lambda one: abs(one.spring_length / MM - aim))
        assert way.tension_low <= row.tension <= way.tension_high
        assert row.spring_length == pytest.approx(
            coil.free_length - abs(row.rest.adjuster) / coil.rate
        )
        assert row.running.grip > scenario.limits.grip
        row = min(rows, key=lambda one: abs(one.spring_length / MM - least))
        assert row.worst_share_of_limit < 1.0


def test_it_tells_the_tension_whatever_the_belt(mill):
    """Softest and stiffest belt, pressed in alike, differ by the weights and the rate alone."""
    scenario = read_scenario(mill)
    way = next(one for one in gentlest_setting(scenario).methods if one.name is MethodName.SPRING)
    low, high = way.tension_low, way.tension_high
    sure = replace(scenario, motor=replace(scenario.motor, weight_error=0.0))
    exact = replace(scenario.adjuster.coil, rate_error=0.0, length_error=1e-6)
    sure = replace(sure, adjuster=replace(sure.adjuster, coil=exact))
    found = next(one for one in gentlest_setting(sure).methods if one.name is MethodName.SPRING)
    assert found.tension_high / found.tension_low < 1.03
    assert high / low > 1.15


def test_one_that_holds_its_plate_back_is_not_set_by_its_length(cider):
    """There the spring is pressed less and less as the belt takes over."""
    scenario = read_scenario(cider.with_name("wood-lathe.toml"))
    held_back = scenario.with_(
        adjuster={"acts": "push", "spring": {"rate": 3e3, "free_length": 0.08, "stop": 0.04}}
    )
    assert requirements_of(held_back).solved.travel.turn_sign < 0
    assert not [one for one in gentlest_setting(held_back).methods if one.name is MethodName.SPRING]


def test_the_table_has_its_length_and_what_a_turn_would_do_without_it(mill, mountcalc):
    page = words(mountcalc("table", mill).out)
    assert "Give: The spring has 4 N/mm and is 80 mm long under no load, 35 mm solid." in page
    assert "spring: its length at rest." in page
    told = re.search(
        r"At (\d+) turns one more adds ([\d.]+) N to a strand; if nothing gave, (\d+) N", page
    )
    turns, adds, rigid = map(float, told.groups())
    found = json.loads(mountcalc("table", mill, "--json", "--turns", f"{turns:g}").out)
    (row,) = found["rows"]
    assert row["tension_per_turn_N"] == pytest.approx(adds, abs=0.06)
    assert row["tension_per_turn_rigid_N"] == pytest.approx(rigid, abs=0.6)
    assert 35 < row["spring_length_mm"] < 80
    scenario = read_scenario(mill).with_(adjuster={"spring": None})
    rows = tension_table(scenario, [0.5, 0.501]).rows
    assert (rows[1].tension - rows[0].tension) / 1e-3 == pytest.approx(rigid, rel=0.05)
    assert rows[0].spring_length is None
    assert rows[0].tension_per_turn_rigid == rows[0].tension_per_turn


def test_a_spring_that_would_go_solid_fails_and_a_longer_one_cures_it(mill):
    short = read_scenario(mill).with_(adjuster={"spring": {"stop": "22 mm"}})
    before = evaluate(short)
    (failed,) = (one for one in before.judgements if one.name == "spring-travel")
    assert failed.verdict is Verdict.PASS  # at the setting; a new belt is set tighter
    shorter = read_scenario(mill).with_(adjuster={"spring": {"stop": "15 mm"}})
    before = evaluate(shorter, turns=18.0)
    (failed,) = (one for one in before.judgements if one.name == "spring-travel")
    assert failed.verdict is Verdict.FAIL
    assert failed.limit == pytest.approx(15.0)
    cure = next(one for key, one in cures(before).items() if key[0] == "spring-travel")
    assert "of the same 4 N/mm" in cure.sentence
    after = evaluate(cure.change.scenario)
    assert all(
        one.verdict is Verdict.PASS for one in after.judgements if one.name == "spring-travel"
    )


def test_drawings_show_it_and_say_what_it_does_when_the_belt_breaks(mill, mountcalc, tmp_path):
    mountcalc("draw", mill, "--out", tmp_path, "--only", "assembly", "--format", "svg")
    text = words(re.sub(r"<[^>]+>", " ", next(tmp_path.glob("*.svg")).read_text()))
    assert "Spring of 4 N/mm, 80.0 mm long under no load, 35.0 mm solid" in text
    assert "under the nut, behind the base pin" in text
    assert "spring throws the plate on" in text


@pytest.mark.parametrize(
    ("spoilt", "said"),
    [
        ('stop = "85 mm"', "adjuster.spring.stop: less than the spring's free length of"),
        ("stop = 45", "adjuster.spring.stop: number without a unit: 45"),
        ('rate_eror = 0.1\nstop = "45 mm"', "unknown key 'rate_eror'; did you mean 'rate_error'?"),
        ("", "adjuster.spring.stop: missing: length wanted"),
    ],
)
def test_what_is_wrong_with_its_table_is_told(mill, mountcalc, tmp_path, spoilt, said):
    path = tmp_path / "mill.toml"
    path.write_text(re.sub(r'stop = "45 mm".*', spoilt, mill.read_text()))
    done = mountcalc("table", path)
    assert done.code == 2
    assert said in done.err
    path.write_text(mill.read_text().replace('acts = "pull"', 'acts = "both"'))
    assert "a spring is pressed one way only" in mountcalc("table", path).err


def test_inch_texts_are_the_same_mount(mill):
    scenario = read_scenario(mill)
    inches = parse_scenario(
        mill.read_text()
        .replace('"4 N/mm"', f'"{4e3 * inch / lbf!r} lbf/in"')
        .replace('"80 mm"', f'"{0.08 / inch!r} in"')
    )
    assert inches.adjuster.coil.rate == pytest.approx(scenario.adjuster.coil.rate, rel=1e-12)
    assert inches.adjuster.coil.free_length == pytest.approx(0.08, rel=1e-12)

"""The page of a check: what fails comes first, and every number has its unit."""

import dataclasses
import re
from pathlib import Path

import pytest
from setting_mounts import rigid

from mountcalc.check.check import check
from mountcalc.check.page import check_text
from mountcalc.judgement import Verdict
from mountcalc.pages.amounts import turns_text
from mountcalc.pages.page import CAUTIONS
from mountcalc.requirements.setting import gentlest_setting
from mountcalc.scenario.reader import read_scenario
from mountcalc.scenario.text.named import Oil
from mountcalc.scenario.text.writing import Display

SCENARIOS = Path(__file__).parents[2] / "scenarios"


def page(scenario, turns=None):
    return check_text(scenario, check(scenario, turns), more=True)


def one_line(text):
    return " ".join(text.split())


@pytest.fixture(scope="module")
def told():
    """The mill with everything that can be told of its bearings; it runs both ways."""
    mill = read_scenario(SCENARIOS / "cider-mill.toml")
    first, second = mill.driven.bearings
    first = dataclasses.replace(
        first, clearance=1e-4, service="light-line-shaft", groove_direction=1.0
    )
    driven = dataclasses.replace(
        mill.driven, bearings=(first, second), shaft_diameter=0.03, oil=Oil(68.0, 323.15)
    )
    motor = dataclasses.replace(mill.motor, reverses=True)
    return dataclasses.replace(mill, driven=driven, motor=motor)


def test_pages_of_the_shipped_scenarios(scenario_file):
    scenario = read_scenario(scenario_file)
    text = page(scenario)
    ok = check(scenario).ok
    assert max(map(len, text.splitlines())) <= 80
    assert ("WHAT FAILS" in text) is not ok
    assert ("judgements pass" in text) is ok
    assert "safe" not in text.lower()
    assert "nan" not in text.lower().split()
    for caution in CAUTIONS:
        assert caution in one_line(text)
    for judgement in check(scenario).judgements:
        if judgement.verdict in {Verdict.FAIL, Verdict.CAUTION}:
            assert judgement.sentence[1:] in one_line(text)


def test_the_short_page_fits_a_screen_and_has_all_that_fails(scenario_file):
    scenario = read_scenario(scenario_file)
    result = check(scenario)
    text = check_text(scenario, result)
    assert len(text.splitlines()) <= 45
    assert max(map(len, text.splitlines())) <= 80
    assert text.splitlines()[-1] == "mountcalc check FILE --more: notes, sources, all cautions"
    flat = one_line(text)
    assert ("Left out: keep-outs are not judged here" in flat) is bool(scenario.keep_outs)
    for one in result.judgements:
        if one.verdict in {Verdict.FAIL, Verdict.CAUTION}:
            assert one.sentence[1:] in flat
            assert one.what_to_change in flat


def test_the_short_page_names_what_passes_with_the_most_of_its_limit():
    """What a failing bearing keeps is named with its case: it does not read as kept."""
    press = read_scenario(SCENARIOS / "job-press.toml")
    result = check(press)
    text = one_line(check_text(press, result).split("Passes:")[1].split("WHAT FAILS")[0])
    share = {
        (one.name, one.subject, one.case): f"{100 * one.share:.0f} %"
        for one in result.judgements
        if one.verdict is Verdict.PASS and one.share is not None
    }
    far = [number for (name, subject, _), number in share.items() if subject == "far side"]
    assert f'"far side" {max(far, key=lambda number: int(number[:-2]))};' in text
    start = share["bearing-limit", "wheel side", "starting"]
    assert f'"wheel side", starting, {start};' in text
    assert f"room to take the belt up {share['belt-take-up', '', '']};" in text
    assert "grip" not in text


def test_the_short_page_has_each_bearing_where_it_is_worst(cider):
    mill = read_scenario(cider)
    text, result = check_text(mill, check(mill)), check(mill)
    lines = text.splitlines()
    for report in result.bearings:
        line = lines[lines.index(f'"{report.name}"') + 1].split()
        worst = max(report.cases, key=lambda case: case.share_of_limit)
        assert line[0] == worst.case
        assert float(line[1]) == pytest.approx(worst.load / 4.4482216, rel=5e-3)
        assert int(line[4]) == round(100 * worst.share_of_limit)


def test_what_passes_has_a_line_each(cider):
    mill = read_scenario(cider)
    passes = [one for one in check(mill).judgements if one.verdict is Verdict.PASS]
    block = page(mill).split("WHAT PASSES")[1].split("\n\n")[0].splitlines()[1:]
    shares = [line for line in block if re.match(r" *\d+ %  \S", line)]
    assert len(shares) == len([one for one in passes if one.share is not None])
    assert "    67 %  Room to slip a new belt on: 1.19 in, 0.8 in wanted" in block


def test_cautions_stand_between_what_fails_and_what_passes():
    """The boxes of the job press bear at their ends by an estimate, which fails nothing."""
    press = read_scenario(SCENARIOS / "job-press.toml")
    text = page(press)
    heads = [text.index(head) for head in ("WHAT FAILS", "CAUTIONS ON THIS", "WHAT PASSES")]
    assert heads == sorted(heads)
    assert "if boxes that do not tilt bear at their ends" in one_line(text[heads[1] : heads[2]])


def test_what_fails_comes_first_and_worst_first(cider):
    mill = rigid(read_scenario(cider))
    text = page(mill, 6.0)
    names = ("WHAT FAILS", "CAUTIONS ON THIS MOUNT", "WHAT PASSES", "GOOD TO KNOW")
    heads = [text.index(head) for head in names]
    assert heads == sorted(heads)
    verdicts = [one.verdict for one in check(mill, 6.0).judgements]
    judged = verdicts.count(Verdict.FAIL) + verdicts.count(Verdict.PASS)
    many = verdicts.count(Verdict.CAUTION)
    assert f"3 of {judged} judgements fail, with {many} cautions." in text
    shares = [
        int(line.split("%")[0])
        for line in text[heads[0] : heads[1]].splitlines()
        if "%" in line[:12]
    ]
    assert len(shares) == 3
    assert shares == sorted(shares, reverse=True)
    assert min(shares) > 100
    slack = turns_text(gentlest_setting(mill).set_turns)
    cure = f"To change these 3 (solved and judged again): Slacken to {slack} turns."
    assert one_line(text).count(cure) == 1  # once for all that it cures


def test_one_failure_is_one(cider):
    assert re.search(
        r" 1 of \d+ judgements fails, with 1 caution\.", page(read_scenario(cider), 0.5)
    )


def test_a_share_just_above_its_limit_does_not_read_as_kept(cider):
    mill = read_scenario(cider)
    speed = mill.motor.speed * mill.motor.pulley_radius / mill.driven.pulley_radius
    fast = dataclasses.replace(mill.driven, max_speed=speed / 1.0001)
    text = page(dataclasses.replace(mill, driven=fast))
    assert "   101 %  The driven shaft turns at 575 rpm" in text


def test_everything_that_can_be_told(told):
    text = page(told)
    result = check(told)
    assert max(map(len, text.splitlines())) <= 80
    assert "rest ccw" in text
    assert "starting cw" in text
    line = next(line for line in text.splitlines() if line.startswith("  running ccw"))
    running = next(case for case in result.bearings[0].cases if case.case == "running")
    assert float(line.split()[2]) == pytest.approx(running.load / 4.4482216, rel=5e-3)
    assert float(line.split()[4]) == pytest.approx(running.pressure / 6894.757, rel=5e-3)
    assert float(line.split()[-1]) == pytest.approx(running.bending_stress / 6894.757, rel=5e-3)
    film = result.bearings[0].film
    assert f"Sommerfeld number {film.sommerfeld:.3g}" in one_line(text)
    assert "thousandths of an inch per inch" in one_line(text)
    assert any(one.name == "oil-film" for one in result.judgements)


def test_statements_are_said_once_or_of_their_bearing(told):
    text = one_line(page(told))
    assert text.count("takes the whole pull of the belt at rest") == 1
    assert text.count('"pulley end": The film is that of a full round bearing') == 1
    assert text.count('"far end": No service is named') == 1


def test_units_of_the_other_display(told):
    metric = page(dataclasses.replace(told, display=Display.METRIC))
    table = metric[metric.index("BEARING") : metric.index("ABOUT")]
    assert "psi" not in metric
    assert " thou " not in metric
    assert " N " in table
    assert "mm per m" in one_line(metric)


def test_a_lost_plate_has_dashes_and_reasons():
    blower = read_scenario(SCENARIOS / "forge-blower.toml")
    x, y = blower.motor.center_of_mass
    motor = dataclasses.replace(blower.motor, center_of_mass=(x - 0.6, y))
    text = page(dataclasses.replace(blower, motor=motor))
    assert "finds no balance" in one_line(text)
    assert text.index("finds no balance") < text.index("WHAT PASSES")
    rest = next(line for line in text.splitlines() if line.startswith("  rest"))
    assert set(rest.split()[1:]) == {"-"}


def test_a_share_has_one_rounding_on_a_page():
    text = page(read_scenario(SCENARIOS / "grindstone.toml"))
    cautioned = re.search(r"71\.6 lbf at its\s+middle.*?:\s+(\d+) %\s+of", text, re.DOTALL)[1]
    rows = [line for line in text.splitlines() if line.startswith("  rest") and "88.8" in line]
    assert rows
    assert {row.split("88.8")[1].split()[0] for row in rows} == {cautioned}


def test_where_much_is_amiss_the_bearings_wait_for_more():
    thin = read_scenario(SCENARIOS / "seed-cleaner.toml").with_(plate={"thickness": "12 mm"})
    found = check(thin)
    short, long = check_text(thin, found), check_text(thin, found, more=True)
    assert len(short.splitlines()) <= 45
    assert "BEARINGS AT" not in short
    assert "BEARINGS AT" in long


def test_one_turn_is_told_as_one():
    mill = read_scenario(SCENARIOS / "cider-mill.toml")
    assert "Judged: at 1 turn from zero," in one_line(page(mill, 1.0))

"""Every mount that ships, read and fitted: page, picture, JSON, and a file for all commands."""

import json
import math
from functools import cache

import pytest
from plot_mounts import SHIPPED, assert_readable, by_gid, shown_texts
from read_mounts import read_off
from setting_mounts import unsaid

import mountcalc
from mountcalc.errors import MountcalcError
from mountcalc.fit.answer import fit_log
from mountcalc.fit.log import given_readings
from mountcalc.fit.page import fit_text
from mountcalc.pages.as_json import as_json

TURNED = [name for name, one in SHIPPED.items() if one.adjuster.kind != "none"]
EACH = pytest.mark.parametrize("name", TURNED)
NEW_KEYS = {"belt": {"stiffness", "stiffness_factor"}, "adjuster": {"zero_turns"}}


@cache
def fitted(name):
    return fit_log(SHIPPED[name], given_readings(read_off(SHIPPED[name])))


@EACH
def test_the_page_fits_a_screen_and_more_begins_with_it(name):
    fit = fitted(name).fit
    page, full = (fit_text(SHIPPED[name], fit, more=more) for more in (False, True))
    lines = page.splitlines()
    assert len(lines) <= 45
    assert max(map(len, [*lines, *full.splitlines()])) <= 80
    assert full.startswith(page.rsplit("\n\n", 1)[0])
    assert "\n\n\n" not in page
    assert lines[-1].startswith("mountcalc fit FILE READINGS --more: ")


@EACH
def test_json_is_plain_numbers_whose_keys_end_in_their_units(name):
    plain = json.loads(as_json(fitted(name).fit), parse_constant=pytest.fail)
    assert plain["stiffness_N"]["low"] < plain["stiffness_N"]["high"]
    assert [one["unit"] for one in plain["readings"]].count("Hz") == 3


@EACH
def test_the_file_reads_back_but_for_what_was_fitted_and_commands_take_it(name, tmp_path):
    before = SHIPPED[name]
    with open(before.source, encoding="utf-8") as stream:  # noqa: PTH123
        written = fitted(name).file(stream.read())
    path = tmp_path / "fitted.toml"
    path.write_bytes(written)
    after = mountcalc.read_scenario(path)
    assert after.belt == fitted(name).scenario.belt
    given = after.given
    for table, keys in NEW_KEYS.items():
        rest = {key: value for key, value in given[table].items() if key not in keys}
        assert rest.items() <= before.given[table].items()
        assert keys <= given[table].keys()
    assert {key: given[key] for key in given if key not in NEW_KEYS} == {
        key: before.given[key] for key in before.given if key not in NEW_KEYS
    }
    assert mountcalc.table(after).rows
    mountcalc.setting(after)
    mountcalc.card(after)
    mountcalc.check(after)
    if "search" in given:
        assert mountcalc.read_search(path).scenario.belt == after.belt


@EACH
def test_the_picture_shows_each_reading_and_both_bands_and_can_be_read(name):
    from mountcalc.fit.figure import fit_figure

    found = fitted(name)
    figure = fit_figure(SHIPPED[name], found)
    assert_readable(figure)
    for gid in ("before", "fitted", "true zero", "zero range"):
        assert by_gid(figure, gid), gid
    for one in found.fit.readings:
        assert by_gid(figure, f"reading {one.row}")
    words = [text.get_text() for text, _ in shown_texts(figure)]
    assert any(word.startswith("true zero: ") for word in words)


def test_weights_and_give_are_written_where_they_were_found():
    name = "wood-lathe"
    lathe = unsaid(SHIPPED[name])
    log = [{"turns": "slack", "method": "balance", "value": -1.03 * _slack_pull(lathe)}]
    giving = lathe.with_(adjuster={"stiffness": "60 N/mm"}, belt={"stiffness": "66 kN"})
    for row in mountcalc.table(giving, turns=[1, 2, 3, 4, 5]).rows:
        log.append({"turns": row.turns, "method": "swings", "value": row.span_frequency})
        log.append({"turns": row.turns, "method": "centres", "value": row.center_distance})
    found = fit_log(lathe, given_readings(log))
    assert found.fit.give is not None
    assert found.fit.weights is not None
    with open(lathe.source, encoding="utf-8") as stream:  # noqa: PTH123
        after = mountcalc.parse_scenario(found.file(stream.read()).decode())
    assert after.adjuster.spring == pytest.approx(found.fit.give.value, rel=1e-3)
    for part in ("motor", "plate"):
        before, now = (getattr(one, part).weight for one in (lathe, after))
        assert now == pytest.approx(found.fit.weights.value * before, rel=1e-3)
    assert after.motor.weight_error < lathe.motor.weight_error
    page = fit_text(lathe, found.fit)
    assert "\nWeights:  motor and plate weigh 1.0" in page
    assert "\nGive:     plate and link give " in page


def _slack_pull(scenario):
    """Pull where the link bears that holds plate and motor back [N], by the weights' moments."""
    hinge, pin = scenario.plate.hinge, scenario.adjuster.plate_pin
    bodies = (scenario.motor, scenario.plate)
    moment = sum(body.weight * (body.center_of_mass[0] - hinge[0]) for body in bodies)
    return moment / math.dist(hinge, pin)


def test_a_mount_without_an_adjuster_is_refused():
    reading = {"turns": 1, "method": "swings", "value": "24 Hz"}
    with pytest.raises(MountcalcError, match="no adjuster"):
        mountcalc.fit(SHIPPED["forge-blower"], [reading, reading])

"""The bench card against the table of the same mount, and every way to have nothing to feel."""

import json
import math
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from plot_mounts import CIDER
from scipy.constants import inch, lbf

from mountcalc.card.card import bench_card, strand_test, timing_of
from mountcalc.card.results import Gives, Timing
from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.solve import solve_mount
from mountcalc.equilibrium.states import State
from mountcalc.errors import InputError
from mountcalc.formulas.belt import mid_span_force
from mountcalc.handbook.belts.deflection_tables import (
    implied_tension,
    stretch_constant,
    table_force,
)
from mountcalc.handbook.belts.sections import Joint
from mountcalc.pages.as_json import as_json
from mountcalc.requirements.requirements import requirements_of
from mountcalc.requirements.setting import gentlest_setting
from mountcalc.scenario.model import Adjuster, AdjusterKind
from mountcalc.scenario.reader import read_scenario
from mountcalc.table import tension_table

SHIPPED = {
    path.stem: read_scenario(path)
    for path in sorted((Path(__file__).parents[2] / "scenarios").glob("*.toml"))
}
MILL, BLOWER, PRESS = CIDER, SHIPPED["forge-blower"], SHIPPED["job-press"]
# The same functions of the same plate angle.
ROUNDING = 1e-12
# A tension is found by turns, to the solver's residual.
FOUND = 1e-9

card_of = cache(bench_card)


def with_belt(scenario, **changes):
    return replace(scenario, belt=replace(scenario.belt, **changes))


def heavy_behind():
    """The mill with its motor's weight far behind the hinge, where it tightens the belt."""
    x, y = MILL.motor.center_of_mass
    return replace(MILL, motor=replace(MILL.motor, center_of_mass=(x - 10 * inch, y)))


def forces(one):
    return [one.force_low, one.force_creeping, one.force_not_creeping, one.force_high]


def row_at(scenario, turns):
    (row,) = tension_table(scenario, None if turns is None else [turns]).rows
    return row


def assert_agrees(test, row):
    assert test.tension == pytest.approx(row.tension, rel=ROUNDING)
    assert test.span == pytest.approx(row.span, rel=ROUNDING)
    assert test.span_frequency == pytest.approx(row.span_frequency, rel=ROUNDING)
    assert test.usual.deflection == pytest.approx(row.deflection, rel=ROUNDING)
    assert test.usual.force_creeping == pytest.approx(row.deflection_force, rel=ROUNDING)


@pytest.mark.parametrize("name", SHIPPED)
def test_shipped_cards_agree_with_the_table_of_the_same_turns(name):
    scenario = SHIPPED[name]
    card, setting = card_of(scenario), gentlest_setting(scenario)
    json.loads(as_json(card), parse_constant=pytest.fail)
    if setting.set_tension is None:
        assert card.bedded is card.new is card.table is None
        assert setting.why_not_open in card.why_not
        return
    assert card.why_not is None
    assert card.bedded.turns == setting.set_turns
    assert_agrees(card.bedded, row_at(scenario, setting.set_turns))
    if setting.new_turns is None:
        assert card.new is None
    else:
        assert card.new.turns == setting.new_turns
        assert card.new.tension == pytest.approx(setting.new_tension, rel=FOUND)
        assert_agrees(card.new, row_at(scenario, setting.new_turns))
        assert card.spring_balance.pull == pytest.approx(setting.spring_balance.pull, rel=FOUND)
        new_pull = setting.spring_balance.new_pull
        assert card.spring_balance.new_pull == pytest.approx(new_pull, rel=FOUND)


@pytest.mark.parametrize("name", [name for name in SHIPPED if name != "forge-blower"])
@pytest.mark.parametrize("share", [0.6, 1.05])
def test_turns_that_are_asked_for(name, share):
    scenario = SHIPPED[name]
    setting = gentlest_setting(scenario)
    turns = share * setting.turns_max
    card = card_of(scenario, turns)
    row = row_at(scenario, turns)
    assert card.reason == "the turns that were asked for"
    assert_agrees(card.bedded, row)
    fine = setting.turns_min <= turns <= setting.turns_max
    assert (card.caution is None) is fine
    if card.new is not None:
        times = card.new.tension / card.bedded.tension
        # Half of the sixteenth that turns are rounded to.
        rounding = (times - 1) / (card.new.turns - turns) / 32
        assert 1.0 < times <= scenario.limits.bedding + 1.1 * rounding
        assert card.new.turns <= setting.turns_max - scenario.limits.turn_error + FOUND
        assert (times + rounding < scenario.limits.bedding * (1 - 1e-3)) is any(
            note.id == "less-for-new" for note in card.notes
        )


@pytest.mark.parametrize("name", ["cider-mill", "wood-lathe"])
def test_a_card_of_the_gentlest_turns_is_that_of_the_gentlest_setting(name):
    card = card_of(SHIPPED[name])
    assert bench_card(SHIPPED[name], card.bedded.turns) == card


def closed():
    """The press with more work to do: its bearings are at their limit before the belt grips."""
    driven = replace(PRESS.driven, power=1.3 * PRESS.driven.power)
    motor = replace(PRESS.motor, power=1.3 * PRESS.motor.power)
    return replace(PRESS, driven=driven, motor=motor)


def test_a_closed_mount_has_no_card_until_turns_are_asked_for():
    scenario, setting = closed(), gentlest_setting(closed())
    assert setting.turns_max < setting.turns_min
    card = bench_card(scenario)
    assert card.bedded is card.new is card.table is card.spring_balance is None
    assert card.reason == "no setting"
    assert 'bearing "wheel side" is at its limit before the belt grips' in card.why_not
    low, high = setting.turns_max, setting.turns_min
    needs, past = f"needs {high:.2f} turns", f"past {low:.2f} turns a bearing is over its limit"
    for turns, wanted in (
        (0.9 * low, (True, False)),
        ((low + high) / 2, (True, True)),
        (1.1 * high, (False, True)),
    ):
        caution = bench_card(scenario, turns).caution.lower()
        assert (needs in caution, past in caution) == wanted


@pytest.mark.parametrize("turns", [math.nan, math.inf, 1e3, -1e3])
def test_turns_out_of_the_travel_are_refused(turns):
    with pytest.raises(InputError, match="turns"):
        bench_card(MILL, turns)


def test_a_slack_belt_has_nothing_to_feel():
    card = card_of(MILL, -0.5)
    assert card.bedded is card.new is card.spring_balance is None
    assert card.why_not == "There is no tension to feel: the belt is slack there."
    assert card.look_again == card.notes == ()


def test_weight_alone_has_one_force_and_nothing_to_bring_back():
    card = card_of(BLOWER)
    assert card.bedded.turns is None
    assert card.bedded.gives is Gives.WHOLLY
    assert card.bedded.finer is card.new is card.spring_balance is None
    assert forces(card.bedded.usual) == [pytest.approx(card.bedded.tension / 16)] * 4
    assert "weight keeps the tension" in card.look_again[0].sentence


@pytest.mark.parametrize("turns", [0.0, 3.0, 1e3])
def test_turns_without_an_adjuster_are_left_aside_and_said_to_be(turns):
    card, asked = card_of(BLOWER), bench_card(BLOWER, turns)
    note, *rest = asked.notes
    assert note.text.startswith(f"Turns were asked for ({turns:g}), but there is no adjuster")
    assert "there is no adjuster" in note.text
    assert replace(asked, notes=tuple(rest)) == card
    assert not any(note.id == "turns-left-aside" for note in card.notes)
    assert not any(note.id == "turns-left-aside" for note in card_of(MILL, 1.0).notes)


def test_turns_are_said_to_be_left_aside_where_there_is_no_tension_either():
    motor = replace(BLOWER.motor, weight=200 * BLOWER.motor.weight)
    card = bench_card(replace(BLOWER, motor=motor), 2.0)
    assert card.bedded is None
    (note,) = card.notes
    assert note.id == "turns-left-aside"
    assert note.numbers == {"turns": 2.0}


def test_weight_alone_that_does_not_do_is_felt_with_a_caution():
    driven = replace(BLOWER.driven, power=3 * BLOWER.driven.power)
    motor = replace(BLOWER.motor, power=3 * BLOWER.motor.power)
    card = bench_card(replace(BLOWER, driven=driven, motor=motor))
    assert card.bedded.tension == pytest.approx(card_of(BLOWER).bedded.tension)
    assert card.caution.startswith("Weight alone gives 0.")


def test_a_plate_without_balance_is_told_in_words():
    x, y = BLOWER.motor.center_of_mass
    lost = replace(BLOWER, motor=replace(BLOWER.motor, center_of_mass=(x - 0.6, y)))
    card = bench_card(lost)
    assert card.bedded is None
    assert "no plate angle in the travel balances the plate" in card.why_not


def test_a_plate_that_weight_drives_to_its_stop_is_told_in_words():
    motor = replace(BLOWER.motor, weight=200 * BLOWER.motor.weight)
    heavy = replace(BLOWER, motor=motor)
    assert row_at(heavy, None).state is State.AT_STOP
    assert "tightens itself to the end of the travel" in bench_card(heavy).why_not


def test_riding_with_an_adjuster_that_is_clear():
    scenario = heavy_behind()
    row = row_at(scenario, -0.5)
    assert row.state is State.RIDING
    card = bench_card(scenario, -0.5)
    assert card.bedded.gives is Gives.WHOLLY
    assert_agrees(card.bedded, row)
    assert forces(card.bedded.usual) == [pytest.approx(row.tension / 16)] * 4
    assert card.spring_balance is card.new is None
    assert any(note.id == "carries-nothing" for note in card.notes)


def test_a_spring_gives_way_partly():
    sprung = replace(MILL, adjuster=replace(MILL.adjuster, spring=5e4))
    bedded = bench_card(sprung).bedded
    assert bedded.gives is Gives.PARTLY
    low, creeping, fixed, high = forces(bedded.usual)
    riding, stretch = bedded.tension / 16, MILL.belt.stiffness / 2048 / 16
    rigid = bench_card(MILL).bedded
    of_creep = rigid.span / MILL.belt.length * stretch
    assert riding < low < creeping < riding + 0.9 * of_creep
    # As it creeps, the belt is longer by 2 q^2/t: what a belt so much shorter has at this bolt.
    shorter = 2 * bedded.usual.deflection**2 / bedded.span
    belt = replace(MILL.belt, length=MILL.belt.length - shorter)
    spring_end = requirements_of(sprung).solved.place([bedded.turns]).extension
    other = requirements_of(replace(sprung, belt=belt)).solved
    turned = (spring_end - other.zero_extension) / other.advance
    assert 16 * creeping == pytest.approx(float(other.at_rest(turned).tension[0]), rel=2e-3)
    assert fixed == pytest.approx(riding + stretch)
    assert high == pytest.approx(riding + MILL.belt.stiffness_factor * stretch)


def test_both_ends_by_hand():
    """The mill's 12 000 lbf belt: Y = 5.859 lbf, spread over t/L0 where it creeps."""
    bedded, belt = card_of(MILL).bedded, MILL.belt
    tension, share, stretch = bedded.tension / lbf, bedded.span / belt.length, 12000 / 2048
    expected = [tension + share * stretch / 2, tension + share * stretch]
    expected += [tension + stretch, tension + 2 * stretch]
    assert [force / lbf * 16 for force in forces(bedded.usual)] == pytest.approx(expected)


def test_one_rule_serves_for_both_belts():
    for scenario in SHIPPED.values():
        card = card_of(scenario)
        if card.new is not None:
            assert card.new.press.span_over_deflection == card.bedded.press.span_over_deflection


def test_a_stiffer_belt_is_pressed_in_less_until_nothing_tells():
    pressed, tells = [], []
    for factor in (1.0, 2.0, 4.0, 8.0, 16.0, 32.0):
        bedded = bench_card(with_belt(MILL, stiffness_factor=factor)).bedded
        pressed.append(bedded.press.span_over_deflection)
        tells.append(bedded.tells)
    assert pressed == sorted(pressed)
    assert pressed[0] < pressed[-1] == 256
    assert tells == sorted(tells, reverse=True)
    assert not tells[-1]
    card = bench_card(with_belt(MILL, stiffness_factor=32.0))
    assert any(note.id == "drowned" for note in card.notes)


def test_several_belts_are_told_one_by_one():
    """Two belts of half the power each: the same tension, and the same force on each."""
    driven = replace(MILL.driven, power=2 * MILL.driven.power)
    motor = replace(MILL.motor, power=2 * MILL.motor.power)
    pair = with_belt(replace(MILL, driven=driven, motor=motor), count=2)
    card = bench_card(pair, 1.0)
    assert card.count == 2
    assert forces(card.bedded.usual) == pytest.approx(forces(card_of(MILL, 1.0).bedded.usual))
    assert any(note.id == "many-belts" for note in card.notes)
    assert not any(note.id == "many-belts" for note in card_of(MILL).notes)


def test_a_belt_without_mass_has_no_frequency():
    card = bench_card(with_belt(MILL, mass=0.0))
    assert card.bedded.span_frequency is card.bedded.timing is None
    assert any(note.id == "no-mass" for note in card.notes)


@pytest.mark.parametrize(
    ("frequency", "timing"),
    [
        (0.5, Timing.COUNT),
        (4.0, Timing.COUNT),
        (4.1, Timing.FILM),
        (59.9, Timing.FILM),
        (60.0, Timing.MICROPHONE),
        (220.0, Timing.MICROPHONE),
    ],
)
def test_what_times_a_span(frequency, timing):
    assert timing_of(frequency) is timing


@settings(deadline=None)
@given(st.floats(0.2, 3.5), st.floats(1.01, 2.0), st.floats(3e3, 3e5), st.floats(1.0, 4.0))
def test_forces_are_ordered_and_grow_with_tension(turns, more, stiffness, factor):
    scenario = with_belt(MILL, stiffness=stiffness, stiffness_factor=factor)
    solved = solve_mount(Mount.of(scenario))
    rest = solved.cases(solved.place([turns, turns * more]), with_grip=False).rest
    loose, tight = (strand_test(solved, turns, rest, index) for index in (0, 1))
    assert tight.tension > loose.tension
    for test in (loose, tight):
        for one in (test.usual, test.press):
            values = forces(one)
            assert values == sorted(values)
            assert 4 * test.tension / one.span_over_deflection <= values[0]
            assert one.deflection * one.span_over_deflection == pytest.approx(test.span)
    assert all(a < b for a, b in zip(forces(loose.usual), forces(tight.usual), strict=True))
    assert tight.press.span_over_deflection <= loose.press.span_over_deflection


def test_the_table_of_this_mount():
    """Each number of the comparison put back through what it stands for."""
    card = card_of(MILL)
    row = table_force("A", 3 * inch, 1725.0)
    table, constant = card.table, stretch_constant("A").value
    assert table.row == f"common table, {row.name}, 3 in to 3.6 in, 1000 to 2500 rpm"
    assert "from memory" in table.stretch
    for one, force, test in (
        (table.bedded, row.used, card.bedded),
        (table.new, row.new, card.new),
    ):
        assert one.table_force == force
        assert one.table_tension == implied_tension(force, constant)
        assert one.times_tension == pytest.approx(one.table_tension / test.tension)
        there, here = row_at(MILL, one.turns), row_at(MILL, test.turns)
        assert there.tension == pytest.approx(one.table_tension, rel=FOUND)
        shares = {bearing.name: bearing.share_of_limit for bearing in there.rest.bearings}
        assert one.share_of_limit == pytest.approx(max(shares.values()))
        assert shares[one.bearing] == max(shares.values())
        as_set = {bearing.name: bearing.share_of_limit for bearing in here.rest.bearings}
        assert one.share_as_set == pytest.approx(as_set[one.bearing])
    assert table.bedded.share_of_limit > 1 > table.bedded.share_as_set


@pytest.mark.parametrize(
    ("section", "why"),
    [
        (None, "section is not named"),
        ("4L", 'no row for section "4L" on a 3 in pulley at 1725 rpm'),
    ],
)
def test_no_row_of_the_table(section, why):
    table = bench_card(with_belt(MILL, section=section)).table
    assert table.row is table.bedded is table.new is None
    assert why in table.why_not
    assert "1.8 times" in table.published


def test_the_row_is_that_of_the_smaller_pulley():
    """With 5 in on the machine and 9 in on the motor the table's pulley is the machine's."""
    driven = replace(MILL.driven, pulley_radius=2.5 * inch)
    motor = replace(MILL.motor, pulley_radius=4.5 * inch, speed=MILL.motor.speed / 2)
    slow = with_belt(replace(MILL, driven=driven, motor=motor), length=MILL.belt.length + 2 * inch)
    table = bench_card(slow, 0.5).table
    row = table_force("A", 5 * inch, 1725 / 2 * 9 / 5)
    assert table.row.startswith(f"common table, {row.name}, ")
    assert table.row.endswith(" to 2500 rpm")


def test_a_print_that_slips_is_told_beside_its_row():
    """Cogged A belts on 5 in: the used value is doubtful in print."""
    driven = replace(MILL.driven, pulley_radius=4.5 * inch)
    motor = replace(MILL.motor, pulley_radius=2.5 * inch)
    cogged = with_belt(replace(MILL, driven=driven, motor=motor), section="AX")
    length = cogged.belt.length + math.pi * inch
    table = bench_card(with_belt(cogged, length=length), 0.5).table
    assert table.bedded.table_force == pytest.approx(6.3 * lbf)
    assert table.new.table_force == pytest.approx(9.4 * lbf)
    assert "an estimate" in table.source


def test_without_a_stretch_constant_the_belt_s_own_stiffness_counts():
    driven = replace(MILL.driven, pulley_radius=4.5 * inch)
    motor = replace(MILL.motor, pulley_radius=2.1 * inch)
    belt = {"section": "SPA", "length": MILL.belt.length + math.pi * 0.6 * inch}
    scenario = with_belt(replace(MILL, driven=driven, motor=motor), **belt)
    table = bench_card(scenario, 0.5).table
    assert "own stiffness" in table.stretch
    assert table.bedded.table_tension / lbf == pytest.approx(16 * 6.7 - 12000 / 2048)
    stiff = bench_card(with_belt(scenario, stiffness=12000 * lbf * 100), 0.01).table
    assert stiff.bedded.table_tension == 0.0
    assert stiff.bedded.turns is None
    assert "stretch alone" in stiff.bedded.why_not


def test_a_section_of_the_metric_table_alone():
    """SPZ on 76 mm: 25 N at 2.2 mm for each 100 mm of centre distance, put back by hand."""
    scenario = with_belt(MILL, section="SPZ")
    card = bench_card(scenario)
    table, stiffness = card.table, MILL.belt.stiffness
    assert table.row.startswith("metric table, section SPZ, 2.95 in to 3.54 in, 5.6 lbf at 2.2 %")
    assert "own stiffness" in table.stretch
    assert table.new is None
    there = row_at(scenario, card.bedded.turns)
    ratio = 0.022 * there.center_distance / there.span
    tension = table.bedded.table_tension
    assert mid_span_force(tension, stiffness, 1.0, ratio) == pytest.approx(25.0)
    force = tension / 16 + stiffness / 2048 / 16
    assert table.bedded.table_force == pytest.approx(force)
    assert table.bedded.times_tension == pytest.approx(tension / card.bedded.tension)
    assert row_at(scenario, table.bedded.turns).tension == pytest.approx(tension, rel=FOUND)


def test_a_metric_force_that_stretch_alone_takes_up():
    stiff = with_belt(MILL, section="SPZ", stiffness=50 * MILL.belt.stiffness)
    one = bench_card(stiff, 0.01).table.bedded
    assert one.table_tension == 0.0
    assert "stretch alone" in one.why_not


@pytest.mark.parametrize(("rpm", "table"), [(1500, "common"), (750, "metric")])
def test_the_metric_table_serves_where_the_common_one_has_no_speed(rpm, table):
    motor = replace(MILL.motor, pulley_radius=2.2 * inch, speed=rpm * math.pi / 30)
    belt = {"section": "SPA", "length": MILL.belt.length + math.pi * 0.7 * inch}
    found = bench_card(with_belt(replace(MILL, motor=motor), **belt), 0.5).table
    assert found.row.startswith(f"{table} table, section SPA")


def test_a_table_that_turns_do_not_reach():
    low, _ = MILL.plate.travel
    reached = row_at(MILL, 3.0).plate_angle
    assert reached > low
    short = replace(MILL, plate=replace(MILL.plate, travel=(low, reached)))
    table = bench_card(short, 1.0).table
    assert table.new.turns is table.new.share_of_limit is table.new.bearing is None
    assert "the travel ends before that" in table.new.why_not


def test_weight_alone_cannot_be_set_by_a_table():
    alone = replace(heavy_behind(), adjuster=Adjuster(AdjusterKind.NONE))
    one = bench_card(alone).table.bedded
    assert "no adjuster" in one.why_not
    assert one.turns is None
    assert one.times_tension == pytest.approx(one.table_tension / bench_card(alone).bedded.tension)


def test_when_to_look_again():
    looks = card_of(MILL).look_again
    assert [look.sure for look in looks] == ["published", "published", "estimate"]
    assert "8 hours" in looks[0].when
    assert "24 hours" in looks[1].when
    assert "no higher" in looks[0].sentence
    assert all(look.source for look in looks)


def test_a_flat_belt_is_not_looked_at_by_the_hours_of_v_belts():
    looks = card_of(with_belt(MILL, section="flat leather")).look_again
    assert [look.sure for look in looks] == ["common practice", "estimate"]
    assert not any("hours" in look.when for look in looks)
    assert "leather for weeks" in looks[0].when
    linked = bench_card(replace(MILL, belt=replace(MILL.belt, joint=Joint.LINKED)))
    assert linked.look_again == looks
    assert "take a link out" in looks[0].sentence

"""A setting keeps what it says, whatever the mount: its ends are fed back through the table."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hands import Real, error_of
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from plate_moments import Plate, moment
from setting_mounts import (
    BOTH_WAYS,
    SHIPPED,
    TURNED,
    along_the_shaft,
    factor,
    flipped,
    mirrored,
    rigid,
    scaled,
    settable,
    setting_of,
    with_limits_times,
    with_power,
)
from sizes import examples

from mountcalc.equilibrium.states import State
from mountcalc.errors import MountError
from mountcalc.requirements.requirements import requirements_of
from mountcalc.requirements.results import MethodName
from mountcalc.scenario.hardware import Giving
from mountcalc.table.table import tension_table

EXACT = 1e-6
# Beside an end of the range: near enough to mean "just", far enough to be more than rounding.
BESIDE = 1e-4
# Readings by interpolated weights' work and root finding agree so far.
READ = 1e-4
SIXTEENTH = 1 / 16
MANY = settings(max_examples=examples(8))
SOME = settings(max_examples=examples(5))
CASES = ("rest", "running", "starting")


def solved(scenario):
    """The setting, for mounts that have one to speak of."""
    try:
        return setting_of(scenario)
    except MountError:
        assume(condition=False)


def tables(scenario, turns):
    """The table of each way that the mount runs in."""
    plain = replace(scenario, motor=replace(scenario.motor, reverses=False))
    ways = [plain, flipped(plain)] if scenario.motor.reverses else [plain]
    return [tension_table(way, np.atleast_1d(turns)) for way in ways]


def grip_margin(scenario, turns):
    """The least grip over what is wanted, at each turn; never slipping counts as infinite."""
    limits, start = scenario.limits, scenario.driven.starting_factor
    wanted = {"running": limits.grip}
    if limits.starting_grip is not None:
        wanted["starting"] = limits.starting_grip * start
    margins = [
        [
            min(
                math.inf if row.cases[case].grip is None else row.cases[case].grip / wanted[case]
                for case in wanted
            )
            for row in table.rows
        ]
        for table in tables(scenario, turns)
    ]
    return np.min(margins, axis=0)


def worst_share(scenario, turns):
    """The greatest share of its limit that any bearing reaches, at each turn."""
    ways = tables(scenario, turns)
    return np.max([[row.worst_share_of_limit for row in table.rows] for table in ways], axis=0)


def either_way():
    return settable(st.booleans())


@MANY
@given(either_way())
def test_fewest_turns_are_the_first_with_the_wanted_grip(scenario):
    setting = solved(scenario)
    fewest = setting.turns_min
    if fewest is None:
        assert setting.governs.min is None
        assert setting.governs.min_reason
        assert grip_margin(scenario, np.linspace(0, 20, 41)).max() < 1
        return
    assert grip_margin(scenario, fewest)[0] >= 1 - EXACT
    if fewest > 0:
        assert grip_margin(scenario, fewest) == pytest.approx([1.0], abs=EXACT)
        assert grip_margin(scenario, np.linspace(0, fewest - BESIDE, 21)).max() < 1
        assert grip_margin(scenario, fewest + BESIDE)[0] > 1
    assert setting.governs.min.case in {"running", "starting"}
    ruled = replace(scenario, limits=replace(scenario.limits, starting_grip=None))
    if setting.governs.min.case == "running":
        assert grip_margin(ruled, fewest) == pytest.approx(grip_margin(scenario, fewest))
    else:
        assert grip_margin(ruled, fewest)[0] > 1 - EXACT


@MANY
@given(either_way())
def test_most_turns_are_the_last_before_a_bearing_passes_its_limit(scenario):
    setting = solved(scenario)
    most = setting.turns_max
    if most is None:
        assert setting.governs.max is None
        assert setting.governs.max_reason
        assert worst_share(scenario, np.linspace(0, 20, 41)).max() < 1
        return
    if most > 0:
        assert worst_share(scenario, most) == pytest.approx([1.0], abs=EXACT)
        assert worst_share(scenario, np.linspace(0, most - BESIDE, 21)).max() < 1
        assert worst_share(scenario, most + BESIDE)[0] > 1
    else:
        assert worst_share(scenario, 0.0)[0] >= 1
    ruler = setting.governs.max
    shares = [
        bearing.share_of_limit
        for table in tables(scenario, most)
        for bearing in table.rows[0].cases[ruler.case].bearings
        if bearing.name == ruler.bearing
    ]
    assert max(shares) == pytest.approx(worst_share(scenario, most)[0])


@MANY
@given(either_way())
def test_an_open_setting_keeps_both_promises_though_the_hand_errs(scenario):
    setting = solved(scenario)
    error = scenario.limits.turn_error
    if setting.set_turns is not None and setting.turns_max is not None:
        assert setting.turns_min <= setting.set_turns <= setting.turns_max + EXACT
        assert setting.set_turns - EXACT <= setting.new_turns <= setting.turns_max + EXACT
    if not setting.open:
        assert setting.why_not_open
        narrow = None not in {setting.turns_min, setting.turns_max}
        told = any(one.trustworthy for one in setting.methods)
        assert not narrow or not told or setting.turns_max - setting.turns_min < 2 * error
        return
    assert setting.why_not_open is None
    assert_reads_as_aimed(scenario, setting)
    around = np.linspace(setting.set_turns - error, setting.set_turns + error, 9)
    assert grip_margin(scenario, around).min() >= 1 - EXACT
    assert worst_share(scenario, around).max() <= 1 + EXACT
    assert worst_share(scenario, setting.new_turns).max() <= 1 + EXACT


def assert_reads_as_aimed(scenario, setting):
    """Two errors above the fewest turns' reading, or in the middle, as far as hands can turn."""
    lead, limits = setting.methods[0], scenario.limits
    fewest, error = setting.turns_min, limits.turn_error
    off, is_share = error_of(lead, limits)
    wanted = lead.not_below * (1 + off) if is_share else lead.not_below + off
    if lead.never_above is not None:
        wanted = min(wanted, (lead.not_below + lead.never_above) / 2)
    read = reading(scenario, lead, setting.aim_turns)
    if setting.aim_turns == pytest.approx(fewest + error, abs=EXACT):
        assert read >= wanted * (1 - READ)  # the hand and the lock nut err more than the reading
    elif read != pytest.approx(wanted, rel=READ):
        last = setting.turns_max if setting.free_turns is None else setting.free_turns
        assert read < wanted
        assert setting.aim_turns in (pytest.approx(last - error), pytest.approx(last))
    # Rounded for the page, it stays where it is certain.
    assert setting.set_turns == pytest.approx(setting.aim_turns, abs=SIXTEENTH)
    assert setting.set_turns >= fewest + error - EXACT or setting.free_turns is not None
    assert reading(scenario, lead, setting.set_turns) >= lead.not_below * (1 - READ)


def reading(scenario, method, turns):
    """What a method reads at these turns, by the forward solver."""
    return Real.of(requirements_of(scenario), np.array([turns])).reading(method)[0]


@MANY
@given(settable())
def test_tensions_are_those_of_the_table_and_a_new_belt_has_more(scenario):
    setting = solved(scenario)
    pairs = [
        (setting.turns_min, setting.tension_min),
        (setting.turns_max, setting.tension_max),
        (setting.set_turns, setting.set_tension),
        (setting.new_turns, setting.new_tension),
    ]
    for turns, tension in pairs:
        assert (turns is None) == (tension is None)
        if turns is not None:
            assert tension_table(scenario, [turns]).rows[0].tension == pytest.approx(
                tension, rel=EXACT
            )
    if setting.set_turns is None:
        return
    wanted = scenario.limits.bedding * setting.set_tension
    below, above = (setting.new_turns + part * SIXTEENTH for part in (-1, 0.5))
    if below > setting.set_turns:
        assert tension_table(scenario, [below]).rows[0].tension <= wanted * (1 + EXACT)
    if tension_table(scenario, [above]).rows[0].tension < wanted * (1 - EXACT):
        assert setting.new_tension < wanted
        assert no_more_is_certain(scenario, setting, setting.new_turns + SIXTEENTH)
    gentler = replace(scenario, limits=replace(scenario.limits, bedding=1.0))
    assert solved(gentler).set_turns == setting.set_turns
    assert solved(gentler).new_tension == pytest.approx(setting.set_tension, rel=EXACT)


def no_more_is_certain(scenario, setting, turns):
    """Whether so many turns may pass a limit: the hand errs, or the reading does."""
    lead, error = setting.methods[0], scenario.limits.turn_error
    ends = [setting.turns_max, setting.free_turns]
    if setting.open and setting.turns_max is not None:
        ends.append(setting.turns_max - error)
    if any(end is not None and turns > end - EXACT for end in ends):
        return True
    if setting.turns_max is None:
        return turns > requirements_of(scenario).last_turn - error
    return lead.trustworthy and reading(scenario, lead, turns) > lead.never_above * (1 - READ)


@SOME
@given(settable(), factor(1.0, 2.0))
def test_more_power_never_needs_fewer_turns(scenario, times):
    less, more = solved(scenario).turns_min, solved(with_power(scenario, times)).turns_min
    assert more is None or (less is not None and more >= less - EXACT)


@SOME
@given(settable(), factor(1.0, 2.0))
def test_a_higher_limit_never_allows_fewer_turns(scenario, times):
    low, high = solved(scenario).turns_max, solved(with_limits_times(scenario, times)).turns_max
    assert high is None or (low is not None and high >= low - EXACT)


@SOME
@given(settable(), st.floats(0.0, 0.2))
def test_a_hand_that_errs_more_aims_further_in_and_moves_no_end(scenario, error):
    exact, other = (
        solved(replace(scenario, limits=replace(scenario.limits, turn_error=one)))
        for one in (0.0, error)
    )
    assert (other.turns_min, other.turns_max) == (exact.turns_min, exact.turns_max)
    if not other.open:
        return
    assert other.aim_turns >= other.turns_min + error - EXACT or other.free_turns is not None
    assert other.turns_max is None or other.aim_turns <= other.turns_max - error + EXACT
    lead = other.methods[0].name
    if exact.methods[0].name is lead is not MethodName.TURNS and other.free_turns is None:
        last = requirements_of(scenario).last_turn if other.turns_max is None else other.turns_max
        within = min(max(exact.aim_turns, other.turns_min + error), last - error)
        assert other.aim_turns == pytest.approx(within, abs=EXACT)


@SOME
@given(settable(), st.floats(1.0, 1.5))
def test_a_promise_at_the_start_only_asks_for_more(scenario, wanted):
    without = solved(replace(scenario, limits=replace(scenario.limits, starting_grip=None)))
    promised = replace(scenario, limits=replace(scenario.limits, starting_grip=wanted))
    setting = solved(promised)
    assert setting.turns_max == without.turns_max
    if setting.turns_min is None:
        return
    assert setting.turns_min >= without.turns_min - EXACT
    start = tension_table(promised, [setting.turns_min]).rows[0].starting
    assert start.grip is None or start.grip >= wanted * scenario.driven.starting_factor * (
        1 - EXACT
    )
    if setting.set_turns is not None:
        assert not setting.slips_at_start


@SOME
@given(settable(BOTH_WAYS))
def test_a_drive_that_reverses_keeps_the_worse_of_both_ways(scenario):
    plain = replace(scenario, motor=replace(scenario.motor, reverses=False))
    both, ways = solved(scenario), (solved(plain), solved(flipped(plain)))
    fewest = [math.inf if way.turns_min is None else way.turns_min for way in ways]
    most = [math.inf if way.turns_max is None else way.turns_max for way in ways]
    assert (math.inf if both.turns_min is None else both.turns_min) == pytest.approx(max(fewest))
    assert (math.inf if both.turns_max is None else both.turns_max) == pytest.approx(min(most))


LIKENESSES = {
    "mirror": (mirrored, 1.0),
    "lengths": (lambda scenario: scaled(scenario, 1.7, 1.0), 1.0),
    "forces": (lambda scenario: scaled(scenario, 1.0, 0.6), 0.6),
    "both": (lambda scenario: scaled(scenario, 0.3, 5.0), 5.0),
    "origin along the shaft": (lambda s: along_the_shaft(s, lambda at: at + 0.83), 1.0),
    "shaft seen from the other end": (lambda s: along_the_shaft(s, lambda at: -at), 1.0),
}


@pytest.mark.parametrize("likeness", LIKENESSES)
@settings(max_examples=examples(3))
@given(scenario=settable())
def test_setting_is_the_same_for_a_likeness(likeness, scenario):
    change, force = LIKENESSES[likeness]
    if scenario.adjuster.spring is Giving.PARTS:  # a board is not made larger with its mount
        scenario = rigid(scenario)
    setting, other = solved(scenario), solved(change(scenario))
    assert other.open == setting.open
    assert other.governs.min == setting.governs.min
    for name in ("turns_min", "turns_max", "set_turns", "new_turns"):
        one, two = getattr(setting, name), getattr(other, name)
        assert two == (one if one is None else pytest.approx(one, rel=EXACT, abs=EXACT)), name
    for name in ("tension_min", "tension_max", "set_tension", "new_tension"):
        one, two = getattr(setting, name), getattr(other, name)
        assert two == (one if one is None else pytest.approx(force * one, rel=1e-5)), name
    if setting.spring_balance is not None:
        wanted = force * setting.spring_balance.pull
        assert other.spring_balance.pull == pytest.approx(wanted, rel=1e-5)
        assert other.spring_balance.tightens == setting.spring_balance.tightens


@SOME
@given(settable(), st.floats(-2.0, 2.0))
def test_bearing_loads_do_not_depend_on_the_origin_along_the_shaft(scenario, move):
    try:
        first = tension_table(scenario, [0.0, 0.5, 1.0])
    except MountError:
        assume(condition=False)
    other = tension_table(along_the_shaft(scenario, lambda at: at + move), [0.0, 0.5, 1.0])
    for one, two in zip(first.rows, other.rows, strict=True):
        for case in CASES:
            loads = [bearing.load for bearing in one.cases[case].bearings]
            moved = [bearing.load for bearing in two.cases[case].bearings]
            if None not in loads:
                assert moved == pytest.approx(loads, rel=1e-9, abs=1e-9)


def signed_pull(scenario, setting, pull):
    """Counter-clockwise moment of the spring balance's pull, in the direction that it names."""
    plate = Plate(scenario)
    angle = tension_table(scenario, [setting.set_turns]).rows[0].plate_angle
    tightening = plate.tightens(angle)
    way = 1 if setting.spring_balance.tightens else -1
    return way * tightening * pull * setting.spring_balance.radius


@SOME
@given(settable())
def test_the_spring_balance_holds_belt_and_weights(scenario):
    setting = solved(scenario)
    assume(setting.spring_balance is not None)
    row = tension_table(scenario, [setting.set_turns]).rows[0]
    assume(row.rest.state is State.HELD)
    plate, balance = Plate(scenario), setting.spring_balance
    angle = plate.angle_of(setting.set_tension, row.plate_angle)
    assert angle == pytest.approx(row.plate_angle, abs=1e-9)
    others = plate.forces(angle, setting.set_tension)
    pulled = signed_pull(scenario, setting, balance.pull)
    assert moment(others, plate.hinge) + pulled == pytest.approx(0, abs=1e-6 * abs(pulled) + 1e-6)

    # The same with the pull as a force at its spot and the hinge's reaction closing the polygon:
    # about any other point the moments must vanish too.
    named = scenario.adjuster.plate_pin or scenario.adjuster.tip
    spot = plate.turned(named, angle)
    arm = spot - plate.hinge
    assert math.hypot(*arm) == pytest.approx(balance.radius)
    force = pulled / balance.radius * np.array([-arm[1], arm[0]]) / balance.radius
    acting = [*others, (force, spot)]
    reaction = -sum(one for one, _ in acting)
    elsewhere = np.array([3.0, -7.0])
    assert moment([*acting, (reaction, plate.hinge)], elsewhere) == pytest.approx(
        0, abs=1e-6 * abs(pulled) + 1e-6
    )


@pytest.mark.parametrize("name", TURNED)
def test_the_spring_balance_does_what_the_adjuster_does(name):
    scenario = rigid(SHIPPED[name])
    setting = setting_of(scenario)
    if setting.spring_balance is None:
        assert setting.turns_min > setting.turns_max
        return
    at, step = setting.set_turns, 1e-4
    before, row, after = tension_table(scenario, [at - step, at, at + step]).rows
    coil = scenario.adjuster.coil

    def moved(row):  # of the plate's end of a spring, if there is one
        return row.extension - (0.0 if coil is None else row.rest.adjuster / coil.rate)

    slope = (moved(after) - moved(before)) / (after.plate_angle - before.plate_angle)
    # Work of the adjuster's axial force over a small swing is that of the pull.
    held = row.rest.adjuster * slope
    assert held == pytest.approx(
        signed_pull(scenario, setting, setting.spring_balance.pull), rel=1e-5
    )

"""Whole mounts against plain statics and scipy's root finder (`plain_statics`)."""

import pytest
from plain_statics import PlainMount
from reference_mounts import MOUNTS, SELF_TIGHTENING, mount_text, named_mount

from mountcalc import parse_scenario
from mountcalc.equilibrium.states import State
from mountcalc.table import tension_table

# Both sides find plate angles to rounding; the belt's stiffness makes 1e-9 of a tension of that.
ROUNDING = 1e-8
ANGLE = 1e-11  # [rad]


@pytest.fixture(params=MOUNTS)
def name(request):
    return request.param


@pytest.fixture(params=["ccw", "cw"])
def solved(name, request):
    """One mount: in plain statics, its turns, its table by the package."""
    scenario, turns = named_mount(name, request.param)
    return PlainMount(scenario), turns, tension_table(scenario, turns)


def start_of(plain, turns):
    """Where the adjuster has the plate; without one, where weight and belt balance."""
    return plain.zero() if plain.given.adjuster.kind == "none" else plain.angle_at(turns)


def near(value, scale=1.0):
    return pytest.approx(value, rel=ROUNDING, abs=ROUNDING * scale)


def test_positions(solved):
    plain, turns, table = solved
    assert table.snug.plate_angle == pytest.approx(plain.snug(), abs=ANGLE)
    assert table.zero.plate_angle == pytest.approx(plain.zero(), abs=ANGLE)
    assert table.zero.tension == near(plain.tension(plain.zero()))
    in_contact = plain.given.adjuster.kind != "none"
    for turn, row in zip(turns, table.rows, strict=True):
        start = start_of(plain, turn)
        rest = plain.settle(start, plain.loads()["rest"], in_contact=in_contact)
        assert row.plate_angle == pytest.approx(rest.angle, abs=ANGLE)
        assert row.tension == near(plain.tension(rest.angle))
        assert row.span == near(plain.strands(rest.angle)[0][2])
        if in_contact:
            assert row.extension == near(plain.contact(start)[0])


def test_forces_in_every_case(solved):
    plain, turns, table = solved
    in_contact = plain.given.adjuster.kind != "none"
    count = plain.given.belt.count
    for turn, row in zip(turns, table.rows, strict=True):
        for name, load in plain.loads().items():
            case = row.cases[name]
            rest = plain.settle(start_of(plain, turn), load, in_contact=in_contact)
            assert case.state == rest.state
            assert case.plate_angle == pytest.approx(rest.angle, abs=ANGLE)
            tight, slack = plain.felt(rest.angle, load)
            pull = min(load.pull, plain.most_pull(rest.angle, load.centrifugal))
            hinge, force = plain.reactions(rest.angle, load, held=rest.state is State.HELD)
            size = plain.given.motor.weight
            assert case.pull == near(pull, size)
            assert case.slips == (pull < load.pull)
            if tight > slack > 0:
                assert case.tight == near(tight + load.centrifugal, size)
                assert case.slack == near(slack + load.centrifugal, size)
            assert case.hinge == near(abs(hinge), size)
            assert case.adjuster == near(force, size)
            pulls = zip(plain.strands(rest.angle), (tight, slack), strict=True)
            shaft = abs(sum(felt * along for (_, along, _), felt in pulls)) * count
            assert case.shaft_load == near(shaft, size)


def test_grip(solved):
    plain, turns, table = solved
    in_contact = plain.given.adjuster.kind != "none"
    loads = plain.loads()
    for turn, row in zip(turns, table.rows, strict=True):
        start = start_of(plain, turn)
        for name in ("running", "starting"):
            centrifugal = loads[name].centrifugal
            if plain.tension(start) <= centrifugal and row.state is State.HELD:
                assert row.cases[name].grip == 0
                continue
            grip = plain.grip(start, centrifugal, in_contact=in_contact)
            assert row.cases[name].grip == near(grip)


def self_tightening(**values):
    """A mount that weight alone tensions and the load tightens; its row in the table."""
    scenario = parse_scenario(mount_text(SELF_TIGHTENING, "none", "ccw", **values))
    return PlainMount(scenario), tension_table(scenario).rows[0]


def test_self_tightening_that_slips_in_the_end():
    """Below a tension ratio of 3 the pull grows faster than the mount tightens."""
    plain, row = self_tightening(power="300 W", traction=0.2, stiffness="500 kN")
    load = plain.loads()["running"]
    rest = plain.settle(plain.zero(), load, in_contact=False)
    tight, slack = plain.felt(rest.angle, load)
    assert row.running.state is rest.state is State.RIDING
    assert row.running.plate_angle == pytest.approx(rest.angle, abs=ANGLE)
    assert row.running.tight == near(tight + load.centrifugal)
    assert tight + slack > 2.5 * plain.tension(plain.zero())
    assert row.running.grip == near(plain.grip(plain.zero(), load.centrifugal, in_contact=False))


@pytest.mark.parametrize(
    ("power", "stiffness", "state"),
    [("300 W", "500 kN", State.RIDING), ("360 W", "20 kN", State.AT_STOP)],
)
def test_self_tightening_without_end(power, stiffness, state):
    """Above it the belt never slips: it tightens as far as the load or the travel takes it."""
    plain, row = self_tightening(power=power, traction=0.6, stiffness=stiffness)
    load = plain.loads()["running"]
    rest = plain.settle(plain.zero(), load, in_contact=False)
    assert row.running.state is rest.state is state
    assert row.running.plate_angle == pytest.approx(rest.angle, abs=ANGLE)
    assert row.running.grip is None
    if state is State.RIDING:
        assert row.running.tight == near(plain.felt(rest.angle, load)[0] + load.centrifugal)


def test_held_and_riding_and_slipping_all_occur():
    """The mounts above are worth little if they never leave the bolt or never slip."""
    seen = {
        (name, case.state, case.slips)
        for mount in MOUNTS
        for rotation in ("ccw", "cw")
        for row in tension_table(*named_mount(mount, rotation)).rows
        for name, case in row.cases.items()
    }
    for name in ("running", "starting"):
        for state in (State.HELD, State.RIDING):
            assert {(name, state, True), (name, state, False)} <= seen
    assert {("rest", State.HELD, False), ("rest", State.RIDING, False)} <= seen

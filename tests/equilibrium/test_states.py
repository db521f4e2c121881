"""Zero, states, dead centres and refusals, each on a mount where the answer is plain."""

import dataclasses
import math

import numpy as np
import pytest

from mountcalc.errors import MountError
from mountcalc.scenario.driven import ShaftLoad, When
from mountcalc.table import tension_table

TURNS = [0, 0.5, 1, 2]
# Force [N] that is nothing: a weight of 100 N moved by the rounding of the plate's angle.
NOTHING = 1e-6
# The levers and angles are those as drawn. The plate stands within .2 deg (.0033) of that; what
# is square to an arm changes by the square of it, what leans on a short one by 1 part in 1000.
AS_DRAWN, LEAN = 1e-4, 5e-3
# A closed form of the same equations: only rounding and the solver's own residual part them.
SAME_EQUATIONS = 1e-9
LINK = """kind = "link"
advance_per_turn = "3 mm"
base_pin = ["-0.2 m", "0.1 m"]
plate_pin = ["-0.5 m", "0.1 m"]
"""


def states(table, case="rest"):
    return [row.cases[case].state.value for row in table.rows]


def test_upright_plate_has_zero_at_snug_and_is_held(make_mount):
    """Motor nearly straight above the hinge, leaning a little on the bolt."""
    table = tension_table(make_mount(), TURNS)
    assert table.zero.kind == "snug"
    assert table.tighten_by == "extend"
    assert states(table) == ["held"] * 4
    assert table.rows[0].tension == pytest.approx(0.0, abs=NOTHING)


def test_one_turn_stretches_the_belt_by_the_lever(make_mount):
    """Levers of 0.5 m (tip) and 0.4 m (motor): dC = 0.8 x 1.5 mm, dL = 2 cos(beta) dC."""
    row = tension_table(make_mount(), [1]).rows[0]
    beta = math.asin(0.05 / 0.5)
    expected = 50e3 / 1.476 * 2 * math.cos(beta) * 0.8 * 1.5e-3
    assert row.tension == pytest.approx(expected, rel=AS_DRAWN)
    assert row.tension_per_turn == pytest.approx(expected, rel=AS_DRAWN)


def test_bolt_force_is_that_of_the_levers(make_mount):
    row = tension_table(make_mount(weight="0 N"), [1]).rows[0]
    lever = 2 * row.rest.tight * math.cos(math.asin(0.05 / 0.5)) * 0.4 / 0.5
    assert row.rest.adjuster == pytest.approx(lever, rel=AS_DRAWN)


def test_weight_that_slackens_is_carried_by_a_push_bolt(make_mount):
    table = tension_table(make_mount(hinge_x="-0.6 m", hinge_y="-0.38 m"), TURNS)
    assert table.zero.kind == "snug"
    assert states(table) == ["held"] * 4
    # at zero the bolt carries the weight alone: 100 N x 0.1 m on the tip's lever of 0.48 m
    assert table.rows[0].rest.adjuster == pytest.approx(100 * 0.1 / 0.48, rel=LEAN)


def test_weight_that_tightens_moves_zero_to_contact(make_mount):
    table = tension_table(
        make_mount(hinge_x="-0.4 m", hinge_y="-0.38 m", low="-20 deg", high="20 deg"), [-1, 0, 1]
    )
    assert table.zero.kind == "contact"
    assert states(table) == ["riding", "held", "held"]
    riding, contact, held = table.rows
    assert riding.tension == pytest.approx(table.zero.tension)
    assert riding.rest.adjuster == 0.0
    assert contact.rest.adjuster == pytest.approx(0.0, abs=NOTHING)
    assert held.tension > contact.tension
    # moment about the hinge: 2 T cos(beta) x 0.38 m = 100 N x 0.1 m
    assert contact.tension == pytest.approx(100 * 0.1 / (2 * 0.995 * 0.38), rel=LEAN)


def test_a_bolt_on_the_wrong_side_cannot_tighten(make_mount):
    with pytest.raises(MountError, match="cannot carry the plate where the belt is snug"):
        tension_table(make_mount("pull", hinge_x="-0.6 m"), [0])


def test_weight_that_runs_to_the_tight_end_has_no_zero(make_mount):
    with pytest.raises(MountError, match="turns have no zero"):
        tension_table(make_mount(hinge_x="-0.2 m", weight="20 kN", low="-5 deg", high="5 deg"), [0])


def test_a_link_always_holds(make_mount):
    for hinge_x in ("-0.4 m", "-0.6 m"):
        table = tension_table(make_mount(adjuster=LINK, hinge_x=hinge_x), TURNS)
        assert table.zero.kind == "snug"
        assert states(table) == states(table, "running") == ["held"] * 4


def test_weight_alone_is_one_row_without_turns(make_mount):
    table = tension_table(make_mount(adjuster='kind = "none"', hinge_x="-0.4 m"))
    (row,) = table.rows
    assert row.turns is None
    assert row.extension is None
    assert row.state == "riding"
    assert table.tighten_by is None
    assert table.zero.kind == "contact"


@pytest.mark.parametrize(
    ("changes", "state"),
    [
        ({"hinge_x": "-0.6 m"}, "no_balance"),
        ({"hinge_x": "-0.2 m", "weight": "20 kN", "low": "-5 deg", "high": "5 deg"}, "at_stop"),
    ],
)
def test_weight_alone_without_balance_says_so_with_nulls(make_mount, changes, state):
    table = tension_table(make_mount(adjuster='kind = "none"', **changes))
    (row,) = table.rows
    assert states(table) == states(table, "running") == states(table, "starting") == [state]
    assert table.zero.tension is None
    assert row.tension is None
    for case in row.cases.values():
        assert case.shaft_load is None
        assert case.hinge is None
        assert all(bearing.load is None for bearing in case.bearings)
    assert any("Weight alone" in note.text for note in table.notes)


def test_turns_past_the_travel_are_rows_without_values(make_mount):
    table = tension_table(make_mount(), [0, 200])
    past = table.rows[1]
    assert past.state == "beyond_travel"
    assert past.turns == 200
    assert past.extension is None
    assert past.tension is None
    assert past.plate_angle is None
    assert past.running.grip is None


def test_slack_belt_at_negative_turns(make_mount):
    row = tension_table(make_mount(), [-1]).rows[0]
    assert row.state == "held"
    assert row.tension == 0.0
    assert row.tension_per_turn == 0.0
    assert row.running.grip == 0.0
    assert row.running.slips
    assert row.running.pull == 0.0


def test_zero_power_has_equal_strands_and_no_grip(make_mount):
    row = tension_table(make_mount(power="0 W"), [1]).rows[0]
    assert row.running.tight == pytest.approx(row.running.slack)
    assert row.grip is None
    assert "no pull" in row.running.grip_reason
    assert not row.running.slips


def test_grip_of_a_held_plate_is_the_exponential_law(make_mount):
    row = tension_table(make_mount(), [1]).rows[0]
    speed = 1400 * 2 * math.pi / 60 * 0.05
    pull, centrifugal = 300 / speed, 0.1 * speed**2
    ratio = math.exp(0.5 * (math.pi - 2 * math.asin(0.05 / (row.center_distance))))
    most = 2 * (row.tension - centrifugal) * (ratio - 1) / (ratio + 1)
    assert row.running.grip == pytest.approx(most / pull, rel=SAME_EQUATIONS)
    assert row.starting.grip == pytest.approx(
        2 * row.tension * (ratio - 1) / (ratio + 1) / pull, rel=SAME_EQUATIONS
    )


def test_a_slipping_belt_is_at_its_limit(make_mount):
    row = tension_table(make_mount(power="1 kW"), [0.5]).rows[0]
    case = row.running
    assert case.slips
    assert case.grip < 1
    speed = 1400 * 2 * math.pi / 60 * 0.05
    assert case.pull == pytest.approx(case.grip * 1000 / speed)
    assert case.tight - case.slack == pytest.approx(case.pull)


UPRIGHT_LINK = LINK.replace('["-0.2 m", "0.1 m"]', '["-0.5 m", "-0.5 m"]')


@pytest.fixture
def over_centre(make_mount):
    """Hinge almost between the shafts: the belt soon stops tightening."""
    return make_mount(
        adjuster=UPRIGHT_LINK, hinge_x="-0.1 m", hinge_y="-0.02 m", length="1.478 m",
        low="-30 deg", high="30 deg",
    )  # fmt: skip


def test_dead_centre_of_the_belt_before_the_turns_is_refused(over_centre):
    with pytest.raises(MountError, match=r"dead centre of the belt.*fewer turns"):
        tension_table(over_centre, [0, 50])


def test_dead_centre_elsewhere_clips_the_travel_with_a_note(over_centre):
    table = tension_table(over_centre, [0])
    assert any("dead centre of the belt" in note.text for note in table.notes)


def test_rows_picked_without_turns_stop_before_the_dead_centre(over_centre):
    table = tension_table(over_centre)
    assert 1 < len(table.rows) <= 13
    assert all(row.tension is not None for row in table.rows)


@pytest.mark.parametrize(("length", "word"), [("1.7 m", "too long"), ("1.2 m", "too short")])
def test_belt_that_never_becomes_snug_says_by_how_much(make_mount, length, word):
    with pytest.raises(MountError, match=rf"mm \(.* in\) {word}"):
        tension_table(make_mount(length=length), [0])


def test_amount_of_too_long_is_right(make_mount):
    with pytest.raises(MountError) as error:
        tension_table(make_mount(length="1.7 m"), [0])
    amount = float(str(error.value).split("the belt is ")[1].split(" mm")[0])
    # The amount is told in rounded millimetres; 0.2 mm shorter is snug .02 deg inside the travel.
    short = tension_table(
        make_mount(length=f"{1.7 - amount / 1000 - 2e-4:.6f} m", weight="0 N"), [0]
    )
    assert short.snug.plate_angle == pytest.approx(math.radians(10), abs=math.radians(0.1))


@pytest.mark.parametrize("hinge", [("0 m", "0 m"), ("-0.5 m", "0 m")])
def test_hinge_on_a_shaft_is_refused(make_mount, hinge):
    with pytest.raises(MountError, match="does not change the belt"):
        tension_table(make_mount(hinge_x=hinge[0], hinge_y=hinge[1]), [0])


def test_reversing_the_rotation_changes_the_load_on_a_riding_plate(make_mount):
    tables = {
        way: tension_table(
            make_mount(adjuster='kind = "none"', hinge_x="-0.4 m", rotation=way, power="100 W")
        )
        for way in ("ccw", "cw")
    }
    loads = [tables[way].rows[0].running.shaft_load for way in ("ccw", "cw")]
    # Clearly more than rounding: they are 15 % apart here.
    assert abs(loads[0] - loads[1]) > 0.05 * max(loads)
    at_rest = [tables[way].rows[0].rest.shaft_load for way in ("ccw", "cw")]
    assert at_rest[0] == pytest.approx(at_rest[1])


def test_riding_closed_form(make_mount):
    """Statics of a free plate without slip: T1 + T2 = [2 W e + Te (a_s - a_t)]/(a_t + a_s)."""
    mount = make_mount(
        adjuster='kind = "none"', hinge_x="-0.4 m", power="100 W", motor_pulley="0.2 m",
        length="1.63 m",
    )  # fmt: skip
    case = tension_table(mount).rows[0].running
    phi = case.plate_angle
    arm = np.array([-0.1, 0.4])
    turn = np.array([[math.cos(phi), -math.sin(phi)], [math.sin(phi), math.cos(phi)]])
    motor = np.array([-0.4, -0.4]) + turn @ arm
    along = -motor / np.linalg.norm(motor)
    across = np.array([-along[1], along[0]])
    arms = []
    for side in (1, -1):
        point = motor + side * 0.1 * across - np.array([-0.4, -0.4])
        arms.append(-(point[0] * along[1] - point[1] * along[0]))
    speed = 1400 * 2 * math.pi / 60 * 0.1
    pull, centrifugal = 100 / speed, 0.1 * speed**2
    moment = 100 * -(turn @ arm)[0]
    expected = (2 * moment + pull * (arms[1] - arms[0])) / sum(arms)
    assert case.tight + case.slack - 2 * centrifugal == pytest.approx(expected, rel=SAME_EQUATIONS)


def test_a_mount_that_tightens_itself_says_so_in_a_note(make_mount):
    """Light motor, hinge between the tight strand and the motor: the load draws it tight."""
    mount = make_mount(
        adjuster='kind = "none"', hinge_x="-0.45 m", hinge_y="-0.02 m", weight="20 N",
        power="350 W", motor_pulley="0.08 m", length="1.45 m", low="-30 deg", high="30 deg",
        rotation="cw",
    )  # fmt: skip
    table = tension_table(mount)
    case = table.rows[0].running
    assert table.rows[0].state == "riding"
    assert case.state == "at_stop"
    assert case.shaft_load is None
    assert case.slips is None
    assert case.grip is None
    assert "tightens itself" in case.grip_reason
    assert table.notes[0].id == "pulls-itself-tight"


SNUG_AS_DRAWN = 2 * math.sqrt(0.25 - 0.05**2) + math.pi * 0.15 + 0.1 * math.asin(0.1)


@pytest.mark.parametrize("excess", [0.0, 1e-15, 1e-14, 1e-13, 1e-12, -1e-12, -1e-15, 1e-9])
def test_belt_length_from_the_drawing_itself_is_no_coin_toss(make_mount, excess):
    """The motor straight above the hinge, snug within rounding of there: held, no force."""
    table = tension_table(make_mount(length=f"{SNUG_AS_DRAWN + excess!r} m"), [0, 1])
    assert states(table) == ["held", "held"]
    assert table.rows[0].rest.adjuster == pytest.approx(0.0, abs=NOTHING)
    assert table.rows[1].tension > 10


@pytest.mark.parametrize("longer", [7e-6, 1e-5, 5e-5, 3e-4])
def test_a_contact_with_hardly_any_weight_moment_is_held_at_zero(make_mount, longer):
    table = tension_table(make_mount(length=f"{SNUG_AS_DRAWN + longer!r} m"))
    assert table.rows[0].state == "held"
    assert table.rows[0].rest.adjuster == pytest.approx(0.0, abs=NOTHING)
    assert len(table.rows) > 5
    assert states(table) == ["held"] * len(table.rows)


@pytest.mark.parametrize("stiffness", [5e4, 4.1e5, 1e8])
@pytest.mark.parametrize("aside", [1e-7, 1e-6, 1e-5, 1e-4, 1e-3])
def test_stiff_belts_and_light_moments_hold_at_contact(make_mount, stiffness, aside):
    mount = make_mount(hinge_x=f"{-0.5 + aside} m", hinge_y="-0.3 m")
    belt = dataclasses.replace(mount.belt, stiffness=stiffness)
    table = tension_table(dataclasses.replace(mount, belt=belt), [0, 1])
    assert states(table) == ["held", "held"]


def test_a_belt_that_is_snug_only_at_the_dead_centre_is_refused(make_mount):
    """Hinge nearly between the shafts: the path has its greatest length in the travel."""
    link = UPRIGHT_LINK
    places = {"adjuster": link, "hinge_x": "-0.1 m", "hinge_y": "-0.02 m", "low": "-30 deg"}
    longest = tension_table(make_mount(**places, high="30 deg", length="1.478 m"), [0])
    assert any("dead centre" in note.text for note in longest.notes)
    with pytest.raises(
        MountError, match=r"snug only at a plate angle of .* it cannot be tightened"
    ):
        tension_table(make_mount(**places, high="30 deg", length="1.481178493512672 m"), [0])


def test_rows_are_told_although_a_dead_weight_is_over_the_limit(make_mount):
    mount = make_mount()
    load = ShaftLoad("wheel", 0.15, 900.0, (0.0, -1.0), When.ALWAYS)
    driven = dataclasses.replace(mount.driven, loads=(load,))
    table = tension_table(dataclasses.replace(mount, driven=driven))
    assert table.rows[0].worst_share_of_limit > 1
    assert len(table.rows) > 5
    assert table.rows[-1].running.grip > mount.limits.grip

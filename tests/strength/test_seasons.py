"""What time does to a set belt: creep against the solver's own spring, seasons by hand."""

import math
import re
from dataclasses import replace

import numpy as np
import pytest
from made_mounts import by_name, made, setup
from scipy.constants import inch

from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.solve import solve_mount
from mountcalc.judgement import Verdict
from mountcalc.loads import RIGID
from mountcalc.loads.board import beam_of
from mountcalc.loads.body import Force, bodies
from mountcalc.loads.feet import feet_forces
from mountcalc.loads.space import share_out
from mountcalc.scenario.boards import board_sizes
from mountcalc.strength.giving import give_of_plate
from mountcalc.structure.made import plate_of

YEARS = (365.25 / (50 * 365.25)) ** np.array([0.20, 0.33])
PIECE = {"part": "base", "length": "12 in", "direction": "left", "material": "red oak"}


def held_by(scenario, give):
    """The mount behind a spring that gives so much [m/N]."""
    adjuster = replace(scenario.adjuster, spring=1 / give)
    return solve_mount(Mount.of(replace(scenario, adjuster=adjuster)))


@pytest.mark.parametrize("material", ["plywood", "MDF"])
def test_creep_against_the_solver_with_a_spring_that_softens(material):
    """The bolt's end stays; the spring that stands for the plate gives 1 + k_def as much.

    What the weights bend the plate by is no part of that spring: its end is moved by what they
    hold back.
    """
    scenario = made(plate={"material": material, "joined": "screwed"})
    at = setup(scenario)
    plate = plate_of(scenario)
    give, tension = give_of_plate(at, plate), by_name(at)["tension-left"]
    stiff, case = held_by(scenario, give.per_newton), at.ways[0].at_rest([at.turns])
    rigid, force = float(case.tension[0]), float(case.adjuster[0])
    # As many turns of the mount that gives as make the same tension.
    turns = np.linspace(0, stiff.turns_at(stiff.travel.tight_end), 400)
    there = float(np.interp(rigid, stiff.at_rest(turns).tension, turns))
    grown = plate.creep * YEARS[0]
    end = stiff.zero_extension + there * stiff.advance
    end += np.sign(stiff.advance) * grown * (give.per_newton - give.under_load) * force
    soft = held_by(scenario, give.per_newton * (1 + grown))
    left = soft.at_rest([(end - soft.zero_extension) / soft.advance]).tension[0]
    assert tension.value == pytest.approx(float(left), rel=0.02)
    assert left < 0.99 * rigid


def test_give_of_a_plate_by_virtual_work_at_many_places():
    """The plate's loads at 4000 places instead of closed forms."""
    at = setup(made())
    solved, plate, sizes = at.ways[0], plate_of(at.scenario), board_sizes(at.scenario)

    body = next(one for one in bodies(solved, at.turns) if one.case == "rest")
    none = np.zeros(3)
    # What a newton more at the bolts brings: the belts' pull alone, weights taken off.
    pulled = replace(
        body,
        weight=Force(none, none, none),
        board=Force(body.board.at, none, none),
        bolts=-body.belts.about_hinge[2] / body.leverage,
    )
    pulled = replace(pulled, hinges=-(body.belts.force + pulled.bolts * body.push))

    def carried(one):
        shares = share_out(one, RIGID, sizes.leaf_length, "push")
        beam = beam_of(one, shares, sizes.thickness)
        return np.array([beam.cut(x, beyond=True)[0::3] for x in places])

    ends = [0.0, *(row[0] for row in feet_forces(body)[0]), body.meets[0]]
    places = (np.arange(4000) + 0.5) / 4000 * max(ends)
    now, more = carried(body), carried(pulled) / pulled.bolts
    resists, step = [plate.bending, plate.twisting], places[1] - places[0]
    give = give_of_plate(at, plate)
    assert give.per_newton == pytest.approx(np.sum(more**2 / resists) * step, rel=2e-3)
    loaded = np.sum(now * more / resists) * step / body.bolts
    assert give.under_load == pytest.approx(loaded, rel=2e-3)


def test_stiffness_of_the_plate_by_hand():
    """Plywood, 8 in by 1 1/2 in: E 6.96 GPa, G 7 % of it; J of a rectangle 16 : 3."""
    plate = plate_of(made())
    width, thick = 8 * inch, 1.5 * inch
    assert plate.bending == pytest.approx(6.96e9 * width * thick**3 / 12)
    shape = (1 - 0.63 * thick / width) / 3  # Timoshenko's two terms
    assert plate.twisting == pytest.approx(0.07 * 6.96e9 * shape * width * thick**3, rel=1e-3)
    loose = plate_of(made(plate={"joined": "screwed"}))
    assert loose.bending == pytest.approx(plate.bending / 4)
    assert plate.twisting / 4.4 < loose.twisting < plate.twisting / 3


def test_more_creep_leaves_less_and_what_is_left_is_told_by_its_time():
    left = [
        by_name(setup(made(plate={"material": name})))["tension-left"].value
        for name in ("plywood", "particleboard")
    ]
    assert left[1] < left[0]
    sentence = by_name(setup(made()))["tension-left"].sentence
    order = [sentence.index(when) for when in ("after a day", "after a month", "after a year")]
    assert order == sorted(order)
    assert "turns restore it" in sentence


def test_a_new_belt_beds_in_and_creeps():
    """Bedded in it is a new belt over limits.bedding, less what creep takes of the old one."""
    at = setup(made())
    found = by_name(at)
    new, old = found["new-belt-left"], found["tension-left"]
    rest = float(at.ways[0].at_rest([at.turns]).tension[0])
    wanted = at.new_tension / 1.3 * old.value / rest
    assert new.value == pytest.approx(wanted)
    assert new.verdict is Verdict.NOTE
    assert "look after a day of running" in new.sentence
    lasting = setup(made(limits={"bedding": 1.0}))
    assert by_name(lasting)["new-belt-left"].value > 0.95 * by_name(lasting)["tension-left"].value


def test_turns_to_add_after_each_time_grow():
    sentence = by_name(setup(made(plate={"material": "MDF"})))["tension-left"].sentence
    numbers = re.search(r"up to ([\d.]+), ([\d.]+) and ([\d.]+) turns", sentence).groups()
    turns = [float(one) for one in numbers]
    assert turns == sorted(turns)
    # By the power law the year's is (365/30)^0.2 of the month's, the tension falling a little less.
    assert turns[2] / turns[1] < (365.25 / 30) ** 0.20 * 1.05


def test_oak_across_the_bolts_way_by_hand():
    """12 in of flat-sawn red oak from 6 to 10 %: 12 x 0.00369 x 4 = 0.18 in (Wood Handbook)."""
    wood = {"moisture_from": 6, "moisture_to": 10, "piece": [PIECE]}
    at = setup(made(wood=wood))
    found = by_name(at)["season"]
    assert round(found.value / 25.4, 2) == 0.18
    assert found.limit / 1e3 == pytest.approx(at.range_width)
    assert found.verdict is Verdict.CAUTION
    assert "tightens" in found.sentence
    for key, value, moved in (
        ("direction", "right", 0.18),
        ("direction", "up", 0.0),
        ("direction", "150 deg", 0.18 * math.cos(math.pi / 6)),
        ("cut", "quarter-sawn", 12 * 0.00158 * 4),
        ("material", "plywood", 12 * 0.0002 * 4),
    ):
        other = by_name(setup(made(wood=wood | {"piece": [PIECE | {key: value}]})))["season"]
        assert other.value / 25.4 == pytest.approx(moved, abs=0.003)
    slack = by_name(setup(made(wood=wood | {"piece": [PIECE | {"direction": "right"}]})))["season"]
    assert "slackens" in slack.sentence


def test_wood_on_both_sides_of_the_hinge_cancels():
    both = [PIECE | {"cut": "flat-sawn"}, PIECE | {"cut": "flat-sawn", "part": "plate"}]
    found = by_name(setup(made(wood={"piece": both})))["season"]
    assert found.value == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize("adjuster", [{}, {"kind": "jack-in-plate", "axis": "right"}])
def test_a_base_that_grows_towards_the_plate_pushes_it(adjuster):
    """Whichever of the two carries the bolt, what stands to the right of the plate moves left."""
    found = by_name(setup(made(adjuster=adjuster, wood={"piece": [PIECE]})))["season"]
    assert "tightens" in found.sentence


def test_wood_that_is_not_known_and_rooms():
    found = by_name(setup(made(wood={"piece": [PIECE | {"material": "granite"}]})))["season"]
    assert found.verdict is Verdict.NOTE
    assert "granite" in found.sentence
    plain = {"moisture_from": None, "moisture_to": None, "piece": [PIECE]}
    heated, cold = (
        by_name(setup(made(wood=plain | {"room": room})))["season"].value
        for room in ("heated", "unheated")
    )
    assert cold == pytest.approx(heated * (15 - 9) / (10 - 6))

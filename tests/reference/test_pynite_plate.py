"""The hinged plate in three dimensions against a finite element solver, Pynite.

The solver's x runs along the plate from the hinge, y out of its face, z along the shafts. As a
frame the plate is one bar with stiff arms to hinges, bolts and feet: all of it must agree. As a
plate of quadrilaterals it shows what a bar leaves out: bending across the width.
"""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from Pynite import FEModel3D
from shaft_bodies import plain_body

from mountcalc.formulas.section import bending_stiffness, torsion_constant
from mountcalc.loads.board import beam_of
from mountcalc.loads.body import Force
from mountcalc.loads.feet import feet_forces
from mountcalc.loads.results import Stiffness
from mountcalc.loads.space import share_out
from mountcalc.scenario.model import Acts
from mountcalc.structure.yielding import Softness, give_at_bolts

LEAF = 0.08
WIDTH, THICK, LENGTH = 0.24, 0.018, 0.45
POISSON = 0.25
YOUNG = 3.6e9  # about a fibreboard's
SHEAR = YOUNG / (2 * (1 + POISSON))
BENDING = float(bending_stiffness(YOUNG, WIDTH, THICK))
TWISTING = SHEAR * float(torsion_constant(WIDTH, THICK))
# Arms are so many times as stiff as the plate; what they give is seen in the last figures.
ARM = 1e5
AGREES = 2e-5


def applied(model, node_of, body):
    """Feet and the plate's weight on the model."""
    places, forces = feet_forces(body)
    for at, force in zip([*places, body.board.at], [*forces, body.board.force], strict=True):
        name = node_of(at)
        for direction, part in zip(("FX", "FY", "FZ"), force, strict=True):
            model.add_node_load(name, direction, float(part))


def reaction(model, name, direction):
    return getattr(model.nodes[name], f"Rxn{direction}")["Combo 1"]


def frame(body):
    """A bar along the plate with arms across it."""
    model, nodes = FEModel3D(), {}
    model.add_material("wood", YOUNG, SHEAR, POISSON, 0.0)
    in_its_plane = WIDTH**3 * THICK / 12
    bending, twisting = BENDING / YOUNG, TWISTING / SHEAR
    model.add_section("plate", WIDTH * THICK, in_its_plane, bending, twisting)
    model.add_section("arm", *([ARM * BENDING / YOUNG] * 4))
    places, _ = feet_forces(body)
    stations = sorted({0.0, body.meets[0], float(body.board.at[0]), *places[:, 0].tolist()})
    for x in stations:
        nodes[x, 0.0] = model.add_node(None, x, 0, 0)
    for number, (one, other) in enumerate(pairwise(stations)):
        ends = nodes[one, 0.0], nodes[other, 0.0]
        # Its thin way is out of the face: the section's own z is along the shafts.
        model.add_member(f"plate {number}", *ends, "wood", "plate")

    def node_of(at):
        x, z = float(at[0]), float(at[2])
        if (x, z) not in nodes:
            nodes[x, z] = model.add_node(None, x, 0, z)
            model.add_member(None, nodes[x, 0.0], nodes[x, z], "wood", "arm")
        return nodes[x, z]

    return model, node_of


def solved_frame(body, shift=0.0):
    model, node_of = frame(body)
    hinges = [node_of((0.0, 0.0, z)) for z in body.places.hinges]
    for number, name in enumerate(hinges):
        model.def_support(name, support_DX=True, support_DY=True, support_DZ=number == 0)
    bolts = [node_of((body.meets[0], 0.0, z)) for z in body.places.bolts]
    for name in bolts:
        model.def_support(name, support_DY=True)
    if shift:
        model.def_node_disp(bolts[0], "DY", shift)
    applied(model, node_of, body)
    model.analyze_linear()
    return model, node_of, hinges, bolts


def turned(model, node_of, body):
    """Mean rotation of both rows of feet about the plate's length."""
    places, _ = feet_forces(body)
    rows = {float(x) for x in places[:, 0]}
    return np.mean([model.nodes[node_of((x, 0.0, 0.0))].RX["Combo 1"] for x in rows])


@pytest.mark.parametrize(
    ("hinges", "bolts", "pulley"),
    [
        ((-0.09, 0.09), (0.0,), 0.18),
        ((-0.09, 0.06), (0.03,), 0.25),
        ((-0.09, 0.09), (-0.1, 0.1), 0.18),
        ((-0.05, 0.09), (-0.1, 0.04), 0.11),
    ],
)
def test_hinge_reactions_bolts_and_tilt_are_those_of_a_frame(hinges, bolts, pulley):
    body = plain_body(hinges, bolts, pulley)
    ours = share_out(body, Stiffness(twisting=TWISTING), LEAF, Acts.BOTH)
    model, node_of, hinge_nodes, bolt_nodes = solved_frame(body)
    size = max(np.hypot(*one.force) for one in ours.hinges)
    for hinge, name in zip(ours.hinges, hinge_nodes, strict=True):
        theirs = [reaction(model, name, direction) for direction in ("FX", "FY")]
        assert hinge.force == pytest.approx(theirs, abs=AGREES * size)
    for bolt, name in zip(ours.bolts, bolt_nodes, strict=True):
        assert bolt.force == pytest.approx(reaction(model, name, "FY"), abs=AGREES * size)
    assert reaction(model, hinge_nodes[0], "FZ") == pytest.approx(0.0, abs=AGREES * size)
    assert ours.tilt_along == pytest.approx(turned(model, node_of, body), rel=1e-3)


def test_a_bolt_that_is_further_out_racks_the_frame_as_it_racks_our_plate():
    body, ahead = plain_body((-0.09, 0.09), (-0.1, 0.1)), 4e-4
    still = solved_frame(body)
    moved = solved_frame(body, ahead)
    ours = [
        share_out(body, Stiffness(twisting=TWISTING), LEAF, Acts.BOTH, difference)
        for difference in (0.0, ahead)
    ]
    gained = [reaction(one[0], one[3][0], "FY") for one in (still, moved)]
    assert ours[1].bolts[0].force - ours[0].bolts[0].force == pytest.approx(
        gained[1] - gained[0], rel=1e-3
    )
    tilts = [turned(*one[:2], body) for one in (still, moved)]
    assert ours[1].tilt_along - ours[0].tilt_along == pytest.approx(tilts[1] - tilts[0], rel=1e-3)


def test_the_plate_bends_as_the_frame_does():
    body = plain_body()
    beam = beam_of(body, share_out(body, Stiffness(), LEAF, Acts.PUSH), 0.0)
    model, node_of, *_ = solved_frame(body)
    for place in {float(x) for x in feet_forces(body)[0][:, 0]}:
        theirs = model.nodes[node_of((place, 0.0, 0.0))].DY["Combo 1"]
        assert beam.deflection(place, BENDING) == pytest.approx(theirs, rel=1e-3)
    for number, member in enumerate(
        one for name, one in model.members.items() if name.startswith("plate")
    ):
        start = sorted({0.0, *beam.stations.values()})[number]
        cut = beam.cut(start, beyond=True)
        assert abs(cut.moment) == pytest.approx(
            abs(member.moment("Mz", 0.0)), abs=1e-3 * abs(cut.moment) + 1e-4
        )
        assert abs(cut.twist) == pytest.approx(
            abs(member.torque(0.0)), abs=1e-3 * abs(cut.twist) + 1e-4
        )


def quads(step=0.02):
    """The plate as shells, its foot, hinge and bolt places on the nodes nearest to them."""
    model = FEModel3D()
    model.add_material("wood", YOUNG, SHEAR, POISSON, 0.0)
    xs, zs = np.arange(0, LENGTH + step / 2, step), np.arange(-WIDTH / 2, WIDTH / 2 + 1e-9, step)
    for i, x in enumerate(xs):
        for j, z in enumerate(zs):
            model.add_node(f"{i},{j}", float(x), 0, float(z))
    for i in range(len(xs) - 1):
        for j in range(len(zs) - 1):
            corners = (f"{i},{j}", f"{i},{j + 1}", f"{i + 1},{j + 1}", f"{i + 1},{j}")
            model.add_quad(f"q{i},{j}", *corners, THICK, "wood")

    def node_of(at):
        i, j = np.argmin(np.abs(xs - at[0])), np.argmin(np.abs(zs - at[2]))
        return f"{i},{j}"

    return model, node_of


def test_a_plate_of_shells_gives_the_same_reactions_and_about_the_same_give():
    """Statics decides the reactions; what gives is within a tenth of a bar's."""
    body = plain_body((-0.1, 0.1), (0.0,), 0.18)
    # Feet on nodes.
    body = replace(body, shaft=(0.26, 0.1), places=replace(body.places, feet_middle=0.0))
    model, node_of = quads()
    hinges = [node_of((0.0, 0.0, z)) for z in body.places.hinges]
    for number, name in enumerate(hinges):
        model.def_support(name, support_DX=True, support_DY=True, support_DZ=number == 0)
    bolt = node_of((body.meets[0], 0.0, 0.0))
    model.def_support(bolt, support_DY=True)
    applied(model, node_of, body)
    model.analyze_linear()
    ours = share_out(body, Stiffness(twisting=TWISTING), LEAF, Acts.BOTH)
    size = max(np.hypot(*one.force) for one in ours.hinges)
    for hinge, name in zip(ours.hinges, hinges, strict=True):
        theirs = [reaction(model, name, direction) for direction in ("FX", "FY")]
        assert hinge.force == pytest.approx(theirs, abs=AGREES * size)
    assert ours.bolts[0].force == pytest.approx(reaction(model, bolt, "FY"), rel=AGREES)
    places, _ = feet_forces(body)
    heights = np.array([model.nodes[node_of(at)].DY["Combo 1"] for at in places])
    assert ours.tilt_along == pytest.approx(-np.polyfit(places[:, 2], heights, 1)[0], rel=0.1)
    beam = beam_of(body, ours, 0.0)
    for row in (slice(0, 2), slice(2, 4)):
        bent = beam.deflection(float(places[row][0, 0]), BENDING)
        assert bent == pytest.approx(heights[row].mean(), rel=0.1)


def sunk(model, node_of, body):
    """What the loads on the feet do as they sink, over the square of the bolts' force [m/N]."""
    places, forces = feet_forces(body)
    work = sum(
        float(force[1]) * model.nodes[node_of(at)].DY["Combo 1"]
        for at, force in zip(places, forces, strict=True)
    )
    return work / body.bolts**2


def pulled(hinges, bolts, pulley, pull=(0.0, -300.0)):
    """A plate under its belt's pull alone, square to it."""
    body, none = plain_body(hinges, bolts, pulley, pull), np.zeros(3)
    force = -float(body.belts.about_hinge[2]) / 0.4
    return replace(
        body,
        weight=Force(none, none, none),
        board=Force(body.board.at, none, none),
        bolts=force,
        hinges=-(body.belts.force + np.array([0.0, force, 0.0])),
    )


BY_STRIPS = Softness(bending=1 / BENDING, twisting=1 / TWISTING)


@pytest.mark.parametrize(
    ("hinges", "bolts", "pulley"),
    [
        ((-0.09, 0.09), (0.0,), 0.18),
        ((-0.09, 0.06), (0.03,), 0.25),
        ((-0.09, 0.09), (-0.1, 0.1), 0.18),
        ((-0.05, 0.09), (-0.1, 0.04), 0.11),
    ],
)
def test_what_the_plate_gives_at_its_bolts_is_that_of_the_frame(hinges, bolts, pulley):
    body = pulled(hinges, bolts, pulley)
    model, node_of, *_ = solved_frame(body)
    ours = give_at_bolts(body.levers(0.0), BY_STRIPS, (0.0, -1.0), pulley)
    assert ours.total == pytest.approx(sunk(model, node_of, body), rel=1e-3)


def test_a_bolt_that_gives_way_itself_sinks_as_far_in_the_frame():
    """The bolt's node on a spring instead of a stop: the parts' gives add up there."""
    body = pulled((-0.09, 0.09), (0.0,), 0.0)
    model, node_of = frame(body)
    for number, z in enumerate(body.places.hinges):
        name = node_of((0.0, 0.0, z))
        model.def_support(name, support_DX=True, support_DY=True, support_DZ=number == 0)
    bolt = node_of((body.meets[0], 0.0, 0.0))
    model.def_support_spring(bolt, "DY", 5e4)
    applied(model, node_of, body)
    model.analyze_linear()
    ours = give_at_bolts(body.levers(0.0), replace(BY_STRIPS, bolt=1 / 5e4), (0.0, -1.0), 0.0)
    assert ours.total == pytest.approx(sunk(model, node_of, body), rel=1e-3)
    # A motor that stands amid its feet sinks by what the bolt's line gives, over the levers.
    assert abs(model.nodes[bolt].DY["Combo 1"]) == pytest.approx(body.bolts / 5e4, rel=1e-3)


@pytest.mark.parametrize("pulley", [0.0, 0.18])
def test_a_plate_of_shells_gives_about_as_much_at_its_bolt(pulley):
    """Within a tenth: a bar leaves out that a plate bends across its width, too."""
    body = pulled((-0.1, 0.1), (0.0,), pulley)
    body = replace(body, shaft=(0.26, 0.1), places=replace(body.places, feet_middle=0.0))
    body = replace(
        body,
        belts=replace(body.belts, at=np.array([0.26, 0.1, pulley])),
        bolts=body.bolts * 0.26 / 0.25,
    )
    model, node_of = quads()
    for number, z in enumerate(body.places.hinges):
        name = node_of((0.0, 0.0, z))
        model.def_support(name, support_DX=True, support_DY=True, support_DZ=number == 0)
    model.def_support(node_of((body.meets[0], 0.0, 0.0)), support_DY=True)
    applied(model, node_of, body)
    model.analyze_linear()
    ours = give_at_bolts(body.levers(0.0), BY_STRIPS, (0.0, -1.0), pulley)
    assert ours.total == pytest.approx(sunk(model, node_of, body), rel=0.1)

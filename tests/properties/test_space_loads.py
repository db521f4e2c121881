"""Forces of hinges and bolts along the shafts: they close in three dimensions, and swap sides."""

import math

import numpy as np
import pytest
from closure import CLOSURE, of_rounding
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from random_mounts import mounts
from shaft_bodies import mirrored, with_places
from sizes import examples
from slow_geometry import SlowMount
from tables import solved_or_other

from mountcalc.equilibrium.solve import SolvedMount
from mountcalc.loads import Stiffness, space_loads
from mountcalc.loads.board import beam_of
from mountcalc.loads.body import bodies
from mountcalc.loads.feet import feet_forces
from mountcalc.loads.space import share_out
from mountcalc.scenario.model import Acts, AdjusterKind
from mountcalc.structure.places import places_of

TURNS = 1.5
LEAF = 0.08
gives = st.one_of(st.just(math.inf), st.floats(1.0, 1e6))
stiffnesses = st.builds(Stiffness, st.just(math.inf), gives, gives, gives)


def placed_mounts():
    return mounts().flatmap(with_places)


def loaded(scenario) -> tuple[SolvedMount, list]:
    solved, _ = solved_or_other(scenario)
    found = list(bodies(solved, TURNS))
    assume(found)
    return solved, found


def forces_in_space(solved, case, loads):
    """Where each force on motor and plate acts, and the force: from the drawing's geometry."""
    scenario = solved.mount.scenario
    mount, places, angle = SlowMount(scenario), places_of(scenario), np.asarray(loads.plate_angle)
    count, demand = scenario.belt.count, solved.demands[loads.case]
    for strand, tension in zip(
        mount.tight_and_slack(angle), (case.tight[0], case.slack[0]), strict=True
    ):
        felt = count * max(tension - demand.centrifugal, 0.0)
        yield (*strand.on_motor, places.pulley), felt * strand.pull_direction
    for (at, force), across in zip(mount.weights(angle), (places.motor, places.plate), strict=True):
        yield (*at, across), force
    for bolt in loads.bolts:
        lever = mount.lever(angle)
        yield (*lever.at, bolt.across), bolt.force * lever.push
    for hinge in loads.hinges:
        yield (*mount.hinge, hinge.across), np.array(hinge.force)


@settings(max_examples=examples(60))
@given(placed_mounts(), stiffnesses)
def test_motor_and_plate_balance_in_three_dimensions(scenario, stiffness):
    solved, _ = loaded(scenario)
    cases = solved.cases(solved.place(TURNS), with_grip=False)._asdict()
    for loads in space_loads(solved, TURNS, stiffness):
        found = list(forces_in_space(solved, cases[loads.case], loads))
        at = np.array([place for place, _ in found]) - [*scenario.plate.hinge, 0.0]
        force = np.array([[*one, 0.0] for _, one in found])
        couple = np.array([*loads.hinges[0].couple, 0.0])
        sizes, arms = np.linalg.norm(force, axis=1), np.linalg.norm(at, axis=1)
        least = of_rounding(scenario)
        assert np.abs(force.sum(axis=0)).max() <= CLOSURE * sizes.max() + least
        moment = np.cross(at, force).sum(axis=0) + couple
        in_play = (sizes * arms).max()
        assert np.abs(moment).max() <= CLOSURE * in_play + least * arms.max()


@settings(max_examples=examples(45))
@given(placed_mounts(), stiffnesses)
def test_sums_are_those_of_the_plane(scenario, stiffness):
    solved, _ = loaded(scenario)
    cases = solved.cases(solved.place(TURNS), with_grip=False)._asdict()
    for loads in space_loads(solved, TURNS, stiffness):
        case = cases[loads.case]
        sizes = max(math.hypot(*one.force) for one in loads.hinges)
        total = np.sum([one.force for one in loads.hinges], axis=0)
        assert total == pytest.approx(case.hinge[0], abs=CLOSURE * sizes)
        if scenario.adjuster.kind is AdjusterKind.NONE:
            assert loads.bolts == ()
        else:
            held = math.fsum(one.force for one in loads.bolts)
            assert held == pytest.approx(case.adjuster[0], rel=CLOSURE, abs=CLOSURE * sizes)


@settings(max_examples=examples(45))
@given(placed_mounts(), stiffnesses)
def test_bolts_carry_only_what_they_can(scenario, stiffness):
    solved, _ = loaded(scenario)
    for loads in space_loads(solved, TURNS, stiffness):
        for bolt in loads.bolts:
            assert scenario.adjuster.acts is not Acts.PUSH or bolt.force >= 0
            assert scenario.adjuster.acts is not Acts.PULL or bolt.force <= 0
        assert not loads.loose or 0.0 in [bolt.force for bolt in loads.bolts]


@settings(max_examples=examples(45))
@given(placed_mounts(), stiffnesses)
def test_mirrored_along_the_shafts_the_loads_swap(scenario, stiffness):
    _, found = loaded(scenario)
    acts = scenario.adjuster.acts
    for body in found:
        one, other = (share_out(each, stiffness, LEAF, acts) for each in (body, mirrored(body)))
        size = max(math.hypot(*hinge.force) for hinge in one.hinges)
        for mine, theirs in zip(one.hinges, other.hinges, strict=True):
            assert mine.across == -theirs.across
            assert mine.force == pytest.approx(theirs.force, rel=CLOSURE, abs=CLOSURE * size)
            assert np.array(mine.couple) == pytest.approx(
                -np.array(theirs.couple), rel=CLOSURE, abs=CLOSURE * size
            )
        assert [bolt.force for bolt in one.bolts] == pytest.approx(
            [bolt.force for bolt in other.bolts], rel=CLOSURE, abs=CLOSURE * size
        )
        # Rounding of a tilt grows with what gives: a hinge of 1 N/m is among those drawn.
        near = 1e-12 * max(1.0, size / min(stiffness.twisting, stiffness.hinge, stiffness.bolt))
        assert one.tilt_along == pytest.approx(-other.tilt_along, rel=CLOSURE, abs=near)


@settings(max_examples=examples(45))
@given(placed_mounts(), stiffnesses)
def test_feet_hinges_bolts_and_its_weight_balance_the_plate(scenario, stiffness):
    """Beyond its far end nothing is left to carry, in any of the six directions."""
    _, found = loaded(scenario)
    for body in found:
        loads = share_out(body, stiffness, LEAF, scenario.adjuster.acts)
        beam = beam_of(body, loads, 0.02)
        at, force, moment = (
            np.array([getattr(one, name) for one in beam.forces])
            for name in ("at", "force", "moment")
        )
        sizes, arms = np.linalg.norm(force, axis=1), np.linalg.norm(at, axis=1)
        in_play = (sizes * arms).max() + np.abs(body.belts.moment).max()
        least = of_rounding(scenario)
        assert np.abs(force.sum(axis=0)).max() <= CLOSURE * sizes.max() + least
        about = (np.cross(at, force) + moment).sum(axis=0)
        assert np.abs(about).max() <= CLOSURE * in_play + least * arms.max()
        last = beam.cut(max(beam.stations.values()), beyond=True)
        assert np.abs(last).max() <= CLOSURE * (in_play + sizes.max()) + least * (1 + arms.max())


@settings(max_examples=examples(45))
@given(placed_mounts())
def test_feet_bring_what_belts_and_the_motors_weight_do(scenario):
    _, found = loaded(scenario)
    for body in found:
        at, force = feet_forces(body)
        size = np.linalg.norm(force, axis=1).max()
        total = body.belts.force + body.weight.force
        assert force.sum(axis=0) == pytest.approx(total, abs=CLOSURE * size)
        about = body.belts.about_hinge + body.weight.about_hinge
        assert np.cross(at, force).sum(axis=0) == pytest.approx(about, abs=CLOSURE * size)

"""Which error matters most: against central differences of the solver, and drawn builds."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import scipy.stats
from random_mounts import ADJUSTED, seeded_mount
from setting_mounts import mirrored

from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.solve import solve_mount
from mountcalc.equilibrium.states import State
from mountcalc.errors import MountError
from mountcalc.scenario.model import AdjusterKind
from mountcalc.scenario.reader import parse_scenario, read_scenario
from mountcalc.tolerance.known import known
from mountcalc.tolerance.sample import CUT_OFF, builds_of, deviations
from mountcalc.tolerance.shares import ERRORS, SOURCES, shares_of
from mountcalc.tolerance.turned import rest_tensions, turned

SCENARIOS = sorted((Path(__file__).parents[2] / "scenarios").glob("*.toml"))
TURNS = 0.75
# Of an error, [m] or a share of itself, and what it leaves of a derivative; against the largest.
STEP, RELATIVE = 1e-5, 1e-6
NONE = {
    "hinge": 0.0, "bolt": 0.0, "shaft": 0.0, "belt_length": 0.0, "weights": 0.0,
    "stiffness_factor": 1.0, "traction_factor": 1.0, "turn_error": 0.0, "spring_rate": 0.0,
    "give_factor": 1.0,
}  # fmt: skip
SMALL = {
    "hinge": 2e-5, "bolt": 2e-5, "shaft": 2e-5, "belt_length": 2e-5, "weights": 0.01,
    "stiffness_factor": 1.01, "traction_factor": 1.05, "turn_error": 0.002, "spring_rate": 0.01,
    "give_factor": 1.01,
}  # fmt: skip


def made(scenario, **errors):
    """A scenario made with these errors and no others."""
    return replace(scenario, build=replace(scenario.build, **{**NONE, **errors}))


def off(scenario, error, step):
    """One error in a scenario, as a person at the bench would say it; and metres further out."""
    point, _, axis = error.rpartition("_")
    by = np.array([step * (axis == "x"), step * (axis == "y")])

    def moved(part, *names):
        return replace(part, **{one: tuple((getattr(part, one) + by).tolist()) for one in names})

    def times(part, name, factor):
        return replace(part, **{name: factor * getattr(part, name)})

    parts = {
        "belt_length": lambda: {"belt": replace(belt, length=belt.length + step)},
        "stiffness": lambda: {"belt": times(belt, "stiffness", np.exp(step))},
        "motor_weight": lambda: {"motor": times(motor, "weight", 1 + step)},
        "plate_weight": lambda: {"plate": times(plate, "weight", 1 + step)},
        "driven_shaft": lambda: {"driven": moved(scenario.driven, "shaft")},
        "motor_shaft": lambda: {"motor": moved(motor, "shaft", "center_of_mass")},
        "hinge": lambda: {
            "motor": moved(motor, "shaft", "center_of_mass"),
            "plate": moved(plate, "hinge", "center_of_mass"),
        },
    }
    # Of parts it is that of the drawing, whatever is off.
    gives = replace(scenario.adjuster, spring=Mount.of(scenario).spring)
    scenario = replace(scenario, adjuster=gives)
    belt, motor, plate, adjuster = scenario.belt, scenario.motor, scenario.plate, scenario.adjuster
    if error == "give" and adjuster.spring is not None:
        scenario = replace(scenario, adjuster=times(adjuster, "spring", np.exp(step)))
    if error == "spring_rate" and adjuster.coil is not None:
        coil = times(adjuster.coil, "rate", 1 + step)
        scenario = replace(scenario, adjuster=replace(adjuster, coil=coil))
    changed = parts.get(error) or parts.get(point) or dict
    adjuster, beyond = adjuster_off(scenario.adjuster, point, by)
    return replace(scenario, adjuster=adjuster, **changed()), beyond


def adjuster_off(adjuster, point, by):
    """The adjuster with a point off its place, and how much further out it stands as drawn."""
    if adjuster.kind is AdjusterKind.NONE or point not in ("bears_at", "base_pin", "hinge"):
        return adjuster, 0.0
    if adjuster.kind is AdjusterKind.LINK:
        pins = np.array([adjuster.plate_pin, adjuster.base_pin])
        now = pins + np.outer([point != "base_pin", point == "base_pin"], by)
        beyond = np.hypot(*(now[0] - now[1])) - np.hypot(*(pins[0] - pins[1]))
        plate_pin, base_pin = map(tuple, now.tolist())
        return replace(adjuster, plate_pin=plate_pin, base_pin=base_pin), beyond
    on_plate = adjuster.kind is AdjusterKind.JACK_IN_PLATE
    along = np.array([np.cos(adjuster.axis), np.sin(adjuster.axis)])
    square = np.array([-np.sin(adjuster.face), np.cos(adjuster.face)])
    tip = adjuster.tip + by * (point == "bears_at" or (on_plate and point == "hinge"))
    face = adjuster.tip + by * (not on_plate and point == "hinge")
    beyond = (face - tip) @ square / (along @ square)
    return replace(adjuster, tip=tuple((tip + beyond * along).tolist())), beyond


def answers(scenario, error, step):
    """Zero, tension per turn and tension, by the ordinary solver."""
    turns = TURNS + step * (error in ("zero", "turns"))
    built, beyond = off(scenario, error, step)
    solved = solve_mount(Mount.of(built))
    if built.adjuster.kind is AdjusterKind.NONE:
        return np.array([np.nan, np.nan, solved.at_rest(0.0).tension[0]])
    zero = (solved.zero_extension + beyond) / solved.advance
    rest = solved.at_rest([turns - 1e-2, turns, turns + 1e-2])
    if not solved.mount.gives:
        slope = solved.mount.tension_slope(solved.mount.path(rest.phi).length_slope)
        per_turn = slope * solved.advance / solved.mount.adjuster(rest.phi).extension_slope
        held = rest.state == State.HELD
        return np.array([zero, per_turn[1] if held[1] else 0.0, rest.tension[1]])
    return np.array([zero, (rest.tension[2] - rest.tension[0]) / 2e-2, rest.tension[1]])


def mounts():
    yield from ((path.stem, read_scenario(path)) for path in SCENARIOS)
    springy = read_scenario(SCENARIOS[0]).with_(adjuster={"stiffness": 4e5})
    yield "springy", springy
    mill = read_scenario(next(one for one in SCENARIOS if one.stem == "feed-mill"))
    yield "coil and give", mill.with_(adjuster={"stiffness": 2e4})
    for kind in AdjusterKind:
        found = 0
        for seed in range(200):
            scenario = seeded_mount(seed, (kind,))
            try:
                rest = solve_mount(Mount.of(scenario)).at_rest([TURNS - 0.1, TURNS, TURNS + 0.1])
            except MountError:
                continue
            # At a kink, where the adjuster comes free, there is no derivative.
            if np.all(rest.tension > 0) and len(set(rest.state.tolist())) == 1:
                found += 1
                yield f"{kind.value} {seed}", scenario
            if found == 4:
                break


@pytest.mark.parametrize("scenario", [pytest.param(one, id=name) for name, one in mounts()])
def test_derivatives_are_central_differences_of_the_solver(scenario):
    told = shares_of(scenario, TURNS)
    here = answers(scenario, "turns", 0.0)
    assert [told.zero, told.per_turn, told.tension] == pytest.approx(
        here, rel=1e-4 if scenario.adjuster.gives else 1e-9, abs=1e-9, nan_ok=True
    )
    differences = np.array(
        [
            (answers(scenario, error, STEP) - answers(scenario, error, -STEP)) / (2 * STEP)
            for error in ERRORS
        ]
    ).T
    # What a millimetre, or a per cent, does at most.
    size = np.array([1e-3 if name.endswith(("_x", "_y", "length")) else 1e-2 for name in ERRORS])
    for name, one, other in zip(
        ("zero", "per turn", "tension"), told.derivatives, differences, strict=True
    ):
        if np.all(np.isnan(one)):
            assert np.all(np.isnan(other))
            continue
        scale = np.max(np.abs(other * size)) / size
        # A spring's tension per turn is a difference itself, here over a hundredth of a turn.
        near = 3e-4 if scenario.adjuster.gives and name == "per turn" else RELATIVE
        assert one == pytest.approx(other, rel=near, abs=near * np.min(scale)), name


def test_what_is_cut_off_leaves_so_much_of_a_variance():
    """Against scipy's truncated normal distribution."""
    mill = made(read_scenario(SCENARIOS[0]), weights=0.02)
    told = shares_of(mill, TURNS)
    lone = told.derivatives[2, list(ERRORS).index("turns")] * deviations(mill)["turn_error"]
    assert lone == 0.0
    mill = made(mill, turn_error=0.1)
    told = shares_of(mill, TURNS)
    by = told.derivatives[2][[list(ERRORS).index(name) for name in ("zero", "turns")]]
    variance = scipy.stats.truncnorm(-CUT_OFF, CUT_OFF, scale=0.05).var()
    assert told.variances[2].sum() == pytest.approx(np.sum(by**2) * variance, rel=1e-9)


@pytest.mark.parametrize("name", ["cider-mill", "grindstone", "wood-lathe"])
@pytest.mark.parametrize(
    "source", [one for one in SOURCES if one not in {"spring_rate", "give_factor"}]
)
def test_shares_are_the_variances_of_small_errors(name, source):
    (path,) = (one for one in SCENARIOS if one.stem == name)
    scenario = made(read_scenario(path), **{source: SMALL[source]})
    told = shares_of(scenario, TURNS).variances
    builds = builds_of(scenario, 40_000, 7)
    drawn = solve_mount(Mount.of(scenario))
    tension, per_turn = rest_tensions(builds, TURNS, as_missed=True)
    found = turned(builds, drawn).zero_from_drawn, per_turn[0], tension[0]
    variance = np.array([np.var(one - one[0]) for one in found])
    assert variance == pytest.approx(told.sum(axis=1), rel=0.02, abs=1e-16)
    others = [one != source for one in SOURCES]
    assert not np.any(told[:, others])


@pytest.mark.parametrize("source", ["spring_rate", "give_factor"])
def test_what_gives_at_the_bolt_is_off_as_other_things_are(source):
    """Its share of the variance is what drawn builds have, and one alone is one that was drawn."""
    mill = read_scenario(next(one for one in SCENARIOS if one.stem == "feed-mill"))
    scenario = made(mill.with_(adjuster={"stiffness": 2e4}), **{source: SMALL[source]})
    told, drawn = shares_of(scenario, 8.0).variances, solve_mount(Mount.of(scenario))
    builds = builds_of(scenario, 40_000, 7)
    tension, per_turn = rest_tensions(builds, 8.0, as_missed=True)
    found = turned(builds, drawn).zero_from_drawn, per_turn[0], tension[0]
    variance = np.array([np.var(one - one[0]) for one in found])
    assert variance == pytest.approx(told.sum(axis=1), rel=0.02, abs=1e-16)
    assert variance[2] > 0
    for row in (0, 123):
        alone = solve_mount(Mount.of(builds.alone(row))).at_rest([8.0])
        assert alone.tension[0] == pytest.approx(tension[0][row], rel=1e-9)


@pytest.mark.parametrize("kind", AdjusterKind)
def test_shares_of_every_kind_are_the_variances_of_small_errors(kind):
    """Each answer of random mounts, all errors at once; one that gives, too."""
    checked = 0
    for seed in range(20):
        scenario = made(seeded_mount(seed, (kind,)), **SMALL)
        if seed % 2 and kind is not AdjusterKind.NONE:
            scenario = replace(scenario, adjuster=replace(scenario.adjuster, spring=1e6))
        try:
            drawn = solve_mount(Mount.of(scenario))
            rest = drawn.at_rest([TURNS - 0.1, TURNS, TURNS + 0.1])
        except MountError:
            continue
        if not np.all(rest.tension > 0) or len(set(rest.state.tolist())) > 1:
            continue
        told = shares_of(scenario, TURNS).variances.sum(axis=1)
        builds = builds_of(scenario, 100_000, 7)
        tension, per_turn = rest_tensions(builds, TURNS, as_missed=True)
        found = turned(builds, drawn).zero_from_drawn, per_turn[0], tension[0]
        for name, values, variance in zip(
            ("zero", "per turn", "tension"), found, told, strict=True
        ):
            if np.isfinite(variance) and variance > 0.0:
                told_of = f"{name} of {seed}"
                assert np.var(values) == pytest.approx(variance, rel=0.03), told_of
        checked += 1
        if checked == 3:
            return
    assert checked > 1


@pytest.mark.parametrize("name", ["cider-mill", "grindstone"])
def test_what_matters_most_does_so_with_errors_as_large_as_they_are(name):
    """Each error alone, as large as a workshop has it, in drawn builds: within six in a hundred."""
    scenario = read_scenario(next(one for one in SCENARIOS if one.stem == name))
    usual = known(scenario)
    drawn = solve_mount(Mount.of(scenario))

    def variances(build):
        builds = builds_of(replace(scenario, build=build), 20_000, 3)
        tension, per_turn = rest_tensions(builds, TURNS, as_missed=True)
        zero = turned(builds, drawn).zero_from_drawn
        return np.array([np.var(one) for one in (zero, per_turn[0], tension[0])])

    told = shares_of(scenario, TURNS).variances
    told /= told.sum(axis=1, keepdims=True)
    lone = [replace(usual, **{**NONE, one: getattr(usual, one)}) for one in SOURCES]
    found = np.stack([variances(one) for one in lone], axis=1) / variances(usual)[:, np.newaxis]
    assert told == pytest.approx(found, abs=0.06)
    assert np.array_equal(np.argmax(told, axis=1), np.argmax(found, axis=1))


def test_shares_together_are_the_variances_of_all():
    scenario = made(read_scenario(SCENARIOS[0]), **SMALL)
    told = shares_of(scenario, TURNS).variances
    builds = builds_of(scenario, 100_000, 1)
    tension, _ = rest_tensions(builds, TURNS, as_missed=True)
    assert np.var(tension) == pytest.approx(told[2].sum(), rel=0.02)


@pytest.mark.parametrize("kind", ADJUSTED)
def test_a_mirror_image_has_the_same_shares(kind):
    seen = 0
    for seed in range(20):
        scenario = seeded_mount(seed, (kind,))
        try:
            told = shares_of(scenario, TURNS)
        except MountError:
            continue
        seen += 1
        other = shares_of(mirrored(scenario), TURNS)
        assert other.variances == pytest.approx(told.variances, rel=1e-6, abs=1e-12)
    assert seen > 10


@pytest.mark.parametrize("path", SCENARIOS, ids=lambda path: path.stem)
def test_other_units_have_the_same_shares(path):
    scenario = read_scenario(path)
    other = "metric" if scenario.display.value == "inch" else "inch"
    same = parse_scenario(scenario.with_(display=other).to_toml())
    told, again = shares_of(scenario, TURNS), shares_of(same, TURNS)
    for one, (mine, theirs) in enumerate(zip(again.variances, told.variances, strict=True)):
        # Of what gives, the tension per turn is a difference itself, and as good as that.
        near = 1e-8 if one == 1 and scenario.adjuster.gives else 1e-9
        assert mine == pytest.approx(theirs, rel=near, nan_ok=True)

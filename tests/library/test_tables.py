"""Many variants at once, against the table of each alone."""

import dataclasses

import numpy as np
import pytest

import mountcalc as library
from mountcalc.scenario.model import Acts

TURNS = np.arange(0.0, 4.0, 0.5)
VARIANTS = 6


def variant(scenario, hinge, tip, stiffness):
    """A scenario with other points, by its values: clashes of points are not looked for."""
    key = "tip" if scenario.adjuster.plate_pin is None else "plate_pin"
    point = {} if tip is None else {key: tuple(map(float, tip))}
    return dataclasses.replace(
        scenario,
        plate=dataclasses.replace(scenario.plate, hinge=tuple(map(float, hinge))),
        belt=dataclasses.replace(scenario.belt, stiffness=float(stiffness)),
        adjuster=dataclasses.replace(scenario.adjuster, **point),
    )


def drawn(scenario, spread, seed):
    """Hinges, tips and stiffnesses around those of a scenario."""
    random = np.random.default_rng(seed)
    hinge = scenario.plate.hinge + random.uniform(-spread, spread, (VARIANTS, 2))
    tip = scenario.adjuster.tip or scenario.adjuster.plate_pin
    if tip is not None:
        tip = tip + random.uniform(-spread, spread, (VARIANTS, 2))
    return hinge, tip, scenario.belt.stiffness * random.uniform(0.5, 2.0, VARIANTS)


@pytest.mark.parametrize("acts", [None, *Acts])
@pytest.mark.parametrize("spread", [0.01, 0.2])
def test_each_variant_is_as_alone(scenario_file, spread, acts):
    scenario = library.read_scenario(scenario_file)
    own = scenario.adjuster.acts
    if acts is not None:
        if scenario.adjuster.acts is None:
            pytest.skip("nothing acts")
        adjuster = dataclasses.replace(scenario.adjuster, acts=acts)
        scenario = dataclasses.replace(scenario, adjuster=adjuster)
    hinge, tip, stiffness = drawn(scenario, spread, seed=7)
    found = library.tables(scenario, TURNS, hinge=hinge, tip=tip, stiffness=stiffness)
    solved = 0
    for index in range(VARIANTS):
        point = None if tip is None else tip[index]
        alone = variant(scenario, hinge[index], point, stiffness[index])
        try:
            table = library.table(alone, TURNS)
        except library.MountError as error:
            assert found.why_not[index] == str(error)
            assert all(np.all(np.isnan(one[index])) for one in numbers(found).values())
            continue
        solved += 1
        assert found.why_not[index] == ""
        columns = table.columns()
        assert set(found.columns) <= set(columns)
        for name, values in found.columns.items():
            if values.dtype.kind == "f":
                size = np.nanmax(np.abs(columns[name]), initial=1e-12)
                np.testing.assert_allclose(
                    values[index], columns[name], rtol=0, atol=1e-9 * size, err_msg=name
                )
            else:
                assert list(values[index]) == list(columns[name]), name
    # One that is pushed alone cannot be pulled, nor the other way.
    assert solved or spread > 0.1 or {acts, own} == {Acts.PUSH, Acts.PULL}


def numbers(found):
    return {name: one for name, one in found.columns.items() if one.dtype.kind == "f"}


def test_the_whole_table_but_what_the_belt_may_be_is_there(cider):
    scenario = library.read_scenario(cider)
    found = library.tables(scenario, [1.0], stiffness=[scenario.belt.stiffness])
    left_out = set(library.table(scenario, [1.0]).columns()) - set(found.columns)
    band = {"tension_low", "tension_high", "slips_if_soft", "over_limit_if_stiff"}
    feel = {"turns", "span", "span_frequency", "deflection", "deflection_force"}
    of_a_limit = {one for one in left_out if one.endswith(("share_of_limit", "_name", "_reason"))}
    assert left_out - band - feel == of_a_limit
    assert "running_bearing_1_share_of_limit" in found.columns


@pytest.mark.parametrize(
    ("variants", "named"),
    [
        ({}, "variants"),
        ({"stiffness": [1e4], "hinge": [[0, 0], [0, 1]]}, "variants"),
        ({"stiffness": [[1e4]]}, "stiffness"),
        ({"stiffness": [0.0]}, "stiffness"),
        ({"stiffness": [-1.0, 1e4]}, "stiffness"),
        ({"hinge": [0.0, 1.0]}, "hinge"),
        ({"hinge": [[np.nan, 0.0]]}, "hinge"),
        ({"tip": "here"}, "tip"),
    ],
)
def test_arrays_that_cannot_be_used_are_named(cider, variants, named):
    with pytest.raises(library.InputError, match=named):
        library.tables(library.read_scenario(cider), [1.0], **variants)


def test_a_mount_without_adjuster_has_no_tip(cider):
    blower = library.read_scenario(cider.with_name("forge-blower.toml"))
    with pytest.raises(library.InputError, match="tip"):
        library.tables(blower, [0.0], tip=[[0.0, 0.0]])

"""The give that a scenario's parts tell, in the solver and on every page that counts turns."""

import math
import re
from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest
from scipy.optimize import brentq

import mountcalc as library
from mountcalc.equilibrium.give import unsaid_give
from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.solve import solve_mount
from mountcalc.errors import ScenarioError
from mountcalc.handbook.wood import wood
from mountcalc.place.as_scenario import as_scenario
from mountcalc.place.feasible.drives import drives_of
from mountcalc.place.feasible.layouts import DIMENSIONS, layouts_from
from mountcalc.place.feasible.statics import Statics, compliance_of
from mountcalc.scenario.model import AdjusterKind
from mountcalc.scenario.reader import read_scenario, read_search
from mountcalc.structure import made
from mountcalc.structure.give import give_of_parts

STEEL = 207e9
MILL = read_scenario("scenarios/cider-mill.toml").with_(adjuster={"stiffness": "parts"})
CLEANER = read_scenario("scenarios/seed-cleaner.toml")
LATHE = read_scenario("scenarios/wood-lathe.toml").with_(adjuster={"stiffness": "parts"})
# Of each kind; a screw through the plate bears on a base that is told.
KINDS = {
    "base": MILL,
    "two bolts": CLEANER,
    "link": LATHE,
    "plate": read_scenario("scenarios/grindstone.toml").with_(
        plate={"material": "pine", "thickness": "3/4 in"},
        adjuster={"stiffness": "parts"},
        base={"material": "oak", "direction": "30 deg"},
    ),
}


def parts_of(scenario):
    return {one.name: one.stiffness for one in Mount.of(scenario).parts_give.parts}


def test_bolt_tip_and_leaves_by_hand():
    """Rod, pad and cantilever: k = EA/l; E d; 3 EI/l^3, of two leaves on each of two hinges."""
    found = parts_of(CLEANER.with_(adjuster={"bolt": None}))
    area = math.pi / 4 * (0.012 - 0.938194 * 0.00175) ** 2
    assert found["the bolt"] == pytest.approx(STEEL * area / 0.05, rel=1e-9)
    through = wood("MDF", 0.008).modulus.value * 0.05
    assert found["the wood under the tip"] == pytest.approx(through * 0.04)
    reach = 0.005 + 0.035 / 3
    leaf = 3 * STEEL * 0.08 * 0.0025**3 / 12 / reach**3
    # The motor stands amid plate and bolts: a newton at the bolts is 0.2/0.21 of one at the hinges,
    # and what the belt pulls beside them by 0.15 m loads one more than the other.
    levers = (0.41 - 0.21) / 0.21
    assert leaf / (2 * found["the hinges' leaves"]) > levers**2 / 2


def test_a_screws_slip_by_hand():
    """EN 1995-1-1, Table 7.1: rho^1.5 d/23 N/mm, twice that in steel: 18 kN/mm of four."""
    alike = CLEANER.with_(hinge={"leaf_thickness": None}, adjuster={"stands_out": None})
    board = wood("MDF", 0.008).gravity.value * 1120
    one = 2 * board**1.5 * 4 / 23 * 1e3
    # A belt that pulls along the plate loads the screws; square to it nothing does.
    pulled = replace(alike, driven=replace(alike.driven, shaft=(0.6, 0.36)))
    mount = Mount.of(pulled)
    force = mount.adjuster(0.0).extension_slope
    assert math.isfinite(float(force))
    slips = parts_of(pulled)["the hinges' screws"]
    assert slips < 2 * 4 * one * 50
    stiffer = parts_of(pulled.with_(hinge={"screws_per_leaf": 8}))["the hinges' screws"]
    assert stiffer == pytest.approx(2 * slips)


def test_what_is_not_told_is_left_out_and_said():
    bare = MILL.with_(
        hinge={"leaf_thickness": None, "screw": None}, adjuster={"pad": None, "stands_out": None}
    )
    found = Mount.of(bare).parts_give
    assert {one.name for one in found.parts} == {
        "the plate, bent",
        "the plate, twisted",
        "the wood under the tip",
    }
    keys = ("adjuster.stands_out", "base.material", "hinge.leaf_thickness", "hinge.screw")
    assert found.left_out == keys
    text = " ".join(library.table(bare).to_dict()["notes"])
    assert "Not told and taken as rigid: adjuster.stands_out, base.material" in text
    assert sum(one.share for one in found.parts) == pytest.approx(1.0)
    assert 1 / found.stiffness == pytest.approx(sum(1 / one.stiffness for one in found.parts))
    assert all(one.source and one.sure for one in found.parts)


@pytest.mark.parametrize("kind", KINDS)
def test_stiffer_boards_come_to_the_rigid_mount_as_one_over_k(monkeypatch, kind):
    """E a hundred to ten thousand times: what is missing falls by ten for each ten."""
    alone = KINDS[kind].with_(
        hinge={"leaf_thickness": None, "screw": None}, adjuster={"stands_out": None}
    )
    if kind == "link":
        alone = alone.with_(adjuster={"thread": None})
    rigid = solve_mount(Mount.of(alone.with_(adjuster={"stiffness": "rigid"})))
    turns, missing = 0.05 * rigid.turns_at(rigid.travel.tight_end), []
    tension = float(rigid.at_rest([turns]).tension[0])
    for times in (1e2, 1e3, 1e4):

        def stiff(text, thickness=None, times=times):
            board = wood(text, thickness)
            return replace(board, modulus=replace(board.modulus, value=times * board.modulus.value))

        monkeypatch.setattr(made, "wood", stiff)
        give_of_parts.cache_clear()
        solved = solve_mount(Mount.of(alone))
        missing.append(tension - float(solved.at_rest([turns]).tension[0]))
    monkeypatch.undo()
    give_of_parts.cache_clear()
    assert missing[0] != 0
    assert missing[1] / missing[0] == pytest.approx(0.1, rel=0.05)
    assert missing[2] / missing[1] == pytest.approx(0.1, rel=0.01)


@pytest.mark.parametrize("kind", KINDS)
def test_what_the_bolt_does_is_in_belt_weights_and_parts(kind):
    """The work at the bolt's end, by Simpson's rule, is what belt, weights and parts gained."""
    solved = solve_mount(Mount.of(KINDS[kind]))
    last = 0.4 * solved.turns_at(solved.travel.tight_end)
    turns = np.linspace(0.1 * last, last, 401)
    case, mount = solved.at_rest(turns), solved.mount
    step = solved.advance * (turns[1] - turns[0])
    weights = np.ones(turns.size)
    weights[1:-1:2], weights[2:-1:2] = 4.0, 2.0
    work = float(np.sum(weights * case.adjuster) * step / 3.0)
    stored = mount.energy(case.phi) + mount.strain_energy(case.adjuster)
    assert work == pytest.approx(float(stored[-1] - stored[0]), rel=1e-6)
    given = mount.strain_energy(case.adjuster)
    assert given[-1] - given[0] > 0.02 * abs(work)


def at_bolt(scenario, stiffness):
    """Tension at turns of a jack in the base, by plain geometry and scipy's root finding."""
    plate, motor, adjuster = scenario.plate, scenario.motor, scenario.adjuster
    hinge, belt = complex(*plate.hinge), scenario.belt
    small, large = motor.pulley_radius, scenario.driven.pulley_radius
    axis = complex(math.cos(adjuster.axis), math.sin(adjuster.axis))
    face = complex(math.cos(adjuster.face), math.sin(adjuster.face))

    def turned(point, phi):
        return hinge + (complex(*point) - hinge) * complex(math.cos(phi), math.sin(phi))

    def tension(phi):
        apart = abs(turned(motor.shaft, phi) - complex(*scenario.driven.shaft))
        lean = math.asin((large - small) / apart)
        length = 2 * apart * math.cos(lean) + math.pi * (large + small) + 2 * (large - small) * lean
        return belt.stiffness * max(length / belt.length - 1.0, 0.0), length

    def extension(phi):
        # Where the line of the bolt meets the plate's face, which is turned with the plate.
        at = turned(adjuster.tip, phi) - complex(*adjuster.tip)
        normal = 1j * face * complex(math.cos(phi), math.sin(phi))
        return (at * normal.conjugate()).real / (axis * normal.conjugate()).real

    def energy(phi):
        stretch = max(tension(phi)[1] - belt.length, 0.0)
        lifted = motor.weight * turned(motor.center_of_mass, phi).imag
        lifted += plate.weight * turned(plate.center_of_mass, phi).imag
        return 0.5 * belt.count * belt.stiffness / belt.length * stretch**2 + lifted

    def slope(function, phi, step=1e-5):
        return (function(phi + step) - function(phi - step)) / (2 * step)

    def end(phi):
        force = slope(energy, phi) / slope(extension, phi)
        return extension(phi) + (force / stiffness if stiffness else 0.0)

    low, high = plate.travel
    snug = brentq(lambda phi: tension(phi)[1] - belt.length, low, high, xtol=1e-14)
    # A hair to the tight side of snug, where the central difference sees the belt on both sides.
    sign = math.copysign(1.0, slope(lambda phi: tension(phi)[1], snug))
    way = math.copysign(adjuster.advance_per_turn, sign * slope(extension, snug))
    weights = motor.weight * slope(lambda phi: turned(motor.center_of_mass, phi).imag, snug)
    weights += plate.weight * slope(lambda phi: turned(plate.center_of_mass, phi).imag, snug)
    zero = extension(snug) + (weights / slope(extension, snug) / stiffness if stiffness else 0.0)
    far = high if sign > 0 else low

    def found(turns):
        wanted = zero + way * turns
        phi = brentq(lambda at: end(at) - wanted, snug + 2e-5 * sign, far - 2e-5 * sign, xtol=1e-14)
        return tension(phi)[0]

    return found


@pytest.mark.parametrize("scenario", [MILL, CLEANER], ids=["mill", "cleaner"])
def test_a_turn_with_and_without_the_give_by_plain_geometry(scenario):
    turns, step = (1.5, 0.05) if scenario is MILL else (9.0, 0.2)
    (row,) = library.table(scenario, turns=[turns]).rows
    gives, rigid = (
        at_bolt(scenario, one) for one in (Mount.of(scenario).parts_give.stiffness, None)
    )
    assert row.tension == pytest.approx(gives(turns), rel=1e-5)
    by_steps = (gives(turns + step) - gives(turns - step)) / (2 * step)
    assert row.tension_per_turn == pytest.approx(by_steps, rel=2e-3)
    # Without give as many newtons come sooner.
    same = brentq(lambda turn: rigid(turn) - row.tension, 0.05, turns)
    by_steps = (rigid(same + step / 5) - rigid(same - step / 5)) / (0.4 * step)
    assert row.tension_per_turn_rigid == pytest.approx(by_steps, rel=2e-3)
    assert row.tension_per_turn < 0.75 * row.tension_per_turn_rigid


def test_table_setting_card_and_check_reckon_with_the_same_give():
    table, setting = library.table(MILL).to_dict(), library.setting(MILL).to_dict()
    for key in ("adjuster_stiffness_N_m", "parts_give"):
        assert table[key] == setting[key]
    found = table["parts_give"]
    assert table["adjuster_stiffness_N_m"] == found["stiffness_N_m"]
    assert {*found["parts"][0]} == {"name", "stiffness_N_m", "share", "source", "sure"}
    turns = setting["set_turns"]
    (row,) = library.table(MILL, turns=[turns]).rows
    assert row.tension == pytest.approx(setting["set_tension_N"], rel=1e-9)
    checked = library.check(MILL)
    assert checked.turns == turns
    (told,) = (one for one in checked.judgements if one.name == "plate-give")
    assert told.value * 1e3 == pytest.approx(found["stiffness_N_m"])
    # A value in the place of the parts is the same mount.
    alike = MILL.with_(adjuster={"stiffness": found["stiffness_N_m"]})
    assert library.setting(alike).setting.set_turns == turns


def test_pages_lead_with_what_nobody_says_and_what_they_say_holds(mountcalc, tmp_path, cider):
    path, told = tmp_path / "said.toml", set()
    lines = cider.read_text().splitlines(keepends=True)
    text = "".join(line for line in lines if not line.startswith('stiffness = "parts"'))
    path.write_text(text)
    for command in ("table", "setting", "check"):
        page = mountcalc(command, path).out
        assert len(page.splitlines()) <= 45
        lead = " ".join(page.split("Give: ")[1].split("\n\n")[0].split())
        assert page.index("Give: ") < page.index("Verdict: ")
        assert lead.endswith('Set adjuster.stiffness = "parts".')
        told.add(lead)
    (lead,) = told
    pounds, more, rigid = re.search(
        r"give: (\d+) lbf on each strand takes about (\d+ \d+/\d+) turns, not (.*?)\. Set", lead
    ).groups()
    # Said either way, there is nothing to lead with, and the turns are those.
    for said, turns in (("parts", more), ("rigid", rigid)):
        path.write_text(text.replace("[adjuster]", f'[adjuster]\nstiffness = "{said}"', 1))
        for command in ("table", "setting", "check"):
            assert "Set adjuster.stiffness" not in mountcalc(command, path).out
        whole, _, part = turns.partition(" ")
        count = float(int(whole) + Fraction(part))
        (row,) = library.table(read_scenario(path), turns=[count]).rows
        assert row.tension / 4.4482216 == pytest.approx(float(pounds), abs=0.6)


def test_little_give_is_no_headline():
    stiff = MILL.with_(plate={"thickness": "3 in"}, adjuster={"stiffness": None, "across": "4 in"})
    found = unsaid_give(Mount.of(stiff), 0.0)
    assert found.share > 0.9
    assert not found.matters
    assert unsaid_give(Mount.of(MILL), 0.0) is None


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"plate": {"material": None}}, '"parts" computes it from the plate: plate.material'),
        ({"plate": {"thickness": None}}, "plate: plate.thickness wanted, or a stiffness instead"),
        ({"plate": {"material": "granite"}}, 'nothing is known of "granite"'),
        ({"adjuster": {"stiffness": "part"}}, 'did you mean "parts"?'),
        ({"adjuster": {"stiffness": "300 mm"}}, "force per length"),
        ({"adjuster": {"stiffness": 0.0}}, "adjuster.stiffness"),
    ],
)
def test_what_cannot_be_computed_is_one_clear_line(change, said):
    with pytest.raises(ScenarioError) as refused:
        MILL.with_(**change)
    (line,) = str(refused.value).splitlines()
    assert said in line
    assert "adjuster.stiffness" in line


@pytest.mark.parametrize("said", ["parts", "rigid"])
def test_it_is_written_as_it_was_said(said):
    scenario = MILL.with_(adjuster={"stiffness": said})
    assert f'stiffness = "{said}"' in scenario.to_toml()
    assert library.parse_scenario(scenario.to_toml()).adjuster == scenario.adjuster


def test_each_layout_of_a_search_has_its_own_give():
    search = read_search("scenarios/fretsaw-bench.toml")
    scenario = search.scenario.with_(
        plate={"material": "plywood", "thickness": "1 in"},
        adjuster={"stiffness": "parts", "stands_out": "2 in"},
        base={"material": "oak", "direction": "200 deg"},
    )
    kinds = AdjusterKind.JACK_IN_BASE, AdjusterKind.JACK_IN_PLATE, AdjusterKind.LINK
    space = replace(search.space, kinds=kinds)
    unit = np.random.default_rng(3).random((40, len(DIMENSIONS)))
    layouts = layouts_from(unit, space, scenario)
    layouts = layouts.take(np.flatnonzero(layouts.fault == 0))
    drives = drives_of(scenario, space, 0.02, 0.03)
    found = compliance_of(Statics(scenario, space, layouts, drives.of(layouts.belt)))
    assert len({*layouts.kind.tolist()}) == 3
    assert found.max() > 2 * found.min()
    for row in range(len(layouts)):
        one = as_scenario(scenario, space, layouts, row, (-0.1, 0.1))
        one = replace(one, adjuster=replace(one.adjuster, spring=scenario.adjuster.spring))
        assert Mount.of(one).spring == pytest.approx(1 / found[row], rel=1e-9)


def test_variants_of_a_mount_give_each_as_it_is_built():
    hinges = np.array([MILL.plate.hinge, (MILL.plate.hinge[0], MILL.plate.hinge[1] - 0.02)])
    many = library.tables(MILL, [1.0], hinge=hinges)
    for row, hinge in enumerate(hinges):
        one = replace(MILL, plate=replace(MILL.plate, hinge=tuple(hinge.tolist())))
        alone = library.table(one, turns=[1.0]).rows[0]
        assert many.columns["tension"][row, 0] == pytest.approx(alone.tension, rel=1e-9)


def test_readings_of_a_mount_that_gives_are_fitted_with_its_give():
    from reading_logs import read_at

    from mountcalc.fit.fitting import fit_readings
    from mountcalc.fit.readings import Reading, ReadingMethod

    log = [
        Reading(turns=turns, method=ReadingMethod.SWINGS, value=1.0, row=row)
        for row, turns in enumerate((1.0, 1.5, 2.0, 2.5), 1)
    ]
    readings, _ = read_at(MILL, log, times=1.2, zero=0.1)
    fit = fit_readings(MILL, readings)
    assert fit.stiffness_times.value == pytest.approx(1.2, rel=1e-3)
    as_rigid = fit_readings(MILL.with_(adjuster={"stiffness": "rigid"}), readings)
    assert as_rigid.stiffness_times.value < 0.9 * fit.stiffness_times.value

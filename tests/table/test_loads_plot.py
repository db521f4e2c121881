"""The loads picture shows what the table says: read back from its axes."""

from dataclasses import replace

import numpy as np
import pytest
from plot_mounts import CIDER, KINDS, MOUNTS, SHIPPED, by_gid, shown_texts

from mountcalc.equilibrium.mount import Mount
from mountcalc.formulas.belt import least_tension
from mountcalc.pages.curves import crossing, spans
from mountcalc.pages.plot_style import spread
from mountcalc.scenario.model import AdjusterKind
from mountcalc.scenario.text.writing import Display
from mountcalc.table.pictures import loads_figure
from mountcalc.table.table import tension_table
from mountcalc.units import si_factor

CASES = ("rest", "running", "starting")
TURNED = [name for name in KINDS if MOUNTS[name].adjuster.kind is not AdjusterKind.NONE]
WITH_ADJUSTER = pytest.mark.parametrize("name", TURNED)


def unit_of(scenario):
    return si_factor("lbf" if scenario.display.value == "inch" else "N")


def one_line(figure, gid):
    (line,) = by_gid(figure, gid)
    return np.asarray(line.get_xdata(), dtype=float), np.asarray(line.get_ydata(), dtype=float)


@WITH_ADJUSTER
def test_curves_are_the_tables_numbers(drawn_loads, name):
    scenario, table, figure = drawn_loads(name)
    turns = [row.turns for row in table.rows]
    for quantity in range(3):
        for case in CASES:
            cases = [row.cases[case] for row in table.rows]
            loads = [
                one.shaft_load if quantity == 0 else one.bearings[quantity - 1].load
                for one in cases
            ]
            x, y = one_line(figure, f"load {quantity} {case}")
            assert x.tolist() == turns
            assert y * unit_of(scenario) == pytest.approx(
                np.array(loads, dtype=float), nan_ok=True, rel=1e-12
            )
    for gid, field in (
        ("tension", "tension"),
        ("softest belt", "tension_low"),
        ("stiffest belt", "tension_high"),
    ):
        wanted = np.array([getattr(row, field) for row in table.rows], dtype=float)
        assert one_line(figure, gid)[1] * unit_of(scenario) == pytest.approx(wanted, nan_ok=True)


@WITH_ADJUSTER
def test_limits_stand_at_their_heights_or_are_named_as_higher(drawn_loads, name):
    scenario, _, figure = drawn_loads(name)
    bearings = scenario.driven.bearings
    limits = {b.limit for b in bearings} | {b.starting_limit for b in bearings}
    lines = by_gid(figure, "limit")
    heights = [float(line.get_ydata()[0]) * unit_of(scenario) for line in lines]
    top = lines[0].axes.get_ylim()[1] * unit_of(scenario) if lines else 0.0
    labels = [t.get_text() for t, _ in shown_texts(figure) if "limit" in t.get_text()]
    for limit in limits:
        drawn_at = [height for height in heights if height == pytest.approx(limit, rel=0.006)]
        assert drawn_at or limit > top
    assert sum(not label.startswith("↑") for label in labels) == len(lines)
    assert all(height <= top for height in heights)


@pytest.mark.parametrize("name", ["rigid turnbuckle", "clockwise metric"])
def test_least_tension_is_where_grip_crosses_one(drawn_loads, name):
    scenario, table, figure = drawn_loads(name)
    _, least = one_line(figure, "least running")
    mount = Mount.of(scenario)
    share = mount.pulls(table.snug.plate_angle).share
    expected = least_tension(mount.pull, share, mount.centrifugal_tension)
    assert least[0] * unit_of(scenario) == pytest.approx(float(expected), rel=0.01)
    (slip,) = by_gid(figure, "slip running")
    end = slip.get_x() + slip.get_width()
    assert np.interp(end, *one_line(figure, "tension")) == pytest.approx(least[0])
    for row in table.rows:
        assert row.running.slips == (row.turns < end)
    (starting,) = by_gid(figure, "slip starting")
    assert starting.get_x() == pytest.approx(end)
    end = starting.get_x() + starting.get_width()
    for row in table.rows:
        assert row.starting.slips == (row.turns < end)


def test_slip_at_every_turn_is_hatched_throughout(drawn_loads):
    _, table, figure = drawn_loads("slips everywhere")
    assert all(row.running.slips for row in table.rows)
    (slip,) = by_gid(figure, "slip running")
    assert slip.get_hatch()
    assert slip.get_x() == table.rows[0].turns
    assert slip.get_x() + slip.get_width() == pytest.approx(table.rows[-1].turns)
    assert not by_gid(figure, "least running")


@WITH_ADJUSTER
def test_strip_says_what_the_plate_rests_on(drawn_loads, name):
    _, table, figure = drawn_loads(name)
    strip = figure.axes[1]
    patches = [p for p in strip.patches if str(p.get_gid()).startswith("state ")]
    for level, case in enumerate(CASES):
        row_patches = [p for p in patches if p.get_y() < level < p.get_y() + p.get_height()]
        for row in table.rows:
            over = {
                p.get_gid().removeprefix(f"state {level} ")
                for p in row_patches
                if p.get_x() < row.turns < p.get_x() + p.get_width()
            }
            assert over <= {row.cases[case].state.value}
            assert over or row.turns in (table.rows[0].turns, table.rows[-1].turns)


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("rides later", {"held", "riding on the belt"}),
        ("rides when running", {"held", "riding on the belt"}),
        ("to the stop", {"held", "at the stop"}),
    ],
)
def test_every_state_is_named(drawn_loads, name, words):
    shown = {text.get_text() for text, _ in shown_texts(drawn_loads(name)[-1])}
    assert words <= shown


def test_cases_differ_without_colour(drawn_loads):
    figure = drawn_loads("cider-mill")[-1]
    for quantity in range(3):
        lines = [by_gid(figure, f"load {quantity} {case}")[0] for case in CASES]
        looks = {
            (line.get_linewidth(), str(line.get_linestyle()), line.get_markerfacecolor() == "white")
            for line in lines
        }
        assert len(looks) == 3
    running = [by_gid(figure, f"load {quantity} running")[0] for quantity in range(3)]
    assert len({line.get_marker() for line in running}) == 3


def test_units_are_those_of_the_display():
    table = tension_table(CIDER, np.linspace(0, 2, 9))
    inch = loads_figure(CIDER, table)
    metric = loads_figure(replace(CIDER, display=Display.METRIC), table)
    ratio = one_line(metric, "tension")[1][-1] / one_line(inch, "tension")[1][-1]
    assert ratio == pytest.approx(4.4482216152605)


def test_weight_alone_is_drawn_as_bars(drawn_loads):
    scenario, table, figure = drawn_loads("forge-blower")
    row, unit = table.rows[0], unit_of(scenario)
    upper, lower = figure.axes
    heights = [bar.get_height() * unit for bar in lower.patches]
    wanted = [
        load
        for case in CASES
        for load in (row.cases[case].shaft_load, *(b.load for b in row.cases[case].bearings))
    ]
    assert heights == pytest.approx(wanted)
    strands = [row.tension]
    for case in ("running", "starting"):
        strands += [row.cases[case].tight, row.cases[case].slack]
    assert [bar.get_height() * unit for bar in upper.patches] == pytest.approx(strands)
    limits = [float(line.get_ydata()[0]) * unit for line in by_gid(figure, "limit")]
    assert limits == pytest.approx([b.limit for _ in range(2) for b in scenario.driven.bearings])


def test_without_a_balance_no_bar_is_drawn(drawn_loads):
    figure = drawn_loads("weight the wrong way")[-1]
    assert not [patch for axes in figure.axes for patch in axes.patches]
    words = [text.get_text() for text, _ in shown_texts(figure)]
    assert "running: no balance" in words
    assert words.count("none") == 14


def test_a_single_turn_is_named():
    figure = loads_figure(SHIPPED["cider-mill"], tension_table(SHIPPED["cider-mill"], [1.5]))
    words = " ".join(text.get_text() for text, _ in shown_texts(figure))
    assert "At 1 1/2 turns." in words


def test_spans_and_crossings():
    turns = np.array([0.0, 1.0, 2.0, 3.0])
    assert spans(turns, ["a", "a", "b", "b"]) == [(0.0, 1.5, "a"), (1.5, 3.0, "b")]
    assert spans(turns, ["a", "a", "b", "b"], [1.25]) == [(0.0, 1.25, "a"), (1.25, 3.0, "b")]
    assert spans(turns, ["a"] * 4) == [(0.0, 3.0, "a")]
    assert crossing(turns, np.array([0.0, 0.5, 1.5, 2.0]), 1.0) == pytest.approx(1.5)
    assert crossing(turns, np.array([np.nan, 0.5, 0.6, 0.7]), 1.0) is None
    assert crossing(turns, np.array([2.0, 2.0, 2.0, 2.0]), 1.0) is None


@pytest.mark.parametrize("seed", range(20))
def test_end_labels_keep_apart_in_order_and_inside(seed):
    rng = np.random.default_rng(seed)
    wanted = rng.uniform(-0.2, 2.2, rng.integers(1, 14)).tolist()
    heights = spread(wanted, 0.15, 0.0, 2.0)
    order = np.argsort(wanted)
    gaps = np.diff(np.array(heights)[order])
    assert np.all(gaps >= 0.15 - 1e-12)
    assert min(heights) >= -1e-12
    assert max(heights) <= 2.0 + 1e-12


def test_end_labels_that_have_room_stay_where_they_belong():
    assert spread([0.3, 1.7, 1.0], 0.15, 0.0, 2.0) == pytest.approx([0.3, 1.7, 1.0])
    assert spread([1.0, 1.0], 0.2, 0.0, 2.0) == pytest.approx([0.9, 1.1])
    assert spread([], 0.2, 0.0, 2.0) == []

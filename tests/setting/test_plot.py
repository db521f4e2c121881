"""The picture of a setting: it shows what setting and table say, and can be read."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from plot_mounts import CIDER, KINDS, MOUNTS, SHIPPED, assert_readable, by_gid, shown_texts
from sizes import size

from mountcalc.equilibrium.states import State
from mountcalc.pages.amounts import turns_text
from mountcalc.requirements.results import Ruler
from mountcalc.requirements.setting import gentlest_setting
from mountcalc.scenario.model import Rotation
from mountcalc.scenario.text.writing import Display
from mountcalc.setting.pictures import MARKS, setting_figure
from mountcalc.setting.series import SettingSeries, setting_tables
from mountcalc.table.table import tension_table
from mountcalc.units import si_factor

LATHE = SHIPPED["wood-lathe"]


def with_power(scenario, times):
    """The same with more work for a motor that is large enough."""
    driven = replace(scenario.driven, power=times * scenario.driven.power)
    motor = replace(scenario.motor, power=9 * scenario.motor.power)
    return replace(scenario, driven=driven, motor=motor)


def with_limits(scenario, **limits):
    """The same with other promises."""
    return replace(scenario, limits=replace(scenario.limits, **limits))


def with_loads(scenario, times):
    """The same with heavier parts on the driven shaft."""
    loads = tuple(replace(load, force=times * load.force) for load in scenario.driven.loads)
    return replace(scenario, driven=replace(scenario.driven, loads=loads))


DRAWN = MOUNTS | {
    "no power": with_power(CIDER, 0),
    "narrow": with_power(CIDER, 2.55),
    "closed": with_power(CIDER, 3),
    "both ways": replace(LATHE, motor=replace(LATHE.motor, reverses=True)),
    "promised at the start": with_limits(LATHE, starting_grip=1.1, turn_error=0.25),
    "over at zero": with_loads(LATHE, 6),
    "grip hopeless": with_limits(CIDER, grip=200.0),
}
# Of these the picture of a setting is of one kind with that of another mount.
ALIKE = size((), ("job-press", "rides later", "wide"))
NAMES = [name for name in DRAWN if name not in ALIKE and (name in KINDS or name not in MOUNTS)]
ALL = pytest.mark.parametrize("name", NAMES)
TURNED = [name for name in NAMES if DRAWN[name].adjuster.kind != "none"]


@cache
def drawn(name):
    """Scenario, setting, tables and figure, drawn once."""
    scenario = DRAWN[name]
    setting = gentlest_setting(scenario)
    tables = setting_tables(scenario, setting)
    return scenario, setting, tables, setting_figure(scenario, setting, *tables)


def words(name):
    """All that a picture says."""
    return " ".join(text.get_text() for text, _ in shown_texts(drawn(name)[-1]))


def line(figure, gid):
    (found,) = by_gid(figure, gid)
    return np.asarray(found.get_xdata(), dtype=float), np.asarray(found.get_ydata(), dtype=float)


@ALL
def test_no_text_covers_another_leaves_the_figure_or_is_small(name):
    assert_readable(drawn(name)[-1])


@ALL
def test_every_panel_names_its_scale_and_unit(name):
    scenario, _, _, figure = drawn(name)
    labels = [axes.get_ylabel() for axes in figure.axes if axes.get_ylabel()]
    assert all("[" in label and label.endswith("]") for label in labels)
    assert len(labels) == (3 if name in TURNED else 2)
    unit = "lbf" if scenario.display is Display.INCH else "N"
    assert name not in TURNED or labels[-1].endswith(f"[{unit}]")
    assert scenario.title[:10] in words(name) or name == "odd names"


@pytest.mark.parametrize("name", TURNED)
def test_curves_are_the_tables_numbers(name):
    scenario, _, tables, figure = drawn(name)
    ways = [table for table in tables if table is not None]
    turns = [row.turns for row in ways[0].rows]
    for case in ("running", "starting"):
        x, y = line(figure, f"grip {case}")
        grips = np.array([[row.cases[case].grip for row in way.rows] for way in ways], dtype=float)
        assert x.tolist() == turns
        assert y == pytest.approx(np.fmin.reduce(grips), nan_ok=True)
    worst = np.zeros(len(turns))
    for index in range(2):
        worst = np.fmax(worst, line(figure, f"share {index}")[1])
    shares = [[100 * row.worst_share_of_limit for row in way.rows] for way in ways]
    assert worst == pytest.approx(np.max(shares, axis=0))
    unit = si_factor("lbf" if scenario.display is Display.INCH else "N")
    tension = np.array([row.tension for row in ways[0].rows], dtype=float)
    assert line(figure, "tension")[1] * unit == pytest.approx(tension, nan_ok=True)


@pytest.mark.parametrize("name", TURNED)
def test_marks_stand_at_the_settings_turns(name):
    _, setting, _, figure = drawn(name)
    right = figure.axes[1].get_xlim()[1]
    for mark, turns in (
        ("fewest", setting.turns_min),
        ("set", setting.set_turns),
        ("new belt", setting.new_turns),
        ("most", setting.turns_max),
    ):
        lines = by_gid(figure, f"line {mark}")
        if turns is None:
            assert not lines
            continue
        # What is to be set can be typed back; the ends of the range are no advice.
        said = turns_text(turns) if mark in {"set", "new belt"} else f"{turns:.2f}"
        assert f"{mark}\n{said}" in words(name)
        if turns <= right:
            assert [one.get_xdata()[0] for one in lines] == [turns] * 3


@pytest.mark.parametrize("name", TURNED)
def test_window_and_bands_are_shaded_where_they_are(name):
    _, setting, _, figure = drawn(name)
    left, right = figure.axes[1].get_xlim()
    windows = by_gid(figure, "window")
    start, end = setting.turns_min, right if setting.turns_max is None else setting.turns_max
    assert len(windows) == (3 if start is not None and start < end else 0)
    for patch in windows:
        assert (patch.get_x(), patch.get_x() + patch.get_width()) == pytest.approx((start, end))
    for mark, turns in (("set", setting.set_turns), ("new belt", setting.new_turns)):
        bands = by_gid(figure, f"band {mark}")
        assert len(bands) == (0 if turns is None else 3)
        for patch in bands:
            low, high = turns - setting.turn_error, turns + setting.turn_error
            ends = (patch.get_x(), patch.get_x() + patch.get_width())
            assert ends == pytest.approx((max(low, left), min(high, right)))


@pytest.mark.parametrize("name", ["cider-mill", "grindstone", "wood-lathe", "narrow", "both ways"])
def test_curves_cross_their_lines_at_the_ends_of_the_window(name):
    scenario, setting, _, figure = drawn(name)
    assert np.interp(setting.turns_min, *line(figure, "grip running")) == pytest.approx(
        scenario.limits.grip, rel=1e-3
    )
    shares = [np.interp(setting.turns_max, *line(figure, f"share {index}")) for index in (0, 1)]
    assert max(shares) == pytest.approx(100, rel=1e-3)
    assert line(figure, "need running")[1].tolist() == [scenario.limits.grip] * 2
    assert line(figure, "limit")[1].tolist() == [100, 100]
    assert [float(v[0]) for v in line(figure, "most")] == [setting.turns_max, 100]
    assert [float(v[0]) for v in line(figure, "fewest")] == [
        setting.turns_min,
        scenario.limits.grip,
    ]


@pytest.mark.parametrize("name", ["cider-mill", "wood-lathe"])
def test_both_tensions_are_marked_on_the_curve(name):
    scenario, setting, _, figure = drawn(name)
    unit = "lbf" if scenario.display is Display.INCH else "N"
    for mark, turns, tension in (
        ("set", setting.set_turns, setting.set_tension),
        ("new belt", setting.new_turns, setting.new_tension),
    ):
        x, y = line(figure, f"point {mark}")
        assert (x[0], y[0] * si_factor(unit)) == pytest.approx((turns, tension))
        assert f"{mark}: {tension / si_factor(unit):.2g} {unit}" in words(name)


@pytest.mark.parametrize("name", ["cider-mill", "grindstone", "wood-lathe", "closed", "both ways"])
def test_what_governs_is_named_in_the_heading_and_at_its_mark(name):
    _, setting, _, figure = drawn(name)
    ruler = setting.governs.max
    case = {"rest": "at rest"}.get(ruler.case, ruler.case)
    assert f'with more, bearing "{ruler.bearing}" is over its limit, {case}' in words(name)
    labels = [text.get_text() for text in by_gid(figure, "label")]
    assert f"{ruler.bearing}, {case}" in labels
    assert f"wanted grip, {setting.governs.min.case}" in labels


@pytest.mark.parametrize("name", ["closed", "slips everywhere", "narrow", "grip hopeless"])
def test_a_closed_window_says_so(name):
    _, setting, _, figure = drawn(name)
    assert not setting.open
    assert "Closed: " in words(name)
    assert "closed" in [text.get_text() for text in by_gid(figure, "requirement word")]
    if name != "narrow":
        assert not by_gid(figure, "window")
        assert not by_gid(figure, "requirement 2 kept")


@pytest.mark.parametrize("name", TURNED)
def test_strip_is_white_only_where_the_rows_keep_their_promise(name):
    scenario, setting, tables, figure = drawn(name)
    ways = [table.rows for table in tables if table is not None]
    kept = [
        [
            (p.get_x(), p.get_x() + p.get_width())
            for p in by_gid(figure, f"requirement {level} kept")
        ]
        for level in range(3)
    ]
    for rows in zip(*ways, strict=True):
        turns = rows[0].turns
        over = any(row.worst_share_of_limit > 1 for row in rows)
        lost = any(
            case.state not in {State.HELD, State.RIDING}
            for row in rows
            for case in row.cases.values()
        )
        grips = [row.grip for row in rows if row.grip is not None]
        weak = bool(grips) and min(grips) < scenario.limits.grip
        for level, broken in ((0, weak), (1, over or lost), (2, weak or over or lost)):
            inside = any(start < turns < end for start, end in kept[level])
            near = [edge for edge in (setting.turns_min, setting.turns_max) if edge is not None]
            if broken and not any(abs(turns - edge) < 1e-9 for edge in near):
                assert not inside, (level, turns)


def test_lines_differ_without_colour():
    figure = drawn("cider-mill")[-1]
    looks = set()
    for gid in ("grip running", "grip starting", "share 0", "share 1"):
        (found,) = by_gid(figure, gid)
        looks.add((str(found.get_linestyle()), found.get_marker(), found.get_markerfacecolor()))
    assert len(looks) == 4
    styles = {str(style) for _, style, _ in MARKS.values()}
    assert len(styles) == 3


def test_a_plate_that_runs_to_its_stop_is_named_instead_of_a_bearing():
    scenario, setting, tables, _ = drawn("to the stop")
    governs = replace(setting.governs, max=Ruler("starting", None), max_reason="it runs away")
    figure = setting_figure(scenario, replace(setting, governs=governs), *tables)
    assert "starting: at the stop" in [text.get_text() for text in by_gid(figure, "label")]
    said = " ".join(text.get_text() for text, _ in shown_texts(figure))
    assert f"Most: {setting.turns_max:.2f} turns, 13 lbf (it runs away)." in said
    assert by_gid(figure, "requirement 1 at_stop")


def test_the_worse_way_of_a_reversing_drive_is_drawn():
    scenario, setting, (table, other), figure = drawn("both ways")
    assert other is not None
    cw = replace(scenario, motor=replace(scenario.motor, rotation=Rotation.CW))
    assert other == tension_table(cw, [row.turns for row in table.rows])
    shown = np.maximum(line(figure, "share 0")[1], line(figure, "share 1")[1])
    one_way = [100 * row.worst_share_of_limit for row in table.rows]
    assert np.all(shown >= one_way)
    assert shown.tolist() != one_way
    alone = setting_figure(scenario, setting, table)
    said = " ".join(text.get_text() for text, _ in shown_texts(alone))
    assert "the curves are those of counter-clockwise" in said


def test_without_an_adjuster_bars_show_grip_and_shares():
    scenario, setting, (table, _), figure = drawn("forge-blower")
    row = table.rows[0]
    heights = [bar.get_height() for bar in by_gid(figure, "bar")]
    wanted = [row.running.grip, row.starting.grip]
    wanted += [
        100 * bearing.share_of_limit for case in row.cases.values() for bearing in case.bearings
    ]
    assert heights == pytest.approx(wanted)
    lines = [float(each.get_ydata()[0]) for each in by_gid(figure, "limit")]
    assert lines == [setting.grip_wanted, scenario.driven.starting_factor] + [100] * 6
    assert "Open: weight alone puts 74 N" in words("forge-blower")
    assert "Closed: weight alone gives" in words("weight the wrong way")
    assert words("weight the wrong way").count("none") == 6


def test_one_setting_of_a_mount_with_an_adjuster_is_drawn_as_bars_too():
    setting = gentlest_setting(CIDER)
    figure = setting_figure(CIDER, setting, tension_table(CIDER, [1.5]))
    assert len(by_gid(figure, "bar")) == 8
    said = " ".join(text.get_text() for text, _ in shown_texts(figure))
    assert "At 1 1/2 turns." in said


@pytest.mark.parametrize("name", TURNED)
def test_tables_for_the_picture_cover_what_is_marked_and_stay_in_the_travel(name):
    _, setting, (table, _), _ = drawn(name)
    turns = [row.turns for row in table.rows]
    assert turns[0] == 0
    assert len(turns) > 100
    for mark in (setting.turns_max, setting.new_turns):
        assert mark is None or turns[-1] >= mark * (1 - 1e-9)
    assert all(row.rest.state is not State.BEYOND_TRAVEL for row in table.rows)


def test_series_says_why_grip_is_missing():
    scenario, setting, (table, _), _ = drawn("no power")
    assert set(SettingSeries(scenario, setting, (table.columns(),)).kept()[0]) == {"kept"}
    shown = words("no power")
    assert "the load needs no pull" in shown
    assert "Fewest: none: no grip is asked for." in shown
    assert "Closed: the machine takes 0 hp (driven.power), from which no tension follows." in shown

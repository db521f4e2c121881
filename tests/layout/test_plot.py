"""The layout picture shows what the kernels say: read back from its axes."""

import math
from dataclasses import replace

import numpy as np
import pytest
from matplotlib.figure import Figure
from matplotlib.patches import Circle, FancyArrowPatch
from plot_mounts import (
    CIDER,
    LAYOUTS,
    SHIPPED,
    angle_between,
    assert_readable,
    by_gid,
    shown_texts,
)

from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.states import State
from mountcalc.errors import InputError
from mountcalc.layout.figure import angle_text, layout_figure
from mountcalc.layout.layout import mount_layout
from mountcalc.pages.amounts import turns_text
from mountcalc.scenario.model import Rotation
from mountcalc.scenario.reader import read_scenario
from mountcalc.table.table import tension_table
from mountcalc.units import si_factor

ALL = pytest.mark.parametrize("name", LAYOUTS)


def line_points(figure, gid, scenario):
    """Points of a line of the main axes [m]."""
    (line,) = by_gid(figure, gid, figure.axes[0])
    unit = si_factor("in" if scenario.display.value == "inch" else "mm")
    return unit * np.column_stack(line.get_data())


def poses(layout):
    return [(n, p) for n, p in (("zero", layout.zero), ("other", layout.other)) if p is not None]


@ALL
def test_axes_are_in_true_proportion(drawn_layout, name):
    for axes in drawn_layout(name)[-1].axes:
        origin, right, up = axes.transData.transform([(0, 0), (1, 0), (0, 1)])
        assert right[0] - origin[0] == pytest.approx(up[1] - origin[1], rel=1e-9)


@ALL
def test_no_text_covers_another_leaves_the_figure_or_is_small(drawn_layout, name):
    assert_readable(drawn_layout(name)[-1])


@ALL
def test_labels_stand_on_white(drawn_layout, name):
    scenario, _, figure = drawn_layout(name)
    labels = [(text, box) for text, box in shown_texts(figure) if text.get_gid() == "label"]
    assert len(labels) >= 8
    for text, _ in labels:
        text.set_visible(False)
    figure.canvas.draw()
    ink = 200 if scenario.keep_outs else 250  # the grounds of keep-outs are 212 and carry names
    layer = (np.asarray(figure.canvas.buffer_rgba())[::-1, :, :3] < ink).any(axis=2)
    for text, box in labels:
        text.set_visible(True)
        under = layer[int(box.y0) : int(box.y1), int(box.x0) : int(box.x1)]
        # The end of a leader may reach the edge of its own label.
        assert np.count_nonzero(under) <= 12, text.get_text()


@ALL
def test_axes_name_their_units(drawn_layout, name):
    scenario, _, figure = drawn_layout(name)
    length = "in" if scenario.display.value == "inch" else "mm"
    assert [axes.get_ylabel() for axes in figure.axes if axes.get_ylabel()] == [f"y [{length}]"]
    assert figure.axes[0].get_xlabel() == f"x [{length}]"


@ALL
def test_strands_lie_where_the_kernels_say(drawn_layout, name):
    scenario, layout, figure = drawn_layout(name)
    mount = Mount.of(scenario)
    for which, pose in poses(layout):
        pulls, path = mount.pulls(pose.plate_angle), mount.path(pose.plate_angle)
        for strand in ("tight", "slack"):
            start, end = line_points(figure, f"{which} {strand}", scenario)
            span = end - start
            assert np.hypot(*span) == pytest.approx(math.sqrt(path.span_squared), rel=1e-9)
            assert span / np.hypot(*span) == pytest.approx(getattr(pulls, strand), abs=1e-9)
            # A tangent: square to the radius at both ends.
            for at, shaft, radius in (
                (start, pose.motor_shaft, scenario.motor.pulley_radius),
                (end, scenario.driven.shaft, scenario.driven.pulley_radius),
            ):
                arm = at - np.array(shaft)
                assert np.hypot(*arm) == pytest.approx(radius, rel=1e-9)
                assert arm @ span == pytest.approx(0, abs=1e-9 * radius)


@ALL
def test_drawn_belt_is_as_long_as_the_path(drawn_layout, name):
    scenario, layout, _ = drawn_layout(name)
    for _, pose in poses(layout):
        belt = pose.belt
        strands = sum(math.dist(*strand) for strand in (belt.tight, belt.slack))
        arcs = scenario.motor.pulley_radius * (belt.motor_arc[1] - belt.motor_arc[0])
        arcs += scenario.driven.pulley_radius * (belt.driven_arc[1] - belt.driven_arc[0])
        path = float(Mount.of(scenario).path(pose.plate_angle).length)
        assert strands + arcs == pytest.approx(path, rel=1e-12)


@ALL
def test_plate_turns_about_the_hinge_by_the_plate_angle(drawn_layout, name):
    scenario, layout, figure = drawn_layout(name)
    drawn_points = {w: line_points(figure, f"{w} plate", scenario) for w, _ in poses(layout)}
    if layout.other is None:
        assert not by_gid(figure, "other plate")
        return
    first, second = drawn_points["zero"], drawn_points["other"]
    turned = layout.other.plate_angle - layout.zero.plate_angle
    assert angle_between(first[1] - first[0], second[1] - second[0]) == pytest.approx(turned)
    hinge = np.array(scenario.plate.hinge)
    assert np.hypot(*(first - hinge).T) == pytest.approx(np.hypot(*(second - hinge).T))


@ALL
def test_pulleys_have_their_pitch_circles(drawn_layout, name):
    scenario, layout, figure = drawn_layout(name)
    unit = si_factor("in" if scenario.display.value == "inch" else "mm")
    for gid, shaft, radius in (
        ("motor", layout.zero.motor_shaft, scenario.motor.pulley_radius),
        ("driven", scenario.driven.shaft, scenario.driven.pulley_radius),
    ):
        (circle,) = by_gid(figure, gid, figure.axes[0])
        assert isinstance(circle, Circle)
        assert unit * circle.radius == pytest.approx(radius)
        assert unit * np.array(circle.center) == pytest.approx(shaft)


@ALL
def test_arrows_turn_the_motors_way_and_the_tight_strand_runs_onto_the_motor(drawn_layout, name):
    scenario, layout, figure = drawn_layout(name)
    sign = 1 if scenario.motor.rotation is Rotation.CCW else -1
    arrows = by_gid(figure, "rotation", figure.axes[0])
    assert len(arrows) == 2
    unit = si_factor("in" if scenario.display.value == "inch" else "mm")
    for arrow, shaft in zip(arrows, (layout.zero.motor_shaft, scenario.driven.shaft), strict=True):
        assert isinstance(arrow, FancyArrowPatch)
        ends = unit * arrow._path_original.vertices[[0, -1]] - np.array(shaft)  # noqa: SLF001
        assert sign * angle_between(*ends) > 0
    # The motor's rim pulls the tight strand towards itself.
    leaves, meets = map(np.array, layout.zero.belt.tight)
    rim = leaves - np.array(layout.zero.motor_shaft)
    speed = sign * np.array([-rim[1], rim[0]])
    assert speed @ (meets - leaves) < 0


@ALL
def test_adjuster_moves_by_its_turns(drawn_layout, name):
    scenario, layout, _ = drawn_layout(name)
    if layout.other is None or layout.zero.adjuster is None:
        assert name.startswith("weight") or name == "forge-blower"
        return
    zero, other = layout.zero.adjuster, layout.other.adjuster
    moved = abs(layout.other.turns) * scenario.adjuster.advance_per_turn
    given = Mount.of(scenario).spring
    if given is not None:  # so much of it bends plate and hinges
        rows = tension_table(scenario, [0.0, layout.other.turns]).rows
        moved -= abs(rows[1].rest.adjuster - rows[0].rest.adjuster) / given
    if zero.nut is not None:
        assert abs(math.dist(other.tip, other.nut) - math.dist(zero.tip, zero.nut)) == (
            pytest.approx(moved)
        )
        assert math.dist(zero.start, zero.tip) == pytest.approx(math.dist(other.start, other.tip))
    elif layout.other.state is State.HELD:
        lengths = [math.dist(link.start, link.tip) for link in (zero, other)]
        assert abs(lengths[1] - lengths[0]) == pytest.approx(moved)


def test_a_tip_that_touches_lies_on_its_face():
    for name in ("cider-mill", "grindstone"):
        layout = mount_layout(SHIPPED[name], 1.0)
        for pose in (layout.zero, layout.other):
            screw = pose.adjuster
            (ax, ay), (bx, by) = screw.face
            off = (bx - ax) * (screw.tip[1] - ay) - (by - ay) * (screw.tip[0] - ax)
            assert screw.touches
            assert off / math.dist(*screw.face) == pytest.approx(0, abs=1e-12)


def test_a_tip_is_clear_where_the_plate_rides():
    # Backed off from where weight and belt balance, the screw leaves its face by what it moves.
    scenario = SHIPPED["grindstone"]
    layout = mount_layout(scenario, -2.0)
    screw = layout.other.adjuster
    assert layout.other.state is State.RIDING
    assert layout.other.plate_angle == pytest.approx(layout.zero.plate_angle, abs=1e-9)
    assert not screw.touches
    gap = math.dist(screw.tip, layout.zero.adjuster.tip)
    assert gap == pytest.approx(2 * scenario.adjuster.advance_per_turn)
    words = [text.get_text() for text, _ in shown_texts(layout_figure(layout))]
    assert "tip clear of its face" in words


def test_labels_name_strands_settings_and_the_pull(drawn_layout):
    words = {text.get_text() for text, _ in shown_texts(drawn_layout("cider-mill")[-1])}
    scenario, layout, _ = drawn_layout("cider-mill")
    assert {"tight", "slack", "hinge", "driven shaft", "gravity", "motor's body"} <= words
    # Only a motor whose frame is not known is drawn in no size of its own.
    press = {text.get_text() for text, _ in shown_texts(drawn_layout("job-press")[-1])}
    assert "motor (not to size)" in press
    zero, other = (math.degrees(pose.plate_angle) for pose in (layout.zero, layout.other))
    turns = f"{turns_text(layout.other.turns)} turn{'s' if layout.other.turns > 1 else ''}"
    assert f"plate,\nzero (snug): {zero:.2f}°" in words
    assert f"plate,\n{turns}: {other:.2f}°" in words
    table = tension_table(scenario)
    at = [row.turns for row in table.rows]
    loads = [row.running.shaft_load for row in table.rows]
    pull = float(np.interp(layout.other.turns, at, loads)) / si_factor("lbf")
    assert f"belt pull on the shaft:\n{pull:.1f} lbf (running, {turns})" in words
    assert any("seen facing the motor's pulley" in word for word in words)


@ALL
def test_scale_bar_is_as_long_as_it_says(drawn_layout, name):
    figure = drawn_layout(name)[-1]
    halves = by_gid(figure, "scale bar", figure.axes[0])
    corners = np.concatenate([half.get_xy() for half in halves])
    long = corners[:, 0].max() - corners[:, 0].min()
    unit = "in" if drawn_layout(name)[0].display.value == "inch" else "mm"
    assert f"{long:g} {unit}" in {text.get_text() for text, _ in shown_texts(figure)}


def test_the_shafts_pull_points_at_the_motor(drawn_layout):
    scenario, layout, _ = drawn_layout("wood-lathe")
    towards = np.array(layout.zero.motor_shaft) - np.array(scenario.driven.shaft)
    assert abs(angle_between(layout.shaft_load, towards)) < math.radians(10)


def test_without_a_balance_the_scenarios_own_position_is_drawn(drawn_layout):
    scenario, layout, figure = drawn_layout("weight the wrong way")
    assert layout.zero.state is State.NO_BALANCE
    assert layout.zero.motor_shaft == pytest.approx(scenario.motor.shaft)
    assert layout.shaft_load is None
    words = [text.get_text() for text, _ in shown_texts(figure)]
    assert "No balance at rest: drawn as the scenario gives it." in words


def test_past_the_travel_only_zero_is_drawn():
    layout = mount_layout(CIDER, 400.0)
    assert layout.other is None
    assert layout.remarks == ("400 turns: past the travel, not drawn",)
    words = [text.get_text() for text, _ in shown_texts(layout_figure(layout))]
    assert "400 turns: past the travel, not drawn." in words


def test_zero_turns_is_one_position():
    assert mount_layout(CIDER, 0.0).other is None


@pytest.mark.parametrize("turns", [math.nan, math.inf])
def test_turns_are_finite(turns):
    with pytest.raises(InputError, match="a finite number is wanted"):
        mount_layout(CIDER, turns)


def test_weight_alone_shows_where_the_load_takes_the_plate(drawn_layout):
    layout = drawn_layout("forge-blower")[1]
    assert layout.zero.name == "at rest"
    assert layout.other.name == "running"
    assert abs(layout.other.plate_angle - layout.zero.plate_angle) > math.radians(0.05)
    idle = replace(SHIPPED["forge-blower"], driven=replace(SHIPPED["forge-blower"].driven, power=0))
    still = mount_layout(idle, 0.0)
    assert still.other is None or still.other.plate_angle != still.zero.plate_angle


def test_a_small_swing_is_shown_enlarged(drawn_layout):
    _, layout, figure = drawn_layout("cider-mill")
    main, detail = figure.axes
    factor = int(detail.get_title().removeprefix("A, ").removesuffix(" times larger"))
    pixels = [axes.transData.transform([(0, 0), (1, 0)]) for axes in (main, detail)]
    scales = [after[0] - before[0] for before, after in pixels]
    assert scales[1] / scales[0] == pytest.approx(factor)
    tips = [np.array(pose.adjuster.tip) / si_factor("in") for pose in (layout.zero, layout.other)]
    for tip in tips:
        x, y = detail.transAxes.inverted().transform(detail.transData.transform(tip))
        assert 0.2 < x < 0.8
        assert 0.2 < y < 0.8


def test_an_angle_of_nothing_has_no_sign(drawn_layout):
    pose = drawn_layout("cider-mill")[1].zero
    assert angle_text(replace(pose, plate_angle=-1e-9)) == "0.00°"
    assert angle_text(replace(pose, plate_angle=-0.1)) == "−5.73°"


def test_axes_that_are_given_are_drawn_on_without_a_heading():
    figure = Figure(figsize=(10, 5), dpi=100)
    left, right = figure.add_subplot(1, 2, 1), figure.add_subplot(1, 2, 2)
    layout = mount_layout(CIDER, 2.0)
    assert layout_figure(layout, ax=right) is figure
    assert not left.lines
    assert right.get_aspect() == 1
    assert not [text for text in figure.texts if text.get_gid() == "title"]
    frame = right.get_window_extent()
    names = [text for text in figure.texts if text.get_gid() == "label"]
    assert len(names) > 5
    for name in names:
        box = name.get_window_extent()
        assert frame.x0 <= box.x0
        assert box.x1 <= frame.x1


SPRING = {"rate": "40 lbf/in", "free_length": "2 in", "stop": "1.2 in"}


@pytest.mark.parametrize(
    "scenario",
    [
        read_scenario("scenarios/feed-mill.toml"),
        read_scenario("scenarios/cider-mill.toml").with_(
            adjuster={"spring": SPRING, "stiffness": "rigid"}
        ),
    ],
    ids=["link", "jack"],
)
def test_a_coil_spring_is_as_long_as_the_table_says(scenario):
    figure = layout_figure(mount_layout(scenario, 12.0))
    rows = tension_table(scenario, [0.0, 12.0]).rows
    unit = si_factor("in" if scenario.display.value == "inch" else "mm")
    lines = by_gid(figure, "spring", figure.axes[0])
    drawn = [unit * np.column_stack(line.get_data())[[0, -1]] for line in lines]
    lengths = sorted(math.dist(*ends) for ends in drawn)
    assert lengths == pytest.approx(sorted(row.spring_length for row in rows), rel=1e-6)
    texts = [text.get_text() for text, _ in shown_texts(figure)]
    assert "spring" in texts
    assert not any("clear of its face" in text for text in texts)
    assert_readable(figure)


def test_a_tip_that_presses_what_gives_is_not_clear_of_its_face():
    soft = read_scenario("scenarios/cider-mill.toml").with_(adjuster={"stiffness": "300 lbf/in"})
    other = mount_layout(soft, 2.0).other
    assert other.adjuster.touches
    height = soft.plate.hinge[1]
    assert other.adjuster.tip[1] > height  # on the plate, where that is at rest
    texts = [text.get_text() for text, _ in shown_texts(layout_figure(mount_layout(soft, 2.0)))]
    assert not any("clear of its face" in text for text in texts)

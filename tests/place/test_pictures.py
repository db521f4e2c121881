"""Pictures of a placement: they can be read, and say what was found, measured in the figures."""

import math
import re
import subprocess
import sys
from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest
from matplotlib.colors import to_rgb
from matplotlib.figure import Figure
from placements import GROUNDS, PEGS, SEARCHES, figures_of, found_in, ground, parts_of
from plot_mounts import assert_readable, by_gid, shown_texts

from mountcalc import plot_place
from mountcalc.equilibrium.mount import Mount
from mountcalc.layout import Pen, draw_keep_outs
from mountcalc.pages.amounts import turns_text
from mountcalc.place.feasible.layouts import KINDS
from mountcalc.place.feasible.reasons import Reason
from mountcalc.place.marking_out import marking_out
from mountcalc.place.pictures import map as place_map
from mountcalc.place.pictures.best import offset_words
from mountcalc.place.pictures.map import HATCHES, cells_of, legend_of, map_figure
from mountcalc.place.results import WhyNot
from mountcalc.place.search.objective import GOALS
from mountcalc.scenario.model import AdjusterKind
from mountcalc.scenario.text.writing import Display
from mountcalc.units import si_factor

ALL = pytest.mark.parametrize("name", SEARCHES)
FOUND = [name for name in SEARCHES if name != "none"]
BEST = pytest.mark.parametrize("name", FOUND)


def unit_of(name):
    return si_factor("in" if SEARCHES[name].scenario.display is Display.INCH else "mm")


def words(figure, gid=None):
    return [text.get_text() for text, _ in shown_texts(figure) if gid in {None, text.get_gid()}]


@ALL
def test_no_text_covers_another_leaves_the_figure_or_is_small(name):
    for figure in figures_of(name).values():
        assert_readable(figure)


@pytest.mark.parametrize("key", ["map", "best"])
@BEST
def test_names_stand_on_white_and_hide_no_mark(name, key):
    figure = figures_of(name)[key]
    labels = [(text, box) for text, box in shown_texts(figure) if text.get_gid() == "label"]
    assert len(labels) >= 5
    for text, _ in labels:
        text.set_color("white")
    figure.canvas.draw()
    layer = (np.asarray(figure.canvas.buffer_rgba())[::-1, :, :3] < 250).any(axis=2)
    for text, box in labels:
        text.set_color("black")
        under = layer[int(box.y0) + 1 : int(box.y1), int(box.x0) + 1 : int(box.x1)]
        # The end of a leader may reach the edge of its own label.
        assert np.count_nonzero(under) <= 12, text.get_text()
    axes = figure.axes[0]
    points = [line for line in axes.lines if len(line.get_xdata()) == 1]
    assert len(points) >= 2
    for line in points:
        x, y = axes.transData.transform(line.get_xydata()[0])
        assert not any(box.contains(x, y) for _, box in labels)


@ALL
def test_maps_and_drawings_are_in_true_proportion(name):
    drawn = figures_of(name)
    views = [axes for axes in drawn["map"].axes if axes.get_label() != "colours"]
    views += drawn["best"].axes if "best" in drawn else []
    for axes in views:
        origin, right, up = axes.transData.transform([(0, 0), (1, 0), (0, 1)])
        assert right[0] - origin[0] == pytest.approx(up[1] - origin[1], rel=1e-9)


@ALL
def test_scale_bars_are_as_long_as_they_say(name):
    unit = "in" if SEARCHES[name].scenario.display is Display.INCH else "mm"
    for key, figure in figures_of(name).items():
        for axes in figure.axes:
            if halves := by_gid(figure, "scale bar", axes):
                corners = np.concatenate([half.get_xy() for half in halves])
                long = np.ptp(corners[:, 0])
                assert f"{long:.12g} {unit}" in [text.get_text() for text in axes.texts]
            else:
                assert key == "front" or axes.get_label() == "colours" or key == "best"
    if "best" in figures_of(name):
        assert by_gid(figures_of(name)["best"], "scale bar")


# The map.


@ALL
def test_a_cell_has_the_colour_of_its_finest_layout_or_the_hatch_of_its_main_reason(name):
    search, found = SEARCHES[name], found_in(name)
    sampled, layouts = found.sampled, found.placement.layouts
    cells = cells_of(search.space, sampled, layouts)
    codes = legend_of(search.space, found.placement, cells).codes
    figure = figures_of(name)["map"]
    mesh = by_gid(figure, "tension per turn")
    shown = mesh[0].get_array() if mesh else np.ma.masked_all(cells.reason.shape)
    hatched = {
        tuple(np.round(path.vertices[0], 9)): index
        for index in range(len(HATCHES))
        for group in by_gid(figure, f"hatch {index}")
        for path in group.get_paths()
    }
    for row, column in np.ndindex(*cells.reason.shape):
        inside = (sampled.hinge_x >= cells.x[column]) & (sampled.hinge_x < cells.x[column + 1])
        inside &= (sampled.hinge_y >= cells.y[row]) & (sampled.hinge_y < cells.y[row + 1])
        good = inside & (sampled.reason == Reason.FEASIBLE)
        corner = (cells.x[column] / unit_of(name), cells.y[row] / unit_of(name))
        hatch = hatched.get(tuple(np.round(corner, 9)))
        listed = [
            layout.tension_per_turn
            for layout in layouts
            if cells.x[column] <= layout.hinge[0] < cells.x[column + 1]
            and cells.y[row] <= layout.hinge[1] < cells.y[row + 1]
        ]
        if good.any() or listed:
            assert shown[row, column] == min(*sampled.tension_per_turn[good], *listed, np.inf)
            assert hatch is None
            continue
        assert shown[row, column] is np.ma.masked
        if not inside.any():
            assert hatch is None
            continue
        counts = np.bincount(sampled.reason[inside])
        main = codes[hatch] if hatch < len(codes) else cells.reason[row, column]
        assert counts[main] == counts.max()


@ALL
def test_the_legend_counts_every_layout_that_will_not_do(name):
    placement = found_in(name).placement
    rows = [text for text in words(figures_of(name)["map"], "legend") if text[0].isdigit()]
    counts = [int(text.split()[0].replace(",", "")) for text in rows]
    assert sum(counts) == sum(why.count for why in placement.why_not)
    assert sum(counts) >= placement.evaluated - placement.feasible
    # What the others are together may be more than the last that is named.
    named = [n for n, text in zip(counts, rows, strict=True) if "other reasons" not in text]
    assert named == sorted(named, reverse=True)
    assert len(counts) - len(named) <= 1


def map_of_reasons(count):
    """A map on which so many reasons are, and its parts."""
    search, found = SEARCHES["bolt in the plate"], found_in("bolt in the plate")
    reasons = list(range(1, 1 + count))
    rng = np.random.default_rng(3)
    sampled = replace(
        found.sampled,
        hinge_x=rng.uniform(*search.space.hinge_x, 4000),
        hinge_y=rng.uniform(*search.space.hinge_y, 4000),
        reason=rng.choice(reasons, 4000).astype(np.uint8),
        tension_per_turn=np.full(4000, np.nan),
    )
    why = tuple(WhyNot(Reason(code).name.lower(), 100 - code, "") for code in reasons)
    placement = replace(found.placement, why_not=why, layouts=(), feasible=0)
    figure = map_figure(search, placement, sampled)
    cells = cells_of(search.space, sampled)
    return figure, cells, legend_of(search.space, placement, cells)


def test_every_reason_on_the_map_has_a_hatch_of_its_own():
    """Each way of failing that there is, besides keep-outs: the map had six hatches for twelve."""
    _, cells, legend = map_of_reasons(14)
    reasons = set(np.unique(cells.reason))
    assert len(reasons) == 14
    assert set(legend.codes) == reasons
    own = [hatch for hatch, _ in legend.lines]
    assert len(set(own)) == len(own) == 14
    assert len(HATCHES) > 20  # room for as many keep-outs


def test_more_reasons_than_hatches_share_the_last_one(monkeypatch):
    few = HATCHES[:6]
    monkeypatch.setattr(place_map, "HATCHES", few)
    figure, cells, legend = map_of_reasons(12)
    assert len(legend.codes) == len(few) - 1
    own = [hatch for hatch, _ in legend.lines if hatch and hatch != few[-1]]
    assert own == list(few[:-1])
    # Every line of a reason that is on the map has a swatch: those without their own the last.
    assert all(hatch for hatch, _ in legend.lines)
    assert re.fullmatch(r"\d+ for \d other reasons", legend.lines[-1][1])
    drawn = [len(by_gid(figure, f"hatch {index}")[0].get_paths()) for index in range(len(few))]
    assert sum(drawn) == cells.reason.size
    assert drawn[-1] == np.isin(cells.reason, legend.codes, invert=True).sum()


@ALL
def test_the_map_shows_machine_keep_outs_and_hinges_where_they_are(name):
    search, figure, unit = SEARCHES[name], figures_of(name)["map"], unit_of(name)
    view = next(axes for axes in figure.axes if by_gid(figure, "hinge", axes) or name == "none")
    (pulley,) = by_gid(figure, "driven pulley", view)
    assert unit * np.array(pulley.center) == pytest.approx(search.scenario.driven.shaft)
    assert unit * pulley.radius == pytest.approx(search.scenario.driven.pulley_radius)
    assert bool(by_gid(figure, "motor", view)) == (search.space.motor_direction is None)
    grounds = by_gid(figure, "keep-out", view)
    assert len(grounds) == len(search.space.keep_outs)
    for shape, keep_out in zip(grounds, search.space.keep_outs, strict=True):
        assert unit * shape.get_xy()[:-1] == pytest.approx(np.array(keep_out.corners))
    hinges = [unit * mark.get_xydata()[0] for mark in by_gid(figure, "hinge", view)]
    for layout in found_in(name).placement.layouts:
        nearest = min(hinges, key=lambda at: math.dist(at, layout.hinge))
        pixels = view.transData.transform([nearest / unit, np.array(layout.hinge) / unit])
        assert math.dist(*pixels) <= 7 * figure.dpi / 72
    ranks = [
        rank
        for text in words(figure, "label")
        if re.fullmatch(r"[\d–, ]+", text)
        for part in text.split(", ")
        for rank in range(int(part.split("–")[0]), int(part.split("–")[-1]) + 1)
    ]
    assert sorted(ranks) == [layout.rank for layout in found_in(name).placement.layouts]


def test_small_ground_is_drawn_among_all_around_it_and_once_more_larger():
    figure = figures_of("small ground, bolt in the base")["map"]
    around, ground, _ = figure.axes
    scales = [axes.transData.transform([(0, 0), (1, 0)])[:, 0] for axes in (around, ground)]
    assert np.ptp(scales[1]) > 1.8 * np.ptp(scales[0])
    assert len(figures_of("none")["map"].axes) == 1
    assert "the hinge's ground" in words(figure)


def test_names_of_keep_outs_are_few_and_cut():
    assert len(PEGS) == 50
    for key in ("map", "best"):
        figure = figures_of("many keep-outs")[key]
        assert 2 <= sum(text.startswith("peg") for text in words(figure, "label")) <= 6
    assert "floor" in words(figures_of("none")["map"])
    axes = Figure().add_subplot(xlim=(-40, 20), ylim=(-30, 20))
    pen = Pen(axes, 0.01, unit_of("many keep-outs"))
    name = "$x_1$ leg of the bench with a name that never seems to end"
    (label,) = draw_keep_outs(pen, (ground(name, -0.77, 0.14, -0.7, 0.2),))
    assert label.text.startswith("$x_1$ leg")
    assert "…" in label.text


# The Pareto front.


@BEST
def test_layouts_stand_at_their_measures_and_those_on_the_front_are_filled(name):
    figure, found = figures_of(name)["front"], found_in(name)
    display = SEARCHES[name].scenario.display
    force, length = (
        map(si_factor, ("lbf", "in")) if display is Display.INCH else map(si_factor, ("N", "mm"))
    )
    columns = {
        0: (("tension_per_turn", force), ("worst_share_of_limit", 0.01)),
        1: (("plate_length", length), ("adjuster", force)),
    }
    for index, axes in enumerate(figure.axes):
        marks = by_gid(figure, "layout", axes)
        assert len(marks) == len(found.placement.layouts)
        for mark, layout in zip(marks, found.placement.layouts, strict=True):
            expected = [abs(getattr(layout, key)) / unit for key, unit in columns[index]]
            assert mark.get_xydata()[0] == pytest.approx(expected)
            filled = to_rgb(mark.get_markerfacecolor()) != (1, 1, 1)
            assert filled == layout.pareto
        assert sum(len(line.get_xdata()) for line in by_gid(figure, "other", axes)) == len(
            found.goals
        )
        texts = {text for text in words(figure, "label") if text.isdigit()}
        assert texts == {str(layout.rank) for layout in found.placement.layouts}
    on_front = by_gid(figure, "other", figure.axes[1])[0]
    assert on_front.get_xdata() == pytest.approx(
        found.goals[found.on_front, GOALS.index("plate_length")] / length
    )


def test_limits_are_lines_or_told():
    for name in FOUND:
        upper, lower = figures_of(name)["front"].axes
        shown = words(figures_of(name)["front"], "limit name")
        limit = SEARCHES[name].scenario.limits.adjuster
        assert len(shown) == 1 + (limit is not None)
        for axes, at in ((upper, 100.0), (lower, limit and limit / si_factor("lbf"))):
            lines = by_gid(figures_of(name)["front"], "limit", axes)
            if lines:
                assert lines[0].get_ydata()[0] == pytest.approx(at)
            elif at is not None:
                assert at > axes.get_ylim()[1]
                assert f"limit {at:.4g}: above this picture" in shown
            else:
                assert axes is lower


# The drawing of the best layout.


def length_told(text):
    """A length of a text such as ``14 1/2 in`` [m]."""
    *parts, unit = text.split()
    return float(sum(map(Fraction, parts))) * si_factor(unit)


def told(name):
    """Places that the names of parts tell: name to (right, up) of the driven shaft [m]."""
    sides = {"left": (0, -1), "right": (0, 1), "down": (1, -1), "up": (1, 1)}
    places = {}
    for text in words(figures_of(name)["best"], "label"):
        what, _, where = text.rpartition("\n")
        offsets = [part.rpartition(" ") for part in where.split(", ")]
        if all(side in {*sides, "in", "mm"} for *_, side in offsets) and len(offsets) > 1:
            at = places[what.replace("\n", " ")] = [0.0, 0.0]
            for amount, _, side in offsets:
                if side in sides:
                    axis, sign = sides[side]
                    at[axis] = sign * length_told(amount)
    return places


@BEST
def test_names_tell_where_hinge_motor_and_adjuster_are(name):
    parts, found = parts_of(name), told(name)
    placed, driven, scenario = parts.placed, parts.scenario.driven.shaft, parts.scenario
    places = {"hinge": scenario.plate.hinge}
    places[next(what for what in found if what.startswith("motor shaft"))] = scenario.motor.shaft
    if parts.kind is AdjusterKind.LINK:
        places["plate pin"] = scenario.adjuster.plate_pin
        places["base pin"] = scenario.adjuster.base_pin
    else:
        places["tip"] = scenario.adjuster.tip
    if placed.stop_at is not None:
        places["stop"] = placed.stop_at
    step = si_factor("in") / 32 if scenario.display is Display.INCH else 5e-4
    for what, place in places.items():
        offset = [place[0] - driven[0], place[1] - driven[1]]
        assert found[what] == pytest.approx(offset, abs=step * (1 + 1e-6)), what


@BEST
def test_plate_motor_and_bolt_are_drawn_where_the_solver_has_them_and_as_large_as_searched(name):
    figure, unit, parts = figures_of(name)["best"], unit_of(name), parts_of(name)
    (plate,) = by_gid(figure, "zero board")
    corners = unit * plate.get_xy()[:4]
    middle = np.array(parts.scenario.plate.center_of_mass)
    assert corners.mean(axis=0) == pytest.approx(middle, abs=1e-9)
    assert math.dist(corners[0], corners[1]) == pytest.approx(parts.placed.plate_length)
    assert math.dist(corners[1], corners[2]) == pytest.approx(parts.space.plate_thickness)
    (body,) = by_gid(figure, "body")
    assert unit * body.radius == pytest.approx(0.5 * parts.space.motor_body)
    if rooms := by_gid(figure, "room"):
        back = unit * np.array(rooms[0].center) - np.array(parts.scenario.adjuster.tip)
        assert np.hypot(*back) == pytest.approx(parts.space.bolt_length)
        assert unit * rooms[0].radius == pytest.approx(parts.space.wrench_space)
    else:
        assert parts.kind is AdjusterKind.LINK
    mount, angles = Mount.of(parts.scenario), parts.placed.plate_angles
    motors, plates = by_gid(figure, "end motor"), by_gid(figure, "end plate")
    apart = abs(math.degrees(angles.snug)) > 0.5
    for angle, moved, other in zip((angles.install, angles.take_up), motors, plates, strict=False):
        distance = math.dist(np.array(moved.center) * unit, parts.scenario.driven.shaft)
        radii = parts.scenario.driven.pulley_radius - parts.scenario.motor.pulley_radius
        assert math.sin(float(mount.strands(angle).beta)) * distance == pytest.approx(radii)
        step = unit * (other.get_xy()[1] - other.get_xy()[0])
        before = corners[1] - corners[0]
        cross = before[0] * step[1] - before[1] * step[0]
        assert math.atan2(cross, before @ step) == pytest.approx(angle, abs=1e-9)
    assert len(motors) == len(plates) == 2 + apart


@BEST
def test_strands_touch_both_pulleys(name):
    figure, unit, parts = figures_of(name)["best"], unit_of(name), parts_of(name)
    for which in ("tight", "slack"):
        (strand,) = by_gid(figure, f"zero {which}")
        start, end = unit * strand.get_xydata()
        for at, shaft, radius in (
            (start, parts.placed.motor, parts.scenario.motor.pulley_radius),
            (end, parts.scenario.driven.shaft, parts.scenario.driven.pulley_radius),
        ):
            arm = at - np.array(shaft)
            assert np.hypot(*arm) == pytest.approx(radius)
            assert arm @ (end - start) == pytest.approx(0, abs=1e-9)


@BEST
def test_the_drawing_names_its_view_marks_out_and_warns(name):
    shown, parts = " ".join(words(figures_of(name)["best"])), parts_of(name)
    assert "seen facing the motor's pulley" in shown
    assert "Measure machine, motor and belt" in shown
    assert f"{turns_text(parts.placed.set_turns)} turns past zero" in shown
    (written,) = words(figures_of(name)["best"], "marking out")
    assert written.startswith(marking_out(SEARCHES[name], parts.placed, parts.scenario))


@pytest.mark.parametrize(
    ("offset", "display", "text"),
    [
        (-14.8125 * 0.0254, Display.INCH, "14 13/16 in left"),
        (0.5 * 0.0254, Display.INCH, "1/2 in right"),
        (3 * 0.0254, Display.INCH, "3 in right"),
        (1e-4, Display.INCH, "0 in"),
        (-0.3764, Display.METRIC, "376 mm left"),
        (-2e-4, Display.METRIC, "0 mm"),
    ],
)
def test_offsets_are_told_in_words(offset, display, text):
    assert offset_words(offset, ("left", "right"), display) == text


# All of them.


def test_only_the_map_is_left_where_none_will_do():
    assert plot_place(SEARCHES["none"], found_in("none"))[1:] == (None, None)
    assert None not in plot_place(SEARCHES["motor below"], found_in("motor below"))


def test_no_global_state_is_used():
    code = (
        "import sys\n"
        "from placements import SEARCHES, found_in\n"
        "from mountcalc import plot_place\n"
        "plot_place(SEARCHES['none'], found_in('none'))\n"
        "assert 'matplotlib.pyplot' not in sys.modules\n"
    )
    path = [str(entry) for entry in sys.path if entry]
    command = [sys.executable, "-W", "error", "-c", f"import sys\nsys.path[:0] = {path}\n{code}"]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr


def test_the_searches_show_every_kind_both_sides_and_units():
    drawn = [parts_of(name) for name in FOUND]
    assert {parts.kind for parts in drawn} == set(KINDS)
    assert {parts.placed.motor_side for parts in drawn} == {"above", "below"}
    assert {parts.scenario.display for parts in drawn} == set(Display)
    assert len(GROUNDS) == 3

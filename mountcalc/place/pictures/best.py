"""The pictures of a search; the best layout to scale, in its frame, and how it is marked out."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from matplotlib.figure import Figure

from mountcalc.layout import Layout, layout_figure, mount_as_drawn
from mountcalc.pages.amounts import turns_text
from mountcalc.pages.plot_style import FONT_SIZE, heading, new_figure, panel, plain, text_size
from mountcalc.place.marking_out import marking_out, on_rule
from mountcalc.place.pictures.front import front_figure
from mountcalc.place.pictures.map import map_figure
from mountcalc.place.placed_parts import PlacedParts, block_room
from mountcalc.place.results import PlacedLayout
from mountcalc.place.search.search import Found
from mountcalc.scenario.model import AdjusterKind, Scenario
from mountcalc.scenario.search import Action, Search
from mountcalc.scenario.text.writing import Display, Vector
from mountcalc.thresholds import MARKED

_WIDTH, _HEIGHT = 8.0, 10.7
_LEFT, _RIGHT, _BELOW = 0.72, 0.15, 0.5  # inches around the frame's view
_EDGE = 0.12
_SEEN = math.radians(0.5)  # a snug position nearer to the drawn one is the drawn one
_ROUNDED = 1e-3  # [m]
_DOES = {
    Action.PUSH.value: "pushes the plate",
    Action.PULL.value: "pulls the plate",
    Action.HOLD_BACK.value: "holds the plate back",
}
_CAUTION = """
Computed from the scenario, not tried. Motor, bolt and link are as large as its [search] says.
Parts that cross here (belt, pulleys, plate, motor, bolt, stop) must lie in planes of their own.
Measure machine, motor and belt again before anything is cut or drilled."""


def place_figures(search: Search, found: Found) -> Iterator[tuple[str, Figure]]:
    """Figures with their names, each drawn as it is asked for."""
    placement = found.placement
    yield "map", map_figure(search, placement, found.sampled)
    if placement.layouts:
        yield "front", front_figure(search.scenario, found)
        yield "best", best_figure(search, placement.layouts[0], found.scenarios[0])


def best_figure(search: Search, placed: PlacedLayout, mount: Scenario) -> Figure:
    """Draw a layout for marking it out."""
    figure = new_figure(_WIDTH, _HEIGHT)
    belt = f" Belt: {placed.belt}." if placed.belt else ""
    lines = (
        f"Adjuster: {placed.kind}, {_DOES[placed.acts]}; thread {placed.thread}; set "
        f"{turns_text(placed.set_turns)} turns past zero.{belt}",
        "True proportion, seen facing the motor's pulley. Solid: as drawn; places are told from "
        "the driven shaft. Dashed: the plate and the motor elsewhere in the travel; angles are "
        "from as drawn, counter-clockwise positive.",
    )
    top = heading(figure, f"Layout {placed.rank}: {search.scenario.title}", lines) + 0.06
    marked_out = f"{marking_out(search, placed, mount)}\n{_CAUTION}"
    # A user's names stand in it; what lines begin with is not theirs.
    text = "\n".join(line[:4] + plain(line[4:]) for line in marked_out.splitlines())
    foot = _EDGE + text_size(figure, text)[1] / figure.dpi
    figure.text(
        0.15 / _WIDTH, _EDGE / _HEIGHT, text, fontsize=FONT_SIZE, parse_math=False,
        gid="marking out",
    )  # fmt: skip
    axes = panel(figure, _LEFT, _RIGHT, top, _HEIGHT - top - _BELOW - foot)
    layout_figure(_layout(PlacedParts.of(placed, mount, search.space)), axes)
    return figure


def _layout(parts: PlacedParts) -> Layout:
    """The mount with the sizes, angles and places that only a search tells."""
    placed, space, angles = parts.placed, parts.space, parts.placed.plate_angles
    display, shaft = parts.scenario.display, parts.scenario.driven.shaft

    def where(at: Vector) -> str:
        # As the text has it: a scenario's points are rounded once more.
        found = (placed.hinge, placed.motor, placed.tip)
        x, y = next((one for one in found if math.dist(one, at) < _ROUNDED), at)
        right = offset_words(x - shaft[0], ("left", "right"), display)
        return f"\n{right}, {offset_words(y - shaft[1], ('down', 'up'), display)}"

    ends = {"a new belt goes on": angles.install, "full take-up": angles.take_up}
    if abs(angles.snug) > _SEEN:
        ends["snug"] = angles.snug
    places: dict[str, tuple[Vector, float]] = {}
    sizes: dict[str, Any] = {"body_radius": 0.5 * space.motor_body, "screw": space.bolt_length}
    block = block_room(parts)
    if block is not None and block.length <= MARKED:
        sizes["block"] = False
    elif block is not None:
        sizes["nut"] = block.middle
        places["block, middle"] = block.middle, 0.0
    if placed.stop_at is not None:
        places["stop"] = placed.stop_at, 0.0
    if parts.kind is not AdjusterKind.LINK:
        room = f"{on_rule(space.wrench_space, display)} free\nfor the wrench"
        places[room] = parts.other_end, space.wrench_space
    scenario = replace(parts.scenario, keep_outs=space.keep_outs)
    return mount_as_drawn(scenario, sizes, ends, places=places, where=where)


def offset_words(offset: float, words: tuple[str, str], display: Display) -> str:
    """A distance from a datum and on which side of it, in words instead of a sign."""
    text = on_rule(abs(offset), display)
    return text if text.startswith("0 ") else f"{text} {words[offset > 0]}"

"""Searches of our own invention whose pictures are looked at, and what was found in them."""

import math
from dataclasses import replace
from functools import cache

from plot_mounts import CIDER, SHIPPED

from mountcalc.console.choices import Prefer
from mountcalc.place.as_scenario import as_scenario
from mountcalc.place.pictures.best import best_figure
from mountcalc.place.pictures.front import front_figure
from mountcalc.place.pictures.map import map_figure
from mountcalc.place.placed_parts import PlacedParts
from mountcalc.place.search.search import find_layouts
from mountcalc.scenario.model import AdjusterKind, KeepOut, Limits
from mountcalc.scenario.search import Action, MotorSide, Search, SearchSpace
from mountcalc.scenario.text.threads import read_thread
from mountcalc.scenario.text.writing import Display

ALL_KINDS = (AdjusterKind.JACK_IN_BASE, AdjusterKind.JACK_IN_PLATE, AdjusterKind.LINK)
SPACE = SearchSpace(
    hinge_x=(-0.75, -0.3),
    hinge_y=(-0.5, 0.1),
    reach=(0.1, 0.5),
    motor_height=(0.08, 0.12),
    motor_side=MotorSide.EITHER,
    kinds=ALL_KINDS,
    acts=(Action.PUSH, Action.HOLD_BACK),
    threads=(read_thread("3/8-16"),),
    plate_length=0.6,
    samples=256,
    seed=1,
    motor_body=0.14,
    motor_feet=0.14,
    clearance=0.012,
    wrench_space=0.05,
    link_length=0.2,
    plate_thickness=0.019,
    bolt_length=0.15,
)


def ground(name, x0, y0, x1, y1):
    return KeepOut(name, ((x0, y0), (x1, y0), (x1, y1), (x0, y1)))


GROUNDS = (
    ground("floor", -2.0, -1.2, 2.0, -0.6),
    ground("$x_1$ leg of the bench with a name that never seems to end", -0.95, -1.0, -0.85, 0.3),
    KeepOut("rail", ((-0.3, 0.2), (0.3, 0.2), (0.0, 0.3))),
)
# A row of pegs above the mount, as many as a file may have.
PEGS = tuple(
    ground(f"peg {row + 1} of the row", -0.9 + 0.03 * row, 0.15, -0.88 + 0.03 * row, 0.17)
    for row in range(50)
)


def search(name="cider-mill", display=None, **changes):
    scenario = CIDER if name == "cider-mill" else SHIPPED[name]
    if display is not None:
        scenario = replace(scenario, display=display)
    return Search(scenario, replace(SPACE, **changes))


def below():
    """The motor hung below its plate, and searched along with it."""
    return search(
        "grindstone",
        Display.METRIC,
        hinge_x=(-0.5, 0.6),
        hinge_y=(-0.9, -0.2),
        motor_height=(0.05, 0.1),
        motor_side=MotorSide.BELOW,
        motor_direction=(math.radians(-120), math.radians(-40)),
        face_offset=-0.03,
    )


def limited():
    """Limits of adjuster and hinge, so that the front shows one; odd names."""
    found = search(kinds=(AdjusterKind.JACK_IN_PLATE,), keep_outs=GROUNDS, face_offset=None)
    limits = Limits(adjuster=400.0, hinge=1500.0)
    title = "$\\frac{1}{2}$ 漢字 \t" + "a title without an end " * 9
    return replace(found, scenario=replace(found.scenario, title=title, limits=limits))


SEARCHES = {
    "bolt in the plate": limited(),
    "link, metric": search(display=Display.METRIC, kinds=(AdjusterKind.LINK,)),
    "motor below": below(),
    "many keep-outs": search(keep_outs=PEGS),
    "small ground, bolt in the base": search(
        kinds=(AdjusterKind.JACK_IN_BASE,),
        hinge_x=(-0.62, -0.58),
        hinge_y=(-0.25, -0.25),
        keep_outs=GROUNDS,
    ),
    "none": search(leverage=0.999, keep_outs=GROUNDS),
}


@cache
def found_in(name):
    """What a search found. Pegs are drawn, not cleared: to search among so many takes long."""
    search = SEARCHES[name]
    if search.space.keep_outs is PEGS:
        search = replace(search, space=replace(search.space, keep_outs=()))
    return find_layouts(search, Prefer.FINE, 4)


@cache
def figures_of(name):
    """Pictures of a search by name, drawn once, and the parts of its best layout."""
    search, found = SEARCHES[name], found_in(name)
    drawn = {"map": map_figure(search, found.placement, found.sampled)}
    if found.placement.layouts:
        drawn["front"] = front_figure(search.scenario, found)
        best = parts_of(name)
        drawn["best"] = best_figure(search, best.placed, best.scenario)
    return drawn


@cache
def parts_of(name):
    """The best layout as it was searched; a file has its mount rounded."""
    found, whole = found_in(name), SEARCHES[name]
    ends = float(found.measures.install[0]), float(found.measures.take_up[0])
    scenario = as_scenario(whole.scenario, whole.space, found.layouts, 0, ends)
    return PlacedParts.of(found.placement.layouts[0], scenario, whole.space)

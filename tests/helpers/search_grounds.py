"""Searches with keep-outs of all kinds, invented for the tests, and layouts drawn from them."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from invented_scenarios import JACK_IN_BASE

from mountcalc.place.feasible.layouts import layouts_from
from mountcalc.scenario.reader import parse_search

__all__ = ["GROUNDS", "SEARCH", "drawn", "search_of"]

SEARCH = """
[search]
hinge_x = ["-30 in", "-20 in"]
hinge_y = ["-16 in", "-8 in"]
reach = ["6 in", "18 in"]
motor_height = ["3 in", "5 in"]
plate_length = "24 in"
kinds = ["jack-in-base", "jack-in-plate", "link"]
acts = ["push", "hold-back"]
threads = ["3/8-16", "M10x1"]
"""

GROUNDS = """
[[keep_out]]
name = "floor"
box = [["-60 in", "-30 in"], ["60 in", "-16 1/2 in"]]
[[keep_out]]
name = "leg"
polygon = [["-38 in", "-40 in"], ["-35 in", "-40 in"], ["-36 in", "9 in"], ["-37 in", "9 in"]]
[[keep_out]]
name = "hook"
polygon = [["-12 in", "8 in"], ["-9 in", "8 in"], ["-9 in", "14 in"], ["-18 in", "14 in"],
           ["-18 in", "12 in"], ["-12 in", "12 in"]]
[[keep_out]]
name = "brace behind the belt"
box = [["-15 in", "-12 in"], ["-13 in", "2 in"]]
parts = ["plate", "motor", "bolt"]
"""


def search_of(grounds=GROUNDS, **changes):
    """The search, with other things allowed."""
    search = parse_search(JACK_IN_BASE + SEARCH + grounds)
    return replace(search, space=replace(search.space, **changes))


def drawn(search, count, seed=1):
    """Layouts without fault, and two plate angles of each, in the order of install and take-up."""
    random = np.random.default_rng(seed)
    layouts = layouts_from(random.random((count, 9)), search.space, search.scenario)
    layouts = layouts.take(layouts.fault == 0)
    widths = random.uniform(0.02, 0.3, (2, len(layouts)))
    return layouts, (-widths[0] * layouts.tightens, widths[1] * layouts.tightens)

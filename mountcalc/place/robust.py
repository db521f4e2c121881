"""Layouts that were found, ranked by how many of their builds keep what is promised."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from mountcalc.place.results import KeptBuilds
from mountcalc.place.search.search import Found
from mountcalc.scenario.model import Scenario
from mountcalc.tolerance import builds_of, judged, rooms_of, wider

BUILDS = 4_000
"""Builds of each layout: the share that keeps all is known to a per cent, and layouts are compared
by the same draws."""
_MOST_ALONE = 8  # through the ordinary solver: a few in a hundred builds of some layouts need it


def ranked_by_builds(found: Found, progress: Callable[[float], None] = lambda _: None) -> Found:
    """Rank layouts by the share of their builds that keeps all that is promised.

    Of two with the same share in whole per cents, as it is told, the one that was better by the
    preference leads. Builds are drawn as ``[build]`` of the scenario says, by the search's seed and
    for each layout alike; ``progress`` is told the share [-] that is done. Nothing is measured
    again from the keep-outs.
    """
    placement, layouts = found.placement, []
    pairs = zip(placement.layouts, found.scenarios, strict=True)
    for at, (layout, scenario) in enumerate(pairs):
        layouts.append(replace(layout, builds=kept_builds(scenario, placement.seed)))
        progress((at + 1) / len(found.scenarios))
    shares = [one.builds.percent for one in layouts if one.builds is not None]
    order = np.argsort(-np.array(shares, dtype=np.intp), kind="stable")
    ranked = tuple(replace(layouts[one], rank=rank) for rank, one in enumerate(order, 1))
    return replace(
        found,
        placement=replace(placement, layouts=ranked, builds=BUILDS),
        scenarios=tuple(found.scenarios[one] for one in order),
        layouts=found.layouts.take(order),
        measures=found.measures.take(order),
    )


def kept_builds(scenario: Scenario, seed: int) -> KeptBuilds:
    """Shares of a mount's builds that keep all, and each promise."""
    found = judged(builds_of(scenario, BUILDS, seed), _MOST_ALONE)
    goes_on, takes_up = rooms_of(builds_of(wider(scenario), BUILDS, seed))
    return KeptBuilds(
        kept=found.share(found.promised),
        open=found.share(found.open),
        goes_on=found.share(found.goes_on),
        takes_up=found.share(found.takes_up),
        kept_wider=found.share(found.open & goes_on & takes_up),
    )

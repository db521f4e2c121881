"""What is judged of the hinges: their screws in both boards, pin and leaf by size, knocking."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import combinations

from mountcalc.formulas.wood_screws import combined_share
from mountcalc.handbook.hardware import Face, fact
from mountcalc.handbook.wood_screws import ScrewStrength, screw_strength
from mountcalc.judgement import Judgement, Measure, Topic, Verdict
from mountcalc.loads import Part, Wood
from mountcalc.pages.amounts import FORCE, LENGTH, NUMBER, PRESSURE
from mountcalc.scenario.boards import board_sizes
from mountcalc.scenario.drawn_plate import plate_line
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.text.writing import Display
from mountcalc.strength.carried import Carried, Line, Setup, judged, of_part
from mountcalc.strength.play import tension_of_play
from mountcalc.structure.made import Screws, screws_of

_SHEAR = 1 / math.sqrt(3.0)  # of a yield strength (von Mises)
_HARDLY = 1e-3  # of a strength: such a load has no direction that matters
_STATICS = "statics of the leaf"


def hinge_judgements(setup: Setup, loads: Sequence[Carried]) -> Iterator[Judgement]:
    """Whether screws, pins and leaves stand what the hinges carry, and whether they knock."""
    scenario, hinges = setup.scenario, [*of_part(loads, Part.HINGE)]
    display = scenario.display
    for name, screws in screws_of(scenario).items():
        yield from judged(f"screws-in-{name}", _screwed(name, screws, loads, display))
    yield from judged("hinge-pin", _pins(scenario, hinges))
    yield from judged("hinge-leaf", _leaves(scenario, hinges))
    yield from _knocks(setup, hinges)


def _screwed(
    name: str, screws: Screws, loads: Sequence[Carried], display: Display
) -> Iterator[Line]:
    """Each screw, pulled out and pushed aside at once."""
    size, known = screws.screw, dict[str, ScrewStrength | None]()
    for load, duration, when, _ in of_part(loads, Part.SCREW):
        if load.on is not Wood(name):
            continue
        if duration not in known:
            known[duration] = screw_strength(
                screws.wood, screws.face, size.diameter, screws.thread, screws.depth, duration
            )
        into = f"the {name}" if screws.face is Face.THROUGH else f"the {name}'s {screws.face}"
        strong, words = known[duration], f"{load.name} in {into} {when}"
        pulls = f"{words} is pulled by {FORCE.text(load.out, display)}"
        if strong is None:
            none = f"nothing is published for {screws.wood.name} under such a load"
            yield Line(FORCE, load.out, 0.0, f"{pulls}; {none}", "NDS; Wood Handbook", "estimate")
            continue
        if strong.withdrawal <= 0 and load.out > _HARDLY * strong.lateral:
            none = f"the {screws.face} of {screws.wood.name} holds no screw that is pulled"
            if screws.thread <= 0:
                none = f"no thread of {size.name} is in the wood"
            yield Line(FORCE, load.out, 0.0, f"{pulls}; {none}", strong.source, "")
            continue
        if strong.lateral <= 0:
            none = f"{size.name} is too short to hold aside, four diameters deep are wanted"
            yield Line(FORCE, load.side, 0.0, f"{words}: {none}", strong.source, strong.sure)
            continue
        share = combined_share(load.out, load.side, max(strong.withdrawal, 1e-9), strong.lateral)
        yield Line(
            NUMBER,
            float(share),
            1.0,
            f"{pulls} and pushed aside by {FORCE.text(load.side, display)}; {size.name} in "
            f"{screws.wood.name} holds {FORCE.text(strong.withdrawal, display)} of the one or "
            f"{FORCE.text(strong.lateral, display)} of the other for so long",
            strong.source,
            strong.sure,
        )


def _pins(scenario: Scenario, hinges: Sequence[Carried]) -> Iterator[Line]:
    """The pin in double shear; nobody publishes a rating of a butt hinge."""
    diameter, display = scenario.parts.hinges.pin_diameter, scenario.display
    steel, factor = fact("hinge_steel", "yield"), fact("hinge_steel", "factor")
    limit = _SHEAR * steel.value / factor.value
    for load, _, when, _ in hinges if diameter is not None else ():
        assert diameter is not None
        size = math.hypot(load.out, load.along_plate, load.along_shafts)
        stress = size / (0.5 * math.pi * diameter**2)
        yield Line(
            PRESSURE,
            stress,
            limit,
            f"the pin of {load.name} carries {FORCE.text(size, display)} {when}, "
            f"{PRESSURE.text(stress, display)} in double shear; {PRESSURE.text(limit, display)} "
            "is half of what soft steel yields at",
            f"computed from its size; {steel.source}",
            "estimate",
        )


def _leaves(scenario: Scenario, hinges: Sequence[Carried]) -> Iterator[Line]:
    """A leaf that is pulled off the wood bends between its pin and its first screws."""
    given, display, sizes = scenario.parts.hinges, scenario.display, board_sizes(scenario)
    steel, factor = fact("hinge_steel", "yield"), fact("hinge_steel", "factor")
    limit = steel.value / factor.value
    arm = sizes.edge + (sizes.leaf_width - sizes.edge) / 3.0
    section = sizes.leaf_length * sizes.leaf_thickness**2 / 6.0
    for load, _, when, _ in hinges if given.leaf_thickness is not None else ():
        stress = max(load.out, 0.0) * arm / section
        yield Line(
            PRESSURE,
            stress,
            limit,
            f"the leaf of {load.name} on the {load.on} is pulled off by "
            f"{FORCE.text(max(load.out, 0.0), display)} {when} and is bent to "
            f"{PRESSURE.text(stress, display)} before its first screws; "
            f"{PRESSURE.text(limit, display)} is half of what soft steel yields at",
            f"computed from its size; {steel.source}",
            "estimate",
        )


def _knocks(setup: Setup, hinges: Sequence[Carried]) -> Iterator[Judgement]:
    """A pin that is pushed the other way from one case to the next crosses its play."""
    forces = defaultdict[tuple[int, str], list[tuple[str, complex]]](list)
    for load, _, when, visit in hinges:
        if load.on is Wood.PLATE:
            forces[visit, load.name].append((when, complex(load.along_plate, load.out)))
    pairs = [
        (name, one, other)
        for (_, name), several in forces.items()
        for one, other in combinations(several, 2)
    ]
    if not pairs:
        return
    name, (when, one), (then, other) = min(pairs, key=lambda pair: _along(pair[1][1], pair[2][1]))
    if _along(one, other) >= 0:
        return
    display, play = setup.scenario.display, setup.scenario.parts.hinges.play
    sizes = [FORCE.text(abs(each), display) for each in (one, other)]
    sentence = (
        f"{name} is pushed by {sizes[0]} {when} and the other way by {sizes[1]} {then}: it knocks "
        "through its play"
    )
    measure = Measure(FORCE, None, verdict=Verdict.CAUTION)
    if play is not None:
        line, way = plate_line(setup.scenario), (one - other) / abs(one - other)
        moved = tuple(
            play * (way.real * along + way.imag * out)
            for along, out in zip(line.along, line.normal, strict=True)
        )
        worth = tension_of_play(setup, (moved[0], moved[1]))
        sentence += f" of {LENGTH.text(play, display)}"
        if worth is not None:
            sentence += f", which is worth {FORCE.text(abs(worth), display)} a strand at rest"
            measure = replace(measure, value=abs(worth))
    yield Topic("hinge-knock", _STATICS).judge(measure, sentence)


def _along(one: complex, other: complex) -> float:
    """How far two forces point the same way [N^2]."""
    return (one * other.conjugate()).real

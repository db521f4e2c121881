"""What the parts of a mount carry and for how long, and how the worst of it becomes a judgement."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from itertools import product
from typing import NamedTuple

from mountcalc.equilibrium.solve import SolvedMount
from mountcalc.handbook.hardware import Face
from mountcalc.judgement import Judgement, Measure, Topic, Verdict
from mountcalc.loads import Part, PartLoad, Stiffness, Wood, part_loads
from mountcalc.pages.amounts import Kind
from mountcalc.record import Record
from mountcalc.requirements.requirements import Requirements
from mountcalc.requirements.results import Setting
from mountcalc.scenario.model import Scenario
from mountcalc.structure.made import plate_of

# A belt is left tight, so what it pulls at rest stays; a machine works for weeks of its life, and
# a new belt is let down to the setting within weeks (estimates).
_STANDS = {"rest": "permanent", "running": "medium", "starting": "instantaneous"}
_NEW = {**_STANDS, "rest": "medium"}
_WHEN = {"rest": "at rest", "running": "running", "starting": "starting"}


class Setup(Record):
    """A mount where it is judged, solved for each rotation.

    ``turns`` [-] is None without an adjuster, ``new_turns`` [-] where no new belt is judged.
    ``least_tension`` [N] of a strand at rest is what grips, ``range_width`` [m] what the adjuster
    moves between the fewest and the most turns; both are None where there is no range. A new belt
    is set to ``new_tension`` [N].
    """

    scenario: Scenario
    ways: tuple[SolvedMount, ...]
    turns: float | None
    new_turns: float | None = None
    least_tension: float | None = None
    range_width: float | None = None
    new_tension: float | None = None

    @classmethod
    def at(cls, requirements: Requirements, setting: Setting, turns: float | None) -> Setup:
        """A mount at some turns; a new belt is judged where they are the setting's."""
        is_set = turns is not None and turns == setting.set_turns
        return cls(
            scenario=requirements.scenario,
            ways=requirements.ways,
            turns=turns,
            new_turns=setting.new_turns if is_set else None,
            least_tension=setting.tension_min,
            range_width=setting.sensitivity.extension_range,
            new_tension=setting.new_tension if is_set else None,
        )


class Carried(NamedTuple):
    """A load of one part, for how long it stands, and when that is, in words.

    ``visit`` is the same for the cases that follow one another without a hand on the mount.
    """

    load: PartLoad
    duration: str
    when: str
    visit: int = 0


class Line(NamedTuple):
    """A value beside its limit, in SI, with what is said of it."""

    kind: Kind
    value: float
    limit: float
    sentence: str
    source: str
    sure: str


def stiffness_of(scenario: Scenario) -> Stiffness:
    """How the plate gives, where that is known: all else counts as rigid as loads are shared."""
    plate = plate_of(scenario)
    if plate is None:
        return Stiffness()
    return Stiffness(bending=plate.bending, twisting=plate.twisting, creep=plate.creep)


def carried(setup: Setup) -> tuple[Carried, ...]:
    """Every load of every part, for each rotation, at the setting and where a new belt is set."""
    stiffness, found = stiffness_of(setup.scenario), list[Carried]()
    parts, out = setup.scenario.parts, setup.scenario.parts.bolt.stands_out or 0.0
    into = {Wood.PLATE: parts.hinges.into_plate, Wood.BASE: parts.hinges.into_base}
    edges = [wood for wood, face in into.items() if face in {Face.EDGE, Face.END}]
    settings = (setup.turns, _STANDS, ""), (setup.new_turns, _NEW, " with a new belt")
    for visit, (solved, (at, stands, more)) in enumerate(product(setup.ways, settings)):
        if at is not None or not more:
            found += (
                Carried(load, stands[load.case], f"{_WHEN[load.case]}{more}", visit)
                for load in part_loads(solved, at, stiffness, out, edges)
            )
    return tuple(found)


def of_part(loads: Iterable[Carried], part: Part) -> Iterator[Carried]:
    """The loads of one kind of part."""
    return (one for one in loads if one.load.part is part)


def judged(name: str, lines: Iterable[Line]) -> Iterator[Judgement]:
    """The worst of several lines, as one judgement; nothing where there are none.

    A limit of zero is one that nothing may be held against.
    """

    def share(line: Line) -> float:
        if line.limit > 0:
            return line.value / line.limit
        return math.inf if line.value > 0 else 0.0

    worst = max(lines, key=share, default=None)
    if worst is None:
        return
    topic = Topic(name, worst.source, sure=worst.sure)
    if worst.limit > 0:
        measure = Measure.at_most(worst.kind, worst.value, worst.limit)
    else:
        verdict = Verdict.FAIL if worst.value > 0 else Verdict.PASS
        measure = Measure(worst.kind, worst.value, worst.limit, verdict=verdict)
    yield topic.judge(measure, worst.sentence)

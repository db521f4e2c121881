"""All that is judged of what a mount is made of, at some turns and where a new belt is set."""

from __future__ import annotations

from collections.abc import Iterator

from mountcalc.handbook.wood import wood
from mountcalc.judgement import Judgement, Measure, Topic
from mountcalc.loads import loads_judgements
from mountcalc.pages.amounts import NUMBER
from mountcalc.scenario.model import AdjusterKind, Scenario
from mountcalc.scenario.text.wording import listed, shown
from mountcalc.strength.bolt import bolt_judgements
from mountcalc.strength.carried import Setup, carried, stiffness_of
from mountcalc.strength.feet import foot_judgements
from mountcalc.strength.hinges import hinge_judgements
from mountcalc.strength.plate import plate_judgements
from mountcalc.strength.seasons import over_time
from mountcalc.structure.made import bolt_of, plate_of, screws_of


def part_judgements(setup: Setup) -> tuple[Judgement, ...]:
    """Everything that is judged of the parts: along the shafts, of shaking, of strength."""
    stiffness = stiffness_of(setup.scenario)
    along = loads_judgements(setup.ways, setup.turns, stiffness)
    return (*along, *strength_judgements(setup))


def strength_judgements(setup: Setup) -> tuple[Judgement, ...]:
    """Whether boards and hardware stand what they carry, as far as the scenario tells of them."""
    scenario = setup.scenario
    found, plate, hinges = list[Judgement](), plate_of(scenario), scenario.parts.hinges
    is_told = bool(screws_of(scenario)) or (hinges.pin_diameter or hinges.leaf_thickness)
    if plate is not None or bolt_of(scenario) is not None or is_told:
        loads = carried(setup)
        if plate is not None:
            found += plate_judgements(plate, loads, scenario.display)
        found += hinge_judgements(setup, loads)
        found += bolt_judgements(scenario, loads)
        found += foot_judgements(scenario, loads)
        found += over_time(setup)
    if left_out := [*_left_out(scenario)]:
        sentence = f"not all of the strength is judged: {listed(left_out, 'and')} would tell more"
        topic = Topic("strength-left-out", "what the scenario does not give")
        found.append(topic.judge(Measure(NUMBER, None), sentence))
    return tuple(found)


def _left_out(scenario: Scenario) -> Iterator[str]:
    """Keys without which something is not judged."""
    parts, bolt = scenario.parts, bolt_of(scenario)
    for key, material in (("plate", parts.plate.material), ("base", parts.base.material)):
        if material is None:
            yield f"{key}.material"
        elif wood(material) is None:
            yield f"{key}.material (nothing is known of {shown(material)})"
    if parts.plate.thickness is None:
        yield "plate.thickness"
    for key, board in (("screw", "plate"), ("base_screw", "base")):
        screw, is_own = parts.hinges.screw_into(board), parts.hinges.base_screw is not None
        if (screw is None or screw.length is None) and (is_own or key == "screw"):
            yield f"hinge.{key} with its length"
    if parts.hinges.pin_diameter is None:
        yield "hinge.pin_diameter"
    is_link = scenario.adjuster.kind is AdjusterKind.LINK  # between its pins, and never aside
    if bolt is not None and bolt.stands_out is None and not is_link:
        yield "adjuster.stands_out"

"""From measurements to a scenario: what was understood, what was taken, what does not fit."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from mountcalc.belts import choose_belt
from mountcalc.equilibrium.mount import Mount
from mountcalc.errors import InputError, MountError, ScenarioError
from mountcalc.handbook.belts.sections import NumberOf
from mountcalc.handbook.machine import MotorFrame
from mountcalc.linkage.center_distance import center_distance, least_length
from mountcalc.new.answers import named
from mountcalc.new.measurements import Measurements, questions
from mountcalc.new.mount.belt import clashing_sizes, nearest_belt
from mountcalc.new.mount.draft import Draft
from mountcalc.new.mount.plate import Built, built
from mountcalc.new.mount.space import Search, sketch
from mountcalc.new.mount.writing import write
from mountcalc.new.results import Contradiction, Taken, Understood
from mountcalc.new.tape.places import THINGS, located, tape_keys
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.reader import parse_scenario, parse_search
from mountcalc.scenario.text.wording import listed, one_line
from mountcalc.scenario.text.writing import Display
from mountcalc.table import tension_table
from mountcalc.units import si_factor

# Shaft heights of motors up to a power (estimates, after NEMA frames 56, 184T and 215T).
_USUAL_HEIGHTS = ((1.5, 3.5), (5.0, 4.5), (math.inf, 5.25))  # [hp], [in]
# Which answer is behind a key of a scenario: the first of those that were given, else the first.
_BEHIND = {
    "motor.shaft": ("driven_to_motor", "motor_wall", "motor_height", "shaft_height"),
    "motor.frame": ("motor_frame",),
    "motor.packing": ("shaft_height",),
    "motor.pulley": ("motor_pulley_across", "motor_pulley_round"),
    "motor": ("motor_power",),
    "driven.pulley_position": ("pulley_to_bearing",),
    "driven.pulley": ("driven_pulley_across", "driven_pulley_round"),
    "driven.bearing": ("journal_diameter", "bearings_apart", "journal_length"),
    "driven.load": ("load_weight",),
    "driven": ("machine_power",),
    "belt": ("belt", "belt_outside", "belt_width"),
    "plate.hinge": ("hinge_to_motor", "hinge_height", "hinge_wall"),
    "plate.travel": ("swing_tighter", "swing_looser"),
    "plate": ("plate_length",),
    "adjuster.thread": ("thread",),
    "adjuster.acts": ("adjuster_does",),
    "adjuster": ("hinge_to_bolt", "bolt_height", "bolt_wall", "driven_to_bolt"),
    "base.floor": ("hinge_height", "driven_height", "hinge_to_driven"),
    "search.motor_height": ("shaft_height",),
    "search": ("room_left",),
}
# What a point below the floor hangs on.
_BELOW = {
    "motor": ("driven_to_motor", "motor_height"),
    "hinge": ("hinge_to_motor", "hinge_to_driven", "hinge_height"),
    "bolt": ("hinge_to_bolt", "driven_to_bolt", "bolt_height"),
    "post": ("bolt_to_post", "post_height"),
    "plate_end": ("plate_length",),
}
_BELT, _SWING = ("belt", "belt_outside"), ("plate_length", "swing_tighter", "swing_looser")
_ACTS = ' (acts = "push", "pull" or "both")'  # of a file, and there is none yet
_STEPS = 257  # of the travel


class _Case:
    """A mount with all that its scenario is written from."""

    def __init__(self, measured: Measurements) -> None:
        self.measured = measured
        self.floor: float | None = measured.value("driven_height")
        self.remarks: tuple[str, ...] = ()
        draft = Draft(measured)
        self.wrong = list(clashing_sizes(measured, draft))
        frame: MotorFrame | None = measured.value("motor_frame")
        height = measured.value("shaft_height")
        if height is None and frame is not None:
            height = frame.shaft_height
        power = measured.value("motor_power") / si_factor("hp")
        usual = next(inches for most, inches in _USUAL_HEIGHTS if power <= most) * si_factor("in")
        self.search: Search | None = None
        if measured.text("built") == "no":
            self.search = sketch(measured, usual if height is None else height)
            self.mount: Built = self.search.sketch
            self.points = self.mount.points
            return
        found = located(measured, draft.show)
        if found.contradiction:
            self.wrong.append(found.contradiction)
            self.points = found.choices[0]
            return
        choices = tuple(
            {name: draft.rounded(at) for name, at in points.items()} for points in found.choices
        )
        self.mount = built(measured, choices, height, usual, draft.show)
        self.floor, self.remarks, self.points = found.height, found.remarks, self.mount.points
        if "plate_length" not in measured and not {"swing_tighter", "swing_looser"}.isdisjoint(
            measured.answers
        ):
            self.remarks += (
                "How far the plate swings was measured at its far end, and how long it is was not: "
                f"{draft.show(self.mount.length)} is taken. Measure plate_length.",
            )
        self._refuse_below_floor(draft)

    def _refuse_below_floor(self, draft: Draft) -> None:
        """What was measured by its height is above the floor; what hangs on it may not be."""
        for name, (_, y) in self.points.items():
            below = -y - (self.floor or math.inf)
            if below > self.measured.value("tape_error"):
                keys = _BELOW[name]
                key = next((one for one in keys if one in self.measured), keys[0])
                also = f"; {name}_height would tell" if f"{name}_height" in questions() else ""
                raise InputError(
                    f"{key}: {THINGS[name]} would be {draft.show(below)} below the floor{also}"
                )

    def read(self, bought: str | None) -> tuple[str, Scenario, tuple[Taken, ...]]:
        """Write the scenario with a belt, read it back; and what was taken for it."""
        draft, search = Draft(self.measured), self.search
        text = write(draft, self.mount, self.floor, search, bought)
        try:
            scenario = parse_scenario(text) if search is None else parse_search(text).scenario
        except ScenarioError as error:
            problem = error.problems[0]
            raise InputError(f"{_behind(problem.key, self.measured)}: {problem.text}") from None
        return text, scenario, (*self.mount.taken, *draft.taken)


def understood(measured: Measurements) -> Understood:
    """Make a scenario of what was measured.

    What cannot be, or is wanted and missing, is an InputError of one line that begins with the key
    of a question; see `Understood` for measurements that clash.
    """
    case = _Case(measured)
    wrong, doubts = case.wrong, tuple[str, ...]()
    if wrong:
        return Understood("", None, case.points, contradictions=tuple(wrong))
    bought = nearest_belt(measured, math.hypot(*case.mount.points["motor"]))
    text, scenario, taken = case.read(bought)
    if case.search is None:
        try:
            if bought and "belt_outside" not in measured:
                better, doubts = _better_belt(scenario, bought)
                if better != bought:
                    text, scenario, taken = case.read(better)
            tension_table(scenario)
        except MountError as error:
            wrong.append(_never_tight(measured, scenario, error))
    return Understood(
        text=text,
        read=scenario,
        is_search=case.search is not None,
        points=case.mount.points,
        taken=tuple(_taken(measured, taken)),
        remarks=(*case.remarks, *doubts),
        contradictions=tuple(wrong),
    )


def _never_tight(measured: Measurements, scenario: Scenario, error: MountError) -> Contradiction:
    """A belt that the plate's swing never makes snug, or a plate that nothing can move."""
    places = [key for key in tape_keys() if not {"bolt", "post"} & set(key.split("_"))]
    # A swing that nobody measured was guessed, and may be wrong as well.
    keys = (*(key for key in (*_BELT, *places) if key in measured), *_SWING)
    path = Mount.of(scenario).path(np.linspace(*scenario.plate.travel, _STEPS))
    belt, radii = scenario.belt, (scenario.motor.pulley_radius, scenario.driven.pulley_radius)
    near, far = float(path.length.min()), float(path.length.max())
    if not error.key.startswith("belt.") and near <= belt.length <= far:
        key = _behind(error.key, measured)
        text = one_line(str(error)).removeprefix(f"{error.key}: ").removesuffix(_ACTS)
        rest = (one for one in tape_keys() if one in measured and one != key)
        return Contradiction((key, *rest), (), text)
    show = Draft(measured).show
    wants = "is too short at any distance"
    if belt.length >= least_length(*radii):
        wants = f"wants them {show(float(center_distance(belt.length, *radii)))} apart"
    name = f"the belt {belt.designation}" if belt.designation else "the belt"
    return Contradiction(
        keys,
        (),
        f"{name} never gets snug: as measured, the shafts are "
        f"{show(math.dist(scenario.motor.shaft, scenario.driven.shaft))} apart, "
        f"{show(float(path.center_distance.min()))} to {show(float(path.center_distance.max()))} "
        f"as the plate swings, and over these pulleys it {wants}. One of these is off: "
        f"{listed(map(named, keys))}",
    )


def _taken(measured: Measurements, told: tuple[Taken, ...]) -> Iterator[Taken]:
    """What is taken for answers that were not given, in the order of the questions."""
    by_key = {one.key: one for one in told}
    for key, question in questions().items():
        if key in by_key:
            yield by_key[key]
        elif key not in measured and measured.is_asked(key):
            word = measured.text(key)
            if word is not None and question.group != "start":
                yield Taken(key, word, question.unsaid)


def _better_belt(scenario: Scenario, bought: str) -> tuple[str, tuple[str, ...]]:
    """The best belt for a mount, of those numbered in its units, and what is wrong even with that.

    The one that is there if none is.
    """
    is_inch = scenario.display is Display.INCH
    for one in choose_belt(scenario).belts:
        is_metric = one.number_measures == NumberOf.DATUM
        if one.designation and not (is_inch and is_metric):
            return one.designation, tuple(f"Belt {one.designation}: {why}." for why in one.why_not)
    return bought, ()


def _behind(key: str, measured: Measurements) -> str:
    """The question whose answer a key of the scenario comes of."""
    keys = next((keys for start, keys in _BEHIND.items() if key.startswith(start)), ("built",))
    return next((one for one in keys if one in measured), keys[0])

"""The first run, step by step, with the mount's numbers; what dressing and oil do to a belt."""

from __future__ import annotations

from collections.abc import Iterator

from mountcalc.card import BenchCard
from mountcalc.check import Check, find_set_point
from mountcalc.errors import MountError
from mountcalc.handbook.restoring import ShopRule, box_temperatures, oily_leather, shop_rules
from mountcalc.judgement import Verdict
from mountcalc.pages.amounts import in_figures
from mountcalc.report.restorer.bedding import FEELS
from mountcalc.report.restorer.boxes import rise_text, warmth_text
from mountcalc.report.restorer.results import OldBox
from mountcalc.requirements.readings import readings_of
from mountcalc.requirements.requirements import weight_keeps
from mountcalc.requirements.results import Setting
from mountcalc.requirements.setting import gentlest_setting
from mountcalc.scenario.model import Rotation, Scenario
from mountcalc.scenario.text.wording import listed
from mountcalc.setting import method_label
from mountcalc.table import words

_ROTATION = {Rotation.CCW: "counter-clockwise", Rotation.CW: "clockwise"}


def first_run(
    scenario: Scenario, judged: Check, card: BenchCard, boxes: tuple[OldBox, ...]
) -> tuple[str, ...]:
    """What is done in which order, from the plug pulled to the belt set again."""
    display = scenario.display
    look, stop = (warmth_text(one.temperature, display) for one in box_temperatures()[1:])
    turns = f"turns {_ROTATION[scenario.motor.rotation]}"
    if scenario.motor.reverses:
        turns = "turns either way"
    setting = gentlest_setting(scenario)
    set_it = _set(scenario, setting, card)
    fails = sum(one.verdict is Verdict.FAIL for one in judged.judgements)
    what = "a judgement that fails" if fails == 1 else f"{fails} judgements that fail"
    steps = [
        *([f"The checks have {what}: change that before anything runs."] if fails else []),
        "Unplug the motor and lock the plug out. Block the plate. Take the belt off.",
        "Turn the driven shaft by hand, a whole turn, slowly. A tight spot or a scrape: stop, and "
        "see to the boxes first.",
        "Oil both boxes until oil shows at their ends. Turn by hand again: it must go easier.",
        f"Run the motor alone, belt off, for a minute: it {turns} as you face its pulley, and runs "
        "quietly. Unplug and lock out again.",
        "Lay a straight edge or a string along both pulleys: in one plane. Put the belt on.",
        set_it,
        "Turn the belt round by hand. Take block and tools away, put the guard on.",
        f"Start, the machine empty. Stop after {listed(FEELS, 'and')}, unplug, feel both boxes. "
        f"{_warm(scenario, boxes)}At {look} stop and find out why; at {stop} stop at once.",
        "Cool and quiet for an hour: give it light work, then all of it. Feel the boxes again.",
        _again(scenario, setting),
        "Write each look into the log.",
    ]
    return tuple(steps if setting.open else steps[: steps.index(set_it) + 1])


def _set(scenario: Scenario, setting: Setting, card: BenchCard) -> str:
    """The gentlest setting as a step."""
    lead = next(iter(setting.methods), None)
    if not setting.open:
        return (
            f"There is no setting to be sure of: {setting.why_not_open}. Go no further; mountcalc "
            "check says what to change."
        )
    if lead is None or weight_keeps(scenario):
        return f"{words.leave_it(scenario)} and let the plate down gently: weight sets the tension."
    shown = readings_of(lead, scenario)
    span = None if card.bedded is None else card.bedded.span
    label = method_label(scenario, lead, shown.unit, span)
    text = f"Set the gentlest tension: {label}, {shown.aim}"
    if shown.new_aim != shown.aim:
        text += f" (new belt {shown.new_aim})"
    text += "" if shown.never_above == "-" else f", never above {shown.never_above}"
    return f"{text}. Mark where the {words.adjuster_noun(scenario)} stands."


def _warm(scenario: Scenario, boxes: tuple[OldBox, ...]) -> str:
    """How warm the boxes may get that are well oiled."""
    said = []
    for box in boxes:
        well = next((one for one in box.heats if one.oiled == "well oiled"), None)
        if well is not None:
            rise = rise_text(well.rise_low, well.rise_high, scenario.display)
            said.append(f'"{box.name}" {rise}')
    if not said:
        return ""
    return f"Well oiled they settle above the room by: {listed(said, 'and')}. "


def _again(scenario: Scenario, setting: Setting) -> str:
    """What is done after a day."""
    if setting.set_turns is None or weight_keeps(scenario):
        return "After a day see how far the plate has sunk, and that it is clear of its stop."
    return (
        "After a day read the tension again. A new belt that fell below the aim is brought back to "
        "it, not to a new belt's."
    )


def dressing_rules(scenario: Scenario) -> tuple[ShopRule, ...]:
    """What to do about a dry, oily or slipping belt, for the belt that there is."""
    is_leather = scenario.belt.section == "flat leather"
    kind = shop_rules("belt_advice", "leather" if is_leather else "other")
    return (*kind, *(_oily(scenario) if is_leather else ()), *shop_rules("belt_advice", "any"))


def _oily(scenario: Scenario) -> Iterator[ShopRule]:
    """What oil does to the grip of a leather belt at the set point."""
    oily = oily_leather()
    try:
        dry = find_set_point(scenario)
        wet = find_set_point(
            scenario.with_(driven={"traction": oily.value}, motor={"traction": oily.value}),
            dry.turns if dry.has_adjuster else None,
        )
    except MountError:
        return
    grips = [
        min(float(way.running.grip.value[point.middle]) for way in point.cases)
        for point in (dry, wet)
    ]
    yield ShopRule(
        f"Oily leather holds with a traction of about {oily.value:g}: the grip of this mount falls "
        f"from {in_figures(grips[0])} to {in_figures(grips[1])}"
        f"{', below 1: it slips' if grips[1] < 1 else ''}.",
        oily.sure,
    )

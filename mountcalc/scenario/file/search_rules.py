"""Rules between the keys of ``[search]`` and ``[[keep_out]]``, and between them and the mount."""

from __future__ import annotations

from collections.abc import Iterator

from mountcalc.handbook.frames import MotorFrame
from mountcalc.scenario.drawn_plate import least_body
from mountcalc.scenario.file.tables import Facts, Finding, Rule, found, rule_on
from mountcalc.scenario.model import IDLE_SHARE, AdjusterKind, BarredPart
from mountcalc.scenario.search import Action
from mountcalc.scenario.text.outlines import contains
from mountcalc.scenario.text.values import Range
from mountcalc.scenario.text.wording import both, shown

_MOST_KEEP_OUTS = 50


def _keep_outs(facts: Facts) -> list[str]:
    return [f"keep_out.{index}" for index in range(facts.counts.get("keep_out", 0))]


def _outlines(facts: Facts) -> Iterator[Finding]:
    """Each keep-out is one box or one polygon."""
    keep_outs = _keep_outs(facts)
    if len(keep_outs) > _MOST_KEEP_OUTS:
        yield found(
            keep_outs[_MOST_KEEP_OUTS],
            f"at most {_MOST_KEEP_OUTS} [[keep_out]] wanted, found {len(keep_outs)}",
        )
    for key in keep_outs:
        given = {name for name in ("box", "polygon") if f"{key}.{name}" in facts.present}
        if not given and key in facts.tables:
            yield found(
                key,
                'missing: box (such as [["10 in", "-20 in"], ["14 in", "0 in"]]) or polygon '
                "(three or more such corners in order)",
            )
        elif len(given) > 1:
            yield found(f"{key}.polygon", "box or polygon wanted, got both")


def _names(facts: Facts) -> Iterator[Finding]:
    """Answers name keep-outs, so that two must not be called the same."""
    seen: set[str] = set()
    for key in _keep_outs(facts):
        name = facts.get(f"{key}.name")
        if name is not None and name[0] in seen:
            yield found(f"{key}.name", f"a keep-out named {shown(name[0])} is there already")
        seen.update(name or ())


def _driven_shaft(facts: Facts) -> Iterator[Finding]:
    """Ground that the belt must clear cannot hold the shaft that it runs on."""
    shaft = facts.get("driven.shaft")
    for key in _keep_outs(facts):
        outline = facts.get(f"{key}.box") or facts.get(f"{key}.polygon")
        if f"{key}.parts" in facts.present:
            parts = facts.get(f"{key}.parts")
            barred = parts is not None and BarredPart.BELT in parts[0]
        else:
            barred = True
        if shaft is not None and outline is not None and barred and contains(outline[0], shaft[0]):
            yield found(
                key,
                "it holds the driven shaft, so that no belt could clear it; if the belt runs in "
                'front of it, say what it bars: parts = ["plate", "motor", "bolt"]',
            )


def _threads(facts: Facts) -> Iterator[Finding]:
    if "search" not in facts.tables or "search.threads" in facts.present:
        return
    if "adjuster.kind" in facts.good and "adjuster.thread" not in facts.present:
        yield found(
            "search",
            'threads missing (such as ["3/8-16", "3/8-24"]), since [adjuster] has no thread',
        )


@rule_on("search.acts", "search.kinds")
def _nothing_to_try(acts: tuple[Action, ...], kinds: tuple[AdjusterKind, ...]) -> str | None:
    """A jack in the plate cannot pull."""
    if (acts, kinds) != ((Action.PULL,), (AdjusterKind.JACK_IN_PLATE,)):
        return None
    return (
        'a "jack-in-plate" cannot pull: the tip bears on a fixed face; allow "push" or '
        '"hold-back", or another kind'
    )


@rule_on("search.motor_height", "motor.frame")
def _motor_height(heights: Range, frame: MotorFrame) -> str | None:
    """No layout has its motor in its plate."""
    least = least_body(frame)
    if heights[0] >= least:
        return None
    return (
        f"from {both(least)} on wanted, the radius that the body of frame {frame.name} has at "
        f"least (estimate; its shaft height is {both(frame.shaft_height)}), got {both(heights[0])}"
    )


def _power(facts: Facts) -> Iterator[Finding]:
    """What idles has no setting, so that no layout could be judged."""
    powers = facts.get("driven.power", "motor.power")
    if "search" in facts.tables and powers is not None and powers[0] < IDLE_SHARE * powers[1]:
        yield found(
            "driven.power",
            "a search wants the power that the machine takes at work, "
            f"{100 * IDLE_SHARE:g} % of motor.power or more",
        )


SEARCH_RULES: tuple[Rule, ...] = (
    _outlines, _names, _driven_shaft, _threads, _nothing_to_try, _motor_height, _power,
)  # fmt: skip
"""Each takes the facts and gives what is wrong."""

"""Every judgement there is of a mount, at its gentlest setting or at one that is asked for."""

from __future__ import annotations

from mountcalc.check.bearing_notes import bearing_notes
from mountcalc.check.bearing_report import bearing_reports
from mountcalc.check.cures.cures import cures, with_cures
from mountcalc.check.judged import judge
from mountcalc.judgement.results import Check, Verdict
from mountcalc.scenario.model import Scenario

__all__ = ["check"]


def check(scenario: Scenario, turns: float | None = None) -> Check:
    """Judge a mount.

    Parameters
    ----------
    scenario : Scenario
        The mount.
    turns : float, optional [-]
        Turns from zero at which to judge it; without them those of the gentlest setting. A mount
        without an adjuster is judged where its weight puts it.

    Returns
    -------
    Check
        Judgements of drive and bearings at the set point and as far to both sides as a hand may
        miss it; the bearings' loads, films and stresses at the set point itself.

    Raises
    ------
    MountError
        Where the mount cannot be solved.
    InputError
        Where ``turns`` is not a number in the travel.
    """
    judged = judge(scenario, turns)
    point = judged.point
    reports = bearing_reports(point)
    judgements = [*with_cures(judged, cures(judged))]
    for report in reports:
        judgements += bearing_notes(report, scenario.display)
    return Check(
        title=scenario.title,
        turns=point.turns,
        turns_reason=point.reason,
        ok=all(judgement.verdict is not Verdict.FAIL for judgement in judgements),
        judgements=tuple(judgements),
        bearings=reports,
    )

"""Every judgement there is of a mount, and what cures those that fail."""

from __future__ import annotations

from mountcalc.check.bearing_report import bearing_notes, bearing_reports
from mountcalc.check.evaluation import evaluate
from mountcalc.check.results import Check
from mountcalc.scenario.model import Scenario


def check(scenario: Scenario, turns: float | None = None) -> Check:
    """Judge a mount at turns, or at the gentlest setting; see :func:`mountcalc.check`."""
    evaluation = evaluate(scenario, turns)
    point, judgements = evaluation.point, evaluation.judgements
    if evaluation.fails:
        from mountcalc.check.cures import with_cures  # noqa: PLC0415 (most mounts want none)

        judgements = with_cures(evaluation)
    reports = bearing_reports(point)
    notes = (note for report in reports for note in bearing_notes(report, scenario.display))
    return Check(
        title=scenario.title,
        turns=point.turns,
        turns_reason=point.reason,
        ok=not evaluation.fails,
        judgements=(*judgements, *notes),
        bearings=reports,
    )

"""Rules between the keys of a scenario: what no single value can tell.

A rule runs on whatever keys are good and is silent where one that it needs is not.
"""

from __future__ import annotations

from collections.abc import Iterator

from mountcalc.scenario.checks.adjuster import ADJUSTER_RULES
from mountcalc.scenario.checks.bearings import BEARING_RULES
from mountcalc.scenario.checks.drive import DRIVE_RULES
from mountcalc.scenario.checks.parts import PARTS_RULES
from mountcalc.scenario.checks.search import check_search
from mountcalc.scenario.file.facts import Facts, Finding, found

__all__ = ["check"]


def check(facts: Facts) -> list[Finding]:
    """Return what is wrong between the keys of a scenario."""
    rules = (
        *DRIVE_RULES,
        *BEARING_RULES,
        _plate,
        *ADJUSTER_RULES,
        *PARTS_RULES,
        check_search,
    )
    return [finding for rule in rules for finding in rule(facts)]


def _plate(facts: Facts) -> Iterator[Finding]:
    weight = facts.get("plate.weight")
    if weight is not None and weight[0] > 0 and "plate.center_of_mass" not in facts.present:
        yield found(
            "plate.center_of_mass",
            'missing: point wanted (such as ["-20 in", "-4 in"]), since the plate has a weight',
        )

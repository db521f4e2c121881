"""What gives between bolt and plate, in words: what that makes of a turn, and of a spring."""

from __future__ import annotations

import numpy as np

from mountcalc.equilibrium.give import unsaid_give
from mountcalc.equilibrium.states import State
from mountcalc.pages.amounts import UNITS, length_text, rate_text, turns_text
from mountcalc.pages.page import paragraph
from mountcalc.requirements.requirements import requirements_of
from mountcalc.requirements.results import Setting
from mountcalc.scenario.model import Coil, Scenario
from mountcalc.table import words
from mountcalc.table.results import Row, TensionTable

_HARDLY = 0.99  # a turn that loses less to the give is not worth a sentence


def giving(scenario: Scenario, table: TensionTable, setting: Setting | None) -> str:
    """What gives, and what one turn adds with it and without, near the setting."""
    adjuster, units = scenario.adjuster, UNITS[scenario.display]
    if not adjuster.gives:
        return ""
    said = []
    if adjuster.coil is not None:
        said.append(f"the spring {_made(scenario, adjuster.coil)}")
    if table.adjuster_stiffness is not None:
        rate = rate_text(table.adjuster_stiffness, scenario.display)
        said.append(f"plate and adjuster give by {rate}")
    text = "; ".join(said)
    text = f"{text[0].upper()}{text[1:]}."
    row = _near_setting(table, setting)
    if row is not None and row.tension_per_turn and row.tension_per_turn_rigid:
        adds = units.strength(row.tension_per_turn, 2)
        at = words.counted_turns(row.turns)
        text += f" At {at} one more adds {adds} {units.force} to a strand"
        if row.tension_per_turn < _HARDLY * row.tension_per_turn_rigid:
            rigid = units.strength(row.tension_per_turn_rigid, 2)
            text += f"; if nothing gave, {rigid} {units.force}"
        text += "."
    if adjuster.coil is not None:
        text += _solid(table, adjuster.coil)
    return paragraph("Give", text)


def unsaid(scenario: Scenario, turns: float | None) -> str:
    """That the parts give so much that what is reckoned as rigid misleads; often nothing."""
    if turns is None or scenario.adjuster.spring is not None:
        return ""
    solved = requirements_of(scenario).solved
    rest = solved.at_rest([0.0, turns])
    found, tension = unsaid_give(solved.mount, float(rest.phi[1])), float(rest.tension[1])
    if found is None or not found.matters or rest.state[1] != State.HELD or not tension > 0:
        return ""
    units, given = UNITS[scenario.display], np.diff(rest.adjuster)[0] / found.give.stiffness
    more = words.counted_turns(round(16 * (turns + float(given) / solved.advance)) / 16)
    text = (
        f"Taken as rigid, but the parts give: {units.strength(tension, 2)} {units.force} on "
        f"each strand takes about {more}, not {turns_text(turns)}. "
        'Set adjuster.stiffness = "parts".'
    )
    return paragraph("Give", text)


def _made(scenario: Scenario, coil: Coil) -> str:
    free, solid = (
        length_text(one, scenario.display)
        for one in (coil.free_length, coil.free_length - coil.stop)
    )
    rate = rate_text(coil.rate, scenario.display)
    return f"has {rate} and is {free} long under no load, {solid} solid"


def _near_setting(table: TensionTable, setting: Setting | None) -> Row | None:
    """The row nearest to the setting whose plate the adjuster holds, else the first such."""
    rows = [row for row in table.rows if row.rest.state is State.HELD and row.tension]
    at = None if setting is None else setting.set_turns
    if not rows or at is None:
        return rows[0] if rows else None
    return min(rows, key=lambda row: abs((row.turns or 0.0) - at))


def _solid(table: TensionTable, coil: Coil) -> str:
    """From where on the spring is solid, in any case."""
    most = coil.rate * coil.stop
    for row in table.rows:
        loads = [abs(case.adjuster) for case in row.cases.values() if case.adjuster is not None]
        if max(loads, default=0.0) >= most:
            turns = words.counted_turns(row.turns)
            return f" From {turns} on it is solid, and a turn does as much as without it."
    return ""

"""Test modules are imported one by one, not as a package: this makes their helpers findable."""

import sys
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parent))

FINE = 61


@pytest.fixture(scope="session")
def drawn():
    """Pictures of a mount by its name, drawn once: (scenario, table, layout, loads, layout)."""
    from plot_mounts import MOUNTS

    from mountcalc.layout.layout import mount_layout
    from mountcalc.layout.plot import layout_figure
    from mountcalc.table.pictures.loads import loads_figure
    from mountcalc.table.table import tension_table

    done = {}

    def draw(name):
        if name not in done:
            scenario = MOUNTS[name]
            table = tension_table(scenario)
            turns = [row.turns for row in table.rows]
            other = turns[len(turns) // 2] or 0.0
            if len(turns) > 1:
                table = tension_table(scenario, np.linspace(turns[0], turns[-1], FINE))
            layout = mount_layout(scenario, other)
            done[name] = (
                scenario,
                table,
                layout,
                loads_figure(scenario, table),
                layout_figure(layout),
            )
        return done[name]

    return draw

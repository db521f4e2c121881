"""A layout that holds as it is reported."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from mountcalc.place.clearance.fall import Fall, Rests
from mountcalc.place.feasible.judged import Measures
from mountcalc.place.layouts.layouts import ACTIONS, KINDS, Layouts
from mountcalc.place.loads import Loads
from mountcalc.place.results import PlacedLayout, PlateAngles
from mountcalc.place.solved import Solved
from mountcalc.scenario.model import Vector
from mountcalc.scenario.search import Search

__all__ = ["Reported"]


@dataclass(frozen=True, slots=True)
class Reported:
    """One of some layouts, by its ``index``, with their measures."""

    search: Search
    layouts: Layouts
    measures: Measures
    index: int

    def as_result(self, rank: int, mount: Solved, *, pareto: bool) -> PlacedLayout:
        """The layout as a result."""
        fall, loads = mount.fall, mount.loads
        per_turn, pitch = loads.tension_per_turn, mount.scenario.adjuster.advance_per_turn
        assert pitch is not None
        return PlacedLayout(
            rank=rank,
            hinge=self._point("hinge"),
            tip=self._point("tip"),
            motor=self._point("motor"),
            reach=self._drawn("reach"),
            motor_foot=self._drawn("foot"),
            motor_height=self._drawn("motor_height"),
            kind=KINDS[self.layouts.kind[self.index]].value,
            acts=ACTIONS[self.layouts.acts[self.index]].value,
            thread=self.search.space.threads[self.layouts.thread[self.index]].name,
            belt=self._belt(),
            motor_side="above" if self._drawn("normal_y") >= 0 else "below",
            plate_angles=self._angles(loads),
            set_turns=mount.turns,
            set_tension=mount.tension,
            tension_per_turn=per_turn,
            tension_per_mm=per_turn / pitch,
            worst_share_of_limit=loads.worst_share,
            grip_low=loads.grip_low if np.isfinite(loads.grip_low) else None,
            adjuster=loads.adjuster,
            adjuster_most=loads.adjuster_most,
            hinge_load=loads.hinge,
            hinge_most=loads.hinge_most,
            plate_length=self._drawn("plate_length"),
            bolt_travel=self._measured("bolt_travel"),
            clearance=mount.clearance,
            nearest=mount.nearest,
            fall=fall.drop,
            falls_onto=_resting(fall),
            stop_at=None if fall.stop is None else fall.stop.at,
            of_weight=bool(self.measures.of_weight[self.index]),
            turns_can_be_trusted=mount.fineness.turns_can_be_trusted,
            turns_why_not=mount.fineness.why_not,
            spring_balance=mount.spring_balance,
            pareto=pareto,
        )

    def _drawn(self, name: str) -> float:
        return float(getattr(self.layouts, name)[self.index])

    def _measured(self, name: str) -> float:
        return float(getattr(self.measures, name)[self.index])

    def _point(self, name: str) -> Vector:
        x, y = getattr(self.layouts, name)[self.index]
        return float(x), float(y)

    def _angles(self, loads: Loads) -> PlateAngles:
        ends = self._measured("install"), self._measured("take_up")
        return PlateAngles(ends[0], loads.snug, loads.set, ends[1])

    def _belt(self) -> str:
        belts = self.search.space.belts
        if belts:
            return belts[int(self.layouts.belt[self.index])].designation
        return str(self.search.scenario.belt.designation or "as in the scenario")


def _resting(fall: Fall) -> str:
    """What holds the plate then, as "the plate ..." goes on."""
    return f"falls against {fall.against}" if fall.rests is Rests.KEEP_OUT else fall.rests.value

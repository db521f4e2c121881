"""What was understood of measurements: a scenario, what was taken for it, and what does not fit."""

from __future__ import annotations

from collections.abc import Mapping

from mountcalc.pages.as_json import Result, as_plain
from mountcalc.record import Record
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.text.writing import Vector


class Taken(Record):
    """A value that nobody measured: the question's ``key``, what was taken, and why."""

    key: str
    value: str
    why: str


class Contradiction(Record):
    """Measurements that cannot all be right.

    ``suspects`` are the keys of those of which any one may be wrong: the rest fit without it;
    ``off`` [m] is by how much each reading, which come first, then misses: read less what fits the
    rest. ``sentence`` tells it in one line.
    """

    suspects: tuple[str, ...]
    off: tuple[float, ...]
    sentence: str


class Understood(Record, Result):
    """A mount as it was understood from measurements.

    ``text`` is its scenario file, ``read`` that file as it is read; ``is_search`` where the
    mount is not built and a search for its place is written. ``points`` are where things are [m],
    from the machine's shaft, by name: motor, hinge, bolt, post, plate_end. ``contradictions`` is
    empty where all measurements fit. Otherwise no file is to be written: the text may then be
    empty, and ``read`` None.
    """

    text: str
    read: Scenario | None
    points: Mapping[str, Vector]
    is_search: bool = False
    taken: tuple[Taken, ...] = ()
    remarks: tuple[str, ...] = ()
    contradictions: tuple[Contradiction, ...] = ()

    @property
    def scenario(self) -> Scenario:
        """The mount, where it could be made."""
        assert self.read is not None, "no mount is made of measurements that clash"
        return self.read

    def _plain(self) -> dict[str, object]:
        """Points in millimetres, as all lengths of JSON; the scenario is its text."""
        return {
            "text": self.text,
            "is_search": self.is_search,
            **{f"{name}_mm": [1e3 * x, 1e3 * y] for name, (x, y) in self.points.items()},
            "taken": as_plain(self.taken),
            "remarks": list(self.remarks),
            "contradictions": [
                {
                    "suspects": list(one.suspects),
                    "off_mm": [1e3 * off for off in one.off],
                    "sentence": one.sentence,
                }
                for one in self.contradictions
            ],
        }

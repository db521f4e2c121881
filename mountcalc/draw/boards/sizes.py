"""Sizes of board and hinges for the templates: given, or taken with a note."""

from __future__ import annotations

from dataclasses import dataclass, field

from mountcalc.handbook.rows import Datum, datum, load
from mountcalc.pages.bench_lengths import bench_length
from mountcalc.scenario.drawn_plate import hinge_edge
from mountcalc.scenario.model import Scenario

__all__ = ["HingeSizes", "TemplateSizes", "template_size"]

_FILE = "templates"


@dataclass(frozen=True, slots=True)
class HingeSizes:
    """A hinge, and how many there are; lengths [m].

    ``edge`` is how far the pin's axis lies outside the board's edge; ``mortise`` is 0 for leaves
    that lie on the board; ``pilot`` is the diameter of the screws' pilot holes.
    """

    leaf_length: float
    leaf_width: float
    leaf_thickness: float
    edge: float
    number: int
    screws: int
    pilot: float
    mortise: float


def template_size(scenario: Scenario, name: str) -> Datum:
    """A size that templates take."""
    return datum(_FILE, load(_FILE)["default"][scenario.display][name])


@dataclass(slots=True)
class TemplateSizes:
    """Sizes as they are looked up, and which of them had to be taken.

    Attributes
    ----------
    scenario : Scenario
    taken : list of str
        Key, value and how sure it is, for each size that the scenario leaves open.
    """

    scenario: Scenario
    taken: list[str] = field(default_factory=list)

    @property
    def notes(self) -> tuple[str, ...]:
        """What was taken, in one sentence; none where all is given."""
        if not self.taken:
            return ()
        return (f"Taken where the scenario does not say: {'; '.join(self.taken)}.",)

    def length(self, given: float | None, name: str, key: str) -> float:
        """A length that the scenario gives, or the one that is taken."""
        if given is not None:
            return given
        taken = template_size(self.scenario, name)
        text = bench_length(taken.value, self.scenario.display)
        self.taken.append(f"{key} {text} ({taken.sure})")
        return taken.value

    def hinges(self) -> HingeSizes:
        """The hinges of the scenario."""
        hinges = self.scenario.parts.hinges
        # The pin's place follows from it wherever it is taken; here it is noted.
        self.length(hinges.knuckle_diameter, "knuckle_diameter", "hinge.knuckle_diameter")
        thickness = self.length(hinges.leaf_thickness, "leaf_thickness", "hinge.leaf_thickness")
        screw = self.length(
            None if hinges.screw is None else hinges.screw.diameter, "screw_diameter", "hinge.screw"
        )
        return HingeSizes(
            leaf_length=self.length(hinges.leaf_length, "leaf_length", "hinge.leaf_length"),
            leaf_width=self.length(hinges.leaf_width, "leaf_width", "hinge.leaf_width"),
            leaf_thickness=thickness,
            edge=hinge_edge(hinges, self.scenario.display),
            number=self._count(hinges.number, "number", "hinge.number"),
            screws=self._count(hinges.screws_per_leaf, "screws_per_leaf", "hinge.screws_per_leaf"),
            pilot=screw * datum(_FILE, load(_FILE)["hinges"]["pilot"]).value,
            mortise=thickness if hinges.mortise_depth is None else hinges.mortise_depth,
        )

    def _count(self, given: int | None, name: str, key: str) -> int:
        if given is not None:
            return given
        taken = datum(_FILE, load(_FILE)["hinges"][name])
        self.taken.append(f"{key} {taken.value:.0f} ({taken.sure})")
        return int(taken.value)

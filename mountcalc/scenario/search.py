"""What a search for a layout may try, and what its parts must clear: immutable, SI units."""

from collections.abc import Mapping
from dataclasses import field
from enum import StrEnum
from math import tau
from typing import Annotated

from mountcalc.record import Record
from mountcalc.scenario import MOST_SAMPLES, MOST_SEED
from mountcalc.scenario import keys as k
from mountcalc.scenario.forms import BELTS, Range, choice, number, range_of, several_of, whole
from mountcalc.scenario.keys import REQUIRED, Without
from mountcalc.scenario.model import AdjusterKind, Belt, KeepOut, Scenario
from mountcalc.scenario.text.quantities import ANGLE_KIND

# Estimates: room for a spanner and for chips, lengths and thicknesses that a shop has at hand.
TAKEN = {
    "clearance": ("1/2 in", "12 mm", "room to every keep-out"),
    "wrench_space": ("2 in", "50 mm", "free radius about the bolt's head"),
    "link_length": ("8 in", "200 mm", "length of a link as drawn"),
    "bolt_length": ("6 in", "150 mm", "length of a jack from tip to head as drawn"),
    "plate_thickness": ("3/4 in", "18 mm", "thickness of the plate"),
}
"""What is taken for lengths that are not given, by display, and what they are."""


def _taken(name: str) -> tuple[str, Without]:
    inch, metric, words = TAKEN[name]
    first = "plate.thickness, or " if name == "plate_thickness" else ""
    return words, Without(f"{first}{inch}; {metric}")


class MotorSide(StrEnum):
    """On which side of its plate the motor stands: its shaft higher or lower than its foot."""

    ABOVE = "above"
    BELOW = "below"
    EITHER = "either"


class Action(StrEnum):
    """What the adjuster does to the plate.

    It pushes or pulls it in the direction that tightens the belt, or it holds back a plate that
    its weight would tighten.
    """

    PUSH = "push"
    PULL = "pull"
    HOLD_BACK = "hold-back"


class SearchBelt(Record):
    """A belt that may be tried, with its designation as written."""

    designation: str
    belt: Belt


class SearchSpace(Record, kw_only=True):
    """What a search may try; lengths [m], angles [rad].

    A range is (low, high); one value is a range of no width. ``reach`` is from the hinge to where
    the adjuster bears, along the plate; ``motor_height`` from the motor's shaft to the plate's
    line, square to it: the face that the motor stands on, in which the hinge's pin lies (as in
    :mod:`mountcalc.scenario.drawn_plate`), so that it is the motor's shaft height and what
    packs up its feet. Without ``motor_direction`` (angles of the motor's shaft
    seen from the driven shaft) the motor stays as drawn; without ``belts`` the scenario's own is
    taken. ``plate_length`` is the most that the plate may have; the plate's weight in the scenario
    is that of a plate of this length. ``leverage`` [-] is the least share of the belt's greatest
    possible dL/dphi that is left anywhere in the travel. ``thread_length`` is the most that the
    bolt may travel between fitting a new belt and full take-up, None where not said: see
    `most_travel`. ``bolt_beside_motor`` says that bolt or link stand beside the motor along the
    shafts, so that they may cross it as drawn; without it they must clear its body and feet.
    ``motor_body`` is a diameter, ``motor_feet`` their extent along the plate, ``wrench_space`` a
    radius about the bolt's head, ``bolt_length`` from the tip of a jack to its head.
    ``face_offset`` is where the adjuster bears, square to the plate's line and to the motor's
    side; None where a jack in the base bears on the plate's face or back, whichever is on its side,
    a screw through the plate stands out so far that it clears the plate, and a link is pinned on
    the line.
    """

    hinge_x: Annotated[k.Positions, REQUIRED, "where the hinge may be, to the right"]
    hinge_y: Annotated[k.Positions, REQUIRED, "where the hinge may be, up"]
    reach: Annotated[k.Distances, REQUIRED, "hinge to bolt, along the plate"]
    motor_height: Annotated[
        k.Distances, REQUIRED, "motor shaft off the face that it stands on, packing included"
    ]
    plate_length: Annotated[
        k.Distance, REQUIRED, "the most it may have; plate.weight is that of one so long"
    ]
    motor_side: Annotated[MotorSide, choice(MotorSide), "of its plate"] = MotorSide.EITHER
    motor_direction: Annotated[
        Range | None,
        range_of(ANGLE_KIND, tau),
        "of the motor's shaft, seen from the driven shaft",
        Without("the motor stays as drawn"),
    ] = None
    belts: Annotated[tuple[SearchBelt, ...], BELTS, "to try", Without("that of [belt]")] = ()
    kinds: Annotated[
        tuple[AdjusterKind, ...],
        several_of(AdjusterKind, but=AdjusterKind.NONE),
        "of adjuster, to try",
    ] = (AdjusterKind.JACK_IN_BASE,)
    acts: Annotated[
        tuple[Action, ...],
        several_of(Action),
        "what it does; it holds back a plate that its weight would tighten",
    ] = (Action.PUSH,)
    threads: Annotated[k.Threads, "to try", Without("that of [adjuster]")]
    samples: Annotated[int, whole(1, MOST_SAMPLES), "how many layouts are tried"] = 100_000
    seed: Annotated[int, whole(0, MOST_SEED), "the same gives the same layouts"] = 0
    leverage: Annotated[
        float, number(0, 0.95), "the least share of the belt's greatest that must be left"
    ] = 0.2
    face_offset: Annotated[
        k.Position | None,
        "where the bolt bears, off the face that the motor stands on",
        Without("on its own side's face; a link in that face"),
    ] = None
    thread_length: Annotated[
        k.Distance | None,
        "the most that the bolt may travel",
        Without("bolt_length; half of link_length"),
    ] = None
    link_length: Annotated[k.Distance, *_taken("link_length")]
    bolt_length: Annotated[k.Distance, *_taken("bolt_length")]
    plate_thickness: Annotated[k.Distance, *_taken("plate_thickness")]
    motor_body: Annotated[k.Distance, "its diameter", Without("twice the least motor_height")]
    motor_feet: Annotated[k.Distance, "along the plate", Without("as motor_body")]
    clearance: Annotated[k.Room, *_taken("clearance")]
    wrench_space: Annotated[k.Room, *_taken("wrench_space")]
    bolt_beside_motor: Annotated[
        k.Flag, "whether it stands beside the motor, so that it need not clear its body"
    ] = False
    beside_driven_shaft: Annotated[
        k.Flag, "whether the mount stands beyond that shaft's end and need not clear it"
    ] = False
    keep_outs: tuple[KeepOut, ...] = ()

    @property
    def plate_face(self) -> float:
        """How far from the plate's line, to the motor's side, is the face it stands on [m]."""
        return 0.0

    @property
    def plate_back(self) -> float:
        """How far from the plate's line, to the motor's side, is the plate's other face [m]."""
        return -self.plate_thickness

    @property
    def plate_middle(self) -> float:
        """How far from the plate's line, to the motor's side, is the middle of its wood [m]."""
        return 0.5 * (self.plate_face + self.plate_back)

    def most_travel(self, kind: AdjusterKind) -> float:
        """How far an adjuster may travel between fitting a new belt and full take-up [m]."""
        if self.thread_length is not None:
            return self.thread_length
        return 0.5 * self.link_length if kind is AdjusterKind.LINK else self.bolt_length


class Search(Record):
    """A scenario and the layouts that may take the place of its own.

    ``typed`` has the powers as they stand in the file, by their keys.
    """

    scenario: Scenario
    space: SearchSpace
    typed: Mapping[str, str] = field(default_factory=dict)

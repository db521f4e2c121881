"""Sentences about the base that carries the hinge: how it stands, how high, what meets it."""

from __future__ import annotations

from mountcalc.draw.base.height import base_height, hinge_height, level_edge
from mountcalc.draw.base.section import BaseSection, Stands, base_section
from mountcalc.draw.base.way import side_of, way_of
from mountcalc.draw.boards.bolt_across import across_words
from mountcalc.draw.boards.sizes import template_size
from mountcalc.draw.build import Build
from mountcalc.pages.bench_lengths import bench_length
from mountcalc.scenario.model import Vector

__all__ = ["base_board_words", "base_cautions", "base_places", "base_stands", "base_words"]

_TAKEN = {
    Stands.ADJUSTER: "it is one board with what the adjuster meets",
    Stands.CLOSED: "so turned that the hinge just closes at the stop beyond {closing}",
    Stands.OPEN: "on the far side of the pin, where the hinge stands about flat open",
}


def base_words(build: Build) -> tuple[str, ...]:
    """Say how the base stands and how high."""
    stands = base_stands(build)
    height, top = hinge_height(build), base_height(build)
    if height is None or top is None:
        missing = "base.floor is needed to tell how high the base that carries the hinge stands."
        return stands, missing
    display = build.display
    if height <= 0:
        return (
            stands,
            f"The hinge pin is {bench_length(-height, display)} below the floor that base.floor "
            "gives: one of them is wrong.",
        )
    return (
        stands,
        f"The middle of the hinge pin is {bench_length(height, display)} above the floor, the top "
        f"of the base as it stands here {bench_length(top, display)}.",
    )


def base_stands(build: Build) -> str:
    """Say which way the base's face runs, and what that was taken from."""
    section = base_section(build)
    runs = (
        f"the base's face with the leaves runs {way_of(build, section.frame.along)}, its wood "
        f"{_behind(build, section)}"
    )
    if section.stands is Stands.GIVEN:
        return f"From the hinge's axis {runs}, as base.direction has it."
    why = _TAKEN[section.stands].format(closing=_closing(build, section))
    return f"From the hinge's axis {runs}: {why} (estimate; base.direction would say it)."


def base_places(build: Build, meets: tuple[str, Vector] | None) -> tuple[str, ...]:
    """Say where strip and block stand from the edges that the assembly is measured from."""
    name, level = level_edge(build)
    hinge, upright = build.scenario.plate.hinge, build.scenario.driven.shaft[0]

    def place(point: Vector) -> str:
        height = bench_length(abs(point[1] - level), build.display)
        across = bench_length(abs(point[0] - upright), build.display)
        way = "below" if point[1] < level else "above"
        return f"{height} {way} {name} and {across} from the upright through the driven shaft"

    near, far, *_ = base_section(build).corners
    said = [
        f"The near edge of the base's face is {place(near)}; its far edge is {place(far)}, as the "
        "assembly shows."
    ]
    if meets is not None:
        met, (across, up) = meets
        said.append(f"{met} is {place((hinge[0] + across, hinge[1] + up))}.")
    return tuple(said)


def base_cautions(build: Build) -> tuple[str, ...]:
    """Warn of a base that stands in the way of plate or motor."""
    section = base_section(build)
    met = section.met
    if met is None:
        return ()
    given = section.stands is Stands.GIVEN
    what = "As base.direction has it" if given else "No way that was tried is clear: as drawn"
    turn = "turn the base" if given else "give base.direction, or move the motor off the hinge"
    return (
        f"{what}, {met.part.value} would come {bench_length(met.depth, build.display)} into the "
        f"base, deepest {build.swing.where(met.plate_angle)}: {turn}.",
    )


def base_board_words(build: Build, *, meets: bool) -> tuple[str, ...]:
    """What is taken for the board of the base."""
    thick, display = build.scenario.parts.base.thickness, build.display
    if thick is None:
        taken = template_size(build.scenario, "thickness")
        told = f"taken {bench_length(taken.value, display)} thick ({taken.sure})"
    else:
        told = f"{bench_length(thick, display)} thick"
    return (
        f"The base is as wide as the plate (estimate) and {told}.",
        *([across_words(build)] if meets else []),
    )


def _behind(build: Build, section: BaseSection) -> str:
    """Where the wood is, seen from its face."""
    across, up = (-part for part in section.frame.normal)
    if abs(up) > abs(across):
        return "under it" if up < 0 else "above it"
    return f"behind it, {side_of(build, across)}"


def _closing(build: Build, section: BaseSection) -> str:
    """The end of the swing at which the hinge closes."""
    swing, turn = build.swing, section.frame.pulley_side
    # The base looks at the plate that closes: the plate's own hand is the other one.
    end = swing.high if turn < 0 else swing.low
    return "install" if abs(end - swing.install) <= abs(end - swing.take_up) else "take-up"

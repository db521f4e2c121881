"""What a reader of the results must know: defaults, assumptions, cautions, stacked margins."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

import numpy as np

from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.solve import SolvedMount
from mountcalc.equilibrium.states import State
from mountcalc.formulas.belt import Arc, dip, least_tension, sum_with_arcs, tension_with_sag
from mountcalc.handbook.belts.sections import Joint, flat_material
from mountcalc.handbook.rows import load
from mountcalc.pages.amounts import length_text, percent, rate_text, turns_text
from mountcalc.pages.page import CAUTIONS, Note, Side
from mountcalc.requirements.results import Margin
from mountcalc.scenario.hardware import Giving
from mountcalc.scenario.model import Belt, Scenario
from mountcalc.scenario.text.wording import listed

# What is left out and changes tensions by less is not worth a sentence.
_LEAST = 0.01
_SHARE = 0.005  # of what gives: less would read as nothing
_SAME = 1e-3  # a new belt set tighter by no more than this share is set the same
_RPM = 2 * math.pi / 60
_CAUTIONS = tuple(
    Note(name, Side.CAUTION, text)
    for name, text in zip(("unplug", "block", "guard", "wiring", "look"), CAUTIONS, strict=True)
)


def note(name: str, **values: float | str) -> Note:
    """A note of `data/notes.toml` with its numbers and words."""
    row = load("notes")[name]
    numbers = {key: value for key, value in values.items() if not isinstance(value, str)}
    return Note(name, Side(row["side"]), row["text"].format(**values), numbers)


def less_for_new(
    bedding: float,
    old: tuple[float | None, float],
    new: tuple[float | None, float],
) -> Note | None:
    """That a new belt gets less than it is to lose; of both belts the turns and the tension [N]."""
    times, rounding = new[1] / old[1], 0.0
    more = (new[0] or 0.0) - (old[0] or 0.0)
    if more > 0:  # what a new belt's turns may lose as they are rounded to sixteenths
        rounding = (times - 1.0) / more / 32
    if times + rounding >= bedding * (1 - _SAME):
        return None
    return note("less-for-new", bedding=bedding, times=times)


def own_count(scenario: Scenario) -> Note | None:
    """How turns are read on a person's own count, where its zero is not the mount's."""
    zero = round(16 * (scenario.adjuster.zero_turns or 0.0)) / 16
    if not zero:
        return None
    return note(
        "own-count",
        zero_turns=zero,
        zero=turns_text(zero),
        how=f"{turns_text(abs(zero))} {'more' if zero > 0 else 'less'}",
    )


def notes(solved: SolvedMount) -> tuple[Note, ...]:
    """All notes: of the mount first, then of the model, then care and cautions."""
    again = "look-again"
    if stretches_for_long(solved.mount.scenario.belt):
        again = "look-again-daily"
    return (
        *_of_the_mount(solved),
        *left_out(solved),
        *_give(solved.mount),
        *map(note, ("creep", "starting", again)),
        *_CAUTIONS,
    )


def _give(mount: Mount) -> Iterator[Note]:
    """What is taken of the give of plate and adjuster, and of a spring."""
    adjuster, display = mount.scenario.adjuster, mount.scenario.display
    if mount.spring is None:
        yield note("rigid")
    elif adjuster.spring is Giving.PARTS:
        given = mount.parts_give
        assert given is not None, "the rules ask for a board"
        shares = [f"{one.name} {percent(one.share)} %" for one in given.parts if one.share > _SHARE]
        left = f" Not told and taken as rigid: {listed(given.left_out, 'and')}."
        yield note(
            "gives-parts",
            rate=rate_text(given.stiffness, display),
            shares=listed(shares, "and"),
            left=left if given.left_out else "",
        )
    else:
        yield note("gives", rate=rate_text(float(mount.spring), display))
    if adjuster.coil is not None:
        yield note("coil", percent=100 * adjuster.coil.rate_error)


def note_texts(notes: Iterable[Note]) -> list[str]:
    """What a page lists as notes: all but the cautions, which it ends in."""
    return [one.text for one in notes if one.side is not Side.CAUTION]


def stretches_for_long(belt: Belt) -> bool:
    """Whether a belt is to be looked at each day of use: flat ones, and those of links."""
    return flat_material(belt.section or "") is not None or belt.joint is Joint.LINKED


def _of_the_mount(solved: SolvedMount) -> Iterator[Note]:
    """What is special about this mount: defaults taken, travel cut off, speeds exceeded."""
    scenario = solved.mount.scenario
    yield from (Note("taken", Side.MOUNT, text) for text in scenario.notes)
    if (own := own_count(scenario)) is not None:
        yield own
    yield from (Note("travel", Side.MOUNT, text) for text in solved.travel.notes)
    driven, most = solved.mount.driven_speed, scenario.driven.max_speed
    if most is not None and driven > most:
        yield note("too-fast", driven_rpm=driven / _RPM, max_rpm=most / _RPM)
    if solved.zero.state is State.AT_STOP:
        yield note("driven-to-stop")
    if solved.zero.state is State.NO_BALANCE:
        yield note("no-balance")


def left_out(solved: SolvedMount) -> Iterator[Note]:
    """What the plain belt leaves out, as far as it counts here."""
    yield note("linear")
    if flat_material(solved.mount.scenario.belt.section or "") is not None:
        yield note("leather")
    share = arcs_share(solved)
    if abs(share) >= _LEAST:
        yield note("arcs-more" if share > 0 else "arcs-less", percent=100 * abs(share))
    hangs, more = sag(solved)
    if more >= _LEAST:
        middle = length_text(hangs, solved.mount.scenario.display)
        yield note("sag", dip=middle, percent=100 * more)


def arcs_share(solved: SolvedMount) -> float:
    """What the belt on the pulleys adds to the strands' sum, running, at the wanted grip."""
    mount, scenario = solved.mount, solved.mount.scenario
    pull, centrifugal = mount.pull, mount.centrifugal_tension
    if pull == 0 or scenario.limits.grip < 1:
        return 0.0
    beta = float(mount.strands(np.asarray(solved.travel.snug)).beta)
    arcs = (
        Arc(scenario.motor.pulley_radius, math.pi - 2 * beta, scenario.motor.traction),
        Arc(scenario.driven.pulley_radius, math.pi + 2 * beta, scenario.driven.traction),
    )
    span = _center(solved) * math.cos(beta)
    return sum_with_arcs(_wanted(solved), pull, centrifugal, span, arcs) - 1.0


def sag(solved: SolvedMount) -> tuple[float, float]:
    """Dip of the longer-hanging strand at the tension of the wanted grip; what it adds."""
    mount, belt = solved.mount, solved.mount.scenario.belt
    tension = _wanted(solved)
    if belt.mass == 0 or tension == 0:
        return 0.0, 0.0
    strands = mount.strands(np.asarray(solved.travel.snug))
    levels = [abs(float(along)) for along in (strands.along_plus_x, strands.along_minus_x)]
    span = _center(solved) * math.cos(float(strands.beta))
    hanging = tuple(span * level ** (2 / 3) for level in levels)
    with_sag = tension_with_sag(tension, float(mount.stiffness), belt.length, belt.mass, hanging)
    return dip(with_sag, belt.mass, span, max(levels)), with_sag / tension - 1.0


def _wanted(solved: SolvedMount) -> float:
    """Rest tension [N] with the wanted grip, running, of a plate that is held."""
    mount = solved.mount
    share = mount.pulls(np.asarray(solved.travel.snug)).share
    pull = mount.scenario.limits.grip * mount.pull
    return float(least_tension(pull, share, mount.centrifugal_tension))


def _center(solved: SolvedMount) -> float:
    return float(solved.mount.path(np.asarray(solved.travel.snug)).center_distance)


def margins(solved: SolvedMount) -> tuple[Margin, ...]:
    """The stack of margins: every factor that lies between the physics and the advice."""
    mount = solved.mount
    scenario = mount.scenario
    share = float(mount.pulls(np.asarray(solved.travel.snug)).share)
    stack = [
        Margin(
            "starting pull",
            scenario.driven.starting_factor,
            "starting is taken as this many times the running pull",
        ),
        Margin(
            "tension ratio at slip",
            (1 + share) / (1 - share),
            "tight over slack tension (both less the centrifugal part) at which the belt slips, "
            "from traction and wrap",
        ),
        Margin(
            "belt stiffness",
            scenario.belt.stiffness_factor,
            "the belt may be this many times softer or stiffer than taken: the low-high range",
        ),
    ]
    if scenario.driven.power > 0:
        stack.insert(
            0,
            Margin(
                "motor rating",
                scenario.motor.power / scenario.driven.power,
                "rated power over the power taken; an overloaded motor pulls more",
            ),
        )
    by_factor: dict[float, list[str]] = {}
    for bearing in scenario.driven.bearings:
        factor = round(bearing.starting_limit / bearing.limit, 6)
        by_factor.setdefault(factor, []).append(bearing.name)
    stack += [
        Margin(
            f"starting limit of {' and '.join(names)}",
            factor,
            "a bearing may carry this many times its limit for the moment of starting",
        )
        for factor, names in by_factor.items()
    ]
    return tuple(stack)

"""What the model of the belt leaves out, and what that comes to in this mount."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from mountcalc.equilibrium.solve import SolvedMount
from mountcalc.formulas.belt import least_tension
from mountcalc.formulas.belt_left_out import Arc, dip, sum_with_arcs, tension_with_sag
from mountcalc.handbook.belts.sections import flat_material
from mountcalc.pages.amounts import length_text
from mountcalc.pages.page import Note, Side

__all__ = ["arcs_share", "left_out", "sag"]

# What is left out and changes tensions by less is not worth a sentence.
_LEAST = 0.01


def left_out(solved: SolvedMount) -> Iterator[Note]:
    """What the plain belt leaves out, as far as it counts here."""
    yield Note(
        "linear",
        Side.MODEL,
        "The belt is taken as linear and elastic: at fixed centres the two strands keep their sum "
        "under load.",
    )
    if flat_material(solved.mount.scenario.belt.section or "") is not None:
        yield Note(
            "leather",
            Side.MODEL,
            "Leather and rubbered fabric are so over a small range of tension only (Stolarski, "
            "Tribology in Machine Design, 4.10.4).",
        )
    share = arcs_share(solved)
    if abs(share) >= _LEAST:
        verb, so = (
            ("raises", "it slips later, and the bearings carry that much more")
            if share > 0
            else ("lessens", "it slips that much sooner")
        )
        text = (
            f"What lies on the pulleys is left out: at the wanted grip, running, it {verb} the "
            f"strands' sum by {100 * abs(share):.0f} %, so that {so}."
        )
        yield Note("arcs", Side.MODEL, text, (share,))
    hangs, more = sag(solved)
    if more >= _LEAST:
        middle = length_text(hangs, solved.mount.scenario.display)
        text = (
            f"Sag is left out: with the tension of the wanted grip a strand hangs {middle} in its "
            f"middle at rest, and that adds {100 * more:.0f} % to the tension reckoned."
        )
        yield Note("sag", Side.MODEL, text, (hangs, more))


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

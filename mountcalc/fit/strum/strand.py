"""A recording of this mount's strand: its tone, and what tension that is on this belt."""

from __future__ import annotations

import math
import os
from typing import NamedTuple

import numpy as np

from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.solve import solve_mount
from mountcalc.errors import MountError
from mountcalc.fit.strum.comb import Bounds, Spectrum
from mountcalc.fit.strum.recording import read_recording
from mountcalc.fit.strum.tone import Peak, hear
from mountcalc.formulas.belt import span_frequency
from mountcalc.pages.as_json import Result
from mountcalc.record import Record
from mountcalc.scenario.model import Scenario
from mountcalc.units import STANDARD_GRAVITY

_SLACK = 1.0 / 50.0  # of its span that a strand hangs which is slack (estimate)
# Modulus of bending of belts, 30 to 70 N/mm2 (old handbooks, from memory): the stiffest.
_BENDING = 70e6
_MASS_ERROR = 0.1  # to which a belt's mass is known, as limits.hum_error has it (estimate)


class Strummed(Record, Result, kw_only=True):
    """What a recording tells: ``tone`` and its ``error`` [Hz] (90 %), or None and ``why_not``.

    ``low`` and ``high`` [Hz] are the tones that the mount can have; ``tension_low`` and
    ``tension_high`` [N] what a strand has, its mass known to a tenth. ``harmonics`` are the numbers
    of those that were heard. ``over_noise`` [dB] is of the pluck's first half second; ``row`` is
    for the log.
    """

    title: str
    recording: str
    tone: float | None
    error: float | None
    low: float
    high: float
    harmonics: tuple[int, ...]
    plucks: int
    over_noise: float | None
    tension_low: float | None
    tension_high: float | None
    row: str | None
    why_not: str | None
    peaks: tuple[Peak, ...]

    @property
    def own_keys(self) -> dict[str, str]:
        """Keys outside the package: they end in the unit."""
        in_hertz = {name: f"{name}_Hz" for name in ("tone", "low", "high")}
        return {**in_hertz, "error": "tone_error_Hz", "over_noise": "over_noise_dB"}


class Strum(NamedTuple):
    """What a recording tells, and its spectrum for the picture."""

    told: Strummed
    spectrum: Spectrum


def strum(scenario: Scenario, path: str | os.PathLike[str]) -> Strum:
    """The tone of a mount's strand in a recording."""
    mount = solve_mount(Mount.of(scenario))
    span = math.sqrt(float(mount.mount.path(np.array(mount.travel.snug)).span_squared))
    belt, end = scenario.belt, np.array(mount.travel.tight_angle)
    if belt.mass <= 0:
        raise MountError(scenario.source, "belt.mass", "a mass above 0 is wanted: tones hang on it")
    tightest = float(mount.mount.tension(mount.mount.path(end).length)) * belt.stiffness_factor
    slackest = belt.mass * STANDARD_GRAVITY * span / (8.0 * _SLACK)
    low, high = (float(span_frequency(one, belt.mass, span)) for one in (slackest, tightest))
    stretch = math.inf
    if belt.width is not None and belt.thickness is not None:
        bending = _BENDING * belt.width * belt.thickness**3 / 12.0
        stretch = math.pi**2 * bending / (4.0 * belt.mass * span**4)
    heard = hear(*read_recording(path), Bounds(low, high, stretch))
    tension_low = tension_high = None
    if heard.tone is not None and heard.error is not None:
        tension_low, tension_high = (
            4.0 * belt.mass * (1.0 + side * _MASS_ERROR) * (span * one) ** 2
            for side, one in ((-1, heard.tone - heard.error), (1, heard.tone + heard.error))
        )
    told = Strummed(
        title=scenario.title,
        recording=os.fspath(path),
        tone=heard.tone,
        error=heard.error,
        low=low,
        high=high,
        harmonics=tuple(one.number for one in heard.peaks if one.number is not None),
        plucks=heard.plucks,
        over_noise=heard.over_noise,
        tension_low=tension_low,
        tension_high=tension_high,
        row=None if heard.tone is None else f",TURNS,swings,{heard.tone:.4g} Hz,,",
        why_not=heard.why_not or None,
        peaks=heard.peaks,
    )
    return Strum(told, heard.spectrum)

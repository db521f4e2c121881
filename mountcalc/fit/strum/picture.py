"""The spectrum of a pluck as a picture: peaks, their numbers, what a steady tone drowns."""

from __future__ import annotations

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from mountcalc.fit.strum.strand import Strum
from mountcalc.pages.plot_style import (
    BELT,
    BLACK,
    FONT_SIZE,
    LIMIT,
    PALE,
    heading,
    new_figure,
    panel,
)

_MAINS = (50.0, 60.0)  # [Hz]
_OFF = 2.5  # [Hz] from a multiple of these: bins are 2 Hz apart
_BEYOND = 1.15  # of the highest peak that is shown
_WIDE = 0.022  # of the panel that a number takes


def strum_figure(strum: Strum) -> Figure:
    """Draw how far each pitch is over the noise."""
    told, spectrum = strum
    if told.tone is None:
        line = f"No tone to be sure of: {told.why_not}."
    else:
        line = f"{told.tone:.4g} Hz, from {len(told.harmonics)} harmonics with their numbers."
    figure = new_figure(8.0, 4.6)
    second = (
        "Crosses: other peaks. Shaded: steady tones, left out; the mains' bear their frequency."
    )
    top = heading(figure, f"{told.title}: spectrum of the plucked strand", (line, second)) + 0.1
    axes = panel(figure, 0.62, 0.15, top, 4.6 - top - 0.5)
    axes.set_xlabel("frequency [Hz]", fontsize=FONT_SIZE)
    axes.set_ylabel("over the noise [dB]", fontsize=FONT_SIZE)
    highest = max((one.frequency for one in told.peaks), default=400.0)
    axes.set_xlim(0.0, max(_BEYOND * highest, 100.0))
    loudest = max((one.level for one in told.peaks), default=20.0)
    axes.set_ylim(-5.0, 1.25 * loudest + 8.0)
    axes.plot(spectrum.frequency, spectrum.level, color=BELT, linewidth=0.8, gid="spectrum")
    _steady(axes, strum)
    taken = -np.inf
    for one in sorted(told.peaks, key=lambda one: one.frequency):
        is_heard = one.number is not None
        axes.plot(
            [one.frequency], [one.level], marker="o" if is_heard else "x",
            color=BLACK if is_heard else LIMIT, markersize=4, linestyle="none",
            gid="harmonic" if is_heard else "other peak",
        )  # fmt: skip
        if is_heard and one.frequency - taken > _WIDE * axes.get_xlim()[1]:
            axes.annotate(
                str(one.number), (one.frequency, one.level), (0, 5), ha="center",
                textcoords="offset points", fontsize=FONT_SIZE, gid="number",
            )  # fmt: skip
            taken = one.frequency
    return figure


def _steady(axes: Axes, strum: Strum) -> None:
    """Shade what a steady tone drowns, and name it where it is one of the mains."""
    at, steady = strum.spectrum.frequency, strum.spectrum.steady
    edges = np.flatnonzero(np.diff(np.pad(steady.astype(int), 1)))
    right, taken = axes.get_xlim()[1], -np.inf
    for first, last in zip(edges[::2], edges[1::2] - 1, strict=True):
        low, high = float(at[first]), float(at[last])
        if low > right:
            break
        axes.axvspan(low, min(high, right), facecolor=PALE, alpha=0.5, linewidth=0, gid="steady")
        middle = 0.5 * (low + high)
        mains = [one for one in _MAINS if abs(middle - one * round(middle / one)) < _OFF]
        if mains and middle - taken > 2.0 * _WIDE * right:
            axes.annotate(
                f"{mains[0] * round(middle / mains[0]):.0f}", (middle, 1.0), (0, -11), ha="center",
                xycoords=("data", "axes fraction"), textcoords="offset points", color=LIMIT,
                fontsize=FONT_SIZE, gid="mains",
            )  # fmt: skip
            taken = middle

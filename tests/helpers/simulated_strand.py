"""A plucked strand stepped through time by finite differences, a second maker of recordings."""

import numpy as np
from scipy import linalg, signal

_PIECES = 100  # of the strand
_BLOCK = 64  # samples that one product gives


def simulated(seed):
    """Samples, their rate and the lowest natural frequency of a strand that is bent stiff.

    u_tt = 4 f^2 u_xx - (4 s / pi^2) u_xxxx - a u_t + b u_txx over a span of 1, its ends pinned or
    (every other) clamped; the microphone hears what accelerates near it.
    """
    rng = np.random.default_rng(seed)
    rate, count = int(rng.choice([8000, 11025, 16000])), _PIECES - 1
    tone = float(np.exp(rng.uniform(np.log(10), np.log(60))))
    s = rng.uniform(0.0005, 0.008) * tone**2
    second = (np.eye(count, k=1) + np.eye(count, k=-1) - 2.0 * np.eye(count)) * _PIECES**2
    fourth = second @ second
    if seed % 2:  # clamped: what lies beyond an end mirrors what lies before it
        fourth[0, 0] += 2.0 * _PIECES**4
        fourth[-1, -1] += 2.0 * _PIECES**4
    pull = 4.0 * tone**2 * second - 4.0 * s / np.pi**2 * fourth
    lowest = float(np.sqrt(linalg.eigvalsh(-pull, subset_by_index=(0, 0))[0]) / (2.0 * np.pi))
    drag = rng.uniform(2, 8) * np.eye(count) - rng.uniform(0.2, 2) * 1e-3 * tone * second
    system = np.block([[np.zeros((count, count)), np.eye(count)], [pull, -drag]])
    step = linalg.expm(system / rate)
    x = np.arange(1, _PIECES) / _PIECES
    place, near = rng.uniform(0.08, 0.45), rng.uniform(0.1, 0.4)
    bent = np.minimum(x / place, (1.0 - x) / (1.0 - place))
    bent = np.convolve(np.pad(bent, 2, mode="edge"), np.full(5, 0.2), "valid")  # a finger is round
    state = np.concatenate([bent, np.zeros(count)])
    heard = np.exp(-0.5 * ((x - near) / 0.04) ** 2) @ np.hstack([pull, -drag])
    rows = [heard]
    for _ in range(_BLOCK - 1):
        rows.append(rows[-1] @ step)
    block, leap = np.array(rows), np.linalg.matrix_power(step, _BLOCK)
    pieces = []
    for _ in range(int(1.5 * rate / _BLOCK)):
        pieces.append(block @ state)
        state = leap @ state
    one = np.concatenate(pieces)
    sound = np.concatenate([np.zeros(int(0.6 * rate)), one, 0.9 * one])
    t = np.arange(sound.size) / rate
    mains = rng.choice([50, 60])
    humming = sum(np.sin(2 * np.pi * k * mains * t + k) / k for k in range(1, 9))
    room = signal.lfilter([1.0], [1.0, -0.8], rng.standard_normal(t.size))
    corner = rng.uniform(20, 120)
    sound /= np.std(signal.sosfilt(signal.butter(2, corner, "high", fs=rate, output="sos"), one))
    sound += 10 ** rng.uniform(-2, -0.5) * room + 10 ** rng.uniform(-1.5, 0) * humming
    sound = signal.sosfilt(signal.butter(2, corner, "high", fs=rate, output="sos"), sound)
    return 0.5 * sound / np.max(np.abs(sound)), rate, lowest

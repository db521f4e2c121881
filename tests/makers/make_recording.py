"""Write the recording that ships: ``python tests/makers/make_recording.py``.

The mill and the recording are invented: a strand of 33 Hz, a little stiff, plucked twice, as a
telephone would hold it, which loses what is below 100 Hz; with hum of 60 Hz and the room's noise.
"""

import sys
from pathlib import Path

import numpy as np

TOP = Path(__file__).parents[2]
sys.path.append(str(TOP / "tests" / "helpers"))

from plucks import coloured, hum, phone, strand, wav_bytes  # noqa: E402

RECORDING = TOP / "scenarios" / "cider-mill-pluck.wav"
TONE, RATE = 33.0, 8000


def recording_bytes():
    rng = np.random.default_rng(1)
    sound = np.zeros(int(3.6 * RATE))
    for begin in (4000, 17000):
        one = strand(RATE, 1.6, TONE, 4.0, 0.22, 60.0, 1.0, rng.uniform(0, 0.8, 60))
        sound[begin : begin + one.size] += one[: sound.size - begin]
    noise = coloured(rng, sound.size, RATE, 0.5, 2)
    sound = phone(sound + 0.2 * hum(rng, sound.size, RATE, 60), RATE, 100.0)
    sound += 0.02 * noise / np.std(noise)
    return wav_bytes(0.7 * sound / np.max(np.abs(sound)), RATE)


if __name__ == "__main__":
    RECORDING.write_bytes(recording_bytes())

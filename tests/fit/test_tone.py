"""The tone of made plucks: within 1 % or refused; and no tone of what is no pluck.

The stated ratio is 20 dB: a pluck's first half second over the noise, both from 30 Hz to 2 kHz;
with mains hum of up to twice its power, the other strand at least 10 dB below, tones of 8 to
60 Hz, a telephone that holds little below 80 to 150 Hz, and clicks and clipping now and then.
"""

import numpy as np
import pytest
from plucks import KINDS, no_pluck, pluck, strand
from sizes import size

from mountcalc.fit.strum.tone import APART, FEW, NO_PLUCK, VOICE, Bounds, hear

STATED = 20.0  # dB
ANSWERED = 0.8  # 31 of 36 seen
BOUNDS = Bounds(5.0, 280.0, 12.0)


def share_answered(seeds, ratio):
    """Share of recordings that are answered; none is off by more than 1 %."""
    answered = 0
    for seed in seeds:
        made = pluck(seed, ratio(seed))
        heard = hear(made.samples, made.rate, BOUNDS)
        assert (heard.tone is None) == bool(heard.why_not)
        if heard.tone is not None:
            assert heard.tone == pytest.approx(made.tone, rel=0.01), (seed, made.told)
            answered += 1
    return answered / len(seeds)


def test_above_the_stated_ratio_four_of_five_are_answered_and_none_is_wrong():
    seeds = range(5000, 5000 + size(500, 16))
    # Of few, two more may be refused.
    assert share_answered(seeds, lambda seed: STATED + seed % 15) >= ANSWERED - size(0.0, 0.12)


def test_below_the_stated_ratio_none_is_wrong():
    seeds = range(6000, 6000 + size(500, 12))
    share_answered(seeds, lambda seed: STATED - 1 - seed % 25)


def test_what_is_no_pluck_is_refused():
    for seed in range(7000, 7000 + size(500, 2 * len(KINDS))):
        kind, samples, rate = no_pluck(seed)
        heard = hear(samples, rate, BOUNDS)
        assert heard.tone is None, (seed, kind)
        assert heard.why_not


def plucked(rate, tone, stretch=0.0, quality=80.0, seconds=2.5, seed=1):
    rng = np.random.default_rng(seed)
    begin = int(0.5 * rate)
    sound = 1e-3 * rng.standard_normal(int(seconds * rate))
    one = strand(rate, seconds, tone, stretch, 0.21, quality, 1.0, np.zeros(60))
    sound[begin:] += one[: sound.size - begin]
    return sound


def test_the_published_example_hums_at_220_hertz():
    # T = 4 m t^2 f^2: m = 0.11 kg/m, t = 0.17 m, f = 220 Hz, printed 610 N (615.5 N by its own
    # formula); published guide to belt drives, tone by a telephone.
    once, bounds = plucked(44100, 220.0), Bounds(20.0, 600.0, 12.0)
    assert hear(once, 44100, bounds).why_not == VOICE
    heard = hear(np.tile(once, 2), 44100, bounds)
    assert heard.tone == pytest.approx(220.0, rel=0.01)
    assert 4 * 0.11 * (0.17 * heard.tone) ** 2 == pytest.approx(615.5, rel=0.02)


def test_a_slack_strands_harmonics_are_stretched_and_its_tone_is_not():
    heard = hear(plucked(16000, 15.0, stretch=4.0), 16000, BOUNDS)
    assert heard.tone == pytest.approx(15.0, rel=0.005)
    # Spaced as they are high up, they would be of a tone a tenth and more higher.
    heard_at = {peak.number: peak.frequency for peak in heard.peaks if peak.number}
    low, *_, high = sorted(heard_at)
    assert (heard_at[high] - heard_at[low]) / (high - low) > 1.1 * heard.tone


def test_the_error_holds_nine_tenths():
    off = []
    for seed in range(size(200, 8)):
        made = pluck(8000 + seed, 25.0)
        heard = hear(made.samples, made.rate, BOUNDS)
        if heard.tone is not None:
            off.append(abs(heard.tone - made.tone) / heard.error)
    assert np.mean(np.array(off) < 1.0) > size(0.85, 0.7)


def test_a_louder_recording_with_an_offset_sounds_the_same():
    sound = plucked(22050, 24.0)
    first, second = (hear(one, 22050, BOUNDS) for one in (sound, 0.05 * sound + 0.4))
    assert first.tone == pytest.approx(24.0, rel=0.005)
    assert second.tone == pytest.approx(first.tone, rel=1e-6)


def test_two_strands_of_unlike_tones_are_refused():
    one, other = plucked(22050, 24.0), plucked(22050, 29.3, seed=2)
    assert hear(one, 22050, BOUNDS).tone is not None
    assert hear(one + other, 22050, BOUNDS).tone is None
    after = hear(np.concatenate([one, other]), 22050, BOUNDS)
    assert after.tone is None
    assert after.why_not == APART


def test_half_and_double_are_told_apart_by_what_is_missing():
    # Plucked in its middle a strand has no even harmonics: no other tone has just the odd ones.
    rng = np.random.default_rng(3)
    sound = 1e-3 * rng.standard_normal(3 * 22050)
    one = strand(22050, 2.4, 30.0, 0.0, 0.5, 100.0, 1.0, np.zeros(60))
    sound[-one.size :] += one
    heard = hear(sound, 22050, BOUNDS)
    assert heard.tone is None or heard.tone == pytest.approx(30.0, rel=0.01)


def test_a_tone_outside_what_the_mount_can_have_is_not_told():
    assert hear(plucked(22050, 24.0), 22050, Bounds(40.0, 280.0, 12.0)).tone is None


def test_noise_alone_begins_nowhere_or_has_no_harmonics():
    heard = hear(np.random.default_rng(4).standard_normal(40000), 8000, BOUNDS)
    assert heard.why_not in {NO_PLUCK, FEW}

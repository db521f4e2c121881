"""The tone of made plucks: within 1 % or refused; and no tone of what is no pluck.

The stated ratio is 5 dB: a pluck's first half second over the noise, both from 30 Hz to 2 kHz;
with mains hum of up to twice its power, the other strand at least 10 dB below, tones of 8 to
60 Hz, a telephone that holds little below 80 to 150 Hz, and clicks and clipping now and then.
"""

import numpy as np
import pytest
from plucks import KINDS, no_pluck, pluck, strand
from simulated_strand import simulated
from sizes import size

from mountcalc.fit.strum.comb import Bounds
from mountcalc.fit.strum.tone import ALONE, APART, FEW, MANY, NO_PLUCK, VOICE, hear

STATED = 5.0  # dB
ANSWERED = 0.8  # 412 of 500 seen, at 5 dB as at 34 dB; at 0 to 4 dB two of three, below fewer
BOUNDS = Bounds(5.0, 280.0, 12.0)
BOUNDS_OF_STIFF = Bounds(5.0, 280.0, 40.0)


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
    seeds = range(5000, 5000 + size(500, 8))
    # Of few, two more may be refused.
    assert share_answered(seeds, lambda seed: STATED + seed % 30) >= ANSWERED - size(0.0, 0.25)


def test_below_the_stated_ratio_none_is_wrong():
    seeds = range(6000, 6000 + size(500, 6))
    share_answered(seeds, lambda seed: STATED - 1 - seed % 15)


def test_a_strand_stepped_through_time_is_heard_or_refused():
    right = 0
    for seed in range(size(40, 4)):
        samples, rate, lowest = simulated(seed)
        heard = hear(samples, rate, BOUNDS_OF_STIFF)
        if heard.tone is not None:
            assert heard.tone == pytest.approx(lowest, rel=0.01), seed
            right += 1
    assert right >= size(30, 2)


def test_what_is_no_pluck_is_refused():
    for seed in range(7000, 7000 + size(500, len(KINDS))):
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
    for seed in range(size(200, 5)):
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


def slowly_compressed(sound, rate):
    """What a telephone's gain control makes of it: quick to turn down, slow to turn up."""
    level, gain = 0.0, np.zeros(sound.size)
    for at, one in enumerate(np.abs(sound)):
        level += (one - level) / (rate * (0.01 if one > level else 0.3))
        gain[at] = 1.0 / (0.05 + level)
    return gain * sound


@pytest.mark.parametrize(
    "spoil",
    [
        lambda sound, _: np.clip(6.0 * sound / np.max(np.abs(sound)), -1.0, 1.0),
        lambda sound, _: np.clip(sound / np.max(np.abs(sound)) + 0.6, -1.0, 1.0),
        lambda sound, rate: sound[int(0.58 * rate) :],
        slowly_compressed,
    ],
    ids=["clipped", "offset and clipped", "begins in the pluck", "gain control"],
)
@pytest.mark.parametrize("tone", [13.0, 24.0, 41.0])
def test_what_a_telephone_does_to_it_makes_no_wrong_tone(spoil, tone):
    heard = hear(spoil(plucked(8000, tone, stretch=1.0), 8000), 8000, BOUNDS)
    assert heard.tone is None or heard.tone == pytest.approx(tone, rel=0.01)


def test_one_sure_look_that_no_other_bears_out_is_refused():
    made = pluck(5411, 16.0)  # its tone is 17.3 Hz; one look is sure of 8.6 Hz
    assert hear(made.samples, made.rate, BOUNDS).why_not == ALONE


def test_plucks_that_agree_and_leave_it_open_are_refused():
    made = pluck(6099, -5.0)  # two of its three plucks agree on a tone that is 1.02 % too high
    assert hear(made.samples, made.rate, BOUNDS).tone is None


def test_a_pluck_that_denies_another_counts():
    _, samples, rate = no_pluck(7542)  # chords, one of which would have a comb
    assert hear(samples, rate, BOUNDS).why_not == MANY

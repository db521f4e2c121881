"""``mountcalc fit --strum``: what it prints, draws and refuses."""

import json

import numpy as np
import pytest
from plot_mounts import assert_readable
from plucks import no_pluck, pluck, strand, wav_bytes

from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.solve import solve_mount
from mountcalc.fit.strum.picture import strum_figure
from mountcalc.fit.strum.strand import strum
from mountcalc.scenario.reader import read_scenario

MADE = pluck(4, 25)
SPAN = 0.528  # m, of the mill's strand, as its table has it


@pytest.fixture
def recorded(tmp_path):
    path = tmp_path / "pluck.wav"
    path.write_bytes(wav_bytes(MADE.samples, MADE.rate, "int24", 2))
    return path


@pytest.fixture
def voice(tmp_path):
    kind, samples, rate = no_pluck(2)
    assert kind == "speech"
    path = tmp_path / "voice.wav"
    path.write_bytes(wav_bytes(samples, rate, "uint8"))
    return path


def test_the_page_tells_tone_tension_and_the_row_for_the_log(mountcalc, cider, recorded):
    done = mountcalc("fit", cider, "--strum", recorded)
    assert done.code == 0
    lines = done.out.splitlines()
    assert len(lines) <= 45
    assert max(map(len, lines)) <= 80
    plain = json.loads(mountcalc("fit", cider, "--strum", recorded, "--json").out)
    assert plain["tone_Hz"] == pytest.approx(MADE.tone, rel=0.01)
    assert plain["row"] in done.out
    # T = 4 m t^2 f^2, the mass a tenth more or less.
    tension = 4 * read_scenario(cider).belt.mass * (SPAN * MADE.tone) ** 2
    assert 0.85 * tension < plain["tension_low_N"] < 0.92 * tension
    assert 1.08 * tension < plain["tension_high_N"] < 1.15 * tension
    assert len(plain["harmonics"]) >= 4
    assert plain["why_not"] is None


def test_its_row_is_one_that_the_log_takes(mountcalc, cider, recorded, tmp_path):
    row = json.loads(mountcalc("fit", cider, "--strum", recorded, "--json").out)["row"]
    log = cider.with_name("cider-mill-readings.csv").read_text().rstrip("\n")
    longer = tmp_path / "log.csv"
    longer.write_text(f"{log}\n{row.replace('TURNS', '1 1/4')}\n")
    assert mountcalc("fit", cider, longer).code == 0


def test_no_tone_is_told_with_the_other_way_and_ends_with_1(mountcalc, cider, voice):
    done = mountcalc("fit", cider, "--strum", voice)
    assert done.code == 1
    assert "none to be sure of" in done.out
    assert "count the frames of 10 swings" in " ".join(done.out.split())
    assert len(done.out.splitlines()) <= 45
    done = mountcalc("fit", cider, "--strum", voice, "--json")
    plain = json.loads(done.out)
    assert done.code == 1
    assert plain["tone_Hz"] is None
    assert plain["row"] is None
    assert plain["why_not"]


def test_the_example_of_the_film_is_right(mountcalc, cider, voice):
    words = mountcalc("fit", cider, "--strum", voice).out.split()
    frames, hertz = words[words.index("frames:") + 1], words[words.index("frames:") + 4]
    assert 240 * 10 / float(frames) == pytest.approx(float(hertz), rel=0.01)


def test_more_lists_the_peaks(mountcalc, cider, recorded):
    assert "PEAKS OF THE SPECTRUM" in mountcalc("fit", cider, "--strum", recorded, "--more").out


def test_the_picture_names_harmonics_and_mains(cider, recorded, voice):
    scenario = read_scenario(cider)
    found = strum(scenario, recorded)
    figure = strum_figure(found)
    assert_readable(figure)
    (axes,) = figure.axes
    shown = [text for text in axes.texts if text.get_gid() == "number"]
    heard = {one.number: one.frequency for one in found.told.peaks if one.number}
    assert {int(text.get_text()) for text in shown} == set(heard)
    assert all(text.xy[0] == heard[int(text.get_text())] for text in shown)
    mains = {int(text.get_text()) for text in axes.texts if text.get_gid() == "mains"}
    assert {60, 120, 180} <= mains
    assert all(one % 60 == 0 for one in mains)
    assert_readable(strum_figure(strum(scenario, voice)))


def test_the_picture_is_written_and_the_recording_is_not(mountcalc, cider, recorded, tmp_path):
    before = recorded.read_bytes()
    assert mountcalc("fit", cider, "--strum", recorded, "--plot", tmp_path / "s.png").code == 0
    assert (tmp_path / "s.png").read_bytes().startswith(b"\x89PNG")
    assert recorded.read_bytes() == before


@pytest.mark.parametrize("content", [b"", b"RIFF", b"date,turns\n", b"RIFF\0\0\0\0WAVEfmt "])
def test_what_is_no_recording_ends_with_2_and_one_line(mountcalc, cider, tmp_path, content):
    path = tmp_path / "bad.wav"
    path.write_bytes(content)
    done = mountcalc("fit", cider, "--strum", path)
    assert done.code == 2
    assert done.out == ""
    assert len(done.err.splitlines()) == 1


def test_it_goes_alone(mountcalc, cider, recorded):
    log = cider.with_name("cider-mill-readings.csv")
    done = mountcalc("fit", cider, log, "--strum", recorded)
    assert done.code == 2
    assert "strum" in done.err


@pytest.mark.parametrize("share", [0.25, 0.6])
def test_every_shipped_mount_hears_its_own_tones_or_is_told_to_count(
    mountcalc, scenario_file, tmp_path, share
):
    scenario = read_scenario(scenario_file)
    mount, belt = solve_mount(Mount.of(scenario)), scenario.belt
    snug, end = mount.travel.snug, mount.travel.tight_angle
    path = mount.mount.path(np.array(snug + share * (end - snug)))
    span = np.sqrt(path.span_squared)
    tone = float(np.sqrt(mount.mount.tension(path.length) / belt.mass) / (2 * span))
    # Of a modulus of bending of 45 N/mm2: a pinned beam's own part of its frequencies, squared.
    bending = 45e6 * belt.width * belt.thickness**3 / 12
    stretch = np.pi**2 * bending / (4 * belt.mass * span**4)
    rate, rng = 8000, np.random.default_rng(8)
    sound = 1e-2 * rng.standard_normal(4 * rate)
    for begin in (4000, 17000):
        one = strand(rate, 1.5, tone, stretch, 0.21, 80.0, 1.0, np.zeros(60))
        sound[begin : begin + one.size] += one
    recording = tmp_path / "rec.wav"
    recording.write_bytes(wav_bytes(0.5 * sound / np.max(np.abs(sound)), rate))
    done = mountcalc("fit", scenario_file, "--strum", recording)
    told = strum(scenario, recording).told
    assert told.low < tone < told.high
    if told.tone is None:
        assert done.code == 1
        assert "count the frames of 10 swings" in " ".join(done.out.split())
    else:
        assert done.code == 0
        assert told.tone == pytest.approx(tone, rel=0.01)


def test_the_shipped_recording_is_as_its_maker_writes_it():
    import make_recording

    assert make_recording.RECORDING.read_bytes() == make_recording.recording_bytes()
    scenario = read_scenario(make_recording.RECORDING.with_name("cider-mill.toml"))
    told = strum(scenario, make_recording.RECORDING).told
    assert told.tone == pytest.approx(make_recording.TONE, rel=0.01)

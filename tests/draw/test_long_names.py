"""Names as long as the reader takes cost no more than short ones, and find room on paper."""

import pathlib
import time
import tracemalloc
from dataclasses import replace

import pytest

from mountcalc.drafting.drawing import fits_sheet
from mountcalc.drafting.items import Leader
from mountcalc.drafting.names.callouts import short_name
from mountcalc.draw.along.along_shafts import along_shafts
from mountcalc.draw.build import Build
from mountcalc.scenario.reader import read_scenario

CIDER = pathlib.Path(__file__).parents[2] / "scenarios" / "cider-mill.toml"
LONG = ("journal of the long line shaft under the floor of the barn beside the apple store " * 2)[
    :118
]


def with_names(*names):
    mount = read_scenario(CIDER)
    bearings = tuple(
        replace(one, name=name) for one, name in zip(mount.driven.bearings, names, strict=True)
    )
    return replace(mount, driven=replace(mount.driven, bearings=bearings))


def drawn(mount):
    """The view, seconds and bytes that it took."""
    tracemalloc.start()
    start = time.process_time()
    view = along_shafts(Build(mount))
    seconds, (_, most) = time.process_time() - start, tracemalloc.get_traced_memory()
    tracemalloc.stop()
    return view, seconds, most


@pytest.mark.usefixtures("placed_names")
def test_long_names_take_no_longer_and_no_more_memory():
    along_shafts(Build(with_names("a", "b")))  # what is loaded once
    _, seconds, most = drawn(with_names("pulley end", "far end"))
    view, long_seconds, long_most = drawn(with_names(f"{LONG} 1", f"{LONG} 2"))
    assert long_seconds < 2.5 * seconds + 0.5
    assert long_most < 1.5 * most
    assert fits_sheet(view)
    names = [item.text for item in view.items if isinstance(item, Leader)]
    assert [name[-2:] for name in names if name.startswith("bearing: journal")] == [" 1"]


def test_a_long_name_keeps_its_ends():
    assert short_name("pulley end") == "pulley end"
    shown = short_name(f"{LONG} 2")
    assert len(shown) <= 32
    assert shown.startswith("journal of")
    assert shown.endswith(" 2")
    assert "…" in shown

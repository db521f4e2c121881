"""Both pictures can be read: nothing covers, leaves or shrinks a text, whatever the mount."""

import io
import subprocess
import sys
from dataclasses import replace

import pytest
from plot_mounts import CIDER, KINDS, SHARED, assert_readable, shown_texts

from mountcalc.table.pictures import loads_figure
from mountcalc.table.table import tension_table

PICTURES = pytest.mark.parametrize("which", ["drawn_loads", "drawn_layout"])
ALL = pytest.mark.parametrize("name", KINDS)


@ALL
def test_no_text_covers_another_leaves_the_figure_or_is_small(drawn_loads, name):
    assert_readable(drawn_loads(name)[-1])


@ALL
def test_axes_name_their_units(drawn_loads, name):
    scenario, _, figure = drawn_loads(name)
    force = "lbf" if scenario.display.value == "inch" else "N"
    labels = [axes.get_ylabel() for axes in figure.axes if axes.get_ylabel()]
    assert len(labels) == 2
    assert all(label.endswith(f"[{force}]") for label in labels)


@PICTURES
def test_title_is_the_scenarios(request, which):
    figure = request.getfixturevalue(which)("wood-lathe")[-1]
    titles = [text for text, _ in shown_texts(figure) if text.get_gid()]
    assert "Wood lathe with a turnbuckle (invented example)" in [t.get_text() for t in titles]


@PICTURES
def test_size_in_pixels(request, which):
    stream = io.BytesIO()
    request.getfixturevalue(which)("wood-lathe")[-1].savefig(stream, format="png")
    head = stream.getvalue()[:24]
    width, height = (int.from_bytes(head[at : at + 4]) for at in (16, 20))
    assert (width, height) in {(1600, 1200), (1600, 1280)}


def test_names_are_shown_as_they_are_and_cut_to_their_room(drawn_loads):
    loads = [text.get_text() for text, _ in shown_texts(drawn_loads("odd names")[-1])]
    assert any(text.startswith("$\\frac{1}{2}$ ??") and text.endswith("…") for text in loads)
    assert any(text.startswith("WW") and "…" in text and ": " in text for text in loads)
    assert any("$x" in text and "side" in text for text in loads)


def test_one_setting_and_rows_without_numbers_are_drawn_too():
    whole = tension_table(CIDER, [0.0, 1.0, 2.0])
    gone = tension_table(CIDER, [400.0, 500.0])
    for rows in (whole.rows[1:2], gone.rows, gone.rows[:1], whole.rows[:1] + gone.rows):
        figure = loads_figure(CIDER, replace(whole, rows=rows))
        texts = shown_texts(figure)
        for index, (text, box) in enumerate(texts):
            assert not box.count_overlaps([b.padded(-SHARED) for _, b in texts[index + 1 :]]), text


def test_neither_a_display_nor_global_state_is_used():
    code = (
        "import sys, matplotlib\n"
        "raw = lambda: dict(dict.items(matplotlib.rcParams))  # reading one may load pyplot\n"
        "before = raw()\n"
        "from plot_mounts import CIDER\n"
        "from mountcalc import plot\n"
        "assert plot(CIDER)._fields == ('loads', 'layout')\n"
        "assert 'matplotlib.pyplot' not in sys.modules\n"
        "assert raw() == before\n"
    )
    path = [str(entry) for entry in sys.path if entry]
    command = [sys.executable, "-W", "error", "-c", f"import sys\nsys.path[:0] = {path}\n{code}"]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr

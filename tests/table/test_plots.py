"""Both pictures can be read: nothing covers, leaves or shrinks a text, whatever the mount."""

import io
import subprocess
import sys
from dataclasses import replace

import numpy as np
import pytest
from plot_mounts import CIDER, KINDS, shown_texts

from mountcalc.table.pictures import loads_figure
from mountcalc.table.table import tension_table

LOADS, LAYOUT = 3, 4
PICTURES = pytest.mark.parametrize("which", [LOADS, LAYOUT], ids=["loads", "layout"])
ALL = pytest.mark.parametrize("name", KINDS)
# Two boxes may share so much of a pixel by rounding.
SHARED = 0.5


@ALL
@PICTURES
def test_no_text_covers_another_or_leaves_the_figure(drawn, name, which):
    figure = drawn(name)[which]
    texts = shown_texts(figure)
    assert len(texts) > 10
    for index, (text, box) in enumerate(texts):
        inside = box.x0 >= 0 and box.y0 >= 0
        inside &= box.x1 <= figure.bbox.width and box.y1 <= figure.bbox.height
        assert inside, text.get_text()
        for other, taken in texts[index + 1 :]:
            wide = min(box.x1, taken.x1) - max(box.x0, taken.x0)
            tall = min(box.y1, taken.y1) - max(box.y0, taken.y0)
            assert min(wide, tall) <= SHARED, (text.get_text(), other.get_text())


@ALL
def test_labels_of_the_layout_stand_on_white(drawn, name):
    figure = drawn(name)[LAYOUT]
    labels = [(text, box) for text, box in shown_texts(figure) if text.get_gid() == "label"]
    assert len(labels) >= 8
    for text, _ in labels:
        text.set_visible(False)
    figure.canvas.draw()
    layer = (np.asarray(figure.canvas.buffer_rgba())[::-1, :, :3] < 250).any(axis=2)
    for text, box in labels:
        text.set_visible(True)
        under = layer[int(box.y0) : int(box.y1), int(box.x0) : int(box.x1)]
        # The end of a leader may reach the edge of its own label.
        assert np.count_nonzero(under) <= 12, text.get_text()


@ALL
@PICTURES
def test_type_is_large_enough_and_axes_name_their_units(drawn, name, which):
    scenario, figure = drawn(name)[0], drawn(name)[which]
    assert min(text.get_fontsize() for text, _ in shown_texts(figure)) >= 9
    length, force = ("in", "lbf") if scenario.display.value == "inch" else ("mm", "N")
    labels = [axes.get_ylabel() for axes in figure.axes if axes.get_ylabel()]
    if which == LAYOUT:
        assert labels == [f"y [{length}]"]
        assert figure.axes[0].get_xlabel() == f"x [{length}]"
    else:
        assert len(labels) == 2
        assert all(label.endswith(f"[{force}]") for label in labels)


@PICTURES
def test_title_is_the_scenarios(drawn, which):
    titles = [text for text, _ in shown_texts(drawn("wood-lathe")[which]) if text.get_gid()]
    assert "Wood lathe with a turnbuckle (invented example)" in [t.get_text() for t in titles]


@PICTURES
def test_size_in_pixels(drawn, which):
    stream = io.BytesIO()
    drawn("cider-mill")[which].savefig(stream, format="png")
    head = stream.getvalue()[:24]
    width, height = (int.from_bytes(head[at : at + 4]) for at in (16, 20))
    assert (width, height) in {(1600, 1200), (1600, 1280)}


def test_names_are_shown_as_they_are_and_cut_to_their_room(drawn):
    loads = [text.get_text() for text, _ in shown_texts(drawn("odd names")[LOADS])]
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

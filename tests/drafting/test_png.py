"""The PNG read back: black on white, its size on paper, the bar measured in its pixels."""

import dataclasses
import io

import numpy as np
import pytest
from bench_drawings import template, view
from PIL import Image

from mountcalc.drafting.formats.png import png
from mountcalc.drafting.paper.pages import whole_sheet
from mountcalc.scenario.text.writing import Display


def opened(page):
    image = Image.open(io.BytesIO(png(page)))
    red, green, blue, *_ = np.moveaxis(np.asarray(image), -1, 0)
    assert np.array_equal(red, green)
    assert np.array_equal(red, blue)
    return image, 1.0 - red / np.float32(255.0)


@pytest.mark.parametrize(
    ("drawing", "display", "bar"),
    [(template(), Display.METRIC, 100.0), (view(), Display.INCH, 101.6)],
    ids=["template", "view"],
)
def test_picture_is_black_on_white_knows_its_size_and_its_bar_is_true(drawing, display, bar):
    page = whole_sheet(dataclasses.replace(drawing, display=display), "a4")
    image, dark = opened(page)
    assert image.info["dpi"] == pytest.approx((200, 200), abs=0.1)
    assert image.size == pytest.approx(
        (page.width / 0.0254 * 200, page.height / 0.0254 * 200), abs=1
    )
    lengths = set()
    for row in dark[-round(0.022 / 0.0254 * 200) :]:
        edges = np.flatnonzero(np.diff(np.concatenate(([0], row > 0.2, [0]))))
        for length in (edges[1::2] - edges[::2]) * 25.4 / 200:
            if 90 < length < 110:
                lengths.add(round(float(length), 2))
    assert min(lengths) == pytest.approx(bar, abs=0.4)
    assert max(lengths) == pytest.approx(bar, abs=0.4)


def test_a_huge_template_has_no_more_dots_than_can_be_looked_at():
    image, dark = opened(whole_sheet(template(3.0, 0.05), "a4"))
    assert 11900 <= max(image.size) <= 12001
    assert image.info["dpi"][0] * 3.0 / 0.0254 < 12000
    assert dark.max() > 0.9

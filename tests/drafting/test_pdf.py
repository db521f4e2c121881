"""The PDF read back: size of its pages, bars and tiles measured on the rendered pages."""

import dataclasses
import io
import re
import zlib

import numpy as np
import pypdfium2
import pytest
from bench_drawings import box, template, view

from mountcalc.drafting.drawing import Drawing
from mountcalc.drafting.formats.pdf import pdf
from mountcalc.drafting.items import Layer, Line
from mountcalc.drafting.paper.joints import match_marks
from mountcalc.drafting.paper.pages import pages
from mountcalc.drafting.paper.sheets import MARGIN, PAPERS, best_grid, on_paper, span
from mountcalc.scenario.text.writing import Display

DPI = 300
MM = 25.4 / DPI  # of a pixel
SIZES = {
    "a4": (210, 297),
    "a3": (297, 420),
    "letter": (215.9, 279.4),
    "tabloid": (279.4, 431.8),
}


def opened(drawing, sheet):
    return pypdfium2.PdfDocument(pdf(pages(drawing, sheet), drawing.title))


def raster(page, left_out=0.0):
    """Darkness of a page's pixels, 0 to 1, rows from the top, of which so many points are cut."""
    crop = (0, 0, 0, left_out)
    image = page.render(scale=DPI / 72, grayscale=True, crop=crop).to_numpy()
    return 1.0 - image.reshape(image.shape[:2]) / 255.0


def longest_run(flags):
    """Length of the longest run of true flags."""
    edges = np.flatnonzero(np.diff(np.concatenate(([0], flags.astype(int), [0]))))
    return max(edges[1::2] - edges[::2], default=0)


def ticks(dark, row):
    """Middles of the ticks that stand on a bar, and the bar's own row as a length [mm]."""
    above = dark[row - round(1.0 / MM)]  # a millimetre above the bar's line only its ticks are
    columns = np.flatnonzero(above > 0.2)
    groups = np.split(columns, np.flatnonzero(np.diff(columns) > 3) + 1)
    return [float(np.average(group, weights=above[group])) * MM for group in groups]


@pytest.mark.parametrize("sheet", SIZES)
@pytest.mark.parametrize("drawing", [template(), view()], ids=["template", "view"])
def test_pages_have_their_exact_size(drawing, sheet):
    for page in opened(drawing, sheet):
        size = sorted(points / 72 * 25.4 for points in page.get_size())
        assert size == pytest.approx(SIZES[sheet], abs=0.01)


BARS = {Display.METRIC: (100.0, 10), Display.INCH: (101.6, 4)}


@pytest.mark.parametrize("display", BARS)
@pytest.mark.parametrize("sheet", SIZES)
def test_the_bar_is_as_long_as_it_says_on_every_page(sheet, display):
    nominal, pieces = BARS[display]
    document = opened(dataclasses.replace(template(), display=display), sheet)
    assert len(document) >= 2
    for page in document:
        dark = raster(page, page.get_height() - 100)
        foot = dark.shape[0] - round(MARGIN * 1000 / MM)
        found = {}
        for row in range(foot - round(12 / MM), foot):
            length = longest_run(dark[row] > 0.3)
            if 99 < length * MM < 103:
                found.setdefault(round(length * MM), row)
        ((_, row),) = found.items()
        marks = [mark for mark in ticks(dark, row) if MARGIN * 1000 - 1 < mark < 10 + nominal + 1]
        assert len(marks) == pieces + 1
        assert marks[-1] - marks[0] == pytest.approx(nominal, abs=0.2)
        assert np.diff(marks) == pytest.approx(np.full(pieces, nominal / pieces), abs=0.2)


def cross(dark, x, y, reach=3.0):
    """Where the arms of a cross meet, looked for around a place [mm from left and top]."""
    left, top = round((x - reach) / MM), round((y - reach) / MM)
    wide = round(2 * reach / MM)
    piece = dark[top : top + wide, left : left + wide]
    rows, columns = piece.sum(axis=1), piece.sum(axis=0)
    middle = [
        float(np.average(np.arange(best - 2, best + 3), weights=sums[best - 2 : best + 3]))
        for sums, best in ((columns, int(columns.argmax())), (rows, int(rows.argmax())))
    ]
    return (left + middle[0]) * MM, (top + middle[1]) * MM


def level(dark, x, around, reach=2.0):
    """Height of a line where it passes a column [mm from the top]."""
    rows = np.arange(round((around - reach) / MM), round((around + reach) / MM))
    values = dark[rows, round(x / MM)]
    assert values.max() > 0.5
    return float(np.average(rows, weights=values)) * MM


def test_tiles_fit_together():
    """A slanted line, measured from the same cross on both sheets of a joint, is one line."""
    slope = 0.3
    line = Line((0.005, 0.03), (0.295, 0.03 + slope * 0.29), Layer.CUT)
    drawing = Drawing("plate", "Plate", "", (box(0, 0, 0.3, 0.2, Layer.CUT), line))
    left, bottom, right, top = span(on_paper(drawing, 1.0))
    pad = 0.003
    _, grid = best_grid((left - pad, bottom - pad, right + pad, top + pad), PAPERS["a4"])
    assert (grid.columns, grid.rows) == (2, 1)
    document = opened(drawing, "a4")
    assert len(document) == 3

    measured = []
    for column, page in enumerate(document[number] for number in (1, 2)):
        dark = raster(page)
        window = grid.window(column, 0)
        x, y = grid.corner(1, 0)  # the upper cross that both sheets bear
        assert any(
            isinstance(mark, Line) and mark.start[1] == mark.end[1] == y
            for mark in match_marks(grid, column, 0)
        )
        on_page = (x - window[0] + MARGIN) * 1000, (window[3] - y + MARGIN) * 1000
        found = cross(dark, *on_page)
        assert found == pytest.approx(on_page, abs=0.15)
        for away in (-4.0, -2.0, 2.0, 4.0):  # what both sheets show of the line
            expected = (y - (0.03 + slope * (x - 0.005 + away / 1000))) * 1000
            height = level(dark, found[0] + away, found[1] + expected)
            measured.append((column, away, height - found[1]))
            assert height - found[1] == pytest.approx(expected, abs=0.15)
    first, second = measured[:4], measured[4:]
    for one, other in zip(first, second, strict=True):
        assert one[1] == other[1]
        assert one[2] == pytest.approx(other[2], abs=0.15)


def contents(raw):
    """All streams of the file, unpacked."""
    for packed in re.findall(rb"stream\r?\n(.*?)endstream", raw, re.DOTALL):
        try:
            yield zlib.decompress(packed)
        except zlib.error:
            yield packed


def test_type_is_kept_as_outlines_of_a_font_and_lines_as_lines():
    drawing = template()
    raw = pdf(pages(drawing, "a4"), drawing.title)
    assert b"CIDFontType2" in raw
    assert b"/Type3" not in raw
    assert b"/Subtype /Image" not in raw
    assert any(b" l\n" in stream or b" l S" in stream for stream in contents(raw))
    assert not any(b" rg\n" in stream and b"1 0 0 rg" in stream for stream in contents(raw))


def test_text_can_be_read_and_the_same_pages_give_the_same_file():
    drawing = template()
    first = pdf(pages(drawing, "a4"), drawing.title)
    assert first == pdf(pages(drawing, "a4"), drawing.title)
    document = pypdfium2.PdfDocument(io.BytesIO(first))
    assert document.get_metadata_dict()["Title"] == "Plate template"
    text = document[0].get_textpage().get_text_range()
    assert "Unplug and lock out" in text
    assert "page 1 of 5" in text
    assert "11 13/16 in" in "".join(
        document[number].get_textpage().get_text_range() for number in range(1, 5)
    )


def test_every_page_tells_what_it_is_and_every_tile_names_its_crosses():
    document = opened(template(), "a4")
    for number, page in enumerate(document, 1):
        text = page.get_textpage().get_text_range()
        for words in (f"page {number} of {len(document)}", "scale 1:1", "100 mm, or printing"):
            assert words in text
    names = {"A1", "B1", "A2", "B2"}
    assert names <= set(document[1].get_textpage().get_text_range().split())


def test_nothing_is_in_colour():
    for page in opened(template(), "letter"):
        image = page.render(scale=1).to_numpy().astype(int)
        assert np.ptp(image[..., :3], axis=2).max() == 0


def test_signs_that_the_font_lacks_become_question_marks():
    drawing = Drawing(
        "plate", "Plate \U00013000 $x^2$ \x07", "", (Line((0, 0), (0.1, 0.1), Layer.CUT),)
    )
    text = opened(drawing, "a4")[0].get_textpage().get_text_range()
    assert "Plate ? $x^2$ ?" in text

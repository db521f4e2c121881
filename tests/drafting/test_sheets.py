"""Tiles, match marks, maps and texts: before any renderer, in metres on paper."""

import dataclasses
import itertools
import re

import pytest
from bench_drawings import template, view
from hypothesis import given
from hypothesis import strategies as st

from mountcalc.drafting.drawing import Drawing
from mountcalc.drafting.formats.dxf import dxf
from mountcalc.drafting.items import Label, Layer, Line, Path, along
from mountcalc.drafting.paper.joints import match_marks
from mountcalc.drafting.paper.pages import pages, whole_sheet
from mountcalc.drafting.paper.sheets import (
    MARGIN,
    OVERLAP,
    PAPERS,
    STRIP,
    best_grid,
    on_paper,
    page_map,
    span,
)
from mountcalc.drafting.paper.text import broken, cut_to, text_width
from mountcalc.errors import InputError
from mountcalc.scenario.text.writing import Display

SIZES = st.floats(0.01, 2.5)
SHEETS = sorted(PAPERS)


def places(grid):
    return [(column, row) for row in range(grid.rows) for column in range(grid.columns)]


@given(SIZES, SIZES, st.sampled_from(SHEETS))
def test_tiles_cover_the_drawing_and_fit_on_the_paper(width, height, sheet):
    paper, grid = best_grid((-0.1, 0.2, -0.1 + width, 0.2 + height), PAPERS[sheet])
    windows = [grid.window(*place) for place in places(grid)]
    assert min(window[0] for window in windows) <= -0.1
    assert max(window[2] for window in windows) >= -0.1 + width
    assert min(window[1] for window in windows) <= 0.2
    assert max(window[3] for window in windows) >= 0.2 + height
    assert grid.width <= paper.width - 2 * MARGIN
    assert grid.height <= paper.height - 2 * MARGIN - STRIP
    for column, row in places(grid):
        left, bottom, right, top = grid.window(column, row)
        assert (right - left, top - bottom) == pytest.approx((grid.width, grid.height))
        if column + 1 < grid.columns:
            assert right - grid.window(column + 1, row)[0] == pytest.approx(OVERLAP)
        if row + 1 < grid.rows:
            assert grid.window(column, row + 1)[3] - bottom == pytest.approx(OVERLAP)


@given(SIZES, SIZES, st.sampled_from(SHEETS))
def test_paper_lies_so_that_fewer_sheets_are_needed(width, height, sheet):
    """Counted the other way round: how many tiles of each lie a row and a column want."""
    paper, grid = best_grid((0, 0, width, height), PAPERS[sheet])

    def count(wide, high):
        across = next(n for n in itertools.count(1) if n * (wide - 0.02 - OVERLAP) >= width - 1e-9)
        up = next(n for n in itertools.count(1) if n * (high - 0.05 - OVERLAP) >= height - 1e-9)
        return across * up

    upright = PAPERS[sheet]
    wanted = min(count(upright.width, upright.height), count(upright.height, upright.width))
    assert grid.columns * grid.rows == wanted
    assert {paper.width, paper.height} == {upright.width, upright.height}


def crosses(grid, column, row):
    """Names of a tile's match marks and where they are in the drawing."""
    strokes = list(match_marks(grid, column, row))
    lines = [stroke for stroke in strokes if isinstance(stroke, Line)]
    names = [stroke.text for stroke in strokes if isinstance(stroke, Label)]
    middles = [
        ((one.start[0] + one.end[0]) / 2, (one.start[1] + one.end[1]) / 2) for one in lines[::2]
    ]
    return dict(zip(names, middles, strict=True))


def test_neighbours_bear_the_same_crosses_in_the_same_places():
    _, grid = best_grid((0, 0, 0.9, 0.7), PAPERS["a4"])
    assert grid.columns * grid.rows >= 4
    seen = {}
    for place in places(grid):
        marks = crosses(grid, *place)
        assert len(marks) == 4
        left, bottom, right, top = grid.window(*place)
        for name, (x, y) in marks.items():
            assert left < x < right
            assert bottom < y < top
            assert seen.setdefault(name, (x, y)) == pytest.approx((x, y))
    assert len(set(seen.values())) == len(seen) == (grid.columns + 1) * (grid.rows + 1)
    for column, row in places(grid):
        if column + 1 < grid.columns:
            shared = crosses(grid, column, row).keys() & crosses(grid, column + 1, row).keys()
            assert len(shared) == 2


def test_names_of_crosses_go_on_after_z():
    _, grid = best_grid((0, 0, 10.0, 0.1), PAPERS["a4"])
    names = {name for place in places(grid) for name in crosses(grid, *place)}
    assert {"Z1", "AA1", "AB2"} <= names
    assert len(names) == 2 * (grid.columns + 1)


def test_map_bears_the_page_of_each_tile():
    drawing = template()
    first, *rest = pages(drawing, "a4")
    texts = {label.text for patch in first.patches for label in labels(patch)}
    assert texts >= {"2", "3", "4", "5"}
    assert len(rest) == 4
    _, grid = best_grid((0, 0, 0.9, 0.7), PAPERS["a4"])
    drawn = page_map(grid, (0.1, 0.05), 2)
    left, bottom, right, top = span([stroke for stroke in drawn if isinstance(stroke, Path)])
    assert (left, bottom) == pytest.approx((0, 0), abs=1e-12)
    assert right <= 0.1 + 1e-9
    assert top <= 0.05 + 1e-9


def labels(patch):
    return [stroke for stroke in patch.strokes if isinstance(stroke, Label)]


def text_box(label):
    """Corner to corner of what is printed, measured in the font."""
    width = text_width(label.text, label.height)
    before = {"left": 0.0, "centre": 0.5, "right": 1.0}[label.align] * width
    corners = [
        along(label.at, label.angle, x, y)
        for x in (-before, width - before)
        for y in (0.0, label.height)
    ]
    across, up = zip(*corners, strict=True)
    return min(across), min(up), max(across), max(up)


def apart(one, other):
    return one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]


LONG = "An estimate of the width of the board, because the scenario says nothing of it, " * 3


def wordy(drawing, count):
    return dataclasses.replace(
        drawing, title="T" * 200, view=LONG, notes=(LONG,) * count, cautions=(LONG,) * 3
    )


@pytest.mark.parametrize("sheet", SHEETS)
@pytest.mark.parametrize(
    "drawing",
    [template(), view(), template(1.3, 0.1), wordy(template(), 40), wordy(view(), 2)],
    ids=["template", "view", "long", "wordy template", "wordy view"],
)
def test_texts_stay_on_their_page_and_apart(drawing, sheet):
    for page in (*pages(drawing, sheet), whole_sheet(drawing, sheet)):
        boxes = []
        for patch in page.patches:
            if patch.workpiece:
                continue
            for label in labels(patch):
                left, bottom, right, top = box = text_box(label)
                assert left >= MARGIN - 1e-9
                assert right <= page.width - MARGIN + 1e-9
                assert bottom >= MARGIN
                assert top <= page.height - MARGIN + 1e-9
                for other in boxes:
                    assert apart(box, other), label.text
                boxes.append(box)


@pytest.mark.parametrize("sheet", SHEETS)
@pytest.mark.parametrize("drawing", [template(), view()], ids=["template", "view"])
@pytest.mark.parametrize(
    ("display", "name", "length"),
    [(Display.INCH, "4 in", 0.1016), (Display.METRIC, "100 mm", 0.1)],
)
def test_every_page_says_what_it_is_and_bears_a_bar(drawing, sheet, display, name, length):
    drawing = dataclasses.replace(drawing, display=display)
    printed = pages(drawing, sheet)
    for number, page in enumerate(printed, 1):
        texts = [label.text for patch in page.patches for label in labels(patch)]
        assert f"page {number} of {len(printed)}" in texts
        assert f"{name}, or printing scaled it" in texts
        assert drawing.title in texts
        assert any(text.startswith("scale 1:") for text in texts)
        lengths = {
            round(stroke.end[0] - stroke.start[0], 9)
            for patch in page.patches
            for stroke in patch.strokes
            if isinstance(stroke, Line) and not patch.workpiece
        }
        assert length in lengths


@pytest.mark.parametrize("sheet", SHEETS)
@pytest.mark.parametrize("count", [1, 60])
def test_no_sentence_is_lost(sheet, count):
    for drawing in (template(), view()):
        numbered = dataclasses.replace(
            drawing,
            notes=tuple(f"Note number{place} of many." for place in range(count)),
            cautions=tuple(f"Caution number{place} of many." for place in range(4)),
        )
        texts = [
            label.text
            for page in pages(numbered, sheet)
            for patch in page.patches
            for label in labels(patch)
        ]
        for sentence in (*numbered.notes, *numbered.cautions):
            assert texts.count(sentence) == 1


@pytest.mark.parametrize(
    ("sheet", "scale"), [("a4", "1:5"), ("letter", "1:5"), ("a3", "1:5"), ("tabloid", "1:4")]
)
def test_a_view_stands_on_one_page_at_a_standard_scale(sheet, scale):
    drawing = view()
    page = pages(drawing, sheet)[0]
    (patch,) = (patch for patch in page.patches if patch.workpiece)
    left, bottom, right, top = span(patch.strokes)
    assert MARGIN <= left < right <= page.width - MARGIN
    assert MARGIN + STRIP < bottom < top < page.height - MARGIN
    texts = {label.text for other in page.patches for label in labels(other)}
    assert f"scale {scale}" in texts
    divisor = float(scale.removeprefix("1:"))
    outline = span([stroke for stroke in patch.strokes if stroke.layer is Layer.EDGE])
    assert outline[2] - outline[0] == pytest.approx(0.9 / divisor)


def test_many_cautions_go_to_the_next_page_before_the_view_shrinks_under_its_texts():
    page, *more = pages(view(sentences=40), "a4")
    texts = {label.text for patch in page.patches for label in labels(patch)}
    assert "scale 1:5" in texts
    assert "more on the next page" in texts
    assert more


def test_a_view_that_is_small_is_not_enlarged():
    small = Drawing(
        "assembly", "Small", "", (Line((0, 0), (0.05, 0.02), Layer.CUT),), true_scale=False
    )
    page = pages(small, "a4")[0]
    (patch,) = (patch for patch in page.patches if patch.workpiece)
    assert span(patch.strokes)[2] - span(patch.strokes)[0] == pytest.approx(0.05)


def heights(drawing, scale):
    return [one.height for one in on_paper(drawing, scale) if isinstance(one, Label)]


def test_texts_are_never_smaller_than_meant():
    assert heights(view(), 5.0) == heights(view(), 10.0) == [0.003]


def test_a_view_on_a_larger_sheet_is_its_picture_enlarged():
    """Texts grow with it: what was placed to stay clear of each other still does."""
    assert heights(view(), 2.0) == pytest.approx([0.0075])
    placed, enlarged = span(on_paper(view(), 5.0)), span(on_paper(view(), 2.0))
    assert enlarged == pytest.approx([2.5 * one for one in placed])


def test_lines_are_broken_between_words_and_lose_none():
    text = "a board that is glued up of two layers " * 5
    lines = broken(text, 0.003, 0.06)
    assert " ".join(lines).split() == text.split()
    assert all(text_width(line, 0.003) <= 0.06 for line in lines)
    assert len(lines) > 5


@pytest.mark.parametrize("room", [0.025, 0.03, 0.04, 0.05])
def test_mixed_numbers_are_not_broken(room):
    """A whole number at the end of a line would be read as all of it."""
    text = (
        "Holes at 1 13/16, 5 7/32; 16 1/16, 1 3/32; -6 9/32 in (33 15/32 in) and 7/8 in, 3 of them."
    )
    lines = broken(text, 0.003, room)
    assert " ".join(lines) == text
    assert all(text_width(line, 0.003) <= room for line in lines)
    for number in ("1 13/16", "5 7/32", "16 1/16", "1 3/32", "-6 9/32", "33 15/32"):
        assert any(number in line for line in lines)


def test_a_text_without_spaces_is_cut():
    shown = cut_to("W" * 100, 0.003, 0.05)
    assert shown.startswith("WW")
    assert shown.endswith("…")
    assert text_width(shown, 0.003) <= 0.05


@pytest.mark.parametrize("count", [5, 12, 30])
def test_sentences_are_not_torn_between_pages(count):
    sentence = (
        "A sentence of several lines that ends with the word finis and begins with a dash " * 3
    )
    drawing = dataclasses.replace(template(), notes=(sentence,) * count)
    for page in pages(drawing, "a4"):
        texts = [
            label.text for patch in page.patches for label in labels(patch) if not patch.workpiece
        ]
        starts = sum(text.startswith("A sentence of several") for text in texts)
        words = " ".join(texts).split()
        assert words.count("finis") == 3 * starts


def test_a_text_longer_than_a_page_goes_on_and_is_cut_in_the_end():
    drawing = dataclasses.replace(template(), notes=("word " * 1200,))
    texts = " ".join(
        label.text
        for page in pages(drawing, "a4")
        for patch in page.patches
        for label in labels(patch)
    )
    assert texts.count("word") == 400  # in 2000 characters, the most that is printed of one


def test_a_template_of_more_sheets_than_anyone_joins_is_refused_with_what_would_do():
    """A tile of tabloid shows 0.26 m by 0.38 m, of letter 0.20 m by 0.23 m: counted by hand."""
    with pytest.raises(InputError) as told:
        pages(template(3.0, 3.0), "letter")
    assert re.fullmatch(
        r"plate: at true scale \d{3} sheets of letter, and no more than 150 are joined: take "
        r"--sheet a3 or tabloid, or --format dxf",
        str(told.value),
    )
    assert 3.0**2 / 0.20 / 0.23 < int(re.search(r"\d+", str(told.value))[0]) < 350
    with pytest.raises(InputError, match=r"joined: take --format dxf$"):
        pages(template(9.0, 9.0), "a3")
    assert whole_sheet(template(9.0, 9.0), "a3").width > 9.0
    assert 1 < len(pages(template(2.0, 2.0), "letter")) < 150


def test_a_view_that_is_not_wholly_at_its_scale_says_so_beside_the_scale_in_every_format():
    drawing = dataclasses.replace(view(), scale_note="heights are shortened at the break lines")
    assert "heights are shortened" not in said_with_scale(view())
    for texts in (said_with_scale(drawing), said_with_scale(drawing.mirrored())):
        assert re.search(r"Scale 1:[0-9.]+; heights are shortened at the break lines\.", texts)
    file = "".join(dxf(drawing).decode().split("\r\n"))
    assert "heights are shortened" in file


def said_with_scale(drawing):
    labels = (
        stroke
        for page in (*pages(drawing, "a4"), whole_sheet(drawing, "a4"))
        for patch in page.patches
        for stroke in patch.strokes
        if isinstance(stroke, Label)
    )
    return " ".join(label.text for label in labels)


def test_joining_works_with_paper_that_cannot_be_seen_through():
    texts = said_with_scale(template(0.5, 0.5))
    for words in ("trim one at its frame", "window", "a pin through both"):
        assert words in texts

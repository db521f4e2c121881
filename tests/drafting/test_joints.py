"""Joints that cut as little as may be, texts moved into one sheet, names of marks in the clear."""

import dataclasses
import math

import numpy as np
from bench_drawings import box, template
from hypothesis import given
from hypothesis import strategies as st

from mountcalc.drafting.drawing import Drawing
from mountcalc.drafting.items import Circle, Label, Layer, Leader, Line, Offset
from mountcalc.drafting.paper.joints import Taken, kept_whole, match_marks, whole_texts, within
from mountcalc.drafting.paper.pages import pages
from mountcalc.drafting.paper.sheets import PAPERS, Extent, best_grid
from mountcalc.drafting.paper.text import text_box


def count_cut(grid, extents):
    """How many have room in no tile."""

    def has_room(one, window):
        low, high = np.maximum(one.bounds[:2], window[:2]), np.minimum(one.bounds[2:], window[2:])
        return (high - low >= np.array([one.width, one.height]) - 1e-9).all()

    return sum(not any(has_room(one, window) for window in grid.windows()) for one in extents)


PLACES = st.floats(0.02, 0.85)


@st.composite
def extents(draw):
    left, bottom = draw(PLACES), draw(PLACES)
    width, height = draw(st.floats(0.002, 0.06)), draw(st.floats(0.002, 0.06))
    return Extent((left, bottom, left + width, bottom + height), width, height)


@given(st.lists(extents(), max_size=25), st.lists(extents(), max_size=10))
def test_no_more_is_cut_than_with_the_drawing_in_the_middle(texts, pieces):
    bounds = (0.0, 0.0, 0.92, 0.92)
    _, chosen = best_grid(bounds, PAPERS["a4"], texts, pieces)
    _, centred = best_grid(bounds, PAPERS["a4"])
    after, before = (
        [count_cut(grid, extents) for extents in (texts, pieces)] for grid in (chosen, centred)
    )
    assert after <= before
    windows = [chosen.window(*place) for place in chosen.places()]
    cut = sum(not any(within(text.bounds, window) for window in windows) for text in texts)
    assert after[0] == cut
    assert min(window[0] for window in windows) <= 0.0
    assert max(window[2] for window in windows) >= 0.92
    assert min(window[1] for window in windows) <= 0.0
    assert max(window[3] for window in windows) >= 0.92


def long_board():
    items = (
        box(0, 0, 0.37, 0.1, Layer.CUT),
        Offset((0, 0), (0.37, 0), -0.012, "370 mm"),
        Circle((0.185, 0.05), 0.01, Layer.DRILL),
        Leader((0.1, 0.05), (0.17, 0.08), "a name over the joint"),
    )
    return Drawing("plate", "Plate", "", items)


def in_one(label, grid):
    return any(within(text_box(label), grid.window(*place)) for place in grid.places())


def test_the_text_of_a_dimension_slides_along_its_line_into_one_sheet():
    drawing = long_board()
    # Tiles in the middle, so that their joint runs through the text.
    _, grid = best_grid((-0.003, -0.03, 0.373, 0.103), PAPERS["a4"])
    assert grid.columns == 2
    before = Label((0.185, -0.011), "370 mm", align="centre")
    assert not in_one(before, grid)
    (after,) = (
        one for one in whole_texts(drawing, grid) if isinstance(one, Label) and one.text == "370 mm"
    )
    assert in_one(after, grid)
    assert math.isclose(after.at[1], before.at[1])
    assert 0.0 < text_box(after)[0] < text_box(after)[2] < 0.37


def test_the_joint_spares_a_hole_and_a_name():
    drawing = long_board()
    _, grid = best_grid((-0.003, -0.03, 0.373, 0.103), PAPERS["a4"], *kept_whole(drawing))
    assert [count_cut(grid, extents) for extents in kept_whole(drawing)] == [0, 0]


def test_what_is_whole_stays_where_it_was():
    drawing = dataclasses.replace(long_board(), items=long_board().items[:1])
    _, grid = best_grid((-0.003, -0.03, 0.373, 0.103), PAPERS["a4"])
    assert whole_texts(drawing, grid) == drawing.items


def test_names_of_match_marks_keep_clear_of_lines_within_their_sheet():
    _, grid = best_grid((0, 0, 0.9, 0.7), PAPERS["a4"])
    x, y = grid.corner(1, 1)
    line = Line((x - 0.02, y - 0.003), (x + 0.02, y - 0.003), Layer.CUT)
    for place in ((0, 0), (1, 0), (0, 1), (1, 1)):
        marks = match_marks(grid, *place, [line])
        (name,) = (one for one in marks if isinstance(one, Label) and one.text == "B2")
        assert Taken.by([line]).met_by(text_box(name)) == (0, 0)
        assert within(text_box(name), grid.window(*place))
        assert name.ground
    bare = [one for one in match_marks(grid, 1, 1) if isinstance(one, Label) and one.text == "B2"]
    assert Taken.by([line]).met_by(text_box(bare[0]))[1] > 0  # it is the line that moves it


def test_pages_to_read_come_before_the_tiles():
    drawing = dataclasses.replace(template(), notes=template().notes * 20)
    places = [
        next(
            label.text
            for patch in page.patches
            for label in patch.strokes
            if isinstance(label, Label) and label.text.startswith(("read ", "column "))
        )
        for page in pages(drawing, "a4")
    ]
    read = places.count("read these pages first")
    assert read >= 2
    assert places[:read] == ["read these pages first"] * read
    assert all(place.startswith("column") for place in places[read:])
    first = {
        one.text
        for patch in pages(drawing, "a4")[0].patches
        for one in patch.strokes
        if isinstance(one, Label)
    }
    assert {str(number) for number in range(read + 1, len(places) + 1)} <= first
    assert "2" not in first


def on_tiles(drawing, sheet):
    """Texts of the drawing on each of its tiles."""
    return [
        [one.text for one in patch.strokes if isinstance(one, Label)]
        for page in pages(drawing, sheet)
        for patch in page.patches
        if patch.workpiece
    ]


def test_a_text_that_one_sheet_shows_whole_is_not_seen_in_part_on_its_neighbour():
    # Texts in a row, so close that some stand in the strip that two sheets share.
    texts = {f"name {number}" for number in range(20)}
    row = tuple(Label((0.018 * number, 0.05), text) for number, text in enumerate(sorted(texts)))
    drawing = dataclasses.replace(long_board(), items=(*long_board().items[:1], *row))
    _, grid = best_grid((-0.003, -0.03, 0.373, 0.103), PAPERS["a4"], *kept_whole(drawing))
    tiles = on_tiles(drawing, "a4")
    windows = [grid.window(*place) for place in grid.places()]
    assert len(tiles) > 1
    shown = [text for tile in tiles for text in tile]
    assert set(shown) == texts
    whole = {
        label.text: sum(within(text_box(label), window) for window in windows) for label in row
    }
    assert 1 in whole.values()
    assert all(shown.count(text) == count for text, count in whole.items() if count)


def test_the_text_of_a_dimension_slides_off_the_line_of_another():
    crossing = Line((0.05, -0.05), (0.05, 0.0), Layer.DIMENSION)
    dimension = Offset((0, 0), (0.1, 0), -0.012, "100 mm")
    drawing = Drawing("plate", "Plate", "", (dimension, crossing))
    _, grid = best_grid((-0.003, -0.06, 0.103, 0.003), PAPERS["a4"])
    (text,) = (one for one in whole_texts(drawing, grid) if isinstance(one, Label))
    assert Taken.by([crossing]).met_by(text_box(text)) == (0, 0)
    assert 0.0 < text_box(text)[0] < text_box(text)[2] < 0.1


def cautious(count):
    sentence = "Unplug the motor and lock the plug out before the guard is opened, " * 3
    cautions = tuple(f"Number {number}: {sentence}" for number in range(count))
    return dataclasses.replace(template(), cautions=cautions, notes=(sentence,) * 12)


def test_cautions_stand_together_on_the_first_page_before_map_and_notes():
    first, *others = (
        [one for patch in page.patches for one in patch.strokes if isinstance(one, Label)]
        for page in pages(cautious(9), "letter")
    )
    assert sum(one.text.startswith("Number") for one in first) == 9
    assert not any(one.text.startswith("Number") for page in others for one in page)
    last = min(one.at[1] for one in first if one.text.startswith("Number"))
    assert all(one.at[1] < last for one in first if one.text.startswith(("Lines", "Notes")))


def test_cautions_that_fill_more_than_a_page_go_on_and_none_is_lost():
    texts = [
        one.text
        for page in pages(cautious(40), "letter")
        for patch in page.patches
        for one in patch.strokes
        if isinstance(one, Label)
    ]
    assert all(
        sum(text.startswith(f"Number {number}:") for text in texts) == 1 for number in range(40)
    )


def test_a_name_that_does_not_fit_before_the_joint_is_turned_over_its_point():
    name = Leader((0.16, 0.05), (0.17, 0.06), "a long name before the joint")
    items = (*long_board().items[:1], name)
    drawing = dataclasses.replace(long_board(), items=items)
    _, grid = best_grid((-0.003, -0.03, 0.373, 0.103), PAPERS["a4"])  # the joint is in the middle
    (text,) = (one for one in whole_texts(drawing, grid) if isinstance(one, Label))
    assert in_one(text, grid)
    assert text.align == "right"
    assert text_box(text)[2] < name.at[0]


def test_a_joint_cuts_a_name_that_can_be_moved_before_it_cuts_a_hole():
    # A hole and a name so near that a joint between them is not to be had.
    name = Leader((0.185, 0.05), (0.19, 0.06), "name of a hole")
    hole = Circle((0.19, 0.03), 0.02, Layer.DRILL)
    drawing = dataclasses.replace(long_board(), items=(*long_board().items[:1], hole, name))
    _, grid = best_grid((-0.003, -0.03, 0.373, 0.103), PAPERS["a4"], *kept_whole(drawing))
    assert count_cut(grid, kept_whole(drawing)[1]) == 0
    (text,) = (one for one in whole_texts(drawing, grid) if isinstance(one, Label))
    assert in_one(text, grid)

"""All of a template on one page before its sheets, and no sheet that shows nothing."""

import pathlib
from collections import Counter

import pytest

from mountcalc.drafting.drawing import Drawing
from mountcalc.drafting.items import Circle, Label, Layer, Leader, Line, Offset, Path
from mountcalc.drafting.paper.joints import Taken, without_blanks
from mountcalc.drafting.paper.pages import pages
from mountcalc.drafting.paper.sheets import MARGIN, PAPERS, best_grid, span
from mountcalc.drafting.paper.text import text_box
from mountcalc.draw.build import Build
from mountcalc.draw.drawings import drawings_of
from mountcalc.scenario.reader import read_scenario

SCENARIOS = pathlib.Path(__file__).parents[2] / "scenarios"
WORK = {Layer.CUT, Layer.DRILL, Layer.MARK, Layer.POCKET}
SHEETS = {"cider-mill": "letter", "wood-lathe": "a4"}


@pytest.fixture(scope="module", params=SHEETS)
def printed(request):
    """Templates of a mount with their pages."""
    mount = read_scenario(SCENARIOS / f"{request.param}.toml")
    templates = drawings_of(Build(mount), ["plate", "base", "guard"])
    return [(one, pages(one, SHEETS[request.param])) for one in templates]


def labels(page):
    return [
        stroke for patch in page.patches for stroke in patch.strokes if isinstance(stroke, Label)
    ]


def texts(page):
    return [label.text for label in labels(page)]


def place(page):
    """What the strip says of the page's place."""
    return next(
        text
        for text in texts(page)
        if text.startswith(("column ", "all of it", "read th")) and "sheet" not in text
    )


def test_one_page_with_every_dimension_precedes_the_sheets(printed):
    for drawing, of_drawing in printed:
        places = [place(page) for page in of_drawing]
        at = places.index("all of it, with all sizes")
        assert all(text.startswith("read th") for text in places[:at])
        assert all(text.startswith("column ") for text in places[at + 1 :])
        wanted = Counter(one.text for one in drawing.items if isinstance(one, Offset))
        if drawing.name == "guard":  # of the strip's cuts a detail is drawn on the sheets
            wanted -= Counter([max(drawing.items, key=is_detail).text])
        assert wanted
        assert not wanted - Counter(texts(of_drawing[at]))
        names = {one.text for one in drawing.items if isinstance(one, Leader)}
        assert names <= set(texts(of_drawing[at]))


def is_detail(item):
    return (isinstance(item, Offset), isinstance(item, Offset) and item.start[1])


def test_that_page_shows_the_whole_outline_and_its_texts_are_read(printed):
    for drawing, of_drawing in printed:
        page = next(one for one in of_drawing if place(one).startswith("all of it"))
        (view,) = (patch for patch in page.patches if patch.workpiece)
        left, bottom, right, top = span(view.strokes)
        assert MARGIN - 1e-9 <= left < right <= page.width - MARGIN + 1e-9
        assert MARGIN < bottom < top < page.height - MARGIN
        cuts = [
            one for one in view.strokes if one.layer is Layer.CUT and not isinstance(one, Label)
        ]
        whole = [one for one in drawing.items if getattr(one, "layer", None) is Layer.CUT]
        wide = [right - left for left, _, right, _ in (span(cuts), span(whole))]
        assert wide[0] * drawing.glance.scale == pytest.approx(wide[1], rel=1e-6)
        boxes = []
        for label in labels(page):
            assert label.height >= 0.0025
            box = text_box(label)
            for other in boxes:
                is_apart = (
                    box[2] <= other[0] or other[2] <= box[0] or box[3] <= other[1]
                ) or other[3] <= box[1]
                assert is_apart, label.text
            boxes.append(box)


def test_each_sheet_shows_something_that_is_made_or_read(printed):
    for _, of_drawing in printed:
        for page in of_drawing:
            if not place(page).startswith("column "):
                continue
            patch = page.patches[0]
            work = [
                one for one in patch.strokes if one.layer in WORK and not isinstance(one, Label)
            ]
            has_text = any(isinstance(one, Label) for one in patch.strokes)
            assert Taken.by(work).met_by(patch.window)[1] or has_text


def two_holes():
    """Holes in opposite corners of a blank, a mark along one side: most of it is empty."""
    corners = ((0.0, 0.0), (0.7, 0.0), (0.7, 0.9), (0.0, 0.9))
    items = (
        Path(corners, closed=True, layer=Layer.EDGE),
        Circle((0.05, 0.05), 0.01, Layer.DRILL),
        Circle((0.65, 0.85), 0.01, Layer.DRILL),
        Line((0.02, 0.05), (0.02, 0.85), Layer.MARK),
        Offset((0.0, 0.0), (0.7, 0.0), -0.014, "700.0 mm"),
    )
    return Drawing("guard", "Two holes", "", items)


def test_sheets_that_show_only_the_blank_are_left_out_and_the_map_says_so():
    drawing = two_holes()
    first, *sheets = pages(drawing, "a4")
    paper, grid = best_grid((-0.02, -0.02, 0.72, 0.92), PAPERS["a4"])
    fewer = without_blanks(drawing, grid)
    assert len(sheets) < len(grid.places()) - 2
    # By hand: all of the mark's column, the upper right corner, and nothing in the middle.
    kept = set(fewer.places())
    assert {(0, row) for row in range(grid.rows)} <= kept
    assert (grid.columns - 1, 0) in kept
    assert (1, 1) not in kept
    numbers = [text for text in texts(first) if text.isdigit()]
    assert numbers == [str(page) for page in range(2, 2 + len(sheets))]
    said = [place(page) for page in sheets]
    assert len(set(said)) == len(said)
    # Every piece of work is on a sheet that is printed.
    windows = [fewer.window(*one) for one in fewer.places()]
    for item in drawing.items:
        if item.layer in WORK:
            for x, y in (item.centre,) if isinstance(item, Circle) else (item.start, item.end):
                assert any(w[0] <= x <= w[2] and w[1] <= y <= w[3] for w in windows)
    assert paper.name == "A4"

"""The report on paper: two sheets, nothing beside them, the page's own sentences."""

import re
from dataclasses import replace
from itertools import pairwise

import pypdfium2
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mountcalc.drafting.paper.sheets import PAPERS
from mountcalc.report.blocks import Grid, Paper, Points, Section, Text
from mountcalc.report.paper import MARGIN, PAGES, Word, sheets
from mountcalc.report.pdf import page_pdf

POINTS_PER_MM = 72 / 25.4
A4 = 210.0, 297.0
LETTER = 215.9, 279.4


def section(name, *blocks, paper=Paper.ALWAYS):
    return Section(name, name.title(), blocks, paper)


def words_of(laid):
    return [word for column in laid.columns for piece in column for word in piece.words]


def text_of(laid):
    return " ".join(word.text for word in words_of(laid))


@pytest.fixture(scope="module")
def read(mill):
    """The file's pages: size, text, and boxes of all letters [points]."""
    file = pypdfium2.PdfDocument(mill.pdf)
    pages = []
    for page in file:
        text = page.get_textpage()
        letters = [text.get_text_range(i, 1) for i in range(text.count_chars())]
        boxes = [text.get_charbox(i) for i, one in enumerate(letters) if one.strip()]
        pages.append((page.get_size(), text.get_text_range(), boxes))
    title = file.get_metadata_dict()["Title"]
    file.close()
    return title, pages


def test_it_is_two_sheets_of_the_paper_at_hand(mill, read):
    title, pages = read
    paper = PAPERS["letter"]  # the mill is in inches
    assert len(pages) == PAGES
    assert title == mill.scenario.title
    for size, _, _ in pages:
        assert size == pytest.approx((paper.width / 0.0254 * 72, paper.height / 0.0254 * 72))


def test_all_letters_stand_within_the_margins(read):
    for (wide, tall), _, boxes in read[1]:
        assert len(boxes) > 1000
        for left, bottom, right, top in boxes:
            assert left >= (MARGIN - 0.3) * POINTS_PER_MM
            assert right <= wide - (MARGIN - 0.3) * POINTS_PER_MM
            assert bottom >= (MARGIN - 0.3) * POINTS_PER_MM
            assert top <= tall - (MARGIN - 0.3) * POINTS_PER_MM


def test_letters_do_not_stand_on_each_other(read):
    """No two boxes of letters share more than a sliver; a table too wide for its columns would."""
    for _, _, boxes in read[1]:
        by_line = {}
        for left, bottom, right, top in boxes:
            by_line.setdefault(round(bottom / 4), []).append((left, right, bottom, top))
        for line in by_line.values():
            line.sort()
            for one, other in pairwise(line):
                shared = min(one[1], other[1]) - max(one[0], other[0])
                high = min(one[3], other[3]) - max(one[2], other[2])
                assert shared < 0.6 or high < 0.6


def test_it_says_what_the_page_says(mill, read):
    printed = re.sub(r"\s+", "", "".join(text for _, text, _ in read[1]))
    printed = printed.replace("\ufffe", "").replace("\x02", "")
    for one in mill.sections:
        blocks = one.blocks if one.paper is Paper.ALWAYS else ()
        for block in blocks:
            texts = {Text: lambda b: [b.text], Points: lambda b: b.items}.get(type(block))
            for text in texts(block) if texts else ():
                assert re.sub(r"\s+", "", text) in printed, text
    assert printed.index("Unplugandlockout") < printed.index("Buyandsaw") < printed.index("Set")


@pytest.mark.skipif("not config.getoption('full')", reason="made twice with --full")
def test_the_same_report_is_the_same_file(mill):
    assert page_pdf(mill.scenario, mill.sections) == mill.pdf


def test_type_is_large_where_there_is_room_and_what_may_go_goes_before_it_gets_small():
    short = [section("one", Text("a few words"))]
    assert sheets(("t",), short, *A4).size == 8.0
    line = Text("words " * 16)
    long = [*short, section("more", *[line] * 200, paper=Paper.ROOM)]
    laid = sheets(("t",), long, *A4)
    assert [one.name for one in laid.sections] == ["one"]
    brief = section("brief", Text("some more"), paper=Paper.ROOM)
    assert [one.name for one in sheets(("t",), [*long, brief], *A4).sections] == ["one", "brief"]
    never = section("never", Text("not told"), paper=Paper.NEVER)
    assert "not told" not in text_of(sheets(("t",), [*short, never], *A4))
    needed = [section("one", *[line] * 170)]
    assert sheets(("t",), needed, *A4).size < 7.0
    assert text_of(sheets(("t",), needed, *A4)).split().count("words") == 170 * 16


def test_what_is_longer_than_two_sheets_is_left_out_from_the_end():
    line = Text("words " * 200)
    laid = sheets(("t",), [section("one", line), section("two", *[line] * 40)], *A4)
    assert [one.name for one in laid.sections] == ["one"]


def test_heads_stand_with_what_they_lead():
    """A title, and the heads of a table, are never the last of a column."""
    rows = tuple((f"row {number}", "1") for number in range(150))
    grid = Grid("what", ("name", "number"), rows, (0,))
    sections = [section(f"s{number}", Text("words " * 40), grid) for number in range(2)]
    for column in sheets(("t",), sections, *LETTER).columns:
        assert not column or not column[-1].leads


@given(
    st.lists(st.lists(st.text(max_size=30), min_size=3, max_size=3), max_size=6),
    st.sets(st.integers(0, 2)),
    st.booleans(),
)
def test_a_table_of_any_texts_stays_in_its_column(rows, words, form):
    grid = Grid("what", ("one", "two", "three"), tuple(map(tuple, rows)), tuple(words), form=form)
    laid = sheets(("title",), [section("s", grid)], *A4)
    assert laid.sections
    for word in words_of(laid):
        assert isinstance(word, Word)
        assert 0 <= word.x < 92.5


def test_short_rows_span_what_is_left():
    grid = Grid("what", ("", "one", "two"), (("a", "1", "2"), ("b", "none of it at all")))
    laid = sheets(("t",), [section("s", grid)], *A4)
    placed = {word.text: word.x for word in words_of(laid)}
    assert placed["none of"] <= placed["1"]
    boxed = sheets(("t",), [section("s", replace(grid, form=True))], *A4)
    assert any(piece.uprights for column in boxed.columns for piece in column)

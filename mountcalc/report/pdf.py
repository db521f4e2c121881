"""The report as PDF: two sheets with the same sentences, tables and pictures."""

from __future__ import annotations

import io
from collections.abc import Iterable, Sequence
from datetime import UTC, datetime

from fpdf import FPDF

from mountcalc.drafting.formats.files import sheet_of
from mountcalc.drafting.paper.sheets import PAPERS
from mountcalc.drafting.paper.text import font_file
from mountcalc.pages.page import CAUTION
from mountcalc.report.blocks import Section
from mountcalc.report.paper import COLUMNS, GUTTER, MARGIN, Piece, bold_file, head_pieces, sheets
from mountcalc.report.pictures import png_of, size_of
from mountcalc.scenario.model import Scenario

_FONT = "DejaVu Sans"


def page_pdf(scenario: Scenario, sections: Sequence[Section]) -> bytes:
    """Two sheets of the paper that is likely at hand."""
    paper = PAPERS[sheet_of(scenario)]
    width, height = 1e3 * paper.width, 1e3 * paper.height
    head = (scenario.title, CAUTION)
    laid = sheets(head, sections, width, height)
    file = FPDF(unit="mm", format=(width, height))
    file.set_auto_page_break(auto=False)
    # The same report is the same file: the format wants some date, and names the file by it.
    file.set_creation_date(datetime.fromtimestamp(0, UTC))
    file.set_title(scenario.title)
    file.set_creator("mountcalc")
    file.set_lang("en")
    file.add_font(_FONT, fname=font_file())
    file.add_font(_FONT, "B", bold_file())
    file.add_page()
    top = _draw(file, head_pieces(head, laid.size, width - 2 * MARGIN), MARGIN, MARGIN, 0.0)
    column = (width - 2 * MARGIN - (COLUMNS - 1) * GUTTER) / COLUMNS
    for number, pieces in enumerate(laid.columns):
        if number == COLUMNS and any(laid.columns[COLUMNS:]):
            file.add_page()
        start = top if number < COLUMNS else MARGIN
        _draw(file, pieces, MARGIN + number % COLUMNS * (column + GUTTER), start, column)
    return bytes(file.output())


def _draw(file: FPDF, pieces: Iterable[Piece], x: float, y: float, width: float) -> float:
    """Draw pieces below each other; where the last one ends."""
    for piece in pieces:
        for word in piece.words:
            file.set_font(_FONT, "B" if word.bold else "", word.size)
            file.text(x + word.x, y + word.y, word.text)
        for place, (start, end, below) in enumerate(piece.rules):
            file.set_line_width(0.3 if place else 0.1)
            file.line(x + start, y + below, x + end, y + below)
        file.set_line_width(0.1)
        for upright in piece.uprights:
            file.line(x + upright, y, x + upright, y + piece.height)
        if piece.picture is not None:
            wide, tall = size_of(piece.picture)
            across = min(width, piece.height * wide / tall)
            file.image(io.BytesIO(png_of(piece.picture)), x + (width - across) / 2, y, across,
                       alt_text=piece.picture.label)  # fmt: skip
        y += piece.height
    return y

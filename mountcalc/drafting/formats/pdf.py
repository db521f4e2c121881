"""Pages as one PDF: lines stay lines, texts texts, pages have their exact size."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager, nullcontext
from datetime import UTC, datetime

from fpdf import FPDF
from fpdf.drawing import PaintedPath
from fpdf.drawing_primitives import DeviceGray

from mountcalc.drafting.annotations import BEFORE, HANGING
from mountcalc.drafting.items import Label, Layer, Stroke, way_of
from mountcalc.drafting.paper.sheets import LINES, Page, Patch
from mountcalc.drafting.paper.text import POINTS_PER_HEIGHT, font_file, printed, text_width

_FONT = "DejaVu Sans"
_MM = 1000.0
_AIR = 0.00035  # around a text on white [m]


def pdf(pages: Sequence[Page], title: str) -> bytes:
    """Pages as a PDF file."""
    file = FPDF(unit="mm")
    file.set_auto_page_break(auto=False)
    # The same pages are the same file: the format wants some date, and names the file by it.
    file.set_creation_date(datetime.fromtimestamp(0, UTC))
    file.set_title(title)
    file.set_creator("mountcalc")
    file.add_font(_FONT, fname=font_file())
    for page in pages:
        file.add_page(format=(page.width * _MM, page.height * _MM))
        for patch in page.patches:
            with _within(file, page, patch):
                _draw_lines(file, page, patch.strokes)
        for patch in page.patches:  # what stands on white hides all lines under it
            with _within(file, page, patch):
                for stroke in patch.strokes:
                    if isinstance(stroke, Label):
                        _write(file, page, stroke)
    return bytes(file.output())


@contextmanager
def _within(file: FPDF, page: Page, patch: Patch) -> Iterator[None]:
    if patch.window is None:
        yield
        return
    left, bottom, right, top = (_MM * edge for edge in patch.window)
    # The library forgets that a font set inside a clip is not set after it: a context knows.
    with (
        file.local_context(),
        file.rect_clip(left, page.height * _MM - top, right - left, top - bottom),
    ):
        yield


def _draw_lines(file: FPDF, page: Page, strokes: Iterable[Stroke]) -> None:
    """All lines of a layer are one path."""
    paths: dict[Layer, PaintedPath] = {}
    for stroke in strokes:
        if isinstance(stroke, Label):
            continue
        path = paths.setdefault(stroke.layer, PaintedPath())
        start, steps, closed = way_of(stroke)
        path.move_to(start[0] * _MM, (page.height - start[1]) * _MM)
        for step in steps:
            # The format counts down from the top.
            numbers = [number for x, y in step for number in (x * _MM, (page.height - y) * _MM)]
            (path.line_to if len(step) == 1 else path.curve_to)(*numbers)
        if closed:
            path.close()
    if not paths:
        return
    with file.drawing_context() as drawn:
        for layer, path in paths.items():
            path.auto_close = False
            path.style.fill_color = None
            path.style.stroke_color = DeviceGray(0)
            path.style.stroke_width = LINES[layer].width
            path.style.stroke_cap_style = "butt"
            path.style.stroke_join_style = "miter"
            path.style.stroke_dash_pattern = LINES[layer].dashes
            drawn.add_item(path, clone=False)


def _write(file: FPDF, page: Page, label: Label) -> None:
    text = printed(label.text)
    width = text_width(text, label.height)
    x, y = label.at[0] * _MM, (page.height - label.at[1]) * _MM
    left = x - BEFORE[label.align] * width * _MM
    file.set_font(_FONT, size=label.height * POINTS_PER_HEIGHT)
    with file.rotation(math.degrees(label.angle), x, y) if label.angle else nullcontext():
        if label.ground:
            up, high = label.height + _AIR, (1 + HANGING) * label.height + 2 * _AIR
            file.set_fill_color(255)
            across, wide = left - _AIR * _MM, (width + 2 * _AIR) * _MM
            file.rect(across, y - up * _MM, wide, high * _MM, style="F")
            file.set_fill_color(0)
        file.text(left, y, text)

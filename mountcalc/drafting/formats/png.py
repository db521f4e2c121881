"""A page as a PNG picture."""

from __future__ import annotations

import io

from mountcalc.drafting.formats.canvas import figure_of
from mountcalc.drafting.paper.strokes import Page
from mountcalc.pages.own_settings import own_settings

__all__ = ["png"]

_DOTS_PER_INCH = 200
_MOST_DOTS = 12000  # along the longer side: more is more than viewers take (estimate)
_INCH = 0.0254


def png(page: Page) -> bytes:
    """A page as a picture of 200 dots per inch; fewer where it were too large to be looked at."""
    longest = max(page.width, page.height) / _INCH
    dots = min(_DOTS_PER_INCH, _MOST_DOTS / longest)
    stream = io.BytesIO()
    with own_settings():
        figure_of(page, dots).savefig(stream, format="png", dpi=dots, metadata={"Software": None})
    return stream.getvalue()

"""Pages as one PDF: lines stay lines, pages have their exact size."""

from __future__ import annotations

import io
from collections.abc import Sequence

from matplotlib.backends.backend_pdf import PdfPages

from mountcalc.drafting.formats.canvas import figure_of
from mountcalc.drafting.paper.strokes import Page
from mountcalc.pages.own_settings import own_settings

__all__ = ["pdf"]


def pdf(pages: Sequence[Page], title: str) -> bytes:
    """Pages as a PDF file."""
    stream = io.BytesIO()
    about = {"Title": title, "Creator": "mountcalc", "CreationDate": None}
    with own_settings(), PdfPages(stream, metadata=about) as file:
        for page in pages:
            file.savefig(figure_of(page))
    return stream.getvalue()

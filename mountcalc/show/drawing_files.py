"""A drawing as files of several formats."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping

from mountcalc.drawing.model import Drawing
from mountcalc.scenario.model import Display, Scenario
from mountcalc.show.drawing_dxf import dxf
from mountcalc.show.drawing_pages import pages, whole_sheet
from mountcalc.show.drawing_pdf import pdf
from mountcalc.show.drawing_png import png
from mountcalc.show.drawing_svg import svg

__all__ = ["FORMATS", "drawing_files", "sheet_of"]

FORMATS: Mapping[str, Callable[[Drawing, str], bytes]] = {
    "pdf": lambda drawing, sheet: pdf(pages(drawing, sheet), drawing.title),
    "dxf": lambda drawing, _: dxf(drawing),
    "svg": lambda drawing, sheet: svg(whole_sheet(drawing, sheet), drawing.title),
    "png": lambda drawing, sheet: png(whole_sheet(drawing, sheet)),
}


def drawing_files(drawing: Drawing, sheet: str, formats: Collection[str]) -> dict[str, bytes]:
    """A drawing as files.

    Parameters
    ----------
    drawing : Drawing
        The drawing.
    sheet : str
        Key of ``mountcalc.show.drawing_paper.PAPERS``.
    formats : collection of str
        Keys of ``FORMATS``.

    Returns
    -------
    dict of str to bytes
        Contents by format.
    """
    return {name: made(drawing, sheet) for name, made in FORMATS.items() if name in formats}


def sheet_of(scenario: Scenario) -> str:
    """The paper that is likely at hand where a scenario was written.

    Parameters
    ----------
    scenario : Scenario
        The mount.

    Returns
    -------
    str
        Key of ``mountcalc.show.drawing_paper.PAPERS``.
    """
    return "letter" if scenario.display is Display.INCH else "a4"

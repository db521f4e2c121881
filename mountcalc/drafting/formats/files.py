"""A drawing as files of several formats."""

from __future__ import annotations

from collections.abc import Collection

from mountcalc.drafting.drawing import Drawing
from mountcalc.pages.own_settings import load_alone, own_settings
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.text.writing import Display

FORMATS = ("pdf", "dxf", "svg", "png")


def drawing_files(drawing: Drawing, sheet: str, formats: Collection[str]) -> dict[str, bytes]:
    """A drawing as files."""
    return {name: _file(name, drawing, sheet) for name in FORMATS if name in formats}


def _file(name: str, drawing: Drawing, sheet: str) -> bytes:
    """Each format imports what it needs only where it is made: these libraries load for long."""
    if name == "pdf":
        load_alone("fpdf")
        from mountcalc.drafting.formats.pdf import pdf  # noqa: PLC0415
        from mountcalc.drafting.paper.pages import pages  # noqa: PLC0415

        return pdf(pages(drawing, sheet), drawing.title)
    if name == "dxf":
        load_alone("ezdxf")
        from mountcalc.drafting.formats.dxf import dxf  # noqa: PLC0415

        return dxf(drawing)
    from mountcalc.drafting.paper.pages import whole_sheet  # noqa: PLC0415

    page = whole_sheet(drawing, sheet)
    if name == "svg":
        load_alone("ezdxf")
        from mountcalc.drafting.formats.svg import svg  # noqa: PLC0415

        return svg(page, drawing.title)
    with own_settings():
        from mountcalc.drafting.formats.png import png  # noqa: PLC0415

        return png(page)


def sheet_of(scenario: Scenario) -> str:
    """The paper that is likely at hand where a scenario was written."""
    return "letter" if scenario.display is Display.INCH else "a4"

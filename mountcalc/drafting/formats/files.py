"""A drawing as files of several formats."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping

from mountcalc.drafting.drawing import Drawing
from mountcalc.pages.own_settings import load_alone, own_settings
from mountcalc.scenario.model import Display, Scenario

__all__ = ["FORMATS", "drawing_files", "sheet_of"]


# Each format imports what it needs only where it is made: two of them take long to load.
def _pdf(drawing: Drawing, sheet: str) -> bytes:
    load_alone("fpdf")
    from mountcalc.drafting.formats.pdf import pdf  # noqa: PLC0415
    from mountcalc.drafting.paper.pages import pages  # noqa: PLC0415

    return pdf(pages(drawing, sheet), drawing.title)


def _dxf(drawing: Drawing, _sheet: str) -> bytes:
    load_alone("ezdxf")
    from mountcalc.drafting.formats.dxf import dxf  # noqa: PLC0415

    return dxf(drawing)


def _svg(drawing: Drawing, sheet: str) -> bytes:
    from mountcalc.drafting.formats.svg import svg  # noqa: PLC0415
    from mountcalc.drafting.paper.pages import whole_sheet  # noqa: PLC0415

    return svg(whole_sheet(drawing, sheet), drawing.title)


def _png(drawing: Drawing, sheet: str) -> bytes:
    with own_settings():
        from mountcalc.drafting.formats.png import png  # noqa: PLC0415
        from mountcalc.drafting.paper.pages import whole_sheet  # noqa: PLC0415

        return png(whole_sheet(drawing, sheet))


FORMATS: Mapping[str, Callable[[Drawing, str], bytes]] = {
    "pdf": _pdf,
    "dxf": _dxf,
    "svg": _svg,
    "png": _png,
}


def drawing_files(drawing: Drawing, sheet: str, formats: Collection[str]) -> dict[str, bytes]:
    """A drawing as files."""
    return {name: made(drawing, sheet) for name, made in FORMATS.items() if name in formats}


def sheet_of(scenario: Scenario) -> str:
    """The paper that is likely at hand where a scenario was written."""
    return "letter" if scenario.display is Display.INCH else "a4"

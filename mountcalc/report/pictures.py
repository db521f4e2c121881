"""Pictures of a report: as SVG that stands in a page, its texts as text, and as PNG for paper."""

from __future__ import annotations

import functools
import re
from collections.abc import Callable
from typing import TYPE_CHECKING

from mountcalc.console.choices import DrawingName
from mountcalc.pages.own_settings import image_of, own_settings
from mountcalc.report.blocks import Drawn, Picture
from mountcalc.report.findings import Findings
from mountcalc.scenario.model import Scenario
from mountcalc.table import words

if TYPE_CHECKING:
    from matplotlib.figure import Figure

_NEEDLESS = re.compile(
    r"^.*?(?=<svg)|<metadata>.*?</metadata>|<style.*?</style>|(?<=<g) id=\"[^\"]*\"", re.DOTALL
)
# Of a file: what comes before the element, its size on the sheet, its title, and blanks.
_ON_SHEET = re.compile(
    r"^.*?(?=<svg)|(?<=\") (?:width|height)=\"[^\"]*mm\"|<title>.*?</title>|(?<=>)\s+(?=<)",
    re.DOTALL,
)
_TAG = re.compile(r"<[^>]*>")
_NAMES = re.compile(r'(\bid="|\bhref="#|url\(#)')
# Widths as in the font that the texts were placed for; where it is not, in its like.
_FONT = re.compile(r"'DejaVu Sans'[^;\"]*")
_LIKE = "'DejaVu Sans', Verdana, sans-serif"


def layout_picture(found: Findings) -> Picture:
    """The mount at zero and at its setting."""
    turns = [row.turns for row in found.table.rows if row.turns is not None]
    at = found.advice.setting.set_turns
    if at is None:
        at = turns[len(turns) // 2] if turns else 0.0

    def draw() -> Figure:
        from mountcalc.layout import layout_figure, mount_layout  # noqa: PLC0415

        return layout_figure(mount_layout(found.scenario, at))

    label = f"{found.scenario.title}: the mount to true proportion, its parts named"
    return _picture("layout", label, draw)


def range_picture(found: Findings) -> Picture | None:
    """Grip, loads and tension against turns; nothing where there are none to count."""
    if found.table.tighten_by is None:
        return None
    scenario, setting = found.scenario, found.advice.setting

    def draw() -> Figure:
        from mountcalc.setting import setting_figure, setting_tables  # noqa: PLC0415

        return setting_figure(scenario, setting, *setting_tables(scenario, setting))

    label = (
        f"{scenario.title}: grip, loads of the bearings and tension against turns of the "
        f"{words.adjuster_noun(scenario)}"
    )
    return _picture("range", label, draw)


def _picture(name: str, label: str, draw: Callable[[], Figure]) -> Picture:
    """A picture that is drawn once, under our own settings."""

    @functools.cache
    def drawn() -> Figure:
        with own_settings():
            return draw()

    return Picture(name, label, drawn)


def size_of(picture: Picture) -> tuple[float, float]:
    """Width and height [inches]."""
    wide, tall = picture.draw().get_size_inches()
    return float(wide), float(tall)


def png_of(picture: Picture) -> bytes:
    """A picture as a file."""
    with own_settings():
        return image_of(picture.draw())


def svg_of(picture: Picture) -> str:
    """A picture as an element of a page: every name in it begins with the picture's."""
    with own_settings():
        import matplotlib as mpl  # noqa: PLC0415

        mpl.rcParams["svg.fonttype"] = "none"
        text = _NEEDLESS.sub("", image_of(picture.draw(), "svg").decode())
    return _named(text, picture.name)


def drawn_of(scenario: Scenario) -> tuple[Drawn, ...]:
    """The views of the mount as `draw` makes them, as wide as the page; raises `MountError`."""
    from mountcalc.drafting.formats.files import drawing_files, sheet_of  # noqa: PLC0415
    from mountcalc.draw import Build, drawings_of  # noqa: PLC0415

    made = []
    for one in drawings_of(Build(scenario), (DrawingName.ASSEMBLY, DrawingName.ALONG_SHAFTS)):
        text = drawing_files(one, sheet_of(scenario), ("svg",))["svg"].decode()
        made.append(Drawn(one.title, _named(_ON_SHEET.sub("", text), one.name)))
    return tuple(made)


def _named(text: str, name: str) -> str:
    """An element whose names all begin with that of the picture."""

    def in_tag(tag: re.Match[str]) -> str:
        """Only what stands in a tag is a name: texts may have the same letters."""
        return _FONT.sub(_LIKE, _NAMES.sub(rf"\g<1>{name}-", tag[0]))

    return _TAG.sub(in_tag, text)

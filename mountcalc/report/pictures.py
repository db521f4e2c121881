"""Pictures of a report as SVG that stands in a page: texts as text, names of its own, no date."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from mountcalc.layout import layout_figure, mount_layout
from mountcalc.pages.own_settings import image_of, own_settings
from mountcalc.report.blocks import Picture
from mountcalc.report.findings import Findings
from mountcalc.table import words

if TYPE_CHECKING:
    from matplotlib.figure import Figure

_NEEDLESS = re.compile(
    r"^.*?(?=<svg)|<metadata>.*?</metadata>|<style.*?</style>|(?<=<g) id=\"[^\"]*\"", re.DOTALL
)
_NAMES = re.compile(r'(\bid="|\bhref="#|url\(#)')
# Widths as in the font that the texts were placed for; where it is not, in its like.
_TAG = re.compile(r"<[^>]*>")
_LIKE = "'DejaVu Sans', Verdana, sans-serif"
_FONT = re.compile(r"'DejaVu Sans'[^;\"]*")


def layout_picture(found: Findings) -> Picture:
    """The mount at zero and at its setting."""
    setting = found.advice.setting
    turns = [row.turns for row in found.table.rows if row.turns is not None]
    at = setting.set_turns
    if at is None:
        at = turns[len(turns) // 2] if turns else 0.0
    label = f"{found.scenario.title}: the mount to true proportion, its parts named"
    with own_settings():
        figure = layout_figure(mount_layout(found.scenario, at))
        return _picture("layout", figure, label)


def range_picture(found: Findings) -> Picture | None:
    """Grip, loads and tension against turns; nothing where there are none to count."""
    if found.table.tighten_by is None:
        return None
    scenario, setting = found.scenario, found.advice.setting
    label = (
        f"{scenario.title}: grip, loads of the bearings and tension against turns of the "
        f"{words.adjuster_noun(scenario)}"
    )
    with own_settings():
        from mountcalc.setting import setting_figure, setting_tables  # noqa: PLC0415

        figure = setting_figure(scenario, setting, *setting_tables(scenario, setting))
        return _picture("range", figure, label)


def _picture(name: str, figure: Figure, label: str) -> Picture:
    """A figure as an element of a page: every name in it begins with the figure's."""
    import matplotlib as mpl  # noqa: PLC0415

    def png() -> bytes:
        with own_settings():
            return image_of(figure)

    with mpl.rc_context({"svg.fonttype": "none"}):
        text = _NEEDLESS.sub("", image_of(figure, "svg").decode())
    # Only what stands in a tag is a name: texts may have the same letters.
    svg = _TAG.sub(lambda tag: _FONT.sub(_LIKE, _NAMES.sub(rf"\g<1>{name}-", tag[0])), text)
    return Picture(name, svg, label, png)

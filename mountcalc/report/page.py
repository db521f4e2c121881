"""The report as one page of HTML, which needs nothing beside it: no network, no other file."""

from __future__ import annotations

import base64
import hashlib
import json
from collections.abc import Sequence
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from mountcalc.pages.page import CAUTION
from mountcalc.report.blocks import Drawn, Picture, Section, Slider
from mountcalc.report.paper import is_whole, sheets
from mountcalc.report.pictures import svg_of
from mountcalc.version import __version__

# What letter and A4 both have [mm], with a little to spare: browsers break lines by other rules.
_SMALLEST = 210.0, 0.97 * 279.4
_TEMPLATE = Path(__file__).parent / "template"
# What would end a script, or a line of one, is told by its number.
_IN_SCRIPT = {ord(sign): f"\\u{ord(sign):04x}" for sign in "<>&\u2028\u2029"}


def page_html(title: str, sections: Sequence[Section]) -> str:
    """All of the page; texts are escaped where they are put in."""
    environment = Environment(
        loader=FileSystemLoader(_TEMPLATE, encoding="utf-8"),
        autoescape=True,
        undefined=StrictUndefined,
        keep_trailing_newline=True,
    )
    environment.filters |= {"steps_json": _steps, "svg": _svg}
    environment.tests["whole"] = is_whole
    environment.globals["kind_of"] = lambda one: type(one).__name__
    laid = sheets((title, CAUTION), sections, *_SMALLEST)
    printed = {one.name for one in laid.sections}
    turns = any(isinstance(one, Slider) for section in sections for one in section.blocks)
    script = _read("turning.js") if turns else ""
    digest = hashlib.sha256(f"\n{script}".encode()).digest()
    return environment.get_template("page.html").render(
        title=title,
        sections=sections,
        printed=printed,
        type_size=laid.size,
        pictures=any(piece.picture for column in laid.columns for piece in column),
        caution=CAUTION,
        style=Markup(_read("page.css")),  # noqa: S704 (ours)
        script=Markup(script),  # noqa: S704 (ours)
        script_hash=base64.b64encode(digest).decode(),
        version=__version__,
    )


def _read(name: str) -> str:
    return (_TEMPLATE / name).read_text(encoding="utf-8")


def _svg(picture: Picture | Drawn) -> Markup:
    """A picture, its texts escaped by the library that drew it, read aloud as its label."""
    drawn = picture.svg if isinstance(picture, Drawn) else svg_of(picture)
    rest = Markup(drawn.removeprefix("<svg"))  # noqa: S704
    return Markup('<svg role="img" aria-label="{}"').format(picture.label) + rest


def _steps(slider: Slider) -> Markup:
    """The steps for the script, in letters that cannot end it."""
    steps = [
        {"turns": one.turns, "values": one.values, "loads": one.loads, "row": one.row}
        for one in slider.steps
    ]
    return Markup(json.dumps(steps, allow_nan=False).translate(_IN_SCRIPT))  # noqa: S704

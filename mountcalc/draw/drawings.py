"""All drawings of a mount by their names."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import replace

from mountcalc.drafting.drawing import Drawing
from mountcalc.draw.along.shafts import along_shafts
from mountcalc.draw.assembly.assembly import assembly
from mountcalc.draw.base.template import base_template
from mountcalc.draw.boards.plate import plate_template
from mountcalc.draw.build import Build
from mountcalc.draw.guard.panel import guard_panel
from mountcalc.draw.largest_mount import refuse_larger
from mountcalc.scenario.clashes import cautions

__all__ = ["DRAWINGS", "drawings_of"]

DRAWINGS: Mapping[str, Callable[[Build], Drawing]] = {
    "plate": plate_template,
    "base": base_template,
    "guard": guard_panel,
    "assembly": assembly,
    "along-shafts": along_shafts,
}


def drawings_of(build: Build, names: Collection[str]) -> tuple[Drawing, ...]:
    """Some drawings of a mount."""
    refuse_larger(build.scenario)
    drawn = cautions(build.scenario)
    drawings = (draw(build) for name, draw in DRAWINGS.items() if name in names)
    return tuple(replace(one, cautions=(*drawn, *one.cautions)) for one in drawings)

"""What screws may carry in a board, by where they are driven and for how long they are loaded.

Symbols
-------
gravity : specific gravity of the wood [-]
diameter : of the screw [m]
length : of thread in the board [m]
depth : of the screw in the board [m]
"""

from __future__ import annotations

from mountcalc.formulas.wood_screws import (
    allowed_lateral,
    allowed_withdrawal,
    depth_share,
    panel_edge_withdrawal,
    panel_face_withdrawal,
    pull_through,
)
from mountcalc.handbook.hardware import Face, fact
from mountcalc.handbook.rows import Datum, load
from mountcalc.handbook.wood import Wood, duration_factor, joint_factor
from mountcalc.record import Record

_FILE = "fasteners"
_PSI = 6894.757293168362
_SOURCE = "NDS; Hicks, Civil Engineering Formulas, 6.37 and 6.38"


class ScrewStrength(Record):
    """What one screw may carry [N], pulled out and pushed aside, and how that is known."""

    withdrawal: float
    lateral: float
    source: str
    sure: str


def lateral_constant(gravity: float) -> Datum:
    """What a square of a wood screw's diameter may carry aside, by the wood's gravity [Pa]."""
    row = load(_FILE)["lateral"]
    group = max(n for n, least in enumerate(row["from_gravity"]) if gravity >= least)
    return Datum(row["constant_psi"][group] * _PSI, row["source"], row["sure"])


def screw_strength(
    board: Wood, face: Face, diameter: float, length: float, depth: float, duration: str
) -> ScrewStrength | None:
    """What one wood screw may carry; None in a panel of which nothing is published for so long.

    Solid wood and plywood: allowable loads of wood screws, less in end grain. Panels of fibres and
    chips: the ultimate pull of tests over five, or over what the panel itself loses in that time
    where that is more; aside, as a screw in the lightest wood, by as much less as the panel keeps
    less of its strength. Bolted through, its washer must not be drawn through the ``depth``.
    """
    gravity, panel = board.gravity.value, None
    lasting = joint_factor(duration).value
    if board.is_panel:
        kept, solid = duration_factor(board.kind, duration), duration_factor("solid", duration)
        if kept is None or solid is None:
            return None
        panel = max(fact("panel", "factor").value, board.material_factor.value / kept.value)
        lasting *= kept.value / solid.value
    constant = lateral_constant(gravity if panel is None else 0.0).value
    aside = float(allowed_lateral(constant, diameter)) * lasting
    if face is Face.THROUGH:
        washer = fact("bolt", "washer").value * diameter
        drawn = float(pull_through(gravity, washer, depth)) * lasting
        return ScrewStrength(drawn, aside, "NDS, heads pulled through", "estimate")
    aside *= float(depth_share(diameter, depth))
    half = fact("grain", "plywood_edge")
    if panel is not None:
        pulled = panel_face_withdrawal if face is Face.FACE else panel_edge_withdrawal
        held = min(length, fact("panel", "depth").value)
        source = f"Wood Handbook, chapter 8, over {panel:.2g}"
        aside *= 1.0 if face is Face.FACE else half.value
        return ScrewStrength(
            float(pulled(gravity, diameter, held)) / panel, aside, source, "estimate"
        )
    out = float(allowed_withdrawal(gravity, diameter, length)) * lasting
    if board.kind == "plywood" and face is not Face.FACE:
        return ScrewStrength(half.value * out, half.value * aside, _SOURCE, half.sure)
    if face is Face.END:
        out *= fact("grain", "end_withdrawal").value
        aside *= fact("grain", "end_lateral").value
    return ScrewStrength(out, aside, _SOURCE, "from memory")

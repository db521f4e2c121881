"""What is judged of the hinged plate: bending and shear for as long as it is loaded, and creep."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from mountcalc.formulas.board import bending_stress, shear_stress, torsion_stress
from mountcalc.formulas.wood import design_strength
from mountcalc.handbook.wood import creep_factor, duration_factor
from mountcalc.judgement import Judgement, Measure, Topic, Verdict, weakest
from mountcalc.loads import Part
from mountcalc.pages.amounts import NUMBER, PRESSURE, in_figures
from mountcalc.scenario.text.writing import Display
from mountcalc.strength.carried import Carried, Line, judged, of_part
from mountcalc.structure.made import Plate

_EUROCODE = "EN 1995-1-1, Table 3.1"
_FAR = 2.0  # a creep factor from which on a board is told of (our own judgement)
_STAYS = {"permanent": "a load that stays", "medium": "months of load"}


def plate_judgements(
    plate: Plate, loads: Sequence[Carried], display: Display
) -> Iterator[Judgement]:
    """Whether a plate stands what it carries, the worst place and case of each kind of stress."""
    stations = [*of_part(loads, Part.PLATE)]
    yield from judged("plate-bending", _bent(plate, stations, display))
    for name, twisted in (("plate-shear", False), ("plate-twist", True)):
        yield from judged(name, _sheared(plate, stations, display, twisted=twisted))
    yield _creeps(plate)


def _bent(plate: Plate, stations: Sequence[Carried], display: Display) -> Iterator[Line]:
    board, strength, factor = plate.wood, plate.wood.bending, plate.wood.material_factor
    strong, grain = strength.value * plate.share, board.across.sure if plate.is_across else ""
    for load, duration, when, _ in stations:
        stress = float(bending_stress(load.moment, plate.section))
        stress += abs(load.along_plate) / (plate.width * plate.thickness)
        bends = f"{plate.named()} is bent to {PRESSURE.text(stress, display)} {load.name} {when}"
        kept = duration_factor(board.kind, duration, plate.service_class)
        if kept is None:
            none = "in an unheated room none of its strength is vouched for under such a load"
            yield Line(PRESSURE, stress, 0.0, f"{bends}; {none}", _EUROCODE, "")
            continue
        limit = float(design_strength(strong, kept.value, factor.value))
        sure = weakest(strength.sure, kept.sure, grain)
        if stress <= strong * kept.value:  # else it is broken without the factor, too
            sure = weakest(sure, factor.sure)
        yield Line(
            PRESSURE,
            stress,
            limit,
            f"{bends}; of its {PRESSURE.text(strong, display)} it keeps {in_figures(kept.value)} "
            f"under {_STAYS.get(duration, 'so short a load')}, and {PRESSURE.text(limit, display)} "
            "of that may be used",
            f"{strength.source}; {kept.source}",
            sure,
        )


def _sheared(
    plate: Plate, stations: Sequence[Carried], display: Display, *, twisted: bool
) -> Iterator[Line]:
    """Shear of bending, greatest amid the thickness, or that of twist, greatest in the faces."""
    strength, factor = plate.wood.shear, plate.wood.material_factor
    if twisted:
        strength = plate.wood.twisted
    for load, duration, when, _ in stations if strength is not None else ():
        assert strength is not None
        kept = duration_factor(plate.wood.kind, duration, plate.service_class)
        assert kept is not None, "what has a shear strength has its share, too"
        stress = float(shear_stress(load.out, plate.width, plate.thickness))
        if twisted:
            thin = plate.thickness / plate.layers
            stress = float(torsion_stress(load.twist / plate.layers, plate.width, thin))
        limit = float(design_strength(strength.value, kept.value, factor.value))
        yield Line(
            PRESSURE,
            stress,
            limit,
            f"{plate.named()} is {'twisted' if twisted else 'sheared'} by "
            f"{PRESSURE.text(stress, display)} {load.name} {when}; "
            f"{PRESSURE.text(limit, display)} is allowed for so long",
            f"{strength.source}; {kept.source}",
            weakest(strength.sure, kept.sure, factor.sure),
        )


def _creeps(plate: Plate) -> Judgement:
    """How far the plate goes on giving under a belt that is left tight: told loudly of panels."""
    creep = creep_factor(plate.wood.kind, plate.service_class)
    grown, kept = 1 + creep.value, plate.kept
    topic = Topic("plate-creep", creep.source, sure=creep.sure)
    keeps = f"{in_figures(kept)} of its strength" if kept is not None else "no published strength"
    sentence = (
        f"{plate.wood.name} keeps {keeps} under a load that stays, and ends at "
        f"{in_figures(grown)} times its first deflection"
    )
    far = creep.value >= _FAR
    verdict = Verdict.FAIL if far else Verdict.NOTE
    return topic.judge(Measure(NUMBER, grown, 1 + _FAR if far else None, verdict=verdict), sentence)

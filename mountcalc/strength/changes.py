"""Changes to boards and hardware that may cure what fails of them, the easiest first."""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Iterator
from dataclasses import replace
from typing import Any, NamedTuple

from mountcalc.equilibrium.give import plate_stiffness
from mountcalc.handbook.hardware import (
    Face,
    bolt_strength,
    fact,
    known_strengths,
    unmarked_bolt,
)
from mountcalc.handbook.rows import INCH
from mountcalc.judgement import Judgement
from mountcalc.pages.amounts import bench_length, fine_length, rate_text
from mountcalc.requirements.requirements import weight_alone_of
from mountcalc.scenario.boards import board_sizes
from mountcalc.scenario.drawn_plate import DrawnPlate
from mountcalc.scenario.hardware import Cut, Holder, Joined, Room
from mountcalc.scenario.model import Acts, AdjusterKind, Coil, Scenario
from mountcalc.scenario.text.named import HingeScrew, read_screw
from mountcalc.scenario.text.threads import bolt_diameter
from mountcalc.scenario.text.writing import Display, number_text
from mountcalc.strength.carried import Setup
from mountcalc.structure.made import Bolt, bolt_of, plate_of, screws_of
from mountcalc.thresholds import ROUNDING

_GAUGES = (6, 8, 9, 10, 12, 14)  # of wood screws that shops sell (common practice)
_METRIC = (3.0e-3, 3.5e-3, 4.0e-3, 4.5e-3, 5.0e-3, 6.0e-3)  # [m], the same
_LONGEST_SCREW = 0.1  # [m] (estimate)
_AS_DRAWN = 0.002  # [m] that drawing by hand may miss (estimate)
_UNDER = 0.003  # [m] of wood left under a screw's point (estimate)
_MOST_SCREWS, _MOST_HINGES = 6, 4
_THICKEST = 2.0  # times as thick is another mount
SEASON = "season"
_SPARE = 3.0  # travel of a spring over that under what it carries
_STRONGER = 1.05  # of what is just enough: the loads change a little, too


class Remedy(NamedTuple):
    """What to do, in words, and the mount that comes of it; whether it has another setting."""

    sentence: str
    scenario: Scenario
    is_set_anew: bool = False


def remedies(setup: Setup, judgement: Judgement) -> Iterator[Remedy]:
    """What may cure a judgement, the easiest first."""
    make = _MAKERS.get(judgement.name)
    if judgement.name == SEASON:
        yield from _seasoned(setup)
    elif make is not None:
        yield from make(setup.scenario, judgement)


def _with(scenario: Scenario, part: str, **values: Any) -> Scenario:  # noqa: ANN401  # any key
    """The mount with some values of one of its parts changed."""
    parts = scenario.parts
    return replace(
        scenario, parts=replace(parts, **{part: replace(getattr(parts, part), **values)})
    )


def _stepped(length: float, display: Display, parts: int = 8) -> float:
    """A length [m] rounded up to a part of an inch, or to a millimetre."""
    step = INCH / parts if display is Display.INCH else 1e-3
    return math.ceil(length / step - ROUNDING) * step


def _root(judgement: Judgement, of: float) -> float:
    """By how much a size must grow of which the share falls with that power [-]."""
    return float((_STRONGER * (judgement.share or 1.0)) ** (1.0 / of))


def _plates(scenario: Scenario, judgement: Judgement) -> Iterator[Remedy]:
    """Glue, another board, a thicker one, both."""
    plate, display = plate_of(scenario), scenario.display
    assert plate is not None, "asked of a plate that was judged"
    if plate.layers > 1:
        glued = _with(scenario, "plate", joined=Joined.GLUED)
        yield Remedy("Glue the plate's layers together over their whole faces.", glued)
    boards = [("", scenario)]
    if plate.wood.is_panel:
        plywood = _with(scenario, "plate", material="plywood", joined=Joined.GLUED)
        yield Remedy("Make the plate of plywood instead, as thick, its layers glued.", plywood)
        boards.append((" of plywood, its layers glued", plywood))
    if judgement.name == "plate-creep":
        return
    for words, board in boards:
        times = min(_root(judgement, 2.0), _THICKEST)
        for thickness in (times * plate.thickness, _THICKEST * plate.thickness):
            yield thicker(board, plate.thickness, _stepped(thickness, display), words)
    if scenario.parts.wood.room is Room.UNHEATED:
        heated = _with(scenario, "wood", room=Room.HEATED)
        yield Remedy("Keep the mount in a heated room.", heated)


def thicker(scenario: Scenario, was: float, thickness: float, words: str) -> Remedy:
    """A plate of another thickness; a tip drawn on its back has to be drawn on it again."""
    drawn, adjuster, display = DrawnPlate(scenario), scenario.adjuster, scenario.display
    said = f"Make the plate {bench_length(thickness, display)} thick{words}"
    thick, out = _with(scenario, "plate", thickness=thickness), drawn.axis_slope
    on_back = abs(drawn.tip_height + was) < _AS_DRAWN and out > 0
    if adjuster.kind is not AdjusterKind.JACK_IN_BASE or not on_back:
        return Remedy(f"{said}.", thick)
    assert adjuster.tip is not None
    assert adjuster.axis is not None
    back = (thickness - was) / out
    x, y = adjuster.tip
    tip = x - back * math.cos(adjuster.axis), y - back * math.sin(adjuster.axis)
    return Remedy(
        f"{said}, and draw the bolt's tip {fine_length(abs(back), display)} further "
        f"{'back' if back > 0 else 'out'}.",
        replace(thick, adjuster=replace(adjuster, tip=tip)),
    )


def _screwed(scenario: Scenario, judgement: Judgement) -> Iterator[Remedy]:
    """The face, longer screws, thicker or thinner ones, more of them, one more hinge."""
    board = judgement.name.removeprefix("screws-in-")
    held, sizes, hinges = screws_of(scenario)[board], board_sizes(scenario), scenario.parts.hinges
    # Both boards have the same ones where nobody says that the base has others.
    is_one_kind = hinges.base_screw is None and Face.THROUGH not in {
        hinges.into_plate,
        hinges.into_base,
    }
    key = "screw" if is_one_kind or board == "plate" else "base_screw"
    there = "" if is_one_kind else f" in the {board}"
    mounts = [("Use ", scenario)]
    if held.face is not Face.FACE:
        faced = _with(scenario, "hinges", **{f"into_{board}": Face.FACE})
        words = f"Set the leaf so that its screws go into the {board}'s face"
        yield Remedy(f"{words}.", faced)
        mounts.append((f"{words}, with ", faced))
    for words, mount in mounts:
        longer = [*_longer(mount, held.screw, ("plate", "base") if is_one_kind else (board,))]
        longest = [held.screw, *longer][-1]
        for size in dict.fromkeys((*longer, *_others(held.screw), *_others(longest))):
            used = _with(mount, "hinges", **{key: size})
            yield Remedy(f"{words}screws {size.name}{there}.", used)
        for screws in range(sizes.screws + 1, _MOST_SCREWS + 1):
            more = _with(mount, "hinges", **{key: longest}, screws_per_leaf=screws)
            yield Remedy(f"{words}{screws} screws {longest.name} a leaf{there}.", more)
    if held.face is not Face.THROUGH:
        yield Remedy(
            f"Bolt the leaves through the {board} with machine screws as thick, nuts and washers.",
            _with(scenario, "hinges", **{f"into_{board}": Face.THROUGH}),
        )
    for number in range(sizes.number + 1, _MOST_HINGES + 1):
        several = _with(scenario, "hinges", number=number, across=None)
        if number * sizes.leaf_length <= sizes.width:
            yield Remedy(f"Use {number} hinges instead of {sizes.number}.", several)


def _longer(scenario: Scenario, screw: HingeScrew, boards: Collection[str]) -> Iterator[HingeScrew]:
    """Screws of the same thickness, as much longer as fits the boards, in steps."""
    parts, sizes = scenario.parts, board_sizes(scenario)
    assert screw.length is not None
    rooms = [
        thickness - sizes.mortise + sizes.leaf_thickness - _UNDER
        for board, thickness, into in (
            ("plate", parts.plate.thickness, parts.hinges.into_plate),
            ("base", parts.base.thickness, parts.hinges.into_base),
        )
        if board in boards and thickness is not None and into in {None, Face.FACE}
    ]
    is_inch, most = screw.name.startswith(("#", "N", "n")), min([_LONGEST_SCREW, *rooms])
    step = INCH / 4 if is_inch else 5e-3
    count = math.floor(screw.length / step + ROUNDING) + 1
    while count * step <= most:
        yield _screw(screw.diameter, count * step, is_inch=is_inch)
        count += 1


def _others(screw: HingeScrew) -> Iterator[HingeScrew]:
    """Screws as long, of the next thicknesses, then of those below."""
    assert screw.length is not None
    is_inch = screw.name.startswith(("#", "N", "n"))
    sizes = [read_screw(f"#{one}").diameter for one in _GAUGES] if is_inch else _METRIC
    thicker = [one for one in sizes if one > screw.diameter * (1 + ROUNDING)]
    thinner = [one for one in reversed(sizes) if one < screw.diameter * (1 - ROUNDING)]
    for across in (*thicker, *thinner):
        yield _screw(across, screw.length, is_inch=is_inch)


def _screw(diameter: float, length: float, *, is_inch: bool) -> HingeScrew:
    """A screw by its sizes [m], named as a shop does."""
    if not is_inch:
        return read_screw(f"{number_text(diameter * 1e3)}x{number_text(length * 1e3)}")
    gauge = min(_GAUGES, key=lambda one: abs(read_screw(f"#{one}").diameter - diameter))
    return read_screw(f"#{gauge} x {bench_length(length, Display.INCH)}")


def _pinned(scenario: Scenario, judgement: Judgement) -> Iterator[Remedy]:
    """A thicker pin, or a thicker leaf, of a larger hinge."""
    hinges, display = scenario.parts.hinges, scenario.display
    name = "pin_diameter" if judgement.name == "hinge-pin" else "leaf_thickness"
    size = getattr(hinges, name)
    assert size is not None, "asked of a size that was judged"
    larger = _stepped(_root(judgement, 2.0) * size, display, 32)
    words = "a pin" if name == "pin_diameter" else "leaves"
    thick = f"{fine_length(larger, display)} thick"
    yield Remedy(f"Use hinges with {words} {thick}.", _with(scenario, "hinges", **{name: larger}))


def _bolted(scenario: Scenario, judgement: Judgement) -> Iterator[Remedy]:
    """A bolt that stands out less, or of a stronger grade."""
    bolt, display = _bolt(scenario), scenario.display
    if bolt.stands_out is not None:
        # Buckling asks for its square.
        just = 1.0 / _root(judgement, 2.0 if judgement.name == "bolt-buckling" else 1.0)
        for share in (just, 0.5 * just):
            shorter = -_stepped(-share * bolt.stands_out, display)  # rounded down
            if shorter <= 0:
                return
            yield Remedy(
                "Move what holds the bolt nearer to where its tip bears, so that it stands out by "
                f"{bench_length(shorter, display)} at most.",
                _with(scenario, "bolt", stands_out=shorter),
            )
    yield from _stronger(scenario, "bolt", bolt.strength.name, bolt.diameter, "a bolt")


def _stronger(
    scenario: Scenario, part: str, name: str, diameter: float, words: str
) -> Iterator[Remedy]:
    """The same with a higher grade or class, the next first."""
    is_class = name[0].isdigit()
    names = [one for one in known_strengths() if one[0].isdigit() == is_class]
    for one in names[names.index(name) + 1 :]:
        if bolt_strength(one, diameter) is not None:
            kind = f"class {one}" if is_class else one
            yield Remedy(f"Use {words} of {kind}.", _with(scenario, part, strength=one))


def _bolt(scenario: Scenario) -> Bolt:
    bolt = bolt_of(scenario)
    assert bolt is not None, "asked of a bolt that was judged"
    return bolt


def _threaded(scenario: Scenario, judgement: Judgement) -> Iterator[Remedy]:
    """More thread in what holds the bolt, or a steel nut."""
    bolt, display = _bolt(scenario), scenario.display
    if bolt.holder is not Holder.NUT:
        nut = _with(scenario, "bolt", holder=Holder.NUT, engagement=None)
        yield Remedy("Let the bolt turn in a steel nut that bears on a washer or plate.", nut)
    if bolt.engagement is not None and bolt.holder is not Holder.T_NUT:
        longer = _stepped(_root(judgement, 1.0) * bolt.engagement, display)
        yield Remedy(
            f"Give it {bench_length(longer, display)} of thread there.",
            _with(scenario, "bolt", engagement=longer),
        )


def _padded(scenario: Scenario, judgement: Judgement) -> Iterator[Remedy]:
    """Metal under the tip or under the nut, as wide as it takes."""
    bolt, display = _bolt(scenario), scenario.display
    times = _STRONGER * (judgement.share or 1.0)
    wide, words = (
        math.sqrt(times) * (bolt.pad or bolt.diameter),
        "a steel pad {} wide under the tip",
    )
    if judgement.name == "nut-washer":
        now = bolt.pad or fact("bolt", "washer").value * bolt.diameter
        # The ring less its hole must grow as the share.
        wide = math.sqrt(times * (now**2 - bolt.diameter**2) + bolt.diameter**2)
        words = "a washer {} wide under the nut"
    wide = _stepped(wide, display)
    said = words.format(f"{bench_length(wide, display)} or more")
    yield Remedy(f"Put {said}.", _with(scenario, "bolt", pad=wide))


def _levered(scenario: Scenario, judgement: Judgement) -> Iterator[Remedy]:
    """A longer wrench."""
    wrench = _stepped(_root(judgement, 1.0) * _bolt(scenario).wrench, scenario.display, 1)
    yield Remedy(
        f"Oil the thread and take a wrench {bench_length(wrench, scenario.display)} long.",
        _with(scenario, "bolt", wrench=wrench),
    )


def _washered(scenario: Scenario, judgement: Judgement) -> Iterator[Remedy]:
    """Larger washers under the nuts of the feet."""
    said, frame = scenario.parts.feet, scenario.parts.frame
    across = None if said.bolt is None else bolt_diameter(said.bolt)
    across = across or (0.0 if frame is None else frame.hole)
    now = said.washer or fact("bolt", "washer").value * across
    # The ring less its hole must grow as the share.
    ring = _STRONGER * (judgement.share or 1.0) * (now**2 - across**2)
    wide = _stepped(math.sqrt(ring + across**2), scenario.display)
    yield Remedy(
        f"Put washers {bench_length(wide, scenario.display)} wide under the nuts of the feet, or "
        "a steel strip across both.",
        _with(scenario, "feet", washer=wide),
    )


def _foot_bolts(scenario: Scenario, _judgement: Judgement) -> Iterator[Remedy]:
    """Stronger bolts in the feet."""
    thread = scenario.parts.feet.bolt
    across = None if thread is None else bolt_diameter(thread)
    assert thread is not None
    assert across is not None
    unmarked = unmarked_bolt(is_inch=not thread.name.upper().startswith("M"))
    name = scenario.parts.feet.strength or unmarked
    yield from _stronger(scenario, "feet", name, across, "bolts for the feet")


def _seasoned(setup: Setup) -> Iterator[Remedy]:
    """Wood that moves less, none of it, a spring that follows, weight that does."""
    scenario, pieces = setup.scenario, setup.scenario.parts.wood.pieces
    quarter = tuple(replace(one, cut=Cut.QUARTER) for one in pieces)
    plywood = tuple(replace(one, material="plywood") for one in pieces)
    for words, other in (
        ("Use quarter-sawn boards between hinge and bolt.", quarter),
        ("Make what lies between hinge and bolt of plywood.", plywood),
        ("Carry hinge and bolt on one piece of steel.", ()),
    ):
        if other != pieces:
            yield Remedy(words, _with(scenario, "wood", pieces=other))
    yield from _sprung(setup)
    words = "Leave the adjuster off: weight alone follows what moves."
    yield Remedy(words, weight_alone_of(scenario), is_set_anew=True)


def _sprung(setup: Setup) -> Iterator[Remedy]:
    """Springs from a third to a twentieth as stiff as the plate is at the bolt."""
    adjuster, solved, display = setup.scenario.adjuster, setup.ways[0], setup.scenario.display
    is_told = adjuster.coil is not None or isinstance(adjuster.spring, float)
    if setup.turns is None or is_told or adjuster.acts is Acts.BOTH:
        return
    case = solved.at_rest([setup.turns])
    own = float(plate_stiffness(solved.mount, case.phi)[0])
    force = abs(float(case.adjuster[0]))
    if not own > 0 or not force > 0:
        return
    for share in (1.0 / 3.0, 0.2, 0.1, 0.05):
        rate = share * own
        stop = _stepped(_SPARE * force / rate, display, 1)
        words = (
            f"Put a spring of {rate_text(rate, display)} with {bench_length(stop, display)} of "
            "travel between adjuster and plate."
        )
        coil = Coil(rate, 2.0 * stop, stop)
        sprung = replace(setup.scenario, adjuster=replace(adjuster, coil=coil))
        yield Remedy(words, sprung, is_set_anew=True)


_MAKERS: dict[str, Callable[[Scenario, Judgement], Iterator[Remedy]]] = {
    "plate-bending": _plates,
    "plate-shear": _plates,
    "plate-twist": _plates,
    "plate-creep": _plates,
    "tension-left": _plates,
    "pulley-tilt": _plates,
    "plate-deflection": _plates,
    "screws-in-plate": _screwed,
    "screws-in-base": _screwed,
    "hinge-pin": _pinned,
    "hinge-leaf": _pinned,
    "bolt-stress": _bolted,
    "bolt-buckling": _bolted,
    "bolt-thread": _threaded,
    "tip-pressure": _padded,
    "nut-washer": _padded,
    "bolt-turning": _levered,
    "foot-washers": _washered,
    "foot-bolts": _foot_bolts,
}
NAMES = frozenset(_MAKERS) | {SEASON}
"""What is judged of boards and hardware."""

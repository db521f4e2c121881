"""How long the adjuster's bolt or link has to be: what it travels, turns in and goes through.

A jack, from its tip: travel from install to take-up, with what stands out besides where that is
known; the nut that it turns in, or the board that holds the thread; what it goes through; lock nut
and washers. A link spans from pin to pin; with a spring under its nut it is longer by both. Where
something gives, a bolt goes further than the plate: by what its force presses in at either end.
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import lru_cache

from mountcalc.equilibrium.balance import Balance
from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.travel import usable_travel
from mountcalc.handbook.hardware import fact
from mountcalc.handbook.rows import INCH, load
from mountcalc.pages.amounts import bench_length
from mountcalc.record import Record
from mountcalc.requirements.requirements import requirements_of
from mountcalc.requirements.setting import gentlest_setting
from mountcalc.requirements.swing import swing_of
from mountcalc.scenario.boards import board_sizes
from mountcalc.scenario.drawn_plate import plate_line
from mountcalc.scenario.hardware import Holder
from mountcalc.scenario.model import AdjusterKind, Scenario
from mountcalc.scenario.text.threads import Thread, bolt_diameter
from mountcalc.scenario.text.writing import Display, Vector
from mountcalc.thresholds import ROUNDING

# A bolt nearer to parallel with a board than this (sine) does not pass through it.
LEAST_CROSSING = 0.3
# In diameters of the bolt, both estimates: lock nut and washers under its head, and the thickness
# along it of the block that carries it where that is no board of known thickness.
NUTS, BLOCK_DEPTH = 2.0, 2.0
_MM = 1e-3
_IN_FRONT = 1e-4  # [m] a tip nearer to the plate's face than this is on it


class Stretch(Record):
    """A piece of the way along a bolt: its length [m], what it is, and where that comes from."""

    length: float
    words: str
    source: str


class BoltLength(Record):
    """A bolt's or link's way and length [m].

    ``travel`` is its way from install to take-up with what gives under its force, or to a new
    belt's setting where that is further. ``stretches`` add up to ``wanted``, the least length, of
    which ``stock`` is the next that shops have: None where it is cut from threaded rod, and of a
    turnbuckle; ``is_known`` is False where the thread does not tell the diameter. ``reach`` is how
    far the tip stands out of what it turns in, or how far a link's pins are apart, least and most;
    where nothing has ``placed`` what the bolt turns in, the least is 0.
    """

    travel: float
    reach: tuple[float, float]
    placed: bool
    stretches: tuple[Stretch, ...]
    stock: float | None
    is_known: bool = True

    @property
    def length(self) -> float | None:
        """Length to buy or to cut [m], of a link between its pins at most."""
        return (self.stock or self.wanted) if self.is_known else None

    @property
    def wanted(self) -> float:
        """Least length [m]."""
        return math.fsum(one.length for one in self.stretches)


@lru_cache(maxsize=32)
def bolt_length(scenario: Scenario) -> BoltLength | None:
    """How far the adjuster travels and how long it has to be; None without one."""
    adjuster = scenario.adjuster
    if adjuster.kind is AdjusterKind.NONE:
        return None
    ends = _positions(scenario)
    low, high = min(ends.values()), max(ends.values())
    words = "its travel from install to take-up"
    words += ", what gives included" if adjuster.gives else ""
    way = Stretch(high - low, words, "the mount as solved")
    if adjuster.kind is AdjusterKind.LINK:
        return _link(scenario, low, high)
    out, source = _stands_out(scenario)
    if out is None:
        reach, beyond = (0.0, high - low), []
    else:
        free = 0.0 if adjuster.coil is None else adjuster.coil.free_length
        reach = out + low - free, out + high - free
        where = min(ends, key=ends.__getitem__)
        beyond = [Stretch(reach[0], f"what stands out at {where}", source)]
    around = _around(scenario, told_to_board=source == _BOARD)
    stretches = (way, *beyond, *around)
    wanted = math.fsum(one.length for one in stretches)
    return BoltLength(
        travel=high - low,
        reach=reach,
        placed=out is not None,
        stretches=stretches,
        stock=_stock(scenario, wanted) if around else None,
        is_known=bool(around),
    )


_BOARD = "the plate as drawn"


def _extensions(scenario: Scenario) -> dict[str, float]:
    """How long the adjuster is at the ends of the swing, from as drawn [m]."""
    mount = Mount.of(scenario)
    swing = swing_of(mount, usable_travel(mount))
    ends = {"install": swing.install, "take-up": swing.take_up}
    return {name: float(mount.adjuster(angle).extension) for name, angle in ends.items()}


def _positions(scenario: Scenario) -> dict[str, float]:
    """Where the bolt is from as drawn [m]: how long the adjuster is and what gives there.

    At install weights alone press on it. At take-up the belt has grown and carries what a new one
    is set to, or the least that grips where it has no setting.
    """
    if not scenario.adjuster.gives:
        return _extensions(scenario)
    solved, setting = requirements_of(scenario).solved, gentlest_setting(scenario)
    mount, swing = solved.mount, swing_of(solved.mount, solved.travel)
    tension = setting.new_tension or setting.tension_min or 0.0
    grown = float(mount.path(swing.take_up).length) / (1.0 + tension / mount.stiffness)
    taken_up = replace(mount, length=grown)
    later = replace(solved, mount=taken_up, balance=Balance(taken_up, solved.travel))
    found = {
        "install": float(solved.extension_at(swing.install)),
        "take-up": float(later.extension_at(swing.take_up)),
    }
    if setting.new_turns is not None:
        found["a new belt's setting"] = solved.zero_extension + solved.advance * setting.new_turns
    return found


def _stands_out(scenario: Scenario) -> tuple[float | None, str]:
    """How far a bolt stands out as drawn [m], and what tells it."""
    given = scenario.parts.bolt.stands_out
    if given is not None:
        return given, "adjuster.stands_out"
    through = through_plate(scenario)
    return (None, "") if through is None else (through[1], _BOARD)


def through_plate(scenario: Scenario) -> tuple[Vector, float] | None:
    """Where a jack in the plate passes through its face as drawn, how far it stands out of it [m].

    None where its tip is not in front of the face, and of other adjusters.
    """
    adjuster, line = scenario.adjuster, plate_line(scenario)
    if adjuster.kind is not AdjusterKind.JACK_IN_PLATE:
        return None
    assert adjuster.tip is not None
    assert adjuster.axis is not None
    _, out = line.slope(adjuster.axis)
    past = line.height(adjuster.tip) / out if abs(out) > LEAST_CROSSING else 0.0
    if past <= _IN_FRONT:
        return None
    # The tip is before the motor's face, or behind the back of the board.
    stands = past if out > 0 else past - board_sizes(scenario).thickness / abs(out)
    (x, y), axis = adjuster.tip, adjuster.axis
    return (x - past * math.cos(axis), y - past * math.sin(axis)), stands


def _around(scenario: Scenario, *, told_to_board: bool) -> tuple[Stretch, ...]:
    """What a bolt turns in and goes through; nothing where its diameter is not known."""
    adjuster, said = scenario.adjuster, scenario.parts.bolt
    across = None if adjuster.thread is None else bolt_diameter(adjuster.thread)
    if across is None:
        return ()
    depth, goes, source = BLOCK_DEPTH * across, "the block that carries it", "estimate"
    if adjuster.kind is AdjusterKind.JACK_IN_PLATE:
        out = abs(plate_line(scenario).slope(adjuster.axis or 0.0)[1])
        given = scenario.parts.plate.thickness
        source = "estimate" if given is None else "plate.thickness"
        depth, goes = board_sizes(scenario).thickness / max(out, LEAST_CROSSING), "the plate"
    held, from_where = said.engagement, "adjuster.engagement"
    if held is None:
        height = fact("bolt", "nut_height")
        held, from_where = height.value * across, f"{height.source}, {height.sure}"
    found = [Stretch(depth, goes, source)]
    if said.holder in {None, Holder.NUT}:
        # Counted from the board, what stands out has the nut in it.
        if not told_to_board:
            found.insert(0, Stretch(held, "the nut that it turns in", from_where))
    elif held > depth:
        found[0] = Stretch(held, f"the {said.holder} in {goes}", from_where)
    found.append(Stretch(NUTS * across, "lock nut and washers", "estimate"))
    return tuple(found)


def _link(scenario: Scenario, low: float, high: float) -> BoltLength:
    """A turnbuckle from pin to pin, or an eye-bolt with a spring under its nut."""
    adjuster, said = scenario.adjuster, scenario.parts.bolt
    assert adjuster.base_pin is not None
    assert adjuster.plate_pin is not None
    drawn, coil = math.dist(adjuster.base_pin, adjuster.plate_pin), adjuster.coil
    way = low, high
    if coil is not None:
        # What turns is the nut behind the spring, which is put on before anything presses it.
        low, high = sorted(_extensions(scenario).values())
    reach = drawn + low, drawn + high
    stretches = [Stretch(reach[1], "from pin to pin, at most", "the mount as solved")]
    across = None if adjuster.thread is None else bolt_diameter(adjuster.thread)
    stock = None
    if coil is not None:
        stretches.append(Stretch(coil.free_length, "its spring", "adjuster.spring.free_length"))
        if across is not None:
            height = fact("bolt", "nut_height")
            held = said.engagement or height.value * across
            source = "adjuster.engagement" if said.engagement else f"{height.source}, {height.sure}"
            stretches.append(Stretch(held, "its nut", source))
            stretches.append(Stretch(NUTS * across, "lock nut and washers", "estimate"))
            stock = _stock(scenario, math.fsum(one.length for one in stretches))
    return BoltLength(
        travel=way[1] - way[0],
        reach=reach,
        placed=True,
        stretches=tuple(stretches),
        stock=stock,
        is_known=coil is None or across is not None,
    )


def _stock(scenario: Scenario, wanted: float) -> float | None:
    thread = scenario.adjuster.thread
    assert thread is not None
    return stock_length(wanted, is_inch=is_inch_thread(thread.name))


def is_inch_thread(name: str) -> bool:
    """Whether a thread is one of the inch's, by its designation."""
    return not name.upper().startswith(("M", "TR"))


def stock_length(wanted: float, *, is_inch: bool) -> float | None:
    """The shortest length [m] of bolts in shops that is at least as wanted; None past them all."""
    unit = INCH if is_inch else _MM
    for row in load("fasteners")["stock"]["inch" if is_inch else "metric"]:
        found = max(math.ceil(wanted / (row["step"] * unit) - ROUNDING), 1) * row["step"]
        if found <= row["to"]:
            return float(found * unit)
    return None


def bolt_size(thread: Thread, length: float) -> str:
    """A bolt as it is asked for: 3/8-16 x 7 in, M10 x 140."""
    if is_inch_thread(thread.name):
        return f"{thread.name} x {bench_length(length, Display.INCH)}"
    return f"{thread.name} x {length / _MM:g}"


def length_words(scenario: Scenario) -> str:
    """The travel and the length in one sentence; nothing without an adjuster."""
    found = bolt_length(scenario)
    if found is None:
        return ""
    adjuster, display, thread = scenario.adjuster, scenario.display, scenario.adjuster.thread
    travel, wanted = bench_length(found.travel, display), bench_length(found.wanted, display)
    is_link, each = adjuster.kind is AdjusterKind.LINK, len(adjuster.places) > 1
    if is_link and adjuster.coil is None:
        short, far = (bench_length(one, display) for one in found.reach)
        link = "each link" if each else "the link"
        return (
            f"from install to take-up {link} changes by {travel}: it must reach {short} to {far} "
            "from pin to pin"
        )
    bolt = "eye-bolt" if is_link else "bolt"
    text = f"from install to take-up {'each' if each else 'the'} {bolt} travels {travel}"
    if not found.is_known or thread is None:
        return f"{text}; its diameter is not told, so its length is not, either"
    if found.stock is None:
        return f"{text}; it must be {wanted} long: cut it from threaded rod, {thread.name}"
    bought = bolt_size(thread, found.stock)
    return f"{text}; it must be {wanted} long: buy {bought}, threaded all along"

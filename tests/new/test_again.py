"""Random mounts, read with a tape to a sixteenth, come out again within what rounding allows."""

import cmath
import math

import pytest
from sizes import size
from tape_mounts import INCH, ROUNDING, Tolerance, answers, bears, seeded, spread, tape_mount

from mountcalc.new.measurements import Measurements
from mountcalc.new.understanding import understood
from mountcalc.scenario.reader import parse_scenario
from mountcalc.table import tension_table

WAYS = ("heights", "distances", "both")
CHUNKS = 4
WIDEST = 1.0  # [in] where readings leave a place less sure than that, nothing is to be compared
ANGLE = math.radians(0.05)  # directions and travel are written to a tenth of a degree


def complex_of(point):
    return complex(*point) / INCH


def direction(motor, hinge, height, side):
    arm = motor - hinge
    return cmath.phase(arm) - side * math.asin(height / abs(arm))


def tip(motor, hinge, height, side, reach, off):
    along = cmath.rect(1.0, direction(motor, hinge, height, side))
    return hinge + along * (math.sqrt(reach**2 - off**2) + 1j * side * off)


def turned(angle):
    return math.remainder(angle, math.tau)


def compared(seed):
    """What was understood of the mount of a seed, the mount, and what rounding allows."""
    rng = seeded(seed)
    mount, way = tape_mount(seed), WAYS[seed % 3]
    bolt = "plate" if seed % 2 else "tape"
    said = answers(mount, way, rng, bolt=bolt)
    located = [key for key in said if key != "bolt_to_post" or "post_height" in said]
    if bolt == "plate":
        located = [key for key in located if key != "hinge_to_bolt"]
    allowed = Tolerance(mount, located)
    if allowed.moved.max() > WIDEST:
        return None
    return mount, said, allowed


def agree(mount, allowed, found):
    """Hold a scenario against the mount that was measured."""
    at, by = mount.points, allowed.by
    scenario = found.scenario
    places = {
        "motor": scenario.motor.shaft,
        "hinge": scenario.plate.hinge,
        "bolt": scenario.adjuster.tip or scenario.adjuster.plate_pin,
        "post": scenario.adjuster.base_pin,
    }
    for name, (x, y) in by.items():
        off = complex_of(places[name]) - at[name]
        assert abs(off.real) <= x, name
        assert abs(off.imag) <= y, name
    # What hangs on the plate's line goes wrong with motor, hinge and the shaft's height.
    parts = [*by["motor"], *by["hinge"], ROUNDING]
    values = [at["motor"].real, at["motor"].imag, at["hinge"].real, at["hinge"].imag, mount.height]

    def from_parts(function):
        return lambda a, b, c, d, height, *more: function(
            complex(a, b), complex(c, d), height, mount.side, *more
        )

    may = spread(from_parts(direction), values, parts) + ANGLE
    board = scenario.parts.plate
    off, axis = bears(mount.kind, mount.does, mount.side, mount.tightens, float(mount.thickness))
    assert abs(turned(board.direction - mount.direction)) <= may
    if mount.kind in {"block", "plate"}:
        assert abs(turned(scenario.adjuster.face - mount.direction)) <= may
        assert abs(turned(scenario.adjuster.axis - mount.direction - cmath.phase(axis))) <= may
    if mount.kind != "none" and "bolt" not in by:
        reach = mount.reads("hinge_to_bolt")
        may_tip = spread(from_parts(tip), [*values, reach, off], [*parts, ROUNDING, 0.0])
        assert abs(complex_of(places["bolt"]) - at["bolt"]) <= may_tip + ROUNDING * math.sqrt(2)
    swings = [(mount.swings[key], mount.length) for key in ("swing_looser", "swing_tighter")]
    travel = (
        scenario.plate.travel if mount.tightens > 0 else [-a for a in scenario.plate.travel[::-1]]
    )
    for swing, ends, sign in zip(swings, travel, (-1, 1), strict=True):
        may = spread(lambda s, length: 2 * math.asin(s / 2 / length), swing, [ROUNDING] * 2) + ANGLE
        assert abs(ends - sign * 2 * math.asin(swing[0] / 2 / swing[1])) <= may
    assert abs(board.length / INCH - mount.length) <= ROUNDING
    assert math.isclose(board.thickness / INCH, mount.thickness)


@pytest.mark.parametrize("chunk", range(CHUNKS))
def test_a_mount_comes_out_again_within_what_rounding_allows(chunk):
    compared_with = 0
    seeds = range(chunk, size(1000, 16), CHUNKS)
    for seed in seeds:
        case = compared(seed)
        if case is None:
            continue
        mount, said, allowed = case
        found = understood(Measurements.of(said))
        assert found.contradictions == (), seed
        agree(mount, allowed, found)
        again = parse_scenario(found.text)
        assert again == found.scenario
        assert tension_table(again, [0.0, 1.0]).rows
        compared_with += 1
    assert compared_with >= 0.75 * len(seeds)

"""The judge's closed forms in numpy written by hand, as one would for one program that is run once.

One belt, the motor as drawn, one rotation, no starting grip, no limits on adjuster and hinge, no
keep-outs, the bolt beside the motor. The plate is taken in its own axes: u along it, v to the
motor's side.
"""

from types import SimpleNamespace

import numpy as np

from mountcalc.formulas.shaft import bearing_loads
from mountcalc.place.feasible.layouts import ways_of
from mountcalc.place.feasible.reasons import Reason
from mountcalc.scenario.model import Display, Rotation, When

MARGIN, LEAST_BITE, ROUNDING, STAND_OUT = 0.025, 0.05, 1e-9, 0.006
JACK_IN_BASE, JACK_IN_PLATE, LINK = range(3)
PUSH, PULL = range(2)


def constants(scenario, install, take_up):
    """All that is the same for every layout."""
    motor, driven, belt = scenario.motor, scenario.driven, scenario.belt
    r, big_r = motor.pulley_radius, driven.pulley_radius
    speed = motor.speed * r
    pull, gone = driven.power / speed / belt.count, belt.mass * speed**2
    start = driven.starting_factor * pull

    def at(needed):
        distance, tension = (belt.length - np.pi * (r + big_r)) / 2, 0.0
        for _ in range(40):
            beta = np.arcsin((big_r - r) / distance)
            share = min(
                np.tanh(motor.traction * (np.pi / 2 - beta)),
                np.tanh(driven.traction * (np.pi / 2 + beta)),
            )
            tension = needed(share)
            path = 2 * distance * np.cos(beta) + np.pi * (r + big_r) + 2 * (big_r - r) * beta
            goal = belt.length * (1 + tension / belt.stiffness)
            distance += (goal - path) / (2 * np.cos(beta))
        return distance, tension

    snug = at(lambda _: 0.0)[0]
    loose = at(lambda share: scenario.limits.grip * pull / (2 * share) + gone)[0]
    return SimpleNamespace(
        r=r, R=big_r, pull=pull, gone=gone, start=start, snug=snug, loose=loose,
        near=snug - install, far=snug + take_up,
        kinks=(at(lambda share: pull / (2 * share) + gone), at(lambda share: start / (2 * share))),
        rate=belt.stiffness / belt.length,
        way=1.0 if motor.rotation is Rotation.CCW else -1.0,
    )  # fmt: skip


def bearings(scenario):
    """For each case and bearing: share of the belts' pull, other loads, limit."""
    driven, found = scenario.driven, {}
    places = [bearing.position for bearing in driven.bearings]
    of_pulley = bearing_loads([driven.pulley_position], [[1.0, 0.0]], *places)
    for name in ("rest", "running", "starting"):
        loads = [load for load in driven.loads if load.when is When.ALWAYS or name != "rest"]
        forces = np.array([np.multiply(load.force, load.direction) for load in loads])
        others = bearing_loads([one.position for one in loads], forces.reshape(-1, 2), *places)
        limits = [b.starting_limit if name == "starting" else b.limit for b in driven.bearings]
        found[name] = list(zip([float(one[0]) for one in of_pulley], others, limits, strict=True))
    return found


def by_hand(unit, scenario, space, install, take_up, chunk):
    """Reason of each layout, and the measures of the feasible ones by name."""
    fixed, carried = constants(scenario, install, take_up), bearings(scenario)
    reason = np.zeros(len(unit), dtype=np.uint8)
    parts = []
    for begin in range(0, len(unit), chunk):
        codes = reason[begin : begin + chunk]
        drawn = draw(unit[begin : begin + chunk], scenario, space, codes)
        with np.errstate(invalid="ignore", divide="ignore"):
            for kind in range(3):
                one = kept(drawn, np.flatnonzero((codes == 0) & (drawn["kind"] == kind)))
                part = one_kind(one, kind, codes, (scenario, space, fixed, carried))
                parts.append((part.pop("place") + begin, part))
    places = np.concatenate([place for place, _ in parts])
    order = np.argsort(places)
    measures = {key: np.concatenate([part[key] for _, part in parts])[order] for key in parts[0][1]}
    return reason, places[order], measures


def kept(columns, good):
    return {key: value[..., good] for key, value in columns.items()}


def draw(unit, scenario, space, codes):
    h_x, h_y, reach, height = (
        low + (high - low) * unit[:, index]
        for index, (low, high) in enumerate(
            (space.hinge_x, space.hinge_y, space.reach, space.motor_height)
        )
    )
    a_x, a_y = scenario.motor.shaft[0] - h_x, scenario.motor.shaft[1] - h_y
    b_x, b_y = scenario.driven.shaft[0] - h_x, scenario.driven.shaft[1] - h_y
    square = a_x * a_x + a_y * a_y
    with np.errstate(invalid="ignore"):
        foot = np.sqrt(square - height * height)
    side = np.where(unit[:, 4] < 0.5, 1.0, -1.0)
    ways = np.array(ways_of(space))[(unit[:, 5] * len(ways_of(space))).astype(int)]
    length = np.maximum(reach, foot + space.motor_feet / 2) + MARGIN
    codes[:] = np.where(length <= space.plate_length, 0, Reason.PLATE_LENGTH)
    codes[foot - space.motor_feet / 2 < MARGIN] = Reason.FEET_PAST_HINGE
    codes[~(foot > 0)] = Reason.MOTOR_HEIGHT
    pitches = np.array([thread.pitch for thread in space.threads])
    return {
        "place": np.arange(len(unit)), "a": np.stack([a_x, a_y]), "b": np.stack([b_x, b_y]),
        "square": square, "foot": foot, "height": height, "reach": reach, "side": side,
        "length": length, "kind": ways[:, 0], "act": ways[:, 1],
        "pitch": pitches[(unit[:, 6] * len(pitches)).astype(int)],
    }  # fmt: skip


def sift(one, good, code, codes):
    codes[one["place"][~good]] = code
    return kept(one, np.flatnonzero(good))


def one_kind(one, kind, codes, given):
    scenario, space, fixed, _ = given
    a, b = one["a"], one["b"]
    dot, cross = b[0] * a[0] + b[1] * a[1], b[0] * a[1] - b[1] * a[0]
    both = np.sqrt(one["square"] * (b[0] * b[0] + b[1] * b[1]))
    one |= {"tau": np.sign(cross), "drawn": np.arctan2(cross, dot), "both": both}
    one["far_square"] = one["square"] + b[0] * b[0] + b[1] * b[1]
    install = swing(one, fixed.near)
    one = sift(one | {"install": install}, np.isfinite(install), Reason.INSTALL, codes)
    take_up = swing(one, fixed.far)
    one = sift(one | {"take_up": take_up}, np.isfinite(take_up), Reason.TAKE_UP, codes)
    reach_b = one["both"] / one["square"] ** 0.5
    least = np.minimum(
        reach_b * np.abs(np.sin(one["drawn"] + one["install"])) / fixed.near,
        reach_b * np.abs(np.sin(one["drawn"] + one["take_up"])) / fixed.far,
    )
    one = sift(one, (least >= space.leverage) & (least > 0), Reason.DEAD_CENTRE, codes)
    one["snug"] = swing(one, fixed.snug)
    phi = np.stack([one["install"], one["snug"], one["take_up"]])
    one["offset"], leaves, wood = offsets(one, kind, scenario, space)
    bolt = Bolt(one, kind, space)
    extension, slope = bolt.at(phi)
    good = np.all(np.sign(slope) == np.sign(slope[0]), axis=0) & (slope[0] != 0)
    if kind != LINK:
        good &= np.all(np.cos(phi) > LEAST_BITE, axis=0)
        out = bolt.sign * one["offset"]
        good &= out > leaves if kind == JACK_IN_PLATE else -out >= wood - 1e-9
    one = sift(
        one | {"extension": extension, "slope": slope}, good, Reason.ADJUSTER_GEOMETRY, codes
    )
    longest = space.thread_length
    if longest is None:
        longest = space.link_length / 2 if kind == LINK else space.bolt_length
    travel = np.abs(one["extension"][2] - one["extension"][0])
    one = sift(one, travel <= longest, Reason.THREAD_LENGTH, codes)
    weigh(one, scenario, space)
    return set_and_loads(one, kind, codes, given)


def swing(one, distance):
    cosine = (one["far_square"] - distance * distance) / (2 * one["both"])
    phi = one["tau"] * np.arccos(cosine) - one["drawn"]
    return np.where(phi > np.pi, phi - 2 * np.pi, np.where(phi < -np.pi, phi + 2 * np.pi, phi))


def way_of(one, kind):
    """Whether the axis is v (1) or against it."""
    push = np.where(one["act"] == PUSH, 1.0, -1.0)
    # v is left of u where side is 1; the way ahead is left of u where tau is 1.
    return one["tau"] * one["side"] * (-push if kind == JACK_IN_PLATE else push)


def offsets(one, kind, scenario, space):
    """v of the tip, where a screw leaves its plate at most and where a jack meets it: by the axis.

    The board is between v = 0, where the motor stands and the hinge's pin is, and v = -t.
    """
    thick, sign = space.plate_thickness, way_of(one, kind)
    ends = np.stack([one["install"], one["take_up"]])
    before, behind = np.where(sign > 0, 0.0, thick), np.where(sign > 0, thick, 0.0)
    leaves = one["reach"] * sign * one["side"] * np.sin(ends) + before * np.cos(ends)
    leaves = leaves.max(axis=0)
    if space.face_offset is not None:
        return np.full(leaves.shape, space.face_offset), leaves, behind
    if kind == LINK:
        return np.zeros(leaves.shape), leaves, behind
    if kind == JACK_IN_BASE:
        return -sign * behind, leaves, behind
    mark = 0.0254 / 16 if scenario.display is Display.INCH else 0.001
    out = mark * np.ceil((np.maximum(before, leaves) + STAND_OUT - 1e-9) / mark)
    return sign * out, leaves, behind


class Bolt:
    """s(phi) and phi(s) in closed form, with P - H = a u + b v and the axis along +-v."""

    def __init__(self, one, kind, space):
        self.kind, self.offset, self.one = kind, one["offset"], one
        self.length = space.link_length
        push = np.where(one["act"] == PUSH, 1.0, -1.0)
        self.sign = way_of(one, kind)
        self.ahead = one["tau"] * push

    def at(self, phi):
        """Extension and ds/dphi; phi is taken towards v."""
        reach, b, side = self.one["reach"], self.offset, self.one["side"]
        sin, cos = side * np.sin(phi), np.cos(phi)
        if self.kind == JACK_IN_BASE:
            return (
                (b + reach * sin - b * cos) / (self.sign * cos),
                side * (reach + b * sin) / (self.sign * cos * cos),
            )
        if self.kind == JACK_IN_PLATE:
            return (
                (b - reach * sin - b * cos) / (self.sign * cos),
                side * (b * sin - reach) / (self.sign * cos * cos),
            )
        x, y = reach * cos - b * sin, b * cos + reach * sin  # in u and v as drawn
        d_y = y - (b - self.sign * self.length)
        span = np.hypot(x - reach, d_y)
        return span - self.length, side * (x * d_y - y * (x - reach)) / span

    def force(self, phi):
        """Force on the plate for a unit of compression, in u and v as drawn."""
        sin, cos = self.one["side"] * np.sin(phi), np.cos(phi)
        if self.kind == JACK_IN_BASE:
            return -sin / (self.sign * cos), 1 / self.sign + 0 * phi
        if self.kind == JACK_IN_PLATE:
            return 0 * phi, -1 / (self.sign * cos)
        reach, b = self.one["reach"], self.offset
        x, y = reach * cos - b * sin - reach, b * cos + reach * sin - b + self.sign * self.length
        span = np.hypot(x, y)
        return x / span, y / span

    def angle(self, extension):
        reach, b, side = self.one["reach"], self.offset, self.one["side"]
        if self.kind == LINK:
            base_y = b - self.sign * self.length
            pin, base = np.hypot(reach, b), np.hypot(reach, base_y)
            span = self.length + extension
            cosine = (pin * pin + base * base - span * span) / (2 * pin * base)
            drawn = np.arctan2(reach * (b - base_y), reach * reach + b * base_y)
            return side * (np.sign(drawn) * np.arccos(cosine) - drawn)
        lever = self.sign * extension + b
        turn = np.arctan2(np.sqrt(lever * lever + reach * reach - b * b), b)
        turn -= np.arctan2(reach, lever)
        return side * (turn if self.kind == JACK_IN_BASE else -turn)


def weigh(one, scenario, space):
    """The plate's u and the weights' sum of W times place, in the drawing's axes."""
    a, foot, side, height = one["a"], one["foot"], one["side"], one["height"]
    motor = scenario.motor
    one["u"] = (
        np.stack([foot * a[0] + side * height * a[1], foot * a[1] - side * height * a[0]])
        / one["square"]
    )
    one["plate"] = scenario.plate.weight * one["length"] / space.plate_length
    beside = np.subtract(motor.center_of_mass, motor.shaft)
    middle = 0.5 * one["length"] * one["plate"]
    deep = -0.5 * space.plate_thickness * one["plate"] * side
    v = np.stack([-one["u"][1], one["u"][0]])
    one["arms"] = np.stack(
        [motor.weight * (a[i] + beside[i]) + middle * one["u"][i] + deep * v[i] for i in (0, 1)]
    )


def weight_moment(one, phi):
    sin, cos = np.sin(phi), np.cos(phi)
    x, y = one["arms"]
    return x * cos - y * sin, x * sin + y * cos


def distance_at(one, phi):
    """Centre distance and its slope."""
    turned = one["drawn"] + phi
    distance = np.sqrt(one["far_square"] - 2 * one["both"] * np.cos(turned))
    return distance, one["both"] * np.sin(turned) / distance


def taut(one, phi, scenario, fixed):
    """Tension, dL/dphi and both moment arms."""
    distance, slope = distance_at(one, phi)
    lean = (fixed.R - fixed.r) / distance
    beta, level = np.arcsin(lean), np.sqrt(1 - lean * lean)
    path = 2 * distance * level + np.pi * (fixed.r + fixed.R) + 2 * (fixed.R - fixed.r) * beta
    tension = scenario.belt.stiffness * np.maximum(path / scenario.belt.length - 1, 0)
    return tension, 2 * level * slope, distance, beta, lean, level


def set_and_loads(one, kind, codes, given):
    scenario, space, fixed, carried = given
    count, error = scenario.belt.count, scenario.limits.turn_error
    carries = np.where(one["act"] == PULL, -1.0, 1.0)
    one["sign"] = carries * np.sign(one["slope"][1])
    snug, far, tau = one["snug"], one["take_up"], one["tau"]
    weight, _ = weight_moment(one, snug)
    free = weight * one["sign"] < 0
    to_tight = np.flatnonzero(free & (weight * tau < 0))
    zero, found = snug.copy(), ~free
    some = kept({k: one[k] for k in ("arms", "drawn", "both", "far_square", "tau")}, to_tight)
    tension, slope, *_ = taut(some, far[to_tight], scenario, fixed)
    inside = (count * tension * slope + weight_moment(some, far[to_tight])[0]) * some["tau"] > 0
    found[to_tight] = inside
    some, to_tight = kept(some, np.flatnonzero(inside)), to_tight[inside]
    zero[to_tight] = contact(some, snug[to_tight], far[to_tight], (count, scenario, fixed))
    one = sift(one | {"zero": zero, "contact": free}, found, Reason.LEAVES_ADJUSTER, codes)
    bolt, tau = Bolt(one, kind, space), one["tau"]
    loose = swing(one, fixed.loose)
    turn = np.sign(one["slope"][1]) * tau * one["pitch"]
    one["of_weight"] = one["contact"] & ((one["zero"] - loose) * tau >= 0)
    loose = np.where(one["of_weight"], one["zero"], loose)
    begin = bolt.at(loose)[0]
    reached = ((one["take_up"] - loose) * tau >= 0) & (
        (one["extension"][2] - begin - 2 * error * turn) * turn >= 0
    )
    one["set_turns"] = (begin - bolt.at(one["zero"])[0]) / turn + error
    one |= {"loose": loose, "set": bolt.angle(begin + error * turn)}
    one["tight"] = bolt.angle(begin + 2 * error * turn)
    one = sift(one, reached, Reason.TAKE_UP, codes)
    return loads(one, kind, codes, (scenario, space, fixed, carried, count))


def contact(some, low, high, given):
    count, scenario, fixed = given
    phi, least, most = low, np.minimum(low, high), np.maximum(low, high)
    for _ in range(30):
        tension, slope, *_ = taut(some, phi, scenario, fixed)
        moment, height = weight_moment(some, phi)
        step = (count * tension * slope + moment) / (count * fixed.rate * slope**2 - height)
        new = np.clip(phi - step, least, most)
        done, phi = np.abs(new - phi) <= 1e-14, new
        if np.all(done):
            break
    return phi


def strung(one, phi, scenario, fixed):
    """Tension, share, sums and differences of arms and of unit vectors (about M to D)."""
    tension, slope, distance, beta, lean, level = taut(one, phi, scenario, fixed)
    a, b = one["a"], one["b"]
    sin, cos = np.sin(phi), np.cos(phi)
    m_x, m_y = a[0] * cos - a[1] * sin, a[0] * sin + a[1] * cos
    c_x, c_y = (b[0] - m_x) / distance, (b[1] - m_y) / distance
    share = np.minimum(
        np.tanh(scenario.motor.traction * (np.pi / 2 - beta)),
        np.tanh(scenario.driven.traction * (np.pi / 2 + beta)),
    )
    # The strands are level c +- lean w, with w = c turned left, and touch a radius away.
    difference = 2 * (lean * (-m_y * c_y - m_x * c_x) + fixed.r)
    sums = 2 * level * c_x, 2 * level * c_y
    return tension, share, slope, difference, sums, (-2 * lean * c_y, 2 * lean * c_x)


def loads(one, kind, codes, given):
    scenario, space, fixed, carried, count = given
    phi = np.stack([one["loose"], one["set"], one["tight"]])
    belt = strung(one, phi, scenario, fixed)
    weight, _ = weight_moment(one, phi)
    cases = (
        ("rest", 0.0, 0.0),
        ("running", fixed.gone, fixed.pull),
        ("starting", 0.0, fixed.start),
    )
    promised = (("running", fixed.gone, fixed.pull * scenario.limits.grip),)
    held = np.ones(phi.shape, dtype=bool)
    for case in (*cases, *promised):
        mean, half = felt(belt, count, case, fixed.way)
        moment = mean * belt[2] + half * belt[3]
        held &= one["sign"] * (moment + weight) >= -ROUNDING * (np.abs(moment) + np.abs(weight))
    good = np.all(held, axis=0)
    belt = [
        np.stack(part)[..., good] if isinstance(part, tuple) else part[:, good] for part in belt
    ]
    phi, weight = phi[:, good], weight[:, good]
    one = sift(one, good, Reason.LEAVES_ADJUSTER, codes)
    bolt = Bolt(one, kind, space)
    slope = bolt.at(phi)[1]
    f_u, f_v = bolt.force(phi)
    u, side = one["u"], one["side"]
    f_x, f_y = f_u * u[0] - side * f_v * u[1], f_u * u[1] + side * f_v * u[0]
    total = scenario.motor.weight + one["plate"]
    most = [np.zeros(phi.shape) for _ in range(3)]
    for case in cases:
        mean, half = felt(belt, count, case, fixed.way)
        axial = (mean * belt[2] + half * belt[3] + weight) / slope
        x, y = (mean * belt[4][i] + half * belt[5][i] for i in (0, 1))
        hinge = np.hypot(x + axial * f_x, y + axial * f_y - total)
        if case[0] == "rest":
            one |= {"adjuster": axial[1], "hinge": hinge[1]}
        here = np.abs(axial), hinge, share_of_limit(x, y, carried[case[0]])
        most = [np.maximum(old, new) for old, new in zip(most, here, strict=True)]
    felt_loose = belt[0][0] - fixed.gone
    per_length = fixed.rate * np.abs(belt[2][1] / slope[1])
    one |= {
        "adjuster_most": most[0].max(axis=0), "hinge_most": most[1].max(axis=0),
        "worst_share": most[2][1], "worst_share_tight": most[2].max(axis=0),
        "set_tension": belt[0][1], "tension_loose": belt[0][0],
        "tension_per_length": per_length, "tension_per_turn": per_length * one["pitch"],
        "grip_low": 2 * felt_loose * belt[1][0] / fixed.pull,
        "bolt_travel": np.abs(one["extension"][2] - one["extension"][0]),
    }  # fmt: skip
    one = sift(one, one["worst_share_tight"] <= 1, Reason.BEARING, codes)
    one = sift(one, before(one, cases, given) <= 1, Reason.BEARING, codes)
    return {key: one[key] for key in ("place", *MEASURES)}


MEASURES = (
    "install", "snug", "zero", "loose", "set", "tight", "take_up", "contact", "of_weight",
    "set_turns", "set_tension", "tension_per_turn", "tension_per_length", "grip_low",
    "worst_share", "worst_share_tight", "adjuster", "adjuster_most", "hinge", "hinge_most",
    "bolt_travel",
)  # fmt: skip


def felt(belt, count, case, way):
    _, gone, pull = case
    mean = np.maximum(count * (belt[0] - gone), 0)
    return mean, way * np.minimum(0.5 * count * pull, mean * belt[1])


def share_of_limit(x, y, carried):
    worst = 0.0
    for share, other, limit in carried:
        f_x, f_y = other[0] - share * x, other[1] - share * y
        worst = np.maximum(worst, (f_x * f_x + f_y * f_y) / limit**2)
    return np.sqrt(worst)


def before(one, cases, given):
    """Worst share of the limit from zero turns on: at zero and where the belt stops slipping."""
    scenario, _, fixed, carried, count = given
    at_zero, *_ = taut(one, one["zero"], scenario, fixed)
    phi = [one["zero"]]
    for distance, tension in fixed.kinks:
        inside = (tension > at_zero) & (tension < one["tension_loose"])
        phi.append(np.where(inside, swing(one, distance), one["zero"]))
    belt = strung(one, np.stack(phi), scenario, fixed)
    worst = np.zeros((3, len(one["zero"])))
    for case in cases:
        mean, half = felt(belt, count, case, fixed.way)
        x, y = (mean * belt[4][i] + half * belt[5][i] for i in (0, 1))
        worst = np.maximum(worst, share_of_limit(x, y, carried[case[0]]))
    return worst.max(axis=0)

"""``[search]`` and ``[[keep_out]]``: values, defaults, and what a user is told of mistakes."""

import math
from dataclasses import replace

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from invented_scenarios import JACK_IN_BASE, LINK, WEIGHT_ALONE, changed
from messages import told, told_with_lines

from mountcalc.errors import ScenarioError
from mountcalc.scenario.model import AdjusterKind, BarredPart, KeepOut
from mountcalc.scenario.reader import parse_scenario, parse_search, read_search
from mountcalc.scenario.search import Action, MotorSide
from mountcalc.scenario.text.outlines import area, contains, crossing_edges

INCH = 0.0254
LENGTH = 'length or range of it wanted (such as "14 1/2 in" or ["14 1/2 in", "20 in"])'
ANGLE = 'angle or range of it wanted (such as "-15 deg" or ["-15 deg", "15 deg"])'
ROOM = 'length wanted (such as "1/2 in" or "12 mm")'
BOX = 'two opposite corners wanted (such as [["10 in", "-20 in"], ["14 in", "0 in"]])'
POLYGON = (
    'three or more corners in order wanted (such as [["0 in", "0 in"], ["9 in", "0 in"], '
    '["0 in", "5 in"]])'
)
KINDS = '"jack-in-base", "jack-in-plate" or "link"'

CORNER = '["1 in", "9 in"],'

LEAST = """
[search]
hinge_x = ["-30 in", "-20 in"]
hinge_y = "-13 in"
reach = ["6 in", "18 in"]
motor_height = ["3 in", "5 in"]
plate_length = "24 in"
"""

FULL = """
[search]
hinge_x = ["-30 in", "-20 in"]
hinge_y = ["-400 mm", "-12 in"]
reach = ["6 in", "18 in"]
motor_height = "4 in"
plate_length = "24 in"
motor_side = "above"
motor_direction = ["170 deg", "200 deg"]
kinds = ["jack-in-plate", "link"]
acts = ["push", "hold-back"]
threads = ["3/8-16", "M10x1"]
samples = 5000
seed = 4294967295
leverage = 0.3
face_offset = "-1 in"
thread_length = "5 in"
link_length = "9 in"
bolt_length = "7 in"
plate_thickness = "1 in"
motor_body = "6 1/2 in"
motor_feet = "5 in"
clearance = "0 in"
wrench_space = "3 in"
bolt_beside_motor = true
beside_driven_shaft = true

[[keep_out]]
name = "floor"
box = [["60 in", "-20 in"], ["-60 in", "-30 in"]]

[[keep_out]]
polygon = [["3 in", "3 in"], ["5 in", "3 in"], ["5 in", "9 in"], ["3 in", "3 in"]]
parts = ["plate", "motor"]
"""


def space_of(text):
    return parse_search(JACK_IN_BASE + text).space


def test_every_key():
    space = space_of(FULL)
    assert space.hinge_x == pytest.approx((-30 * INCH, -20 * INCH))
    assert space.hinge_y == pytest.approx((-0.4, -12 * INCH))
    assert space.motor_height == pytest.approx((4 * INCH, 4 * INCH))
    assert space.reach == pytest.approx((6 * INCH, 18 * INCH))
    assert space.motor_direction == pytest.approx((math.radians(170), math.radians(200)))
    assert space.motor_side is MotorSide.ABOVE
    assert space.kinds == (AdjusterKind.JACK_IN_PLATE, AdjusterKind.LINK)
    assert space.acts == (Action.PUSH, Action.HOLD_BACK)
    assert [thread.name for thread in space.threads] == ["3/8-16", "M10x1"]
    assert [thread.pitch for thread in space.threads] == pytest.approx([INCH / 16, 1e-3])
    assert (space.samples, space.seed, space.leverage) == (5000, 2**32 - 1, 0.3)
    inches = {
        "plate_length": 24, "face_offset": -1, "thread_length": 5, "link_length": 9,
        "bolt_length": 7, "plate_thickness": 1, "motor_body": 6.5, "motor_feet": 5,
        "clearance": 0, "wrench_space": 3,
    }  # fmt: skip
    for name, length in inches.items():
        assert getattr(space, name) == pytest.approx(length * INCH), name
    assert space.bolt_beside_motor is True
    assert space.most_travel(AdjusterKind.LINK) == pytest.approx(5 * INCH)
    floor, other = space.keep_outs  # beside_driven_shaft: no third one
    assert floor.name == "floor"
    assert sorted(floor.corners) == [
        pytest.approx((x * INCH, y * INCH)) for x in (-60, 60) for y in (-30, -20)
    ]
    assert abs(area(floor.corners)) == pytest.approx(1200 * INCH**2)
    assert floor.parts == tuple(BarredPart)
    assert (other.name, len(other.corners)) == ("keep-out 2", 3)
    assert other.parts == (BarredPart.PLATE, BarredPart.MOTOR)


def test_nothing_is_noted_where_everything_is_given():
    notes = parse_scenario(JACK_IN_BASE).notes
    assert parse_search(JACK_IN_BASE + FULL).scenario.notes == notes


def test_defaults_are_taken_and_noted():
    search = parse_search(JACK_IN_BASE + LEAST)
    space = search.space
    assert (space.motor_side, space.kinds) == (MotorSide.EITHER, (AdjusterKind.JACK_IN_BASE,))
    assert space.acts == (Action.PUSH,)
    assert space.threads == (search.scenario.adjuster.thread,)
    assert (space.samples, space.seed, space.leverage) == (100_000, 0, 0.2)
    assert (space.motor_direction, space.thread_length, space.face_offset) == (None, None, None)
    (shaft,) = space.keep_outs
    assert (shaft.name, BarredPart.BELT in shaft.parts) == ("driven shaft", False)
    journal = search.scenario.driven.bearings[0].journal_diameter / 2
    center = search.scenario.driven.shaft
    assert all(math.dist(corner, center) >= journal for corner in shaft.corners)
    assert abs(area(shaft.corners)) == pytest.approx(math.pi * journal**2, rel=0.01)
    assert space.motor_body == space.motor_feet == pytest.approx(6 * INCH)
    lengths = (space.clearance, space.wrench_space, space.link_length, space.bolt_length)
    assert lengths == pytest.approx((0.5 * INCH, 2 * INCH, 8 * INCH, 6 * INCH))
    assert space.plate_thickness == pytest.approx(0.75 * INCH)
    assert space.bolt_beside_motor is False
    assert space.most_travel(AdjusterKind.JACK_IN_BASE) == space.bolt_length
    assert space.most_travel(AdjusterKind.LINK) == pytest.approx(4 * INCH)
    assert search.scenario.notes[-3:] == (
        "The motor's body is not given: a circle of 6 in is taken, twice the least motor height.",
        "Lengths of the search that are not given are estimates: room to every keep-out: 1/2 in; "
        "free radius about the bolt's head: 2 in; length of a link as drawn: 8 in; length of a "
        "jack from tip to head as drawn: 6 in; thickness of the plate: 3/4 in.",
        "How far the bolt may travel from a new belt to full take-up (thread_length) is not given: "
        "the whole length of a jack: 6 in.",
    )


def test_the_travel_that_is_taken_is_told_of_each_kind_that_is_tried():
    kinds = 'kinds = ["jack-in-plate", "link"]\n'
    note = parse_search(JACK_IN_BASE + LEAST + kinds).scenario.notes[-1]
    assert note.endswith("the whole length of a jack: 6 in; half the length of a link: 4 in.")
    given = parse_search(JACK_IN_BASE + LEAST + kinds + 'thread_length = "5 in"\n')
    assert not any("thread_length" in note for note in given.scenario.notes)


def test_defaults_of_a_metric_scenario():
    space = parse_search(LINK + LEAST).space
    lengths = (space.clearance, space.wrench_space, space.link_length, space.bolt_length)
    assert lengths == pytest.approx((0.012, 0.05, 0.2, 0.15))
    assert space.plate_thickness == pytest.approx(0.018)


def test_a_plate_is_as_thick_as_the_scenarios_unless_the_search_says_otherwise():
    thick = JACK_IN_BASE.replace("[plate]\n", '[plate]\nthickness = "1 1/4 in"\n')
    search = parse_search(thick + LEAST)
    assert search.space.plate_thickness == pytest.approx(1.25 * INCH)
    assert not any("thickness of the plate" in note for note in search.scenario.notes)
    other = parse_search(thick + LEAST + 'plate_thickness = "1 in"\n')
    assert other.space.plate_thickness == pytest.approx(1.0 * INCH)
    assert (other.space.plate_face, other.space.plate_back) == (0.0, -other.space.plate_thickness)


def test_feet_are_as_wide_as_a_body_that_is_given():
    space = space_of(LEAST + 'motor_body = "7 in"\n')
    assert space.motor_feet == space.motor_body == pytest.approx(7 * INCH)


def test_other_commands_pass_it_over():
    found = parse_scenario(JACK_IN_BASE + FULL)
    assert [one.name for one in found.keep_outs] == ["floor", "keep-out 2"]  # drawings show them
    assert replace(found, keep_outs=()) == parse_scenario(JACK_IN_BASE)


def test_a_search_is_wanted_of_a_search(tmp_path):
    path = tmp_path / "mill.toml"
    keep_outs = FULL[FULL.index("[[keep_out]]") :]
    path.write_text(JACK_IN_BASE + keep_outs, encoding="utf-8")
    with pytest.raises(ScenarioError) as caught:
        read_search(path)
    (line,) = caught.value.lines()
    assert line == (
        f"{path}: missing table [search]: the ranges in which hinge and bolt may be (hinge_x, "
        "hinge_y, reach, motor_height, plate_length)"
    )
    path.write_text(JACK_IN_BASE + LEAST, encoding="utf-8")
    search = read_search(path)
    assert search.space == space_of(LEAST)
    assert search.scenario.source == str(path)


def test_an_empty_search_wants_its_keys():
    def missing(what):
        return f"missing: {LENGTH.replace(' wanted', f' wanted, {what}')}"

    assert told(JACK_IN_BASE + "[search]\n") == [
        f"search.hinge_x: {missing('where the hinge may be, to the right')}",
        f"search.hinge_y: {missing('where the hinge may be, up')}",
        f"search.reach: {missing('hinge to bolt, along the plate')}",
        "search.motor_height: "
        f"{missing('motor shaft off the face that it stands on, packing included')}",
        "search.plate_length: missing: length wanted, the most it may have; plate.weight is that "
        'of one so long (such as "14 1/2 in" or "370 mm")',
    ]


@pytest.mark.parametrize(
    ("line", "message"),
    [
        (
            'reach = ["18 in", "6 in"]',
            "reach: the smaller length first and the larger second wanted, "
            'got ["18 in", "6 in"]',
        ),
        ('reach = ["6 in"]', f"reach: {LENGTH}, got a list of 1"),
        ('reach = ["6 in", "7 in", "8 in"]', f"reach: {LENGTH}, got a list of 3"),
        ("reach = 6", f"reach: {LENGTH}, got 6"),
        (
            'reach = ["0 in", "6 in"]',
            'reach: length above zero wanted, got "0 in"',
        ),
        (
            'hinge_x = ["1 in", "6 lbf"]',
            'hinge_x: length wanted (such as "14 1/2 in" or "370 mm"), got a force: "6 lbf"',
        ),
        (
            'motor_direction = ["0 deg", "361 deg"]',
            'motor_direction: range of at most 360 deg wanted, got ["0 deg", "361 deg"]',
        ),
        ("motor_direction = true", f"motor_direction: {ANGLE}, got true"),
        (
            'motor_side = "abov"',
            'motor_side: "above", "below" or "either" wanted, got "abov"; did you mean "above"?',
        ),
        ("kinds = []", f"kinds: list of 1 to 20 wanted (of {KINDS}), got an empty list"),
        ('kinds = "none"', f'kinds: {KINDS} wanted, got "none"'),
        (
            'kinds = ["link", "link"]',
            'kinds: each only once wanted, got "link" twice',
        ),
        (
            'acts = ["push", "hold_back"]',
            'acts: "push", "pull" or "hold-back" wanted, got "hold_back"; '
            'did you mean "hold-back"?',
        ),
        (
            'threads = ["3/8-16", "M10x"]',
            'threads: screw thread wanted (such as "3/8-16", "#10-24" or "M10x1.5"), got "M10x"',
        ),
        ("samples = 0", "samples: whole number from 1 to 10000000 wanted, got 0"),
        ("samples = 1e6", "samples: whole number from 1 to 10000000 wanted, got 1000000.0"),
        (
            "samples = 10000001",
            "samples: whole number from 1 to 10000000 wanted, got 10000001",
        ),
        (
            'seed = "1"',
            'seed: whole number from 0 to 4294967295 wanted, without quotes, got "1"',
        ),
        ("seed = 4294967296", "seed: whole number from 0 to 4294967295 wanted, got 4294967296"),
        ("seed = -1", "seed: whole number from 0 to 4294967295 wanted, got -1"),
        (
            'bolt_beside_motor = "yes"',
            'bolt_beside_motor: true or false wanted, without quotes, got "yes"',
        ),
        ("seed = true", "seed: whole number from 0 to 4294967295 wanted, got true"),
        ("leverage = 1.0", "leverage: number from 0 to 0.95 wanted, got 1.0"),
        ('clearance = "-1 in"', 'clearance: length zero or more wanted, got "-1 in"'),
        ("clearance = 1", f"clearance: number without a unit: 1; {ROOM}"),
        (
            'bolt_length = "0 in"',
            'bolt_length: length above zero wanted, got "0 in"',
        ),
        (
            'hinge = "0 in"',
            "hinge: unknown key 'hinge' here; it belongs in [plate], [limits] or [build]",
        ),
        ("sample = 3", "sample: unknown key 'sample'; did you mean 'samples'?"),
    ],
)  # fmt: skip
def test_a_wrong_key_is_one_line(line, message):
    key = line.split(" = ", maxsplit=1)[0]
    kept = [old for old in LEAST.splitlines() if not old.startswith(f"{key} =")]
    assert told(JACK_IN_BASE + "\n".join([*kept, line, ""])) == [f"search.{message}"]


@pytest.mark.parametrize(
    ("lines", "message"),
    [
        ('name = "leg"', f": missing: box {BOX[28:]} or polygon (three or more such corners in "
         "order)"),
        (
            'box = [["1 in", "9 in"], ["2 in", "10 in"]]\n'
            'polygon = [["1 in", "9 in"], ["2 in", "9 in"], ["2 in", "10 in"]]',
            ".polygon: box or polygon wanted, got both",
        ),
        ('box = [["1 in", "9 in"]]', f".box: {BOX}, got a list of 1"),
        ('box = "floor"', f'.box: {BOX}, got "floor"'),
        (
            'box = [["1 in", "9 in"], ["2 in", "9 in"]]',
            ".box: a box with some width and height wanted: its corners lie on one line",
        ),
        (
            'box = [["1 in", "9 in"], ["2 in", "9"]]',
            '.box: corner 2: y: number without a unit: "9"; length wanted (such as "14 1/2 in" '
            'or "370 mm")',
        ),
        ('polygon = [["1 in", "9 in"], ["2 in", "9 in"]]', f".polygon: {POLYGON}, got a list of 2"),
        (
            'polygon = [["1 in", "9 in"], ["2 in", "9 in"], ["1 in", "9 in"]]',
            ".polygon: an outline with some area wanted: its corners lie on one line",
        ),
        (
            'polygon = [["1 in", "9 in"], ["4 in", "9 in"], ["1 in", "11 in"], ["4 in", "12 in"]]',
            ".polygon: an outline that does not meet itself wanted, its corners in order: the "
            "edge from corner 2 meets the one from corner 4",
        ),
        (
            f"polygon = [{201 * CORNER}]",
            ".polygon: at most 200 corners wanted, got 201",
        ),
        (
            'box = [["1 in", "9 in"], ["2 in", "10 in"]]\nparts = ["bolt", "hinge"]',
            '.parts: "plate", "motor", "bolt" or "belt" wanted, got "hinge"',
        ),
        (
            'box = [["-1 in", "-1 in"], ["2 in", "1 in"]]',
            ": it holds the driven shaft, so that no belt could clear it; if the belt runs in "
            'front of it, say what it bars: parts = ["plate", "motor", "bolt"]',
        ),
        (
            'box = [["-1 in", "-1 in"], ["2 in", "1 in"]]\nparts = ["belt"]',
            ": it holds the driven shaft, so that no belt could clear it; if the belt runs in "
            'front of it, say what it bars: parts = ["plate", "motor", "bolt"]',
        ),
    ],
)  # fmt: skip
def test_a_wrong_keep_out_is_one_line(lines, message):
    assert told(f"{JACK_IN_BASE}[[keep_out]]\n{lines}\n") == [f"keep_out[1]{message}"]


def test_ground_behind_the_belt_may_hold_the_driven_shaft():
    text = '[[keep_out]]\nbox = [["-1 in", "-1 in"], ["2 in", "1 in"]]\nparts = ["plate"]\n'
    keep_out, _ = space_of(LEAST + text).keep_outs
    assert keep_out.parts == (BarredPart.PLATE,)


def test_two_keep_outs_of_one_name_and_a_single_bracket():
    box = 'box = [["1 in", "9 in"], ["2 in", "10 in"]]\n'
    text = JACK_IN_BASE + 2 * f'[[keep_out]]\nname = "leg"\n{box}'
    count = JACK_IN_BASE.count("\n")
    assert told_with_lines(text) == [
        f'f.toml:{count + 5}: keep_out[2].name: a keep-out named "leg" is there already'
    ]
    assert told(f"{JACK_IN_BASE}[keep_out]\n{box}") == [
        "keep_out: write [[keep_out]] over each of them, got a table"
    ]
    (line,) = told(JACK_IN_BASE + 2 * f"[keep_out]\n{box}")
    assert line == (
        f"not valid TOML: [keep_out] on line {count + 1} has single brackets; write [[keep_out]] "
        "over each of them"
    )


def test_at_most_fifty_keep_outs():
    one = '[[keep_out]]\nbox = [["1 in", "9 in"], ["2 in", "10 in"]]\n'
    assert len(space_of(LEAST + 50 * one).keep_outs) == 51  # and the driven shaft
    assert told(JACK_IN_BASE + 51 * one) == [
        "keep_out[51]: at most 50 [[keep_out]] wanted, found 51"
    ]


def test_threads_are_wanted_where_the_adjuster_has_none():
    message = 'search: threads missing (such as ["3/8-16", "3/8-24"]), since [adjuster] has no '
    assert told(WEIGHT_ALONE + LEAST) == [f"{message}thread"]
    free = changed(LINK, ('thread = "M10x1.5"', 'advance_per_turn = "1 mm"'))
    assert told(free + LEAST) == [f"{message}thread"]
    assert parse_search(WEIGHT_ALONE + LEAST + 'threads = "M10"\n').space.threads[0].name == "M10"


def test_a_screw_through_the_plate_cannot_pull():
    lines = 'kinds = ["jack-in-plate"]\nacts = ["pull"]\n'
    assert told(JACK_IN_BASE + LEAST + lines) == [
        'search.acts: a "jack-in-plate" cannot pull: the tip bears on a fixed face; allow "push" '
        'or "hold-back", or another kind'
    ]
    assert space_of(LEAST + lines.replace('"jack-in-plate"', '"jack-in-plate", "link"'))


GRID = st.tuples(*2 * [st.integers(-4, 4).map(float)])


@given(st.lists(GRID, min_size=3, max_size=8))
def test_outlines_are_simple_as_shapely_has_it(corners):
    polygon = shapely.Polygon(corners)
    if polygon.area == 0:
        return
    # A corner given twice running is no mistake to shapely, but is one here.
    doubled = any(a == b for a, b in zip(corners, corners[1:] + corners[:1], strict=True))
    assert (crossing_edges(corners) is None) == (polygon.is_valid and not doubled)


@given(st.lists(GRID, min_size=3, max_size=8), st.tuples(*2 * [st.floats(-4, 4)]))
def test_area_and_what_lies_within_as_shapely_has_it(corners, point):
    polygon = shapely.Polygon(corners)
    if polygon.is_valid and polygon.boundary.distance(shapely.Point(point)) > 1e-9:
        assert abs(area(corners)) == pytest.approx(polygon.area)
        assert contains(corners, point) == polygon.contains(shapely.Point(point))


def test_a_keep_out_bars_everything_unless_told():
    assert KeepOut("leg", ((0.0, 0.0), (1.0, 0.0), (0.0, 1.0))).parts == tuple(BarredPart)


def test_belts_of_the_same_section_keep_what_is_known_of_the_scenarios_own():
    search = parse_search(JACK_IN_BASE + LEAST + 'belts = ["A54", "a60", "SPZ 1500"]\n')
    own = search.scenario.belt
    first, second, other = (choice.belt for choice in search.space.belts)
    assert [choice.designation for choice in search.space.belts] == ["A54", "A60", "SPZ 1500"]
    for belt, inside in ((first, 54), (second, 60)):
        assert belt.length == pytest.approx((inside + 1.3) * INCH, abs=2e-3)
        assert (belt.stiffness, belt.mass, belt.count) == (own.stiffness, own.mass, own.count)
        assert belt.section == own.section == "A"
    assert other.section == "SPZ"
    assert other.length == pytest.approx(1.5, abs=1e-2)
    assert other.stiffness != own.stiffness
    assert any("A60 is taken to have a pitch length" in note for note in search.scenario.notes)
    assert any("taken for section SPZ" in note for note in search.scenario.notes)


@pytest.mark.parametrize(("power", "is_idle"), [("0 hp", True), ("3 W", True), ("5 W", False)])
def test_a_search_wants_power(power, is_idle):
    text = changed(JACK_IN_BASE, ('power = "0.4 hp"', f'power = "{power}"')) + LEAST
    wanted = [
        "driven.power: a search wants the power that the machine takes at work, 1 % of "
        "motor.power or more"
    ]
    if is_idle:
        assert told(text) == wanted
    else:
        parse_search(text)
    parse_scenario(text.removesuffix(LEAST))


def test_a_belt_that_is_none_is_one_line():
    assert told(JACK_IN_BASE + LEAST + 'belts = ["A54", "round"]\n') == [
        'search.belts: designation of a belt wanted (such as "A54", "4L560", "SPZ 1250" or '
        '"3V560"), got "round"'
    ]


def test_a_search_does_not_put_the_motor_into_its_plate():
    """Frame 56 has its shaft 3 1/2 in over its feet (NEMA MG 1, D)."""
    framed = changed(JACK_IN_BASE, ("[motor]", '[motor]\nframe = "56"'))
    low = changed(LEAST, ('motor_height = ["3 in"', 'motor_height = ["2 in"'))
    assert told(framed + low) == [
        "search.motor_height: from 2.625 in (66.67 mm) on wanted, the radius that the body of "
        "frame NEMA 56 has at least (estimate; its shaft height is 3.5 in (88.9 mm)), got 2 in "
        "(50.8 mm)"
    ]
    assert parse_search(framed + LEAST).space.motor_height[0] == pytest.approx(3 * INCH)

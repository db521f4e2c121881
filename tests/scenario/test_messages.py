"""What a user is told about each kind of mistake: the texts themselves."""

import time
import tomllib

import messages
import pytest
from invented_scenarios import JACK_IN_BASE, LINK, WEIGHT_ALONE, changed
from messages import told_with_lines as told

from mountcalc.scenario.reader import parse_scenario

THIRD_BEARING = """
[[driven.bearing]]
position = "5 in"
journal_diameter = "1 in"
length = "2 in"
limit = "20 psi"
"""
LENGTH_WANTED = 'length wanted (such as "14 1/2 in" or "370 mm")'
BELT_KEYS = (
    "designation, section, drive, count, length, joint, width, thickness, stiffness, "
    "stiffness_factor, mass and traction"
)
OPEN_ONLY = "are not computed: mountcalc computes open belts on two pulleys only"


def told_without_lines(*changes, base=JACK_IN_BASE, add=""):
    return messages.told(changed(base, *changes, add=add))


def test_four_mistakes_are_four_problems_in_the_order_of_the_file():
    text = changed(
        JACK_IN_BASE,
        ('length = "60.3 in"', 'lenght = "60.3 in"'),
        ('pulley_diameter = "3 in"', 'pulley_diameter = "-3 in"'),
        ('["-12 deg", "12 deg"]', '["12 deg", "-12 deg"]'),
        add=THIRD_BEARING,
    )
    assert told(text) == [
        'f.toml:34: motor.pulley_diameter: length above zero wanted, got "-3 in"',
        "f.toml:44: belt.lenght: unknown key 'lenght'; did you mean 'length'?",
        "f.toml:51: plate.travel: the smaller angle first and a larger one second wanted, "
        'got ["12 deg", "-12 deg"]',
        "f.toml:63: driven.bearing[3]: exactly two [[driven.bearing]] wanted, found 3",
    ]


def test_overlap_is_found_though_a_key_that_it_needs_is_misspelt_and_another_is_bad():
    assert told_without_lines(
        ('pulley_diameter = "9 in"', 'pully_diameter = "90 in"'),
        ('power = "1/2 hp"', 'power = "1/2 hq"'),
    ) == [
        "driven.pully_diameter: unknown key 'pully_diameter'; did you mean 'pulley_diameter'?",
        "motor.shaft: the pulleys overlap as drawn: the shafts are 20.4 in (518.1 mm) apart, "
        "the pulleys' radii add up to 46.5 in (1181 mm)",
        'motor.power: unit not known: "hq" (near: "hp") in "1/2 hq"; '
        'power wanted (such as "3/4 hp" or "550 W")',
    ]


def test_a_misspelt_table_is_one_problem():
    (line,) = told_without_lines(("[driven]", "[drivn]"))
    assert line == "drivn: unknown key 'drivn'; did you mean 'driven'?"


def test_a_wrong_value_in_a_misspelt_table_is_found_too():
    lines = told(changed(JACK_IN_BASE, ("[motor]", "[moter]"), ('"28 lb"', '"28 in"')))
    assert lines == [
        "f.toml:32: moter: unknown key 'moter'; did you mean 'motor'?",
        'f.toml:38: moter.weight: weight or force wanted (such as "30 lb" or "140 N"), '
        'got a length: "28 in"',
    ]


@pytest.mark.parametrize(
    ("change", "message"),
    [
        (
            ('length = "60.3 in"', 'length = "12 lbf"'),
            f'belt.length: {LENGTH_WANTED}, got a force: "12 lbf"',
        ),
        (
            ('length = "60.3 in"', "length = 60.3"),
            f"belt.length: number without a unit: 60.3; {LENGTH_WANTED}",
        ),
        (
            ('length = "60.3 in"', "length = inf"),
            f"belt.length: {LENGTH_WANTED}, got inf, which is no finite number",
        ),
        (
            ('length = "60.3 in"\n', ""),
            f"belt.length: missing: {LENGTH_WANTED}, the pitch length when free, or else "
            'designation (such as "A54")',
        ),
        (
            ("starting_factor = 1.5", 'starting_factor = "1.5"'),
            "driven.starting_factor: plain number wanted (above 0 to 20), without quotes or unit, "
            'got "1.5"',
        ),
        (
            ("starting_factor = 1.5", "starting_factor = true"),
            "driven.starting_factor: plain number wanted (above 0 to 20), got true",
        ),
        (
            ("starting_factor = 1.5", "starting_factor = nan"),
            "driven.starting_factor: number above 0 to 20 wanted, got nan",
        ),
        (
            ("traction = 0.51", "traction = 0"),
            "belt.traction: number above 0 to 5 wanted, got 0",
        ),
        (
            ("traction = 0.51", f"traction = 1{'0' * 400}"),
            "belt.traction: number above 0 to 5 wanted, got a huge number",
        ),
        (("count = 1", "count = 0"), "belt.count: whole number from 1 to 20 wanted, got 0"),
        (("count = 1", "count = 1.0"), "belt.count: whole number from 1 to 20 wanted, got 1.0"),
        (
            ("count = 1", 'count = "1"'),
            'belt.count: whole number from 1 to 20 wanted, without quotes, got "1"',
        ),
        (
            ("count = 1", "stiffness_factor = 0.5"),
            "belt.stiffness_factor: number from 1 to 20 wanted, got 0.5",
        ),
        (
            ('rotation = "ccw"', 'rotation = "CCW"'),
            'motor.rotation: "ccw", "cw" or "both" wanted (as seen facing the motor\'s pulley; a '
            'nameplate may mean the other end), got "CCW"; did you mean "ccw"?',
        ),
        (
            ('rotation = "ccw"\n', ""),
            'motor.rotation: missing: "ccw", "cw" or "both" wanted (as seen facing the motor\'s '
            "pulley; a nameplate may mean the other end)",
        ),
        (
            ('direction = "down"', 'direction = "dwon"'),
            'driven.load[1].direction: a direction is "right", "up", "left", "down" or an angle: '
            'angle wanted (such as "-15 deg" or "0.2 rad"), got "dwon"; did you mean "down"?',
        ),
        (
            ('shaft = ["0 in", "0 in"]', 'shaft = ["0 in"]'),
            'driven.shaft: point wanted (such as ["-20 in", "-4 in"]: x to the right, y up), '
            "got a list of 1",
        ),
        (
            ('shaft = ["0 in", "0 in"]', 'shaft = ["0 in", "0 lb"]'),
            f'driven.shaft: y: {LENGTH_WANTED}, got a mass: "0 lb"',
        ),
        (
            ('travel = ["-12 deg", "12 deg"]', 'travel = ["-12 deg", "190 deg"]'),
            'plate.travel: angles from -180 deg to 180 deg wanted, got ["-12 deg", "190 deg"]',
        ),
        (
            ('name = "far end"', r'name = "far\n\u001b[31mend"'),
            "driven.bearing[2].name: one line of text without control characters wanted, "
            r'got "far\n\x1b[31mend"',
        ),
        (
            ('name = "far end"', f'name = "{"x" * 500}"'),
            f'driven.bearing[2].name: text of at most 120 characters wanted, got "{"x" * 39}…"',
        ),
        (('title = "Invented mill"', 'title = ""'), 'title: text wanted, got ""'),
        (
            ('shaft = ["-20 in", "-4 in"]', 'shaft = ["0 in", "0 in"]'),
            "motor.shaft: the motor's shaft and the driven shaft are at the same place",
        ),
        (
            ('position = "14 in"', 'position = "0 in"'),
            "driven.bearing[2].position: both bearings are at the same place along the shaft",
        ),
        (
            ('starting_limit = "50 psi"', 'starting_limit = "20 psi"'),
            "driven.bearing[1].starting_limit: a starting limit below the limit itself",
        ),
        (
            ('starting_limit = "50 psi"', 'starting_limit = "93 lbf"'),  # 25 psi is 93.75 lbf
            "driven.bearing[1].starting_limit: a starting limit below the limit itself",
        ),
        (
            ('weight = "6 lb"\ncenter_of_mass = ["-23 1/2 in", "-6 in"]', 'weight = "6 lb"'),
            'plate.center_of_mass: missing: point wanted (such as ["-20 in", "-4 in"]), '
            "since the plate has a weight",
        ),
        (
            ('section = "A"\ncount = 1', "count = 1\ndrive = 1"),
            'belt.drive: "open" wanted, got 1',
        ),
        (
            ('face = "up"', 'face = "right"'),
            "adjuster.axis: the bolt moves along the face that its tip bears on (within 3 "
            "degrees): it would slide instead of pushing; face is the direction along the face, "
            "not square to it",
        ),
        (
            ('thread = "3/8-16"\n', ""),
            'adjuster.thread: missing: screw thread (such as "3/8-16" or "M10x1.5"), '
            "or else advance_per_turn",
        ),
        (
            ('thread = "3/8-16"', 'base_pin = ["0 in", "0 in"]\nthread = "3/8-16"'),
            'adjuster.base_pin: \'base_pin\' is a key of kind "link", not of kind "jack-in-base"',
        ),
        (
            ('thread = "3/8-16"', 'stiffness = "30 mm"\nthread = "3/8-16"'),
            'adjuster.stiffness: force per length wanted (such as "300 N/mm" or "1700 lbf/in"), '
            'got a length: "30 mm"',
        ),
        (
            ("traction = 0.51", 'traction = 0.51\nhinge = "x"'),
            "belt.hinge: unknown key 'hinge' here; it belongs in [plate], [limits] or [build]",
        ),
        (
            ("traction = 0.51", "traction = 0.51\ncolour = 1"),
            f"belt.colour: unknown key 'colour'; known are {BELT_KEYS}",
        ),
        (
            ("traction = 0.51", 'traction = 0.51\n"a\\nb" = 1'),
            rf"belt.'a\nb': unknown key 'a\nb'; known are {BELT_KEYS}",
        ),
        (("[plate]", "[[plate]]"), "plate: table [plate] wanted, got a list of 1"),
    ],
)
def test_one_mistake_is_one_line(change, message):
    assert told_without_lines(change) == [message]


def test_bearings():
    first, rest = JACK_IN_BASE.split("[[driven.bearing]]", 1)
    second = rest.split("[[driven.bearing]]", 1)[1]
    assert told_without_lines(base=first + "[[driven.bearing]]" + second) == [
        "driven.bearing: exactly two [[driven.bearing]] wanted, found 1"
    ]
    assert told_without_lines(base=first + "[[driven.load]]" + second.split("[[driven.load]]")[1])[
        0
    ] == ("driven.bearing: missing: exactly two [[driven.bearing]] wanted")
    inline = told_without_lines(base='driven.bearing = {position = "0 in"}\n')
    assert "driven.bearing: write [[driven.bearing]] over each of them, got a table" in inline


def test_missing_tables():
    assert told('title = "x"') == [
        f"f.toml: {name}: missing table [{name}]"
        for name in ("driven", "motor", "belt", "plate", "adjuster")
    ]


def test_belt_without_data():
    missing = ('stiffness = "12000 lbf"\nmass = "0.1 kg/m"\n', "")
    stiffness = (
        'stiffness (force that would stretch one belt to twice its length (such as "12000 lbf"))'
    )
    mass = 'mass (mass of one belt per length (such as "0.1 kg/m"))'
    assert told_without_lines(missing, ('section = "A"\n', "")) == [
        f'belt: section missing (such as "A"), or else {stiffness} and {mass}'
    ]
    (line,) = told_without_lines(missing, ('section = "A"', 'section = "Q"'))
    assert line.startswith('belt.section: nothing is known of section "Q" (known: A, AX, B, ')
    assert line.endswith(f"so give {stiffness} and {mass}")


def test_keys_of_a_link_and_of_no_adjuster():
    wrong_kind = told_without_lines(('kind = "jack-in-base"', 'kind = "none"'))
    assert "adjuster.thread: an adjuster of kind \"none\" has no 'thread'" in wrong_kind
    assert len(wrong_kind) == 5
    assert told_without_lines(('plate_pin = ["660 mm", "-50 mm"]\n', ""), base=LINK) == [
        "adjuster.plate_pin: missing: the point of the pin in the plate as drawn "
        '(such as ["4 in", "-1 in"])'
    ]
    assert told_without_lines(('["660 mm", "-50 mm"]', '["900 mm", "-200 mm"]'), base=LINK) == [
        "adjuster.plate_pin: both pins of the link are at the same place"
    ]
    assert told_without_lines(('["660 mm", "-50 mm"]', '["650 mm", "-300 mm"]'), base=LINK) == [
        "adjuster.plate_pin: a pin of the link is on the hinge: it turns nothing"
    ]


@pytest.mark.parametrize(
    ("change", "message"),
    [
        (("count = 1", 'drive = "crossed"'), f"belt.drive: crossed belts {OPEN_ONLY}"),
        (
            ("count = 1", 'drive = "quarter turn"'),
            f"belt.drive: quarter-turn belts {OPEN_ONLY}",
        ),
        (("count = 1", 'type = "Crossed"'), f"belt.type: crossed belts {OPEN_ONLY}"),
        (("count = 1", "crossed = true"), f"belt.crossed: crossed belts {OPEN_ONLY}"),
        (
            ("[plate]", '[idler]\ndiameter = "2 in"\n[plate]'),
            f"idler: drives with an idler (a jockey or tensioner pulley) {OPEN_ONLY}",
        ),
        (
            ("[plate]", '[third_pulley]\nwhat = ["jockey"]\n[plate]'),
            f"third_pulley: drives with an idler (a jockey or tensioner pulley) {OPEN_ONLY}",
        ),
    ],
)
def test_drives_that_are_not_computed_are_named(change, message):
    assert told_without_lines(change) == [message]


def test_a_title_may_speak_of_them():
    assert parse_scenario(changed(JACK_IN_BASE, ("Invented mill", "No idler here"))).title


def test_weight_alone_takes_no_thread():
    assert told_without_lines(base=WEIGHT_ALONE, add='thread = "M10"\n') == [
        "adjuster.thread: an adjuster of kind \"none\" has no 'thread'"
    ]


@pytest.mark.parametrize("power", ["0 hp", "0 W", "1e-9 hp", "0.9 W", "1e-300 hp"])
def test_a_motor_of_no_power_is_told_with_its_line(power):
    (line,) = told(changed(JACK_IN_BASE, ('power = "1/2 hp"', f'power = "{power}"')))
    at = JACK_IN_BASE[: JACK_IN_BASE.index('power = "1/2 hp"')].count("\n") + 1
    assert line == f'f.toml:{at}: motor.power: power of 1 W or more wanted, got "{power}"'


def test_very_many_unknown_keys_are_told_quickly():
    """In time to what the TOML reader itself takes, so that a busy machine is no fault."""
    text = "".join(f"unknown_key_{number} = {number}\n" for number in range(25_000))
    whole = text + JACK_IN_BASE
    start = time.process_time()
    tomllib.loads(whole)
    middle = time.process_time()
    lines = told(whole)
    end = time.process_time()
    assert lines[0].startswith("f.toml:1: unknown_key_0: unknown key 'unknown_key_0'; known are ")
    assert lines[-1] == "f.toml: and 24950 more problems"
    assert len(lines) == 51
    assert end - middle < 12 * (middle - start)


def test_many_problems_are_cut():
    lines = told("\n".join(f"x{number} = 1" for number in range(200)))
    assert lines[-1] == "f.toml: and 155 more problems"
    assert len(lines) == 51


@pytest.mark.parametrize(
    ("old", "typed", "meant"),
    [
        ('rotation = "ccw"', "clockwise", "cw"),
        ('rotation = "ccw"', "counterclockwise", "ccw"),
        ('rotation = "ccw"', "Counter-Clockwise", "ccw"),
        ('rotation = "ccw"', "anticlockwise", "ccw"),
        ('kind = "jack-in-base"', "turnbuckle", "link"),
        ('display = "inch"', "imperial", "inch"),
    ],
)
def test_words_of_the_trade_for_words_of_ours(old, typed, meant):
    key = old.partition(" ")[0]
    (line,) = told_without_lines((old, f'{key} = "{typed}"'))
    assert line.endswith(f'got "{typed}"; did you mean "{meant}"?')

"""What a scenario may say of the bearings' boxes and of the shaft: values, defaults, messages."""

import math
import re
from pathlib import Path

import pytest
from invented_scenarios import JACK_IN_BASE, LINK, REVERSING, changed
from messages import told

import mountcalc
from mountcalc.scenario.reader import parse_scenario
from mountcalc.scenario.text import named as bearing_services
from mountcalc.scenario.text.named import Oil, known_services

INCH = 0.0254
SERVICES = ("line shaft", "light machine")


@pytest.fixture
def services(monkeypatch):
    """Services of our own, so that the messages do not hang on the data file."""
    monkeypatch.setattr(bearing_services, "known_services", lambda: SERVICES)


def with_box(lines):
    """The inch scenario, the second bearing having more keys."""
    return changed(JACK_IN_BASE, ('limit = "90 lbf"\n', f'limit = "90 lbf"\n{lines}\n'))


def test_every_key():
    driven = parse_scenario(REVERSING).driven
    first, second = driven.bearings
    assert first.clearance == pytest.approx(0.003 * INCH)
    assert first.cap_direction == pytest.approx(math.pi / 2)
    assert first.cap_dowelled is True
    assert (first.service, second.service) == ("light-line-shaft", None)
    assert first.groove_direction == pytest.approx(0.75 * math.pi)
    assert (second.clearance, second.cap_direction, second.groove_direction) == (None, None, None)
    assert driven.shaft_diameter == pytest.approx(1.1875 * INCH)
    assert driven.oil == Oil(68.0, pytest.approx(323.15))


def test_defaults():
    driven = parse_scenario(LINK).driven
    assert (driven.shaft_diameter, driven.oil) == (None, None)
    for bearing in driven.bearings:
        assert bearing.clearance is bearing.cap_direction is bearing.groove_direction is None
        assert bearing.service is None
        assert bearing.cap_dowelled is False


def test_a_cap_is_not_dowelled_unless_said():
    bearing = parse_scenario(with_box('cap_direction = "left"')).driven.bearings[1]
    assert (bearing.cap_direction, bearing.cap_dowelled) == (math.pi, False)
    bearing = parse_scenario(with_box('cap_direction = "30 deg"\ncap_dowelled = false'))
    assert bearing.driven.bearings[1].cap_direction == pytest.approx(math.pi / 6)


def test_a_clearance_just_below_a_tenth_of_the_journal():
    bearing = parse_scenario(with_box('clearance = "0.1249 in"')).driven.bearings[1]
    assert bearing.clearance == pytest.approx(0.1249 * INCH)


@pytest.mark.usefixtures("services")
def test_service():
    bearing = parse_scenario(with_box('service = "line shaft"')).driven.bearings[1]
    assert bearing.service == "line shaft"
    assert told(with_box('service = "line_shafts"')) == [
        'driven.bearing[2].service: "line shaft" or "light machine" wanted, got "line_shafts"; '
        'did you mean "line shaft"?'
    ]
    assert told(with_box("service = 3")) == [
        'driven.bearing[2].service: "line shaft" or "light machine" wanted, got 3'
    ]


@pytest.mark.parametrize("service", known_services())
def test_every_service_of_the_data_file_is_taken(service):
    bearing = parse_scenario(with_box(f'service = "{service}"')).driven.bearings[1]
    assert bearing.service == service


def test_the_services_are_the_rows_of_the_data_file():
    path = Path(mountcalc.__file__).parent / "data" / "bearing_services.toml"
    rows = re.findall(r"^\[service\.([a-z-]+)\]$", path.read_text("utf-8"), re.MULTILINE)
    assert list(known_services()) == rows
    assert len(rows) > 3


TOO_WIDE = (
    "driven.bearing[2].clearance: clearance below a tenth of the journal's diameter wanted, got "
    "{} m for 0.03175 m (it is the bore's diameter less the journal's)"
)
DIRECTION = 'a direction is "right", "up", "left", "down" or an angle: '
ANGLE_WANTED = 'angle wanted (such as "-15 deg" or "0.2 rad")'
CAP_WANTED = (
    "driven.bearing[2].cap_dowelled: goes with cap_direction only: give the side of the shaft "
    'that the cap is on (such as "up")'
)


@pytest.mark.parametrize(
    ("lines", "message"),
    [
        ('clearance = "1/8 in"', TOO_WIDE.format("0.003175")),
        ('clearance = "1 in"', TOO_WIDE.format("0.0254")),
        (
            'clearance = "0 in"',
            'driven.bearing[2].clearance: length above zero wanted, got "0 in"',
        ),
        (
            "clearance = 0.002",
            "driven.bearing[2].clearance: number without a unit: 0.002; length wanted (such as "
            '"0.002 in" or "0.05 mm")',
        ),
        (
            'cap_direction = "upp"',
            f'driven.bearing[2].cap_direction: {DIRECTION}{ANGLE_WANTED}, got "upp"; did you mean '
            '"up"?',
        ),
        (
            "groove_direction = 90",
            f"driven.bearing[2].groove_direction: {DIRECTION}number without a unit: 90; "
            f"{ANGLE_WANTED}",
        ),
        ("cap_dowelled = true", CAP_WANTED),
        ("cap_dowelled = false", CAP_WANTED),
        (
            'cap_direction = "up"\ncap_dowelled = 1',
            "driven.bearing[2].cap_dowelled: true or false wanted, got 1",
        ),
        (
            'cap_direction = "up"\ncap_doweled = true',
            "driven.bearing[2].cap_doweled: unknown key 'cap_doweled'; did you mean "
            "'cap_dowelled'?",
        ),
        (
            'clearence = "0.002 in"',
            "driven.bearing[2].clearence: unknown key 'clearence'; did you mean 'clearance'?",
        ),
        (
            'shaft_diameter = "1 in"',
            "driven.bearing[2].shaft_diameter: unknown key 'shaft_diameter' here; it belongs in "
            "[driven]",
        ),
    ],
)
def test_one_mistake_is_one_line(lines, message):
    assert told(with_box(lines)) == [message]


def test_a_bad_journal_hides_no_other_mistake_and_makes_none():
    text = changed(
        with_box('clearance = "1 in"\ncap_dowelled = true'),
        ('position = "14 in"\njournal_diameter = "1 1/4 in"', 'position = "14 in"'),
    )
    assert told(text) == [
        "driven.bearing[2].journal_diameter: missing: length wanted, of the shaft in it (such as "
        '"14 1/2 in" or "370 mm")',
        CAP_WANTED,
    ]


def test_a_wrong_shaft_diameter_is_one_line():
    assert told(changed(REVERSING, ('"1 3/16 in"', '"-1 in"'))) == [
        'driven.shaft_diameter: length above zero wanted, got "-1 in"'
    ]


def test_a_missing_limit_is_told_by_the_state_of_the_box():
    """Machinery's Handbook, allowable sleeve bearing pressures, from memory; MPTA 401."""
    assert told(changed(JACK_IN_BASE, ('limit = "90 lbf"\n', ""))) == [
        "driven.bearing[2].limit: missing: pressure or load wanted, at rest and running (such as "
        '"25 psi" or "90 lbf"); '
        "usual are 15 to 35 psi (0.1 to 0.24 MPa) in an old, worn or unknown box (from memory), "
        "100 to 150 psi (0.69 to 1 MPa) in a sound one, scraped in and oiled (from memory) or 145 "
        "to 200 psi (1 to 1.4 MPa) in a new one of babbitt, as rated (published)"
    ]


@pytest.mark.parametrize(
    ("typed", "meant"),
    [("lathes", "lathe"), ("line-shaft", "light-line-shaft"), ("grinders", "grinder"),
     ("saws", "saw"), ("bronze", "bronze-box"), ("wooden-box", "wood-box")],
)  # fmt: skip
def test_services_of_the_bench(typed, meant):
    (line,) = told(with_box(f'service = "{typed}"'))
    assert line.endswith(f'did you mean "{meant}"?')
    assert parse_scenario(with_box(f'service = "{meant}"')).driven.bearings[1].service == meant

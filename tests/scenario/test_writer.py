"""Writing a scenario as a file: what is written reads as the same scenario, number by number."""

import dataclasses
import math
import re
import tomllib
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from invented_scenarios import (
    BASES,
    BUILD,
    FULL,
    JACK_IN_PLATE,
    LIMITS,
    REVERSING,
    TWO_BOLTS,
    WELL_MADE,
    changed,
)
from random_mounts import mounts
from sizes import examples

from mountcalc.scenario.model import BarredPart, KeepOut, Scenario
from mountcalc.scenario.reader import parse_scenario, read_scenario
from mountcalc.scenario.text.named import Oil
from mountcalc.scenario.text.writing import UNITS_TO_WRITE, Display, number_text, quoted
from mountcalc.scenario.writer import scenario_text
from mountcalc.units import si_factor

SHIPPED = sorted((Path(__file__).parents[2] / "scenarios").glob("*.toml"))
RELATIVE, ABSOLUTE = 1e-9, 1e-11


def differences(a, b, path="scenario"):
    """Where two scenarios differ by more than reading and writing may make them."""
    if dataclasses.is_dataclass(a) and type(a) is type(b):
        for field in dataclasses.fields(a):
            if field.name not in {"notes", "source", "given"}:
                name = f"{path}.{field.name}"
                yield from differences(getattr(a, field.name), getattr(b, field.name), name)
    elif isinstance(a, tuple) and isinstance(b, tuple) and len(a) == len(b):
        for index, pair in enumerate(zip(a, b, strict=True)):
            yield from differences(*pair, f"{path}[{index}]")
    elif isinstance(a, float) and isinstance(b, float):
        if not math.isclose(a, b, rel_tol=RELATIVE, abs_tol=ABSOLUTE):
            yield f"{path}: {a!r} {b!r}"
    elif type(a) is not type(b) or a != b or isinstance(a, tuple):
        yield f"{path}: {a!r} {b!r}"


def assert_comes_back(scenario):
    text = scenario_text(scenario)
    back = parse_scenario(text)
    assert list(differences(scenario, back)) == []
    # Nothing was left to a default; what is noted then is only what looks wrong, and what the
    # name of a belt stands for.
    looks_wrong = ("to have a pitch length of", "no plate is taken to be thicker")
    notes = [note for note in back.notes if not any(words in note for words in looks_wrong)]
    assert not any("taken" in note or "not given" in note for note in notes)
    return back


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
@pytest.mark.parametrize("display", Display)
def test_shipped_scenarios_come_back(path, display):
    scenario = replace(read_scenario(path), display=display)
    assert scenario_text(assert_comes_back(scenario)) == scenario_text(scenario)


BOUGHT = changed(
    JACK_IN_PLATE,
    ('length = "60.3 in"', 'designation = "A59"'),
    ("traction = 0.3", 'traction = 0.3\nshock = "medium"'),
    ('weight = "28 lb"', 'weight = "28 lb"\ntorque = "high"'),
)
FLAT = changed(
    JACK_IN_PLATE,
    (
        'section = "A"',
        'section = "flat leather"\njoint = "laced"\nwidth = "2 in"\nthickness = "5 mm"',
    ),
)
RATED = changed(
    JACK_IN_PLATE,
    ("traction = 0.3", "traction = 0.3\nservice_factor = 1.2"),
    ('position = "7 in"', 'on = "pulley"'),
)
PARTS = changed(
    FULL,
    ("layers = 2", 'layers = 2\ndirection = "89.9 deg"'),
    ('packing = "1/4 in"', 'packing = "1 mm"'),
)
TEXTS = {
    **BASES,
    "limits": JACK_IN_PLATE + LIMITS + BUILD,
    "bought": BOUGHT,
    "rated": RATED,
    "flat": FLAT,
    "parts": PARTS,
    "across": JACK_IN_PLATE + 'across = "-3 1/2 in"\n',
    "zero": JACK_IN_PLATE + "zero_turns = -0.3125\n",
    "spring": JACK_IN_PLATE
    + """
[adjuster.spring]
rate = "30 lbf/in"
free_length = "2 1/2 in"
stop = "1 1/2 in"
length_error = "1/64 in"
rate_error = 0.05
""",
    "stiffness": JACK_IN_PLATE + 'stiffness = "1700 lbf/in"\n',
    "made": WELL_MADE,
    "along": changed(
        FULL,
        ('acts = "push"\n', f'acts = "push"\n{TWO_BOLTS}'),
        ("number = 2", 'across = ["-2 1/4 in", "60 mm"]\nbase_screw = "#10 x 1 in"'),
        ('frame = "56"', 'frame = "56"\nphases = 3\nacross = "1/4 in"\ncenter_across = "-1 in"'),
    ),
}


@pytest.mark.parametrize("name", TEXTS)
def test_every_key_comes_back(name):
    assert_comes_back(parse_scenario(TEXTS[name]))


def test_a_belt_that_is_not_as_long_as_its_name_says_is_written_by_its_length():
    scenario = parse_scenario(BOUGHT)
    worn = replace(scenario, belt=replace(scenario.belt, length=scenario.belt.length * 1.01))
    back = parse_scenario(scenario_text(worn)).belt
    assert (back.designation, back.section) == (None, "A")
    assert back.length == pytest.approx(worn.belt.length, rel=1e-12)


def filled(instance):
    """Names of the fields of a scenario's parts that are not None."""
    for field in dataclasses.fields(instance):
        value = getattr(instance, field.name)
        for one in value if isinstance(value, tuple) else (value,):
            if dataclasses.is_dataclass(one):
                yield from filled(one)
        if value not in (None, ()):
            yield f"{type(instance).__name__}.{field.name}"


def test_these_tests_write_every_field_that_there_is():
    written = {name for text in TEXTS.values() for name in filled(parse_scenario(text, "f.toml"))}
    ground = read_scenario(next(path for path in SHIPPED if path.stem == "polishing-lathe"))
    written |= set(filled(ground))
    every = {
        f"{part.__name__}.{field.name}"
        for part in types_within(Scenario)
        for field in dataclasses.fields(part)
    }
    assert not every - written


def types_within(kind):
    """A dataclass and those that its fields are annotated with, by name."""
    from mountcalc.scenario import model
    from mountcalc.scenario import parts as parts_model

    yield kind
    named = vars(parts_model) | vars(model)
    for field in dataclasses.fields(kind):
        for name, one in named.items():
            if dataclasses.is_dataclass(one) and one is not kind and name in str(field.type):
                yield from types_within(one)


@settings(max_examples=examples(60))
@given(mounts())
def test_random_mounts_come_back(scenario):
    assert_comes_back(scenario)


LENGTHS = st.floats(-50, 50).filter(lambda x: abs(x) > 1e-9)


@settings(max_examples=examples(60))
@given(st.data())
def test_variants_of_shipped_scenarios_come_back(data):
    scenario = read_scenario(data.draw(st.sampled_from(SHIPPED)))
    scale = data.draw(st.floats(0.2, 5.0))
    driven, motor, plate = scenario.driven, scenario.motor, scenario.plate
    moved = (data.draw(LENGTHS), data.draw(LENGTHS))
    changed = replace(
        scenario,
        title=data.draw(TITLES),
        display=data.draw(st.sampled_from(Display)),
        driven=replace(
            driven,
            power=driven.power * scale,
            pulley_radius=driven.pulley_radius / (1 + scale),
            shaft_diameter=scale,
            oil=Oil(68.0, 273.15 + data.draw(st.floats(1.0, 119.0))),
        ),
        motor=replace(motor, speed=motor.speed * scale, center_of_mass=moved),
        plate=replace(plate, weight=scale * 7.0, travel=(-scale / 2, scale / 3)),
        belt=replace(scenario.belt, designation=None, length=scale, mass=scale / 7, count=3),
    )
    assert_comes_back(changed)


TITLES = (
    st.text(min_size=1, max_size=60).map(str.strip).filter(lambda text: text.isprintable() and text)
)


@pytest.mark.parametrize(
    "name",
    [
        'a "quoted" name',
        "C:\\new\\table",
        "# no comment",
        '"""',
        "[driven]",
        "it's ½ Zoll — größer",
        "\\u0041 {0.__class__} $HOME `ls` %s",
    ],
)
def test_names_are_written_so_that_nothing_in_them_counts(name):
    scenario = parse_scenario(REVERSING)
    first, second = scenario.driven.bearings
    load = replace(scenario.driven.loads[0], name=name)
    driven = replace(scenario.driven, bearings=(replace(first, name=name), second), loads=(load,))
    keep_out = KeepOut(name, ((0.0, 5.0), (1.0, 5.0), (1.0, 6.0)))
    named = replace(scenario, title=name, driven=driven, keep_outs=(keep_out,))
    text = scenario_text(named, [name])
    back = parse_scenario(text)
    assert back.title == back.driven.bearings[0].name == back.driven.loads[0].name == name
    assert tomllib.loads(text)["keep_out"][0]["name"] == name


@given(st.text())
def test_any_text_is_quoted(text):
    if any(0xD800 <= ord(char) <= 0xDFFF for char in text):
        return  # no text at all, for TOML
    assert tomllib.loads(f"name = {quoted(text)}") == {"name": text}
    assert "\n" not in quoted(text)


def test_a_remark_cannot_leave_its_line():
    text = scenario_text(parse_scenario(REVERSING), ["first\n[motor]\nseed = 1", ""])
    assert text.splitlines()[:2] == ["# first\\n[motor]\\nseed = 1", "#"]


def test_keep_outs_are_written():
    outline = ((0.0254, 0.508), (0.3048, 0.508), (0.3048, 0.7112))
    keep_out = KeepOut("leg", outline, (BarredPart.MOTOR, BarredPart.BELT))
    text = scenario_text(replace(parse_scenario(REVERSING), keep_outs=(keep_out,)))
    table = tomllib.loads(text)["keep_out"][0]
    assert table["parts"] == ["motor", "belt"]
    assert table["polygon"][0][0] == "1 in"
    inches = [[float(text.removesuffix(" in")) for text in at] for at in table["polygon"]]
    assert [[0.0254 * x, 0.0254 * y] for x, y in inches] == [
        pytest.approx(at, rel=1e-11) for at in outline
    ]
    assert parse_scenario(text)


def test_of_parts_only_what_is_said_is_written():
    text = scenario_text(parse_scenario(JACK_IN_PLATE))
    tables = tomllib.loads(text)
    assert not {"hinge", "guard", "base"} & tables.keys()
    assert not {"length", "width", "layers", "direction"} & tables["plate"].keys()
    assert not {"frame", "packing", "pulley_position"} & tables["motor"].keys()


@given(st.floats(1e-9, 1e9), st.sampled_from(["in", "mm", "rpm"]))
def test_a_number_that_was_read_is_written_the_same_again(value, unit):
    size = si_factor(unit)
    text = number_text(value / size)
    assert number_text(float(text) * size / size) == text


@pytest.mark.parametrize(
    ("inches", "text"),
    [
        (14.5, "14 1/2 in"),
        (-0.0625, "-1/16 in"),
        (0.0, "0 in"),
        (-3.0, "-3 in"),
        (60.3, "60.3 in"),
        (1 / 3, "1/3 in"),
        (1 / 32, "1/32 in"),
        (1 / 24, "1/24 in"),
        (15 + 47 / 64, "15 47/64 in"),
        (0.15, "0.15 in"),
        (math.pi, "3.14159265359 in"),
        (1e-15, "0 in"),
    ],
)
def test_inches(inches, text):
    assert UNITS_TO_WRITE[Display.INCH].write("position", inches * 0.0254) == f'"{text}"'


@pytest.mark.parametrize(
    ("kind", "value", "text"),
    [
        ("weight", 9.80665 * 2.2, "2.2 kg"),
        ("weight", 140.0, "140 N"),
        ("force", 54700.0, "54700 N"),
        ("pressure", 2e5, "0.2 MPa"),
        ("power", 370.0, "370 W"),
        ("power", 745.6998715822702, "1 hp"),
        ("speed", 150.79644737231007, "1440 rpm"),
        ("angle", math.radians(-10), "-10 deg"),
        ("power", 745.6998715822702 / 4, "0.25 hp"),
        ("force", 0.5 * 4.4482216152605, "0.5 lbf"),
        ("pressure", 25 * 6894.757293168362, "25 psi"),
        ("length", 0.3175, "317.5 mm"),
        ("length", 9.3 * 0.0254, "236.22 mm"),
        ("length", 1.2345 * 0.0254, "31.3563 mm"),
        ("rate", 3e5, "300 N/mm"),
        ("rate", 1700 * 4.4482216152605 / 0.0254, "1700 lbf/in"),
    ],
)
def test_metric_units_are_those_in_which_the_number_is_short(kind, value, text):
    assert UNITS_TO_WRITE[Display.METRIC].write(kind, value) == f'"{text}"'


def test_powers_may_be_kept_as_they_were_typed():
    scenario = parse_scenario(JACK_IN_PLATE)
    typed = {"driven.power": "0.250 hp", "motor.power": "186.424968 W"}
    tables = tomllib.loads(scenario_text(scenario, typed=typed))
    assert [tables[name]["power"] for name in ("driven", "motor")] == list(typed.values())


@pytest.mark.parametrize(
    ("kind", "value", "text"),
    [
        ("force", 54700.0, "54700 N"),  # as the data of its section have a stiffness
        ("length", 0.37, "370 mm"),
        ("length", 0.0635, "2 1/2 in"),
        ("weight", 8 * 9.80665, "8 kg"),
    ],
)
def test_what_has_a_short_text_only_in_the_other_units_has_that(kind, value, text):
    assert UNITS_TO_WRITE[Display.INCH].write(kind, value) == f'"{text}"'


@pytest.mark.parametrize("angle", [0.0, math.pi / 2, math.pi, -math.pi / 2])
def test_directions_with_a_name_are_written_by_it(angle):
    names = {'"right"', '"up"', '"left"', '"down"'}
    assert UNITS_TO_WRITE[Display.INCH].direction(angle) in names
    assert UNITS_TO_WRITE[Display.INCH].direction(angle + 1e-9) not in names


@given(st.floats(-1e12, 1e12))
def test_numbers_are_short_and_come_back(value):
    text = number_text(value)
    assert float(text) == pytest.approx(value, rel=1e-11, abs=0)
    assert len(text) <= 24


def test_numbers_of_the_handbook_are_told_in_the_file_s_units():
    """They keep the units that they are exact in; a person reads those of the file beside them."""
    (mill,) = (read_scenario(path) for path in SHIPPED if path.stem == "cider-mill")
    mill = mill.with_(belt={"stiffness": "54700 N", "mass": "0.1 kg/m"})
    text = mill.to_toml()
    assert re.search(r'stiffness = "54700 N" +# about 12300 lbf would stretch it to twice', text)
    assert re.search(r'mass = "0.1 kg/m" +# about 0.0672 lb/ft$', text, re.MULTILINE)
    metric = mill.with_(display="metric").to_toml()
    assert re.search(r'stiffness = "54700 N" +# force that would stretch it to twice', metric)

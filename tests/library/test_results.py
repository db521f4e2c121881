"""What the functions give: the same as the commands, whole, and as arrays."""

import csv
import io
import json
import math

import numpy as np
import pytest

import mountcalc as library

INCH = 0.0254
ASKED = {
    "table": (["--turns", "0:3:1/2"], lambda mount: library.table(mount, np.arange(0, 3.25, 0.5))),
    "setting": (["--remedies"], lambda mount: library.setting(mount, remedies=True)),
    "check": (["--turns", "1 1/2"], lambda mount: library.check(mount, 1.5)),
    "belts": ([], library.belts),
    "card": ([], library.card),
}


@pytest.mark.parametrize("command", ASKED)
def test_a_result_has_the_commands_json(mountcalc, cider, command):
    options, function = ASKED[command]
    printed = json.loads(mountcalc(command, cider, *options, "--json").out)
    result = function(library.read_scenario(cider)).to_dict()
    assert result == printed
    assert printed["mountcalc_version"] == library.__version__


def test_a_measurement_has_the_commands_json(mountcalc):
    printed = json.loads(mountcalc("measure", "--section", "A", "--outside", "62 in", "--json").out)
    question = library.MeasureQuestion(section="A", outside=62 * INCH, metric=False)
    assert library.measure(question).to_dict() == printed


def test_a_search_has_the_commands_json(mountcalc, cider):
    bench = cider.with_name("fretsaw-bench.toml")
    options = ("--samples", "512", "--count", "1", "--seed", "3", "--json")
    printed = json.loads(mountcalc("place", bench, *options).out)
    found = library.place(library.read_search(bench), samples=512, count=1, seed=3)
    assert found.placement.to_dict() == printed
    assert len(found.scenarios) == len(printed["layouts"])


def test_columns_are_the_rows(mountcalc, scenario_file):
    table = library.table(library.read_scenario(scenario_file))
    columns = table.columns()
    assert {column.shape for column in columns.values()} == {(len(table.rows),)}
    for index, row in enumerate(table.rows):
        for name, value in (
            ("tension", row.tension),
            ("plate_angle", row.plate_angle),
            ("running_grip", row.running.grip),
            ("starting_bearing_2_load", row.starting.bearings[1].load),
        ):
            assert columns[name][index] == pytest.approx(
                math.nan if value is None else value, rel=0, abs=0, nan_ok=True
            )
        assert columns["rest_state"][index] == row.rest.state
    # As many as the CSV has, whose names end in units.
    written = csv.reader(io.StringIO(mountcalc("table", scenario_file, "--csv", "-").out))
    header = next(written)
    assert len(header) == len(columns)
    assert all(long.startswith(short) for long, short in zip(header, columns, strict=True))


def test_figures_are_those_of_the_commands(cider):
    scenario = library.read_scenario(cider)
    plots = library.plot(scenario, turns=2)
    assert plots.loads.get_size_inches().tolist() != [0, 0]
    assert any("2 turns" in text.get_text() for text in plots.layout.texts)
    assert library.plot_setting(scenario).axes


def test_drawings_are_the_commands_files(mountcalc, cider, tmp_path):
    files = library.draw(
        library.read_scenario(cider), formats=["dxf", "svg"], only=["plate"], mirror=True
    )
    options = ("--format", "dxf,svg", "--only", "plate", "--mirror", "--out", tmp_path)
    assert mountcalc("draw", cider, *options).code == 0
    written = {path.name.removeprefix("cider-mill-") for path in tmp_path.iterdir()}
    assert set(files) == written
    svg = (tmp_path / "cider-mill-plate.svg").read_bytes()
    assert files["plate.svg"] == svg


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda mount: library.draw(mount, formats=["gif"]), "formats"),
        (lambda mount: library.draw(mount, sheet="a9"), "sheet"),
        (lambda mount: library.draw(mount, only=["plates"]), "only"),
        (lambda mount: library.table(mount, [math.nan]), "turns"),
        (lambda mount: library.check(mount, math.inf), "turns"),
        (lambda mount: library.card(mount, math.nan), "turns"),
        (lambda mount: library.belts(mount, 0.0), "speed"),
        (lambda _: library.measure(library.MeasureQuestion(outside=math.nan)), "outside"),
    ],
)
def test_an_argument_that_cannot_be_used_is_named(cider, call, named):
    with pytest.raises(library.InputError, match=named):
        call(library.read_scenario(cider))


@pytest.mark.parametrize(
    ("asked", "named"),
    [({"prefer": "cheap"}, "prefer"), ({"count": 0}, "count"), ({"samples": 1.5}, "samples")],
)
def test_a_search_refuses_what_it_cannot_use(cider, asked, named):
    search = library.read_search(cider.with_name("fretsaw-bench.toml"))
    with pytest.raises(library.InputError, match=named):
        library.place(search, **asked)

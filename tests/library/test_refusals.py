"""Arguments of the library that cannot be used: one line that says which, what, and what else."""

import pytest

import mountcalc
from mountcalc import InputError

MILL = mountcalc.read_scenario("scenarios/cider-mill.toml")
SEARCH = mountcalc.read_search("scenarios/fretsaw-bench.toml")
OF_A_SCENARIO = (
    *("table", "setting", "check", "belts", "card", "draw", "report"),
    *("plot", "plot_layout", "plot_setting"),
)


def refusal(name, *arguments, **named):
    with pytest.raises(InputError) as caught:
        getattr(mountcalc, name)(*arguments, **named)
    text = str(caught.value)
    assert "\n" not in text
    return text


@pytest.mark.parametrize("name", OF_A_SCENARIO)
def test_a_path_is_no_scenario(name):
    assert refusal(name, "mill.toml") == (
        "scenario: a Scenario is wanted, got 'mill.toml': read_scenario reads one from a file"
    )
    assert "a Scenario is wanted, got Search: " in refusal(name, SEARCH)


def test_a_scenario_is_no_search_and_a_dict_no_question():
    wanted = "search: a Search is wanted, got Scenario: read_search reads one from a file"
    assert refusal("place", MILL) == refusal("plot_place", MILL, None) == wanted
    assert refusal("plot_place", SEARCH, None) == "found: a Found is wanted, got None"
    assert refusal("measure", {"outside": 1.5}).startswith("question: a MeasureQuestion is wanted")
    assert "a Scenario is wanted" in refusal("tables", "mill.toml", [1], stiffness=[4e4])


@pytest.mark.parametrize("name", ["fit", "plot_fit"])
def test_readings_are_a_path_or_a_list(name):
    assert "a Scenario is wanted" in refusal(name, "mill.toml", [])
    wanted = "readings: a path or a list is wanted, got "
    assert refusal(name, MILL, 3) == f"{wanted}3"
    assert refusal(name, MILL, b"log.csv") == f"{wanted}b'log.csv'"
    assert refusal(name, MILL, [3]) == "readings[1]: a Reading or a dict is wanted, got 3"
    assert refusal(name, MILL, [{"turns": 1, "method": "swings", "value": -1.0}]) == (
        'readings: reading[1].value: swings above zero wanted, got "-1 (SI)"'
    )
    assert refusal(name, MILL, "no.csv") == "no.csv: no such file"


@pytest.mark.parametrize("turns", ["1 1/2", [1], True, float("nan"), 1j])
@pytest.mark.parametrize("name", ["check", "card", "plot", "plot_layout"])
def test_turns_are_one_number(name, turns):
    assert refusal(name, MILL, turns=turns) == (
        f"turns: one finite number is wanted, got {turns!r}"
    )


@pytest.mark.parametrize("turns", ["1 1/2", "1", True, [False], ["1", "2"], [[1], [1, 2]]])
def test_turns_of_a_table_are_numbers(turns):
    wanted = f"turns: a list of numbers is wanted, got {turns!r}"
    assert refusal("table", MILL, turns=turns) == wanted
    assert refusal("tables", MILL, turns, stiffness=[4e4]) == wanted


@pytest.mark.parametrize("speed", ["60", True, [60], 0, -1, float("inf")])
def test_a_speed_is_a_number_above_zero(speed):
    assert refusal("belts", MILL, driven_speed=speed).startswith("driven_speed: ")

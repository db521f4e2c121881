"""A log of readings: what is read of it, and what a person is told of each kind of slip."""

import datetime as dt
import math

import pytest

from mountcalc.errors import InputError, ScenarioError
from mountcalc.fit.log import given_readings, read_log
from mountcalc.fit.readings import Reading, ReadingMethod
from mountcalc.units import STANDARD_GRAVITY

LBF, INCH, LB = 4.4482216152605, 0.0254, 0.45359237 * STANDARD_GRAVITY
HEAD = "date,turns,method,value,at,note"
GOOD = f'''# kept on a nail beside the mill
{HEAD}
2026-05-01,slack,balance,11 lb,,plate and motor alone
2026-05-01T14:30,1 1/2,balance,12.5 lbf,"1 ft 2 in","a warm day, belt new"

,5/8 turn,push,1 1/2 lbf,3/8 in,
,-0.25,swings,24 Hz,,
,2½,hung,9 mm,1 kg,
,2,centers,21 1/16 in,,
2026-05-02,2,tip,-3 mm,,"said ""tight"""
,1,slip,650 W,,
'''
READ = (
    Reading(3, None, ReadingMethod.BALANCE, 11 * LB, None, dt.date(2026, 5, 1), None,
            "plate and motor alone"),
    Reading(4, 1.5, ReadingMethod.BALANCE, 12.5 * LBF, 14 * INCH, dt.date(2026, 5, 1), None,
            "a warm day, belt new"),
    Reading(6, 0.625, ReadingMethod.PUSH, 1.5 * LBF, 0.375 * INCH),
    Reading(7, -0.25, ReadingMethod.SWINGS, 24.0),
    Reading(8, 2.5, ReadingMethod.HUNG, 9e-3, STANDARD_GRAVITY),
    Reading(9, 2.0, ReadingMethod.CENTRES, 21.0625 * INCH),
    Reading(10, 2.0, ReadingMethod.TIP, -3e-3, None, dt.date(2026, 5, 2), None, 'said "tight"'),
    Reading(11, 1.0, ReadingMethod.SLIP, 650.0),
)  # fmt: skip


def same(one, other):
    for name in ("turns", "value", "at", "hours"):
        a, b = getattr(one, name), getattr(other, name)
        assert (a is None) == (b is None)
        assert a is None or math.isclose(a, b, rel_tol=1e-12)
    assert [getattr(one, name) for name in ("row", "method", "date", "note")] == [
        getattr(other, name) for name in ("row", "method", "date", "note")
    ]


@pytest.fixture
def log(tmp_path):
    def written(text, name="log.csv"):
        path = tmp_path / name
        path.write_bytes(text if isinstance(text, bytes) else text.encode())
        return path

    return written


@pytest.fixture
def told(log):
    def lines(text, name="log.csv"):
        path = log(text, name)
        with pytest.raises(ScenarioError) as caught:
            read_log(path)
        assert all(line.isprintable() for line in caught.value.lines())
        return [line.replace(str(path), name) for line in caught.value.lines()]

    return lines


@pytest.mark.parametrize(
    "text",
    [
        GOOD,
        "\ufeff" + GOOD,
        GOOD.replace("\n", "\r\n"),
        GOOD.replace("\n", "\r"),
        GOOD.replace(",", ";").replace("day; belt", "day, belt"),
        GOOD.replace(",", "\t").replace("day\t belt", "day, belt"),
        GOOD.replace("date,turns", " Date , TURNS"),
        GOOD.replace("\n", ",,\n"),
    ],
    ids=["plain", "mark", "crlf", "cr", "semicolons", "tabs", "capitals", "empty columns"],
)
def test_a_log_is_read_as_table_programs_and_people_write_it(log, text):
    for one, other in zip(read_log(log(text)), READ, strict=True):
        same(one, other)


def test_columns_may_stand_in_any_order_and_hours_beside_them(log):
    text = "value,method,hours,turns\n24 Hz,swings,3 1/2,2\n25 Hz,swings,,2\n"
    first, second = read_log(log(text))
    same(first, Reading(2, 2.0, ReadingMethod.SWINGS, 24.0, None, None, 3.5))
    same(second, Reading(3, 2.0, ReadingMethod.SWINGS, 25.0))


def test_the_same_as_toml(log):
    text = """
[[reading]]
turns = "slack"
method = "balance"
value = "11 lb"
date = 2026-05-01

[[reading]]
date = 2026-05-01T14:30:00
turns = 1.5
method = "balance"
value = "12.5 lbf"
at = "14 in"
note = "a warm day"
hours = 2
"""
    first, second = read_log(log(text, "log.TOML"))
    same(first, Reading(2, None, ReadingMethod.BALANCE, 11 * LB, None, dt.date(2026, 5, 1)))
    same(
        second,
        Reading(8, 1.5, ReadingMethod.BALANCE, 12.5 * LBF, 14 * INCH, dt.date(2026, 5, 1), 2.0,
                "a warm day"),
    )  # fmt: skip


def test_all_slips_of_a_log_are_told_together(told):
    text = f"""# mine
{HEAD.replace("method", "methd")}
5/1/2026,1,balance,12.5,,
,1,pusch,2 lbf,,
,1 12,push,2 lbf,,
,2,swings,24,3 in,
,slak,swings,24 Hz,,
,slack,swings,24 Hz,,
,slack,slip,0.9 hp,,
,1,slip,12 lbf,,
"""
    assert told(text) == [
        "log.csv:2: unknown column 'methd'; did you mean 'method'?",
        "log.csv:3: date: date wanted as year-month-day (such as 2026-05-01), or nothing, "
        'got "5/1/2026"',
        'log.csv:3: value: number without a unit: "12.5"; force wanted (such as "12.5 lbf" or '
        '"55 N")',
        'log.csv:4: method: "balance", "push", "swings", "hung", "centres", "tip", "slip" or '
        '"spring" wanted, got "pusch"; did you mean "push"?',
        'log.csv:5: turns: turns wanted (such as 1 1/2, 0.75 or "slack"), got "1 12"',
        'log.csv:5: at: missing: length wanted (such as "3/8 in" or "9 mm") beside push',
        'log.csv:6: value: number without a unit: "24"; swings wanted (such as "24 Hz")',
        'log.csv:6: at: nothing wanted here beside swings, got "3 in"',
        'log.csv:7: turns: turns wanted (such as 1 1/2, 0.75 or "slack"), got "slak"; did you '
        'mean "slack"?',
        "log.csv:8: turns: a slack belt has no swings to read: the turns wanted, or a balance",
        "log.csv:9: turns: a slack belt has no slip to read: the turns wanted, or a balance",
        'log.csv:10: value: power wanted (such as "0.9 hp" or "650 W"), got a force: "12 lbf"',
    ]


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("", f"empty: a first line {HEAD} and readings below it wanted"),
        ("\n# nothing\n", f"empty: a first line {HEAD} and readings below it wanted"),
        (f"{HEAD}\n", "no readings below the first line"),
        (
            ",1,balance,12 lbf,,\n",
            f'1: the first line names the columns, {HEAD} wanted, got ", 1, balance, 12 lbf"',
        ),
        ("turns,value\n1,3 lbf\n", f'1: no column "method": {HEAD} wanted'),
        ("turns,turns,method,value\n1,1,tip,3 mm\n", "1: turns: a column of this name stands "
         "there twice"),
        (
            f"{HEAD},weather\n,1,tip,3 mm,,,wet\n",
            "1: unknown column 'weather'; known are date, turns, method, value, at, note and hours",
        ),
        (
            f"{HEAD}\n,1,tip,3 mm,,warm,dry\n",
            "2: 7 columns, and the first line names 6: a text with a comma in it stands between "
            "quotes",
        ),
        (
            f'{HEAD}\n,1,tip,3 mm,,"warm\n,2,tip,5 mm,,\n',
            '2: a quotation mark that is not closed; inches are written "in"',
        ),
        (f"{HEAD}\n,1,tip,3 mm,,{'x' * 140_000}\n", "2: a text of more than 100,000 letters"),
        (
            f'{HEAD}\n,1,balance,"12,5 lbf",,\n',
            '2: value: comma in a number: "12,5 lbf"; write 1725 without it, or 1.725 with a point',
        ),
        (
            f"{HEAD}\n,inf,tip,3 mm,,\n",
            '2: turns: turns wanted (such as 1 1/2, 0.75 or "slack"), got "inf"',
        ),
        (f"{HEAD}\n,1e999,tip,3 mm,,\n", '2: turns: turns wanted (such as 1 1/2, 0.75 or "slack"), '
         'got "1e999"'),
        (f"{HEAD}\n,2000,tip,3 mm,,\n", '2: turns: turns from -1000 to 1000 wanted, got "2000"'),
        (
            f"{HEAD}\n,1,balance,nan lbf,,\n",
            '2: value: force wanted (such as "12.5 lbf" or "55 N"), got "nan lbf", which is no '
            "finite number",
        ),
        (
            f"{HEAD}\n,1,push,-2 lbf,3/8 in,\n",
            '2: value: force above zero wanted, got "-2 lbf"',
        ),
        (
            f"{HEAD}\n,1,balance,12 in,,\n",
            '2: value: force wanted (such as "12.5 lbf" or "55 N"), got a length: "12 in"',
        ),
        (
            f"{HEAD}\n,1,tip,,,\n",
            '2: value: missing: length wanted (such as "1/8 in" or "3 mm")',
        ),
        (
            f"{HEAD}\n,1,\x00,3 mm,,\n",
            '2: method: "balance", "push", "swings", "hung", "centres", "tip", "slip" or "spring" '
            'wanted, got "\\x00"',
        ),
        (
            "turns,method,value,hours\n1,tip,3 mm,-2\n",
            '2: hours: running hours since the log began wanted (such as 3.5), got "-2"',
        ),
        (b"turns,method,value\n1,tip,3 mm\xff\n", "2: not a text in UTF-8"),
        (
            "turns,method,value\n" + "1,tip,3 mm\n" * 1001,
            "1,001 readings: at most 1,000 are taken",
        ),
        ("x" * 1_000_001, "larger than a log can be (at most 1 MB)"),
    ],
)  # fmt: skip
def test_each_slip_is_one_line(told, text, line):
    at = "" if line[:2] not in {"1:", "2:"} else line[:2]
    rest = line.removeprefix(at)
    assert told(text) == [f"log.csv:{at}{rest}" if at else f"log.csv: {rest}"]


@pytest.mark.parametrize(
    ("text", "lines"),
    [
        ("", ["log.toml: empty: [[reading]] over each reading wanted"]),
        (
            "[[readings]]\nturns = 1\n",
            ["log.toml:1: unknown key 'readings'; did you mean [[reading]]?"],
        ),
        (
            "[reading]\nturns = 1\n",
            ["log.toml:1: reading: write [[reading]] over each reading, got a table"],
        ),
        (
            "[[reading]]\nturns = true\nmethod = 3\nvalu = 12.5\n",
            [
                "log.toml:1: unknown key 'valu'; did you mean 'value'?",
                'log.toml:1: reading[1].turns: turns wanted (such as 1 1/2, 0.75 or "slack"), got '
                "true",
                'log.toml:1: reading[1].method: "balance", "push", "swings", "hung", "centres", '
                '"tip", "slip" or "spring" wanted, got 3',
            ],
        ),
        (
            '[[reading]]\nturns = nan\nmethod = "push"\nvalue = 12.5\n',
            [
                "log.toml:1: reading[1].turns: turns from -1000 to 1000 wanted, got nan",
                "log.toml:1: reading[1].value: number without a unit: 12.5; force wanted (such as "
                '"1 1/2 lbf" or "6 N")',
                'log.toml:1: reading[1].at: missing: length wanted (such as "3/8 in" or "9 mm") '
                "beside push",
            ],
        ),
        (
            "[[reading]]\nturns = 1 1/2\n",
            ["log.toml:2: not valid TOML: more than one value on the line; write "
             'turns = "1 1/2", at column 11'],
        ),
    ],
)  # fmt: skip
def test_slips_in_toml(told, text, lines):
    assert told(text, "log.toml") == lines


def test_files_that_are_no_log(tmp_path):
    for path, why in ((tmp_path, "a directory, not a log file"), (tmp_path / "no", "no such file")):
        with pytest.raises(ScenarioError, match=f"{path}: {why}"):
            read_log(path)


def test_a_program_gives_numbers_in_si_or_texts():
    reading = Reading(1, 1.0, ReadingMethod.SWINGS, 24.0)
    rows = [
        reading,
        {"turns": "1 1/2", "method": "balance", "value": 55.0, "at": 0.4},
        {"turns": None, "method": "balance", "value": "11 lb", "date": dt.date(2026, 5, 1)},
    ]
    first, second, third = given_readings(rows)
    assert first is reading
    same(second, Reading(2, 1.5, ReadingMethod.BALANCE, 55.0, 0.4))
    same(third, Reading(3, None, ReadingMethod.BALANCE, 11 * LB, None, dt.date(2026, 5, 1)))


def test_what_a_program_gives_is_checked_alike():
    with pytest.raises(ScenarioError) as caught:
        given_readings([{"turns": 1, "method": "push", "value": float("inf")}])
    assert caught.value.lines() == [
        'readings: reading[1].value: force wanted (such as "1 1/2 lbf" or "6 N"), got inf, which '
        "is no finite number",
        'readings: reading[1].at: missing: length wanted (such as "3/8 in" or "9 mm") beside push',
    ]
    with pytest.raises(InputError, match=r"readings\[1\]: a Reading or a dict is wanted, got 3"):
        given_readings([3])

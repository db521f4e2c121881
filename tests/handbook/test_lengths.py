"""Series of lengths: every printed row against the rule, and the series against their own law."""

from itertools import pairwise
from math import log10

import pytest

from mountcalc.handbook.belts.designation import read_designation
from mountcalc.handbook.belts.lengths import length_tolerance, matching_limit, series
from mountcalc.handbook.belts.sections import NumberOf, known_sections, section
from mountcalc.handbook.rows import load

INCH = 0.0254
DATA = load("belt_lengths")
PRINTED = [
    (name, number, datum)
    for one in DATA["series"]
    if "rows" in one
    for name in one["sections"]
    for number, datum in one["rows"]
]
R20 = sorted(
    {n for one in DATA["series"] if one["source"] in {"basic", "narrow"} for n in one["numbers"]}
)
MM = [one for one in DATA["series"] if one["kind"] == "mm"]
# Rules of ANSI/RMA IP-20-1988 in inches: to 210, and from 240 up.
RULE = {"A": (1.3, None), "B": (1.8, 0.3), "C": (2.9, 0.9), "D": (3.3, 0.8)}


def test_the_whole_print_is_there():
    # ANSI/RMA IP-20-1988 (Machinery's Handbook 31, Table 8) has 19, 26, 25 and 19 lengths.
    count = {name: sum(one == name for one, _, _ in PRINTED) for name in known_sections()}
    assert {name: n for name, n in count.items() if n} == {
        "A": 19, "AX": 19, "B": 26, "BX": 26, "C": 25, "CX": 25, "D": 19,
    }  # fmt: skip


@pytest.mark.parametrize(("name", "number", "datum"), PRINTED)
def test_printed_lengths_keep_the_designation_rule(name, number, datum):
    short, long = RULE[name[0]]
    assert datum - number == pytest.approx(short if number < 240 else long, abs=1e-9)
    read = read_designation(f"{name}{number}")
    assert read.pitch_length == pytest.approx(datum * INCH, abs=1e-12)
    assert (read.sure, read.in_series) == ("published", True)


@pytest.mark.parametrize(("text", "slip"), [("A75", 75.3), ("C300", 300.0), ("C360", 380.9)])
def test_slips_of_the_print_are_not_carried_over(text, slip):
    # The older table (Faires, Design of Machine Elements, Table 17.3) has 76.3, 300.9 and 360.9.
    faires = {"A75": 76.3, "C300": 300.9, "C360": 360.9}[text]
    assert read_designation(text).pitch_length == pytest.approx(faires * INCH, abs=1e-12)
    assert slip not in [datum for _, _, datum in PRINTED]


@pytest.mark.parametrize(("text", "inches"), [("B112", 113.8), ("B85", 86.8)])
def test_shigleys_lengths(text, inches):
    # Shigley's Mechanical Engineering Design, Example 17-4 and Problem 17-18.
    assert read_designation(text).pitch_length == pytest.approx(inches * INCH, abs=1e-12)


@pytest.mark.parametrize("name", known_sections())
def test_every_series_is_sorted_and_names_each_belt_once(name):
    belts = series(name.lower())
    assert belts
    assert all(one.pitch_length <= other.pitch_length for one, other in pairwise(belts))
    assert len({belt.text for belt in belts}) == len(belts)
    for belt in belts:
        assert belt.in_series
        assert read_designation(belt.text) is belt
    # Within one way of numbering, a larger number is a longer belt.
    for measures in NumberOf:
        alike = [belt.number for belt in belts if belt.measures is measures]
        assert alike == sorted(alike)


@pytest.mark.parametrize(
    "number", [180, 195, 210, 240, 270, 300, 330, 360, 390, 420, 480, 540, 660]
)
def test_e_in_inches_by_its_rule(number):
    """Shigley's Table 17-11 (from memory) adds 4.5 in to E belts up to 240, 5.5 in beyond.

    Its other sections show that the inside of a belt of 240 or more is shorter than its number by
    what the rule above has less: 2.1 - 1.8 = 0.3 in B, 3.8 - 2.9 = 0.9 in C, 4.1 - 3.3 = 0.8 in D.
    """
    belt = read_designation(f"E{number}")
    assert (belt.in_series, belt.sure) == (True, "from memory")
    more = 4.5 if number < 240 else 5.5 - 4.5
    assert belt.pitch_length == pytest.approx((number + more) * INCH, abs=1e-12)


@pytest.mark.parametrize(("name", "share"), [("C", 0.025), ("D", 0.012), ("E", 0.007)])
def test_special_metric_lengths_are_inch_belts_in_millimetres(name, share):
    """ISO 4184 named the inch belts in use; C 2420 alone (92.4) has none within 1.5 in of it."""
    numbers = {
        number
        for one in DATA["series"]
        if one["source"] == "special" and name in one["sections"]
        for number in one["numbers"]
    }
    assert len(numbers) == {"C": 17, "D": 15, "E": 11}[name]
    inches = [belt.pitch_length * 1e3 for belt in series(name) if belt.measures is NumberOf.INSIDE]
    inches += [read_designation(text).pitch_length * 1e3 for text in ("C93", "D105")]
    for number in numbers:
        assert min(abs(one / number - 1) for one in inches) < share


@pytest.mark.parametrize("text", ["C136", "C162", "D162"])
def test_lengths_of_the_trade_between_the_printed_ones(text):
    belt = read_designation(text)
    assert (belt.in_series, belt.sure) == (True, "from memory")
    inches = belt.number + RULE[text[0]][0]
    assert belt.pitch_length == pytest.approx(inches * INCH, abs=1e-12)


@pytest.mark.parametrize("name", ["D", "E"])
def test_the_term_that_the_basic_series_leaves_out(name):
    """10^(82/20) = 12 589, rounded to 12 500 as R20 of ISO 3 has it."""
    belt = read_designation(f"{name} 12500")
    assert (belt.in_series, belt.sure, belt.is_half_step) == (True, "from memory", False)


def on_r40(number):
    return number == pytest.approx(10 ** (round(40 * log10(number)) / 40), rel=0.02)


@pytest.mark.parametrize("name", ["Z", "A", "B", "C", "D", "E", "SPZ", "SPA", "SPB", "SPC"])
def test_half_steps_lie_between_every_two_terms(name):
    """R40 of ISO 3, of which R20 has every second one: each is the mean of its two neighbours."""
    low, high = next(one["ranges"][name] for one in DATA["series"] if name in one.get("ranges", {}))
    wanted = {round(40 * log10(number)) for number in R20 if low <= number <= high}
    metric = [belt for belt in series(name) if belt.measures is NumberOf.DATUM]
    terms = {round(40 * log10(belt.number)): belt for belt in metric if on_r40(belt.number)}
    assert {k + 1 for k in sorted(wanted)[:-1]} <= set(terms)
    halves = [belt for belt in metric if belt.is_half_step]
    assert len(halves) > 10
    for belt in halves:
        assert round(40 * log10(belt.number)) % 2 == 1
        assert on_r40(belt.number)
        assert belt.sure == "from memory"
    assert read_designation("SPZ 950").in_series


def test_no_series_of_what_is_no_v_belt():
    assert series("Q") == ()
    assert series("flat leather") == ()


@pytest.mark.parametrize("one", MM[:2], ids=["basic", "narrow"])
def test_metric_series_are_preferred_numbers(one):
    # R20 of ISO 3: ten to the k/20; the lengths are rounded from it by up to 2 %.
    for number in one["numbers"]:
        k = min(range(100), key=lambda k: abs(10 ** (k / 20) - number))
        assert number == pytest.approx(10 ** (k / 20), rel=0.02)
    # No term is left out but 12 500 of the basic series, which the print has not.
    steps = [longer / shorter for shorter, longer in pairwise(one["numbers"])]
    assert sum(step > 1.2 for step in steps) == (1 if 14000 in one["numbers"] else 0)
    assert min(steps) > 1.08


@pytest.mark.parametrize(
    ("name", "first", "last", "count"),
    [("Z", 400, 2500, 17), ("A", 560, 4000, 18), ("B", 800, 6300, 19), ("C", 1800, 10000, 16),
     ("D", 3150, 14000, 13), ("E", 4500, 18000, 12)],
)  # fmt: skip
def test_ranges_of_the_basic_series(name, first, last, count):
    # GOST 1284.1; the terms from first to last of the one list.
    basic = [number for number in MM[0]["numbers"] if first <= number <= last]
    assert (basic[0], basic[-1], len(basic)) == (first, last, count)
    texts = {belt.text for belt in series(name)}
    assert {f"{name} {number}" for number in basic} <= texts


def test_effective_lengths_are_preferred_numbers_and_share_one_list():
    # R40 of ISO 3, in tenths of an inch, rounded by up to 2 %.
    lists = {
        one["sections"][0]: one["numbers"] for one in DATA["series"] if one["kind"] == "effective"
    }
    assert [lists[name][0] for name in ("3V", "5V", "8V")] == [250, 500, 1000]
    for number in {number for numbers in lists.values() for number in numbers}:
        k = min(range(200), key=lambda k: abs(10 ** (k / 40) - number))
        assert number == pytest.approx(10 ** (k / 40), rel=0.02)
    assert [n for n in lists["3V"] if n >= 500] == [n for n in lists["5V"] if n <= 1400]
    assert [n for n in lists["5V"] if n >= 1000] == [n for n in lists["8V"] if n <= 3550]


@pytest.mark.parametrize(
    ("name", "first", "last"), [("3L", 140, 1350), ("4L", 170, 4000), ("5L", 230, 2680)]
)
def test_light_duty_belts_are_in_whole_inches(name, first, last):
    numbers = [belt.number for belt in series(name)]
    assert numbers == list(range(first, last + 1, 10))


@pytest.mark.parametrize(
    ("low", "high", "inches", "sure"),
    [(26, 35, 0.6, "published"), (38, 85, 0.7, "published"), (90, 144, 0.8, "published"),
     (158, 180, 1.0, "published"), (195, 210, 1.1, "published"), (240, 240, 1.3, "published"),
     (270, 300, 1.6, "from memory"), (330, 420, 2.0, "from memory"),
     (480, 660, 3.3, "from memory")],
)  # fmt: skip
def test_length_tolerances(low, high, inches, sure):
    # ANSI/RMA IP-20-1988 (Machinery's Handbook 31, Table 8), in inches either way.
    seen = [(name, n) for name, n, _ in PRINTED if low <= n <= high]
    assert {low, high} <= {n for _, n in seen}
    for name, number in seen:
        off = length_tolerance(read_designation(f"{name}{number}"))
        assert (off.short, off.long) == pytest.approx((inches * INCH, inches * INCH))
        assert off.sure == sure


@pytest.mark.parametrize(
    ("low", "high", "inches"), [(26, 60, 0.15), (68, 144, 0.30), (158, 240, 0.45)]
)
def test_matching_limits(low, high, inches):
    # ANSI/RMA IP-20-1988 (Machinery's Handbook 31, Table 8): belts of one set.
    seen = [(name, n) for name, n, _ in PRINTED if low <= n <= high]
    assert {low, high} <= {n for _, n in seen}
    for name, number in seen:
        limit = matching_limit(read_designation(f"{name}{number}"))
        assert limit.value == pytest.approx(inches * INCH)
        assert limit.sure == "published"


def test_longer_belts_may_be_further_off():
    for limit in (
        lambda belt: length_tolerance(belt).long,
        lambda belt: matching_limit(belt).value,
    ):
        found = [limit(read_designation(f"D{number}")) for number in range(100, 661, 5)]
        assert found == sorted(found)
        assert len(set(found)) >= 5


def test_a_tolerance_is_never_more_than_its_belt_would_bear():
    for name in known_sections():
        for belt in series(name):
            off = length_tolerance(belt)
            if off is not None:
                assert 0 < off.short < 0.03 * belt.pitch_length
                assert 0 < off.long < 0.03 * belt.pitch_length


def test_where_no_tolerance_is_known():
    assert length_tolerance(read_designation("A24")) is None
    assert length_tolerance(read_designation("E700")) is None
    assert length_tolerance(read_designation("3V560")) is None
    assert length_tolerance(read_designation("4L390")) is None
    short = length_tolerance(read_designation("4L380"))
    assert (short.short, short.long) == pytest.approx((0.38 * INCH, 0.12 * INCH))
    assert matching_limit(read_designation("4L380")) is None
    assert matching_limit(read_designation("A 1250")) is None
    metric = length_tolerance(read_designation("SPZ 1250"))
    assert metric.short == metric.long == pytest.approx(0.0125)


def test_differences_of_inside_and_pitch_are_the_sections():
    for name in known_sections():
        for belt in series(name)[::7]:
            row = section(name)
            assert belt.pitch_length - belt.inside_length == pytest.approx(
                row.inside_to_pitch.value
            )
            assert belt.outside_length - belt.pitch_length == pytest.approx(
                row.pitch_to_outside.value
            )

"""The page of a placement: its width, its numbers, and words that a person can mark out from."""

import dataclasses
import itertools
import math
import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from invented_placements import BENCH, INCH, LAYOUT, PLACEMENT, SECOND, mount, shown_in

from mountcalc.console.choices import Prefer
from mountcalc.place.marking_out import beside, on_rule, turned
from mountcalc.place.page import place_text
from mountcalc.place.results import PlateAngles, WhyNot
from mountcalc.scenario.text.writing import Display

WIDTH = 80
LONG = (
    "The old treadle's iron stretcher between both of the front legs, which stays where it is " * 2
)
FIFTY = tuple(
    WhyNot(f"keep_out:number {number} {LONG[:90]}", 1000 - number, f"widen hinge_x {LONG}")
    for number in range(50)
)


def page(placement=PLACEMENT, search=BENCH):
    display = search.scenario.display
    best = mount(placement.layouts[0], display) if placement.layouts else None
    return place_text(search, placement, best, more=True)


def flat(text):
    return re.sub(r"\s+", " ", text)


def with_layouts(*layouts, **changes):
    ranked = tuple(dataclasses.replace(layout, rank=rank) for rank, layout in enumerate(layouts, 1))
    return dataclasses.replace(PLACEMENT, layouts=ranked, **changes)


def large(layout):
    return dataclasses.replace(
        layout,
        hinge=(-99.9999, -77.77777),
        reach=9.87654,
        motor_height=1.23456,
        thread="1 1/4-12 LH of a kind",
        belt="SPZ 12345 of a kind",
        set_turns=12345.678,
        set_tension=1.2345e9,
        tension_per_turn=9.87e8,
        worst_share_of_limit=0.9999,
        adjuster=-5.4321e9,
        hinge_load=6.5e9,
        plate_length=99.9999,
        clearance=12.3456,
        fall=54.321,
    )


HARD = {
    "as invented": PLACEMENT,
    "fifty keep-outs": dataclasses.replace(PLACEMENT, why_not=FIFTY),
    "none": dataclasses.replace(PLACEMENT, layouts=(), feasible=0, why_not=FIFTY),
    "none at marks": dataclasses.replace(PLACEMENT, layouts=()),
    "none and no reason": dataclasses.replace(PLACEMENT, layouts=(), feasible=0, why_not=()),
    "one word": dataclasses.replace(
        PLACEMENT, title="T" * 120, why_not=(WhyNot("keep_out:" + "k" * 120, 3, "s" * 300),)
    ),
    "ten million": dataclasses.replace(
        PLACEMENT, evaluated=16777216, why_not=(WhyNot("bearing", 16777215, LONG),)
    ),
    "large": with_layouts(*(large(LAYOUT) for _ in range(15))),
    "several belts": with_layouts(
        *(dataclasses.replace(large(SECOND), belt=f"SPZ {number}") for number in range(1000, 1012))
    ),
    "a link": with_layouts(dataclasses.replace(LAYOUT, kind="link", acts="pull")),
    "through the plate": with_layouts(SECOND),
    "of weight": with_layouts(dataclasses.replace(LAYOUT, of_weight=True)),
    "falls against a long name": with_layouts(
        dataclasses.replace(SECOND, falls_onto=f"falls against {LONG}")
    ),
}


@pytest.mark.parametrize("display", list(Display))
@pytest.mark.parametrize("name", HARD)
def test_it_fits_the_page_and_never_says_what_it_does_not_know(name, display):
    text = page(HARD[name], shown_in(display))
    assert max(map(len, text.splitlines())) <= WIDTH
    assert not re.search(r"\bnan\b|\binf\b|None|\bsafe(ly|ty)?\b|\.\.\s|\x1b| \n", text)
    assert "Unplug" in text.split("CAUTIONS")[1]


ASKED = ("--samples", "1024", "--count", "4")  # of the shipped searches, more than are shown


def short(placement=PLACEMENT, search=BENCH):
    best = mount(placement.layouts[0], search.scenario.display) if placement.layouts else None
    return place_text(search, placement, best)


@pytest.mark.parametrize("name", ["fretsaw-bench", "polishing-lathe"])
def test_the_short_page_of_the_shipped_searches_fits_a_screen(mountcalc, name):
    scenario = Path(__file__).parents[2] / "scenarios" / f"{name}.toml"
    done = mountcalc("place", scenario, *ASKED)
    lines = done.out.splitlines()
    assert len(lines) <= 45
    assert max(map(len, lines)) <= WIDTH
    assert lines[-1].startswith("mountcalc place FILE --more: ")
    assert ("THE FIRST 3 OF" in done.out) is (done.code == 0) is (name == "fretsaw-bench")
    assert ("\nFirst:" in done.out) is (name == "polishing-lathe")


def test_the_short_page_has_the_first_three_layouts_and_how_to_write_them():
    text = short(with_layouts(*[LAYOUT] * 5))
    for rank in (1, 2, 3):
        assert len(re.findall(rf"^ +{rank} ", text, re.MULTILINE)) == 2
    assert not re.search("^ +4 ", text, re.MULTILINE)
    assert "THE FIRST 3 OF 5, best first (--prefer fine): what to build" in text
    assert "--write DIR gives each as a scenario file" in flat(text)
    assert (
        "Do not trust turns here: mountcalc setting on its file says how to set it, by the hum."
        in flat(text)
    )
    assert "trust turns" not in short(with_layouts(SECOND))
    assert "will not do, mostly: plate too long (23 %)" in flat(text)  # 15,000 of 65,536


@pytest.mark.parametrize("display", list(Display))
@pytest.mark.parametrize("name", HARD)
def test_the_short_page_keeps_its_width_whatever_the_names(name, display):
    text = short(HARD[name], shown_in(display))
    assert max(map(len, text.splitlines())) <= WIDTH
    assert not re.search(r"\bnan\b|\binf\b|None|\bsafe(ly|ty)?\b|\x1b| \n", text)


def test_where_none_will_do_five_reasons_are_told_and_the_rest_counted():
    text = short(HARD["none"])
    counts = re.findall(r"^ +([\d,]+) +[\d.]+ %", text, re.MULTILINE)
    assert len(counts) == 6
    assert sum(int(count.replace(",", "")) for count in counts) == sum(one.count for one in FIFTY)
    assert "45 more reasons." in text


def test_counts_come_first_then_reasons_with_what_to_change():
    text = flat(page())
    assert "65,536 layouts tried, 1,054 of them will do (1.6 %)" in text
    assert "15,000 22.9 % plate_length: let plate_length be more than 16 in." in text
    assert "1,799 2.7 % keep_out:stretcher: Let hinge_y begin higher." in text
    assert text.index("1,054") < text.index("15,000") < text.index("1,799") < text.index("THE LAY")


def test_many_reasons_are_summed_up_and_none_is_lost():
    text = page(HARD["fifty keep-outs"])
    counts = [
        int(count.replace(",", ""))
        for count in re.findall(r"^ +([\d,]+) +[\d.]+ %", text, re.MULTILINE)
    ]
    assert sum(counts) == sum(one.count for one in FIFTY)
    assert "40 more reasons" in text


def test_what_helps_most_is_told_however_rare_its_reason():
    lifts = {14: 2.0, 20: math.inf, 30: 3.0, 40: 2.5}
    rare = tuple(
        dataclasses.replace(one, lift=lifts.get(number, 0.0)) for number, one in enumerate(FIFTY)
    )
    text = page(dataclasses.replace(PLACEMENT, why_not=rare))
    told = [int(one) for one in re.findall(r"keep_out:number (\d+)", text)]
    assert told == [*range(10), 20, 30, 40]
    assert "37 more reasons" in text


def test_it_trusts_turns_only_where_setting_does():
    text = flat(page())
    assert "Do not trust turns here: half a turn off breaks a promise; the belt may" in text
    assert "hook the balance on at the bolt, 9.19 in from the hinge" in text
    assert "motor and plate just hang on it: about 3 lbf" in text
    assert "3.5 lbf more (6.5 lbf), for a new belt 6.5 lbf more (9.5 lbf)" in text
    assert "trust turns" not in page(with_layouts(SECOND))


def test_none_says_what_to_change_first():
    changes = "With any reach, 774 of 8,192 do."
    none = dataclasses.replace(HARD["none"], notes=(changes, "A note of the search"))
    text = flat(page(none))
    assert "65,536 layouts tried, none of them will do." in text
    assert f"First: {changes} WHY THE OTHERS" in text
    assert text.count(changes) == 1
    assert "NOTES - A note of the search." in text
    assert "MARK OUT" not in text
    assert "THE LAYOUTS" not in text


def test_what_does_not_hold_at_last_is_said():
    text = flat(page(HARD["none at marks"]))
    assert "rounded to the marks of a rule" in text
    assert "MARK OUT" not in text
    refused = WhyNot("check:driven speed", 4, "this is of the mount itself")
    failing = dataclasses.replace(HARD["none at marks"], why_not=(refused, *PLACEMENT.why_not))
    text = flat(page(failing))
    assert "reasons below that begin with check." in text
    assert text.index("begin with check") < text.index("check:driven speed: this is of the mount")


@pytest.mark.parametrize(
    ("feasible", "share"), [(65536, "100.0 %"), (66, "0.1 %"), (1, "less than 0.1 %")]
)
def test_the_share_is_told_without_exponents(feasible, share):
    text = flat(page(dataclasses.replace(PLACEMENT, feasible=feasible)))
    assert f"{feasible:,} of them will do ({share})" in text


@pytest.mark.parametrize("prefer", list(Prefer))
def test_it_says_by_what_layouts_are_ranked(prefer):
    words = {
        Prefer.FINE: "least tension per turn",
        Prefer.COMPACT: "shortest plate",
        Prefer.LIGHT_BOLT: "least force in the bolt",
    }
    assert words[prefer] in flat(page(dataclasses.replace(PLACEMENT, prefer=prefer)))


def test_tables_have_a_line_for_each_layout_with_its_numbers():
    lines = page().splitlines()
    build, gives = (
        [line.split() for line in lines if re.match(rf" +{rank} ", line)] for rank in (1, 2)
    )
    assert " ".join(build[0]) == "1 -9 -14 13/16 9 3/16 3 3/4 above base push 3/8-24"
    # turns, lbf, lbf, %, lbf, lbf, in, in, in
    assert " ".join(build[1]) == "1 0.62 5.7 9.3 67 6.3 22.7 10 1/8 0.62 0.00 *"
    assert gives[0][-4:] == ["below", "plate", "hold", "3/8-16"]
    assert gives[1][-2:] == ["-", "5.50"]


def test_belts_are_told_where_they_differ():
    assert "4L440" not in page().split("TO MARK OUT")[0]
    other = dataclasses.replace(SECOND, belt="4L450")
    table = page(with_layouts(LAYOUT, other)).split("WHAT THEY GIVE")[0]
    assert "4L440" in table
    assert "4L450" in table


def test_the_first_is_told_to_be_marked_out():
    text = flat(page())
    for words in (
        "Hinge: 9 in left of the driven shaft and 14 13/16 in below it.",
        "Plate: 10 1/8 in long from the hinge, 3/4 in thick. The hinge's pin lies in the face that "
        "the motor stands on; the far end of that face is 7 3/16 in right of the hinge and "
        "7 3/16 in above it.",
        "Motor: 9 in left of the driven shaft and 9 1/2 in below it. Its shaft is 3 3/4 in from "
        "the plate's face, square to it, above the plate",
        "the feet reach from 1 1/4 in to 6 1/4 in along the plate.",
        "Bolt: 3/8-24; its tip bears 9 3/16 in from the hinge along the plate on its back, away "
        "from the motor, 2 in left of the driven shaft and 8 7/8 in below it",
        "comes out up and to the left, 10 across for every 10 up.",
        "a new belt goes on, 16.25 deg clockwise; snug, 0.40 deg counter-clockwise; set, 1.00 deg "
        "counter-clockwise; fully taken up, 20.50 deg counter-clockwise.",
        "Nearest: stretcher, 5/8 in clear.",
        "carries 1.31 times the pull",
        "the plate rests on the adjuster and does not fall.",
        "Put a stop where the plate's end meets it just beyond its travel: 3 in left of the driven "
        "shaft and 6 1/2 in below it; or where mountcalc draw has it, nearer to the hinge.",
    ):
        assert words in text, words


@pytest.mark.parametrize(
    ("kind", "across", "words"),
    [
        ("jack-in-base", 0.0, " on its face on the motor's side, "),
        ("jack-in-base", -0.75, " on its back, away from the motor, "),
        ("jack-in-base", -1.5, " and 1 1/2 in behind the face that the motor stands on, "),
        ("jack-in-plate", 0.5, " and 1/2 in out of the face that the motor stands on, "),
        ("jack-in-plate", -2.0, " and 2 in behind the face that the motor stands on, "),
        ("link", 0.0, ", level with its face on the motor's side, "),
    ],
)
def test_where_the_bolt_bears_is_told_from_the_face_that_the_motor_stands_on(kind, across, words):
    leans = math.sqrt(0.5) * INCH  # the plate of the bench's sketch leans to the right, at 45 deg
    tip = (
        LAYOUT.hinge[0] + (9.1875 - across) * leans,
        LAYOUT.hinge[1] + (9.1875 + across) * leans,
    )
    text = flat(page(with_layouts(dataclasses.replace(LAYOUT, kind=kind, tip=tip))))
    assert f"9 3/16 in from the hinge along the plate{words}" in text


def test_weight_alone_is_named_in_the_table_and_in_the_sentences():
    text = page(HARD["of weight"])
    assert re.search(r"^  1 .* \*w$", text, re.MULTILINE)
    assert "w: weight alone" in flat(text)
    assert "Weight alone gives the tension" in flat(text)
    assert "eight alone" not in page()


def test_feet_behind_the_hinge_are_told_without_signs():
    layout = dataclasses.replace(LAYOUT, motor_foot=1.5 * INCH)
    assert "feet reach from 1 in behind the hinge to 4 in along" in flat(page(with_layouts(layout)))


def test_a_bolt_that_would_travel_more_than_its_length_is_told():
    long = dataclasses.replace(LAYOUT, bolt_travel=7 * INCH)
    short = dataclasses.replace(LAYOUT, bolt_travel=3 * INCH)
    link = dataclasses.replace(long, kind="link")
    assert "more than its whole length of 6 in" in flat(page(with_layouts(long)))
    for layout in (short, link):
        assert "whole length" not in flat(page(with_layouts(layout)))


def test_in_metric_it_is_whole_millimetres():
    text = flat(page(search=shown_in(Display.METRIC)))
    assert "Hinge: 229 mm left of the driven shaft and 376 mm below it." in text
    told = text.split("TO MARK OUT")[1].split("NOTES")[0].replace(LAYOUT.thread, "")
    told = told.replace("233.4 mm from the hinge", "")  # of the spring balance, as setting has it
    assert not re.search(r"\d in\b(?! all)|\d/\d|lbf|\d\.\d+ mm", told)


def test_no_end_of_a_line_parts_a_number_from_its_fraction_or_unit():
    text = "".join(page(HARD[name]) for name in ("as invented", "a link", "through the plate"))
    assert not re.search(r"\d\n +(\d+/|in\b|mm\b|deg\b|lbf\b)", text)
    assert "\xa0" not in text


def test_cautions_are_last():
    headings = re.findall(r"^[A-Z][A-Z ,]{4,}$", page(), re.MULTILINE)
    assert headings[-1] == "CAUTIONS"


@given(st.floats(-50, 50), st.sampled_from(list(Display)))
def test_a_mark_is_never_more_than_half_a_mark_off(value, display):
    number, unit = on_rule(value, display).rsplit(" ", 1)
    whole = sum(map(fraction, number.lstrip("-").split()))
    found = (-whole if number.startswith("-") else whole) * {"in": INCH, "mm": 1e-3}[unit]
    half = INCH / 32 if unit == "in" else 5e-4
    assert abs(found - value) <= half * (1 + 1e-9)
    assert not re.fullmatch(r"-0", number)


def fraction(text):
    above, _, below = text.partition("/")
    if below:
        assert int(below) in {2, 4, 8, 16}
        assert int(above) < int(below)
        assert math.gcd(int(above), int(below)) == 1
    return int(above) / int(below or 1)


SHIFTS = (-0.254, 0.0, 0.254)


@pytest.mark.parametrize(("right", "up"), list(itertools.product(SHIFTS, SHIFTS)))
def test_a_point_is_told_in_words_instead_of_signs(right, up):
    words = beside((1 + right, 2 + up), (1.0, 2.0), Display.INCH, "the post")
    assert "-" not in words
    assert ("10 in right of the post" in words) == (right > 0)
    assert ("10 in left of the post" in words) == (right < 0)
    assert ("10 in above" in words) == (up > 0)
    assert ("10 in below" in words) == (up < 0)
    assert ("level" in words) == (up == 0 and right != 0)
    assert (words == "at the post") == (right == up == 0)


def test_angles_are_told_by_the_clock():
    assert turned(math.radians(-4.924)) == "4.92 deg clockwise"
    assert turned(math.radians(0.5)) == "0.50 deg counter-clockwise"
    assert turned(1e-9) == "as drawn"
    nothing = PlateAngles(0.0, 0.0, 0.0, 0.0)
    text = page(with_layouts(dataclasses.replace(LAYOUT, plate_angles=nothing)))
    assert "a new belt goes on, as drawn; snug, as drawn" in flat(text)


def readings(text):
    """The table of methods, and how to weigh."""
    table = re.search(r"HOW TO SET IT.*?\n\n", text, re.DOTALL)
    weigh = re.search(r"Weigh:.*?\n\n", text, re.DOTALL)
    return table and table[0], weigh and flat(weigh[0])


def test_it_gives_the_readings_that_setting_gives_of_the_written_file(mountcalc, tmp_path):
    scenario = Path(__file__).parents[2] / "scenarios" / "fretsaw-bench.toml"
    done = mountcalc("place", scenario, *ASKED, "--more", "--write", tmp_path)
    table, weigh = readings(done.out)
    assert "plucked strand" in table
    assert "square to the line from the hinge" in weigh
    setting = mountcalc("setting", tmp_path / "fretsaw-bench-1.toml")
    assert (table, weigh) == readings(setting.out)

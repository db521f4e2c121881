"""The page of a choice of belts: its width, its numbers, and what it says of each length."""

import json
import math
import re
from dataclasses import replace
from pathlib import Path

import pytest
from scipy.constants import hp, inch, milli, minute
from sizes import size

from mountcalc.belts.choice import choose_belt
from mountcalc.belts.drive import NOT_JUDGED
from mountcalc.belts.page import belts_text
from mountcalc.handbook.belts.designation import read_designation
from mountcalc.handbook.belts.sections import Joint
from mountcalc.judgement import Verdict
from mountcalc.pages.as_json import as_json
from mountcalc.scenario.pulleys import PulleyFace
from mountcalc.scenario.reader import read_scenario
from mountcalc.scenario.text.writing import Display

SCENARIOS = Path(__file__).parents[2] / "scenarios"
RPM = 2 * math.pi / minute
ROW = re.compile(
    r"  (?P<belt>[A-Z0-9].*?[\d.](?: in| mm)?)(?P<mark>\*?~?) +(?P<pitch>[\d.]+)"
    r" +(?P<plate>-?[\d.]+) +(?P<center>[\d.]+) +(?P<fit>[\d.]+)/(?P<fit_wanted>[\d.]+|-)"
    r" +(?P<take>[\d.]+)/(?P<take_wanted>[\d.]+|-) +(?P<rating>[\d.]+|-)"
    r" +(?P<count>\d+|-) (?P<verdict>ok\??|out)(?P<why> fit on| take up| power| length|)"
)
PAIR = re.compile(
    r" +(?P<motor>[\d.]+) +(?P<driven>[\d.]+) +(?P<rpm>[\d.]+) +(?P<off>[+-][\d.]+)%"
    r" +(?P<pitch>[\d.]+)  (?P<belt>[^ ]+(?: \d+)?) +(?P<longer>[+-][\d.]+|-) +"
    r"(?P<buy>both new|new motor pulley|new driven pulley|as they are)"
)
BUY = {
    None: "both new",
    "driven": "new motor pulley",
    "motor": "new driven pulley",
    "both": "as they are",
}
UNIT = {Display.INCH: inch, Display.METRIC: milli}
POWER = {Display.INCH: hp, Display.METRIC: 1.0}
PITCH_DIGITS = {Display.INCH: 0.005, Display.METRIC: 0.05}
ROOM_DIGIT = {Display.INCH: 0.01, Display.METRIC: 1.0}
ANGLE_DIGITS, THREE_FIGURES = 0.005, 5.1e-3
OF = {"belt-install": " fit on", "belt-take-up": " take up", "belt-power": " power"}


def flat(text):
    return re.sub(r"\s+", " ", text)


def with_belt(scenario, **changes):
    return replace(scenario, belt=replace(scenario.belt, designation=None, **changes))


def wider(scenario, degrees):
    end = math.radians(degrees)
    return replace(scenario, plate=replace(scenario.plate, travel=(-end, end)))


HARD = {
    "as it is": lambda mill: mill,
    "metric": lambda mill: replace(mill, display=Display.METRIC),
    "many lengths": lambda mill: wider(with_belt(mill, section="4L"), 60),
    "many metric lengths": lambda mill: replace(
        wider(with_belt(mill, section="SPZ", length=1.6001), 80), display=Display.METRIC
    ),
    "much room": lambda mill: wider(with_belt(mill, section="A", length=2.5), 120),
    "no length": lambda mill: wider(mill, 0.05),
    "a length without a name": lambda mill: with_belt(mill, length=61.12 * inch),
    "no section": lambda mill: with_belt(mill, section=None),
    "a long title": lambda mill: replace(mill, title="Mill " * 24),
    "one long word": lambda mill: replace(mill, title="M" * 120),
    "small pulleys": lambda mill: replace(
        mill, motor=replace(mill.motor, pulley_radius=0.02), driven=replace(mill.driven, power=5e4)
    ),
    "flat motor pulley": lambda mill: replace(
        mill, motor=replace(mill.motor, pulley_face=PulleyFace.FLAT)
    ),
    "large": lambda mill: wider(large(mill), 30),
}


def large(mill):
    """Ten times as large, with belts of section D of up to 17 m."""

    def far(point):
        return 10 * point[0], 10 * point[1]

    belt = replace(mill.belt, section="D", designation=None, length=10 * mill.belt.length, count=12)
    driven, motor, plate, jack = mill.driven, mill.motor, mill.plate, mill.adjuster
    return replace(
        mill,
        display=Display.METRIC,
        belt=belt,
        driven=replace(driven, shaft=far(driven.shaft), pulley_radius=10 * driven.pulley_radius),
        motor=replace(motor, shaft=far(motor.shaft), pulley_radius=10 * motor.pulley_radius),
        plate=replace(plate, hinge=far(plate.hinge)),
        adjuster=replace(jack, tip=far(jack.tip)),
    )


@pytest.fixture(scope="module", params=HARD)
def hard(request):
    scenario = HARD[request.param](read_scenario(SCENARIOS / "cider-mill.toml"))
    return scenario, choose_belt(scenario, 500 * RPM)


@pytest.fixture(scope="module", params=sorted(SCENARIOS.glob("*.toml")), ids=lambda file: file.stem)
def shipped(request):
    scenario = read_scenario(request.param)
    return scenario, choose_belt(scenario, 400 * RPM)


def assert_page(scenario, choice):
    page = belts_text(scenario, choice, more=True)
    assert max(map(len, page.splitlines())) <= 80
    assert not re.search(r"\bnan\b|\binf\b|\bNone\b", page)
    assert not re.search(r"\bsafe(ly|ty)?\b", page, re.IGNORECASE)


def test_shipped_pages_are_for_80_columns(shipped):
    assert_page(*shipped)


def doubts(one):
    return [each for each in one.judgements if each.verdict is Verdict.CAUTION]


def test_hard_pages_are_for_80_columns(hard):
    assert_page(*hard)


def test_the_short_page_fits_a_screen_and_names_what_every_length_lacks(scenario_file):
    """What the full page says in sentences stands there behind each length in a word."""
    scenario = read_scenario(scenario_file)
    choice = choose_belt(scenario)
    page = belts_text(scenario, choice)
    assert len(page.splitlines()) <= 45
    assert max(map(len, page.splitlines())) <= 80
    assert page.splitlines()[-1].startswith("mountcalc belts FILE --more: ")
    found = [row for line in page.splitlines() if (row := ROW.fullmatch(line))]
    assert len(found) == min(len(choice.belts), 9)
    for row, one in zip(found, choice.belts, strict=False):
        wanted = Verdict.CAUTION if one.ok else Verdict.FAIL
        own = [each for each in one.judgements if each not in choice.drive.judgements]
        why = [OF.get(each.name, " length") for each in own if each.verdict is wanted]
        assert row["why"] == (why[0] if why else "")
        assert bool(why) is (row["verdict"] != "ok")


@pytest.mark.parametrize("name", ["as it is", "small pulleys", "large"])
def test_what_the_first_length_wants_of_the_centres_is_said_with_what_is_there(cider, name):
    scenario = HARD[name](read_scenario(cider))
    first = choose_belt(scenario).belts[0]
    page = flat(belts_text(scenario, choose_belt(scenario)))
    unit = "in" if scenario.display is Display.INCH else "mm"
    for label, room in (("Fit", first.install), ("Take up", first.take_up)):
        wanted, only, there, angle = re.search(
            rf"{label}: the shafts must \w+ ([\d.]+) {unit} [a-z ]+?(?:\(|: (only) )"
            rf"([\d.]+) {unit} is there(?:\): the plate is then at (-?[\d.]+) deg)?\.",
            page,
        ).groups()
        size, digit = UNIT[scenario.display], ROOM_DIGIT[scenario.display]
        assert room.needed / size <= float(wanted) + 1e-6 < room.needed / size + digit + 2e-6
        assert room.there / size - digit - 1e-6 < float(there) <= room.there / size + 1e-6
        assert (only is None) is room.ok
        if room.ok:
            assert float(angle) == pytest.approx(math.degrees(room.plate_angle), abs=5.1e-3)


def test_the_short_page_of_many_lengths_has_the_best_and_yours(cider):
    mill = wider(with_belt(read_scenario(cider), section="4L"), 60)
    last = choose_belt(mill).belts[-1]
    mill = with_belt(mill, length=last.pitch_length)
    choice = choose_belt(mill)
    place = next(place for place, one in enumerate(choice.belts) if one.is_yours)
    assert place > 12
    page = belts_text(mill, choice)
    names = [row["belt"] for line in page.splitlines() if (row := ROW.fullmatch(line))]
    best = [one.designation for one in choice.belts]
    assert names == [*best[:9], best[place]]
    assert f"and {len(best) - 10} more lengths, no better: --more" in page


def test_a_length_that_no_series_lists_is_not_called_good(scenario_file):
    """SPZ 1337 can be typed; whether it is made only a shop can say."""
    lathe = read_scenario(scenario_file.parent / "polishing-lathe.toml")
    wide = replace(lathe, plate=replace(lathe.plate, travel=(-0.5, 0.9)))
    odd = replace(
        wide, belt=replace(wide.belt, designation=read_designation("SPZ 1337"), length=1.337)
    )
    choice, verdict = verdict_of(odd)
    yours = next(one for one in choice.belts if one.is_yours)
    assert yours.ok
    assert not yours.in_series
    assert "Yours, SPZ 1337, is in no published series: ask whether it is made." in verdict
    assert "is good" not in verdict


def rows(scenario, choice):
    page = belts_text(scenario, choice, more=True)
    if not choice.belts:
        assert "THE LENGTHS" not in page
        return []
    block = page.split("THE LENGTHS")[1].splitlines()[3:]
    return [ROW.fullmatch(line) for line in block[: len(choice.belts)]]


def assert_rows(scenario, choice):
    """Each number stands for the one of the result, to the digits that are shown."""
    unit, display = UNIT[scenario.display], scenario.display
    found = rows(scenario, choice)
    assert len(found) == len(choice.belts)
    for row, one in zip(found, choice.belts, strict=True):
        assert row is not None
        assert row["belt"] == one.designation
        assert row["mark"] == ("*" if one.is_yours else "") + ("" if one.in_series else "~")
        assert row["verdict"] == ("out" if not one.ok else "ok?" if doubts(one) else "ok")
        digit = PITCH_DIGITS[display] + 1e-9
        assert float(row["pitch"]) == pytest.approx(one.pitch_length / unit, abs=digit)
        assert float(row["center"]) == pytest.approx(one.center_distance / unit, abs=digit)
        plate = math.degrees(one.snug_plate_angle)
        assert float(row["plate"]) == pytest.approx(plate, abs=ANGLE_DIGITS + 1e-9)
        assert row["count"] == ("-" if one.belts_needed is None else str(one.belts_needed))
        if one.rating is None:
            assert row["rating"] == "-"
        else:
            rating = one.rating / POWER[display]
            assert float(row["rating"]) == pytest.approx(rating, rel=THREE_FIGURES)
        for name, room in (("fit", one.install), ("take", one.take_up)):
            there, wanted = room.there / unit, room.needed / unit
            # Never more room than there is, and never less wanted than is.
            digit = 0.1 if unit == inch and there > 10 else ROOM_DIGIT[display]
            assert there - digit < float(row[name]) <= there + 1e-6
            shown = row[f"{name}_wanted"]
            if room.needed == 0:
                assert shown == "-"
            else:
                assert wanted - 1e-6 <= float(shown) < wanted + ROOM_DIGIT[display]


def test_shipped_numbers_are_those_of_the_result(shipped):
    assert_rows(*shipped)


def test_hard_numbers_are_those_of_the_result(hard):
    assert_rows(*hard)


def test_room_that_is_not_enough_does_not_look_so(shipped):
    short = 0
    for row, one in zip(rows(*shipped), shipped[1].belts, strict=True):
        for name, room in (("fit", one.install), ("take", one.take_up)):
            if not room.ok:
                short += 1
                assert float(row[name]) < float(row[f"{name}_wanted"])
    assert short or len(shipped[1].belts) == 1


def test_every_reason_and_every_remark_is_told(hard):
    scenario, choice = hard
    page = flat(belts_text(scenario, choice, more=True))
    for one in choice.belts:
        for said in (*one.why_not, *one.remarks, *(each.sentence for each in doubts(one))):
            # That holds for every length, and stands once in the verdict.
            assert flat(said)[1:] in page or said == NOT_JUDGED
        assert (NOT_JUDGED in one.remarks) == (choice.drive.table_rating is None)
    is_judged = choice.drive.table_rating is not None
    told = page.count("Carries: not judged, no rating is known; ")
    assert told == (bool(choice.belts) and not is_judged)
    assert NOT_JUDGED not in page
    for note in choice.notes:
        assert flat(note) in page


def test_a_reason_that_all_share_is_told_once(cider):
    mill = HARD["small pulleys"](read_scenario(cider))
    choice = choose_belt(mill)
    told = [one for one in choice.drive.judgements if one.verdict is not Verdict.PASS]
    assert [one.verdict for one in told if "section A wants" in one.sentence] == [Verdict.FAIL]
    assert [one.verdict for one in told if "comes to nothing" in one.sentence] == [Verdict.CAUTION]
    page = flat(belts_text(mill, choice, more=True))
    for shared in told:
        assert all(shared in one.judgements for one in choice.belts)
        assert page.count(flat(shared.sentence)[1:]) == 1
        assert f"{flat(shared.sentence)[1:]} [" in page.split("EVERY LENGTH")[1]
    assert "No length will do; the least bad is" in page


def test_the_verdict_names_the_first_and_the_other_good_ones(cider):
    mill = read_scenario(cider)
    choice = choose_belt(mill)
    good = [one.designation for one in choice.belts if one.ok]
    verdict = flat(belts_text(mill, choice, more=True).split("Verdict:")[1].split("\n\n")[0])
    assert verdict.strip().startswith(good[0])
    others = [one.designation for one in choice.belts[1:] if one.ok and doubts(one)]
    assert all((name in verdict) is (name not in others) for name in good)
    assert ("others with cautions" in verdict) is (len(good) == len(others) + 1)
    out = [one.designation for one in choice.belts if not one.ok]
    assert out
    assert not any(re.search(rf"\b{name}\b", verdict) for name in out)


def test_the_verdict_says_what_becomes_of_your_belt(cider):
    mill = read_scenario(cider)
    for inches, words in (
        (65.3, "Yours, A64, is out."),
        (90.3, "Yours never becomes snug in the travel."),
    ):
        other = with_belt(mill, length=inches * inch)
        assert words in flat(belts_text(other, choose_belt(other), more=True))
    nothing = HARD["no length"](mill)
    page = flat(belts_text(nothing, choose_belt(nothing), more=True))
    ends = [f"{end / inch:.2f}".rstrip("0") for end in path_ends(nothing)]
    assert (
        f"No published length becomes snug: pitch lengths from {ends[0]} in to {ends[1]} in "
        "become snug in the travel." in page
    )
    assert "Yours" not in page


def path_ends(scenario):
    choice = choose_belt(scenario)
    return choice.shortest_path, choice.longest_path


def verdict_of(scenario):
    choice = choose_belt(scenario)
    page = belts_text(scenario, choice, more=True)
    return choice, flat(page.split("Verdict:")[1].split("\n\n")[0]).strip()


def test_the_verdict_of_one_good_length_does_not_compare(cider):
    """It has what it needs; "the most" is for several."""
    mill = read_scenario(cider)
    found = {}
    for name, scenario in {
        "one of many": replace(
            # A 4L belt comes in inches only, whose allowances make no cautions.
            with_belt(mill, section="4L"),
            plate=replace(mill.plate, travel=(math.radians(-6), math.radians(14))),
        ),
        "one": with_belt(mill, section="flat leather", joint=Joint.LACED, thickness=0.003),
        "many": wider(mill, 60),
    }.items():
        choice, verdict = verdict_of(scenario)
        found[name] = sum(one.ok for one in choice.belts), len(choice.belts)
        lead = f"{choice.belts[0].designation} "
        if found[name][0] == 1:
            lead += "has room to be fitted and to be taken up"
            assert ("; no other length will do." in verdict) is (found[name][1] > 1)
        else:
            lead += "leaves the most room to fit it and to take it up"
        assert verdict.startswith(lead)
    assert found["one of many"][0] == 1 < found["one of many"][1]
    assert found["one"] == (1, 1)
    assert found["many"][0] > 1


def test_the_most_room_is_said_of_those_it_is_true_of(cider):
    """In an inch shop a belt in millimetres stands behind, though it may leave more room."""
    mill = read_scenario(cider)
    seen = set()
    for degrees in range(8, size(60, 26), 2):
        for display in Display:
            choice, verdict = verdict_of(replace(wider(mill, degrees), display=display))
            good = [one for one in choice.belts if one.ok]
            if len(good) < 2:
                continue
            is_most = all(one.room_share <= good[0].room_share for one in good)
            peers = [one for one in good if len(doubts(one)) == len(doubts(good[0]))]
            of_peers = all(one.room_share <= good[0].room_share for one in peers)
            assert ("of the usual lengths" in verdict) is not of_peers
            assert ("of those with the fewest cautions" in verdict) is (of_peers and not is_most)
            seen.add((display, is_most, of_peers))
    assert seen == {
        (Display.INCH, True, True), (Display.INCH, False, False), (Display.METRIC, True, True),
        (Display.INCH, False, True), (Display.METRIC, False, True),
    }  # fmt: skip


def test_the_drives_numbers_are_those_of_the_result(shipped):
    scenario, choice = shipped
    page = flat(belts_text(scenario, choice, more=True))
    drive = choice.drive
    assert f"driven shaft at {drive.driven / RPM:.0f} rpm" in page
    if choice.belts:
        asked, power = drive.design_power / POWER[scenario.display], drive.power
        (told,) = re.findall(
            r"; ([\d.]+) (?:hp|W) is asked, ([\d.]+) (?:hp|W) times the service factor ([\d.]+)\.",
            page,
        )
        assert list(map(float, told)) == pytest.approx(
            [asked, power / POWER[scenario.display], drive.service_factor], rel=THREE_FIGURES
        )
    assert flat(drive.service_factor_source) in page
    if drive.table_rating is None:
        assert flat(drive.rating_why_not) in page
    else:
        unit = {Display.INCH: "hp", Display.METRIC: "W"}[scenario.display]
        power = drive.table_rating / POWER[scenario.display]
        (told,) = re.findall(rf"([\d.]+) {unit} a belt before the factors", page)
        assert float(told) == pytest.approx(power, rel=THREE_FIGURES)
        others = [float(one) for one in re.findall(rf"([\d.]+) {unit} by", page)]
        wanted = [other.table_rating / POWER[scenario.display] for other in drive.other_ratings]
        assert others == pytest.approx(wanted, rel=THREE_FIGURES)


def test_pulleys_are_told_only_for_a_wanted_speed(shipped):
    scenario, choice = shipped
    wanted = choice.drive.driven / RPM
    choice = choose_belt(scenario, 0.98 * wanted * RPM)
    assert choice.pulleys
    page = belts_text(scenario, choice, more=True)
    block = page.split("PULLEYS for ")[1].split("\n\n")[0].splitlines()
    assert float(block[0].split()[0]) == pytest.approx(0.98 * wanted, rel=6e-4)
    unit = UNIT[scenario.display]
    assert f" rpm ({'in' if unit == inch else 'mm'};" in block[0]
    first = choice.pulleys[0]
    assert block[2].split() == [first.motor_named, first.driven_named]
    # What a column's diameters are stands over it.
    assert len(block[2].rstrip()) == block[1].index("driven") + len("driven")
    rows = block[3 : 3 + len(choice.pulleys)]
    assert block[3 + len(choice.pulleys) :] == (
        []
        if first.difference is None
        else ["  off: a belt so much longer puts the shafts half as much further apart."]
    )
    for line, pair in zip(rows, choice.pulleys, strict=True):
        row = PAIR.fullmatch(line)
        assert row is not None, line
        assert float(row["motor"]) * unit == pytest.approx(pair.motor_pulley, rel=0.01)
        assert float(row["driven"]) * unit == pytest.approx(pair.driven_pulley, rel=0.01)
        assert float(row["rpm"]) == pytest.approx(pair.driven / RPM, rel=6e-4)
        assert float(row["off"]) == pytest.approx(100 * pair.speed_error, abs=0.051)
        assert float(row["pitch"]) * unit == pytest.approx(pair.pitch_length, rel=1e-3)
        assert row["belt"] == (pair.designation or "-")
        if pair.difference is None:
            assert row["longer"] == "-"
        else:
            longer = read_designation(pair.designation).pitch_length - pair.pitch_length
            assert float(row["longer"]) * unit == pytest.approx(longer, abs=0.06 * unit)
        assert row["buy"] == BUY[pair.kept]
    assert "PULLEYS for" not in belts_text(
        scenario, replace(choice, pulleys=(), wanted_speed=None), more=True
    )


def test_no_pair_is_said(cider):
    mill = read_scenario(cider)
    choice = replace(choose_belt(mill), wanted_speed=500 * RPM)
    page = flat(belts_text(mill, choice, more=True))
    assert "no pair of preferred diameters comes near 500.0 rpm, with the shaft below" in page
    assert "PULLEYS for" not in page


def test_json_has_no_nan(hard):
    plain = json.loads(as_json(hard[1]), parse_constant=pytest.fail)
    assert len(plain["belts"]) == len(hard[1].belts)

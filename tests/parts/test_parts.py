"""What to buy and cut: the bolt by the mount's own motion, the pieces by their templates."""

import csv
import io
import json
import math
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from setting_mounts import rigid

from mountcalc.belts.fitting import fit
from mountcalc.drafting.items import Circle, Layer
from mountcalc.drafting.items import Path as Outline
from mountcalc.draw.boards.templates import base_template, plate_template
from mountcalc.draw.build import Build
from mountcalc.draw.guard.panel import guard_panel
from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.travel import usable_travel
from mountcalc.pages.amounts import bench_length
from mountcalc.parts.page import parts_text
from mountcalc.parts.parts import parts_list
from mountcalc.requirements.requirements import requirements_of
from mountcalc.requirements.setting import gentlest_setting
from mountcalc.requirements.swing import belt_name, swing_of
from mountcalc.scenario.boards import board_sizes
from mountcalc.scenario.model import Acts, AdjusterKind
from mountcalc.scenario.reader import read_scenario
from mountcalc.scenario.text.threads import bolt_diameter
from mountcalc.strength.bolt_length import bolt_length, length_words, stock_length

SCENARIOS = Path(__file__).parents[2] / "scenarios"
INCH = 0.0254
listed = cache(parts_list)


@cache
def shipped(name):
    return read_scenario(str(SCENARIOS / f"{name}.toml"))


@pytest.fixture
def scenario(scenario_file):
    return shipped(scenario_file.stem)


@pytest.fixture
def mill():
    return shipped("cider-mill")


def found(scenario, name):
    (one,) = (part for part in listed(scenario).parts if part.name == name)
    return one


def extensions(scenario):
    """The adjuster's extension at install and take-up, as `belts` finds them."""
    mount = Mount.of(scenario)
    rooms = fit(scenario, scenario.belt.length, belt_name(scenario.belt))
    travel = usable_travel(mount)
    ends = (rooms.install, travel.slack_end), (rooms.take_up, travel.tight_end)
    return [
        float(mount.adjuster(end.angle if room.plate_angle is None else room.plate_angle).extension)
        for room, end in ends
    ]


def grown(mount, phi, tension):
    """The mount with a belt that has stretched until a strand has a tension at a plate angle."""
    return replace(mount, length=float(mount.path(phi).length) / (1.0 + tension / mount.stiffness))


def given(mount, phi, step=1e-4):
    """What gives at a plate angle [m]: the force is what energy changes by per metre of bolt."""
    at = np.array([phi - step, phi + step])
    force = np.diff(mount.energy(at)) / np.diff(mount.adjuster(at).extension)
    acts = mount.scenario.adjuster.acts
    carries = acts in {None, Acts.BOTH} or (force >= 0) == (acts is Acts.PUSH)
    return float(mount.give(force)[0]) if carries else 0.0


def positions(scenario):
    """The bolt's places at install, with a belt taken up, and with a new one [m]."""
    mount, setting = Mount.of(scenario), gentlest_setting(scenario)
    tension = setting.new_tension or setting.tension_min or 0.0
    travel = usable_travel(mount)
    swing = swing_of(mount, travel)
    slack, tight = extensions(scenario)
    slack += given(grown(mount, travel.snug, 0.0), swing.install)
    tight += given(grown(mount, swing.take_up, tension), swing.take_up)
    if setting.new_turns is None:
        return slack, tight
    new = requirements_of(scenario).solved.place(setting.new_turns).extension[0]
    return slack, tight, float(new)


def test_every_page_fits_and_tells_every_part(scenario):
    text = parts_text(scenario, listed(scenario))
    lines = text.split("\n")
    assert len(lines) <= 45
    assert max(map(len, lines)) <= 80
    more = parts_text(scenario, listed(scenario), more=True)
    assert max(map(len, more.split("\n"))) <= 80
    for part in listed(scenario).parts:
        assert part.name in text
        assert part.sentence
        assert part.count is None or part.count > 0
        assert part.length is None or (part.length > 0 and math.isfinite(part.length))
        # Where nothing tells a size, the keys that would are named.
        assert part.source or part.not_told
        assert part.size or part.not_told or "not told" in part.sentence


def test_the_bolt_reaches_both_ends_of_its_travel(scenario):
    bolt, adjuster = bolt_length(scenario), scenario.adjuster
    if adjuster.kind is AdjusterKind.NONE:
        assert bolt is None
        assert "There is no adjuster" in listed(scenario).notes[0]
        return
    places = positions(scenario)
    low, high = min(places), max(places)
    assert bolt.travel == pytest.approx(high - low, rel=1e-6)
    if adjuster.kind is AdjusterKind.LINK:
        drawn = math.dist(adjuster.base_pin, adjuster.plate_pin)
        if adjuster.coil is not None:
            low, high = sorted(extensions(scenario))
        assert bolt.reach == pytest.approx((drawn + low, drawn + high))
        return
    across = bolt_diameter(adjuster.thread)
    # A nut 7/8 of the diameter high and a lock nut with washers, two diameters; what is between is
    # a block of two diameters, or the plate.
    in_plate = adjuster.kind is AdjusterKind.JACK_IN_PLATE
    between = board_sizes(scenario).thickness if in_plate else 2.0 * across
    stands = scenario.parts.bolt.stands_out
    furthest = high - low if stands is None else stands + high
    assert bolt.length >= furthest + 2.875 * across + between - 1e-9
    assert found(scenario, "bolt").length == bolt.length
    assert found(scenario, "bolt").count == len(adjuster.places)


def rectangle(drawing, layer):
    """Sides of the first outline on a layer."""
    outline = next(one for one in drawing.items if isinstance(one, Outline) and one.layer is layer)
    return rectangle_of(outline)


@pytest.mark.usefixtures("plain_names")
def test_boards_are_cut_as_their_templates_are_drawn(scenario):
    build = Build(scenario)
    plate, base = plate_template(build), base_template(build)
    width, length = rectangle(plate, Layer.CUT)
    one = found(scenario, "plate")
    assert one.length == pytest.approx(length)
    assert one.size.split(" x ")[0] == trimmed(length, scenario)
    assert one.size.split(" x ")[1] == trimmed(width, scenario)
    names = [part.name for part in listed(scenario).parts]
    (name,) = {"base", "strip for the hinges"} & {*names}
    assert found(scenario, name).length == pytest.approx(max(rectangle(base, Layer.CUT)))
    # Holes under the leaves of both boards: as many as there are screws.
    sizes = board_sizes(scenario)
    holes = [
        item
        for drawing in (plate, base)
        for item in drawing.items
        if isinstance(item, Circle) and item.layer is Layer.DRILL
        if 0 < item.centre[1] < sizes.leaf_width - sizes.edge
    ]
    screws = [part for part in listed(scenario).parts if part.name.startswith("hinge screw")]
    assert sum(part.count for part in screws) == len(holes)
    if "metal under the tip" in names:
        on = plate if scenario.adjuster.kind is AdjusterKind.JACK_IN_BASE else base
        marks = [item for item in on.items if isinstance(item, Outline)]
        metal = [rectangle_of(item) for item in marks if item.layer is Layer.MARK][-1]
        assert found(scenario, "metal under the tip").length == pytest.approx(max(metal))
    block = [note for note in base.notes if note.startswith("The block's size, ")]
    for note in block:
        sizes = note.removeprefix("The block's size, ").split(", is an")[0].split(" x ")
        told = found(scenario, "block for the adjuster").size
        assert all(size.split(" ")[0].replace(".0", "") in told for size in sizes)


def rectangle_of(outline):
    x, y = zip(*outline.points, strict=True)
    return max(x) - min(x), max(y) - min(y)


def trimmed(length, scenario):
    text = bench_length(length, scenario.display).rpartition(" ")[0]
    return text.removesuffix(".0")


@pytest.mark.usefixtures("plain_names")
def test_the_guard_is_cut_as_its_template_is_drawn(scenario):
    facts = guard_panel(Build(scenario)).facts
    blank = found(scenario, "guard panel and front")
    assert blank.count == 2
    assert blank.length == pytest.approx(max(facts["blank_width"], facts["blank_height"]))
    assert found(scenario, "guard strip").length == pytest.approx(facts["strip_length"])
    assert found(scenario, "screw for the guard").count == facts["fixing_holes"]


def test_the_assembly_names_the_same_bolt(scenario, scenario_file, views):
    words = length_words(scenario)
    notes = " ".join(views(scenario_file)["assembly"].notes)
    assert (f"{words[1:]} (mountcalc parts)." in notes) == bool(words)
    stops = [one for one in listed(scenario).parts if one.name.startswith(("stop", "strap"))]
    assert len(stops) >= 1


def test_table_setting_and_parts_tell_one_travel(mountcalc, scenario_file):
    outputs = [
        json.loads(mountcalc(command, scenario_file, "--json").out)
        for command in ("table", "setting", "parts")
    ]
    for key in ("adjuster_travel_mm", "bolt_length_mm"):
        assert len({one[key] for one in outputs}) == 1
    pages = [mountcalc(command, scenario_file, "--more").out for command in ("table", "setting")]
    assert all(("\nBolt:" in page) == (outputs[0]["bolt_length_mm"] is not None) for page in pages)


def test_json_and_csv_tell_the_same(mountcalc, cider, tmp_path):
    parts = json.loads(mountcalc("parts", cider, "--json").out)["parts"]
    for key in ("name", "count", "size", "length_mm", "sentence", "source"):
        assert all(key in part for part in parts)
    rows = list(csv.DictReader(io.StringIO(mountcalc("parts", cider, "--csv", "-").out)))
    assert [(row["name"], int(row["count"])) for row in rows] == [
        (part["name"], part["count"]) for part in parts
    ]
    bolt = next(row for row in rows if row["name"] == "bolt")
    assert float(bolt["length_mm"]) == pytest.approx(7 * 25.4)
    done = mountcalc("parts", cider, "--csv", tmp_path / "parts.csv")
    assert done.code == 0
    assert (tmp_path / "parts.csv").read_text(encoding="utf-8").startswith("name,count,size,")


# Common practice: half inches to 6 in, inches above; 5 mm to 60 mm, 10 mm to 200 mm.
@pytest.mark.parametrize(
    ("wanted", "is_inch", "stock"),
    [
        (3.0 * INCH, True, 3.0 * INCH),
        (3.01 * INCH, True, 3.5 * INCH),
        (6.01 * INCH, True, 7.0 * INCH),
        (12.01 * INCH, True, None),
        (0.041, False, 0.045),
        (0.0601, False, 0.070),
        (0.2, False, 0.2),
        (0.2001, False, None),
    ],
)
def test_stock_is_the_next_length_that_shops_have(wanted, is_inch, stock):
    assert stock_length(wanted, is_inch=is_inch) == pytest.approx(stock)


def test_what_the_bolt_stands_out_makes_it_longer(mill):
    mill = rigid(mill)
    short = bolt_length(mill)
    told = mill.with_(adjuster={"stands_out": "6 in"})
    low, high = sorted(extensions(told))
    assert bolt_length(told).reach == pytest.approx((6 * INCH + low, 6 * INCH + high))
    assert bolt_length(told).wanted - short.wanted == pytest.approx(6 * INCH + low)
    assert "adjuster.stands_out" in found(mill, "bolt").not_told
    assert "adjuster.stands_out" not in found(told, "bolt").not_told
    behind = mill.with_(adjuster={"stands_out": "1/4 in"})
    assert "inside what it turns in: move that back" in found(behind, "bolt").sentence


@pytest.mark.parametrize(
    ("holder", "part"),
    [
        ("insert", "threaded insert for the bolt"),
        ("t-nut", "T-nut for the bolt"),
        ("nut", "nut for the bolt to turn in"),
        ("tapped-wood", None),
    ],
)
def test_the_bolt_turns_in_what_the_file_says(mill, holder, part):
    names = [one.name for one in listed(mill.with_(adjuster={"holder": holder})).parts]
    holders = {"threaded insert for the bolt", "T-nut for the bolt", "nut for the bolt to turn in"}
    assert holders & {*names} == ({part} if part else set())
    # A nut adds its height; what is in the board does not.
    longer = bolt_length(mill.with_(adjuster={"holder": "nut"})).wanted
    wanted = bolt_length(mill.with_(adjuster={"holder": holder})).wanted
    assert longer - wanted == pytest.approx(0.0 if holder == "nut" else 0.875 * 0.375 * INCH)


def test_two_bolts_take_twice_the_hardware():
    pair = shipped("seed-cleaner")
    counts = {one.name: one.count for one in listed(pair).parts}
    assert counts["bolt"] == counts["lock nut"] == counts["metal under the tip"] == 2
    assert counts["washer for the bolt"] == 4
    # Machine screws go through so thin a plate: each has its nut and washer.
    assert counts["hinge screw into the plate"] == counts["nut for those"] == 8
    assert found(pair, "bolt").size.endswith("class 8.8")


def test_a_base_has_screws_and_holes_of_its_own(mill):
    screws = {"screw": "M5x55", "into_plate": "through", "base_screw": "#10 x 1 1/4 in"}
    mixed = mill.with_(hinge=screws)
    names = "hinge screw into the plate", "hinge screw into the base"
    through, wood = (found(mixed, name) for name in names)
    assert (through.size, wood.size) == ("M5x55", "#10 x 1 1/4 in")
    assert (through.source, wood.source) == ("hinge.screw", "hinge.base_screw")
    # Seven tenths of a number 10, 0.19 in thick (estimate).
    assert board_sizes(mixed).base_pilot == pytest.approx(0.7 * 0.19 * INCH)
    holes = [one for one in base_template(Build(mixed)).items if isinstance(one, Circle)]
    assert sum(one.radius == pytest.approx(0.35 * 0.19 * INCH) for one in holes) == wood.count
    untold = mill.with_(hinge=screws | {"base_screw": None})
    assert "hinge.base_screw" in found(untold, names[1]).not_told


def test_an_eye_bolt_is_longer_by_its_spring():
    mill = shipped("feed-mill")
    rigid = mill.with_(adjuster={"spring": None})
    spring = found(mill, "coil spring")
    assert spring.length == pytest.approx(0.080)
    nuts = (0.875 + 2.0) * 0.008
    assert found(mill, "eye-bolt").length == pytest.approx(
        found(rigid, "link").length + 0.080 + nuts
    )
    # It pulls: the weights press the spring in at install, weights and belt at take-up.
    mount, tension = Mount.of(mill), gentlest_setting(mill).new_tension
    swing = swing_of(mount, usable_travel(mount))
    least = -given(grown(mount, swing.snug, 0.0), swing.install)
    most = -given(grown(mount, swing.take_up, tension), swing.take_up)
    assert 0 < least < most < mill.adjuster.coil.stop
    further = bolt_length(mill).travel - bolt_length(rigid).travel
    assert further == pytest.approx(most - least, rel=1e-5)


def test_a_jack_behind_a_spring_goes_on_by_what_it_gives(mill):
    mill = rigid(mill)
    rate = {"rate": "40 lbf/in", "free_length": "2 in", "stop": "1 in"}
    sprung = mill.with_(adjuster={"spring": rate, "stands_out": "6 in"})
    plain = mill.with_(adjuster={"stands_out": "6 in"})
    further = bolt_length(sprung).travel - bolt_length(plain).travel
    tension, mount = gentlest_setting(sprung).new_tension, Mount.of(sprung)
    swing = swing_of(mount, usable_travel(mount))
    pressed = given(grown(mount, swing.take_up, tension), swing.take_up)
    assert further == pytest.approx(pressed - given(mount, swing.install), rel=1e-5)
    assert 0 < pressed <= INCH
    # It is shorter by the spring, as it is with a belt taken up.
    shorter = bolt_length(plain).wanted - bolt_length(sprung).wanted
    assert shorter == pytest.approx(2 * INCH - pressed, rel=1e-5)


@pytest.mark.parametrize("name", ["cider-mill", "grindstone", "seed-cleaner"])
def test_a_jack_goes_further_by_what_its_force_presses_in(name):
    """By F/k at take-up less F/k at install, and by nothing as nothing gives."""
    told = {"stiffness": None, "stands_out": "150 mm"}
    rigid = bolt_length(shipped(name).with_(adjuster=told))
    extra = []
    for stiffness in ("30 N/mm", "3000 N/mm", "300000 N/mm"):
        gives = shipped(name).with_(adjuster=told | {"stiffness": stiffness})
        found, mount = bolt_length(gives), Mount.of(gives)
        swing = swing_of(mount, usable_travel(mount))
        tension = gentlest_setting(gives).new_tension
        most = given(grown(mount, swing.take_up, tension), swing.take_up)
        least = given(grown(mount, swing.snug, 0.0), swing.install)
        further = found.travel - rigid.travel
        assert further == pytest.approx(most - least, rel=1e-4)
        extra.append(abs(further))
    assert extra[0] > 1e-3
    assert extra[0] > 30 * extra[1] > 900 * extra[2]


@pytest.mark.parametrize("stiffness", [None, "30 N/mm", "300 N/mm"])
def test_the_stock_length_covers_the_turns_of_a_new_belt(scenario, stiffness):
    if scenario.adjuster.kind not in {AdjusterKind.JACK_IN_BASE, AdjusterKind.JACK_IN_PLATE}:
        pytest.skip("no jack")
    told = {"stands_out": "150 mm", "stiffness": stiffness}
    gives = scenario.with_(adjuster=told)
    setting, bolt = gentlest_setting(gives), bolt_length(gives)
    if setting.new_turns is None:
        pytest.skip("no setting")
    solved = requirements_of(gives).solved
    out = 0.150 + float(solved.place(setting.new_turns).extension[0])
    assert bolt.reach[0] <= out <= bolt.reach[1]
    # Nut, lock nut and washers hold it besides.
    assert bolt.length >= out + 2.875 * bolt_diameter(gives.adjuster.thread)


def test_bolts_of_the_feet_pass_foot_plate_and_packing(mill):
    plain = found(mill, "bolt for the motor's feet")
    packed = found(mill.with_(motor={"packing": "1 in"}), plain.name)
    told = found(mill.with_(feet={"bolt": "5/16-18"}), plain.name)
    assert (plain.count, told.size) == (4, "5/16-18 x 3 in")
    assert packed.length - plain.length == pytest.approx(INCH)
    assert plain.length > mill.parts.plate.thickness
    assert "feet.bolt" in plain.not_told
    assert "feet.bolt" not in told.not_told


@pytest.mark.usefixtures("plain_names")
@pytest.mark.parametrize(
    ("grain", "words"),
    [
        (None, "along the long side"),
        ("along-hinge", "along the hinge"),
        ("from-hinge", "from the hinged edge to the far one"),
    ],
)
def test_grain_runs_as_it_is_drawn(mill, grain, words):
    told = mill.with_(plate={"grain": grain})
    assert f"grain {words}" in found(told, "plate").sentence
    assert any(note.startswith(f"Grain {words}.") for note in plate_template(Build(told)).notes)


def test_what_the_file_does_not_tell_is_named(mill):
    bare = shipped("forge-blower")
    assert found(bare, "bolt for the motor's feet").count is None
    assert "motor.frame" in found(bare, "bolt for the motor's feet").not_told
    text = parts_text(bare, listed(bare))
    assert "\n   ?  bolt for the motor's feet" in text
    assert "[motor] frame" in text
    assert "base.thickness" not in listed(mill).not_told
    assert "plate.thickness" in listed(bare).not_told


def test_a_thread_without_a_known_size_has_no_length(mill):
    told = mill.with_(adjuster={"thread": None, "advance_per_turn": "1 mm"})
    bolt = found(told, "bolt")
    assert (bolt.size, bolt.length) == (None, None)
    assert "adjuster.thread" in bolt.not_told


def test_spoilt_files_get_one_line(mountcalc, cider, tmp_path):
    text = cider.read_text(encoding="utf-8")
    file = tmp_path / "mill.toml"
    for old, new, key in (
        ('thread = "3/8-16"', 'thread = "3/8"', "adjuster.thread"),
        ('designation = "A60"', 'designation = "A90"', "belt.designation"),
        ('floor = "-32 in"', 'floor = "-3200 in"', "base.floor"),
    ):
        assert old in text
        file.write_text(text.replace(old, new), encoding="utf-8")
        done = mountcalc("parts", file)
        assert (done.code, done.out) == (2, "")
        assert key in done.err
        assert done.err.count("\n") == 1
    done = mountcalc("parts", cider, "--json", "--csv", "-")
    assert (done.code, done.out) == (2, "")

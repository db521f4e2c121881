"""The scenario that is written: its comments, what was taken, flat belts, searches for a place."""

import tomllib

import pytest
from measured_mount import BOLT, HEIGHTS, MOUNT, PULLEYS, of
from sizes import size
from tape_mounts import seeded

from mountcalc import InputError, place
from mountcalc.new.mount.draft import TAKEN
from mountcalc.pages.page import CAUTIONS
from mountcalc.scenario.reader import parse_scenario, parse_search
from mountcalc.table import tension_table

ROOM = {
    "built": "no",
    "driven_height": "40 in",
    "room_left": "36 in",
    "room_right": "8 in",
    "room_above": "6 in",
    "motor_power": "1/4 hp",
    "machine_power": "1/6 hp",
    "motor_weight": "17 lb",
    "motor_frame": "48",
    "motor_turns": "cw",
    "bearing_condition": "good",
    "motor_pulley_across": "3 in",
    "driven_pulley_across": "8 in",
}


def comment_text(text):
    lines = [line.lstrip("# ") for line in text.splitlines() if line.startswith("#")]
    return " ".join(lines)


def test_values_stand_as_they_were_measured_and_what_was_taken_is_marked():
    found = of(MOUNT | {"journal_diameter": "1 1/4 in", "title": 'A "mill" \\ <b>'})
    tables = tomllib.loads(found.text)
    assert tables["title"] == 'A "mill" \\ <b>'
    assert tables["motor"]["pulley_outside_diameter"] == "3 1/4 in"
    assert tables["driven"]["bearing"][0]["journal_diameter"] == "1 1/4 in"
    assert tables["motor"]["shaft"] == ["-20 1/2 in", "-4 in"]
    assert tables["plate"]["hinge"] == ["-24 in", "-13 in"]
    assert tables["adjuster"] == {
        "kind": "jack-in-base",
        "thread": "3/8-16",
        "tip": ["-24 in", "1 1/2 in"],
        "axis": "left",
        "face": "up",
    }
    assert tables["base"]["floor"] == "-36 in"
    told = comment_text(found.text)
    assert all(caution in told for caution in CAUTIONS)
    assert "motor's shaft above the floor: 32 in" in told
    taken = {one.key for one in found.taken}
    assert {"motor_power", "machine_power", "bearing_condition", "swing_tighter"} <= taken
    assert not taken & (MOUNT.keys() | {"journal_diameter"})
    assert found.text.count(TAKEN) >= 10
    assert max(map(len, found.text.splitlines())) <= 100


def test_a_known_answer_is_never_marked_as_taken():
    said = MOUNT | {
        "motor_power": "1/2 hp", "motor_speed": "1725 rpm", "motor_turns": "ccw",
        "motor_weight": "28 lb", "shaft_height": "3 1/2 in", "plate_length": "16 in",
        "plate_width": "8 in", "plate_thickness": "3/4 in", "plate_weight": "6 lb",
        "swing_tighter": "4 in", "swing_looser": "2 in", "thread": "3/8-16",
        "journal_diameter": "1 in", "journal_length": "2 in", "bearings_apart": "14 in",
        "pulley_to_bearing": "3 in", "machine_power": "0.4 hp",
    }  # fmt: skip
    assert TAKEN not in of(said).text.partition("title =")[2]


def test_limits_follow_what_the_bearings_are_and_how():
    def limit(**said):
        bearing = of(MOUNT | said).scenario.driven.bearings[0]
        return bearing.limit / bearing.projected_area / 6894.757

    # Machinery's Handbook (from memory): light line shafting 15 to 35 psi, heavy 100 to 150.
    assert limit() == pytest.approx(25)
    assert limit(bearing_condition="bad") == pytest.approx(15)
    assert limit(bearing_condition="good") == pytest.approx(100)
    assert limit(bearing_kind="bronze", bearing_condition="good") == pytest.approx(100)
    for kind in ("babbitt", "bronze", "iron", "wood"):
        limits = [
            limit(bearing_kind=kind, bearing_condition=how) for how in ("bad", "worn", "good")
        ]
        assert limits == sorted(limits)


def test_a_motor_that_is_not_asked_for_all_it_can_starts_with_more():
    def factor(**said):
        return of(MOUNT | {"motor_power": "1/2 hp"} | said).scenario.driven.starting_factor

    # Common practice: split phase on a line shaft 1.5, a capacitor on a heavy wheel 3 to 3.5.
    assert factor(motor_start="split-phase", machine_power="1/2 hp") == pytest.approx(1.5)
    assert factor(motor_start="split-phase", machine_power="1/4 hp") == pytest.approx(3.0)
    assert factor(machine_start="heavy") == pytest.approx(3.5)


def test_a_flat_belt_is_as_long_as_the_way_round_the_rims():
    said = {key: text for key, text in MOUNT.items() if key != "belt"}
    flat = {"belt_kind": "leather", "flat_thickness": "1/4 in", "flat_width": "2 in"}
    belt = of(said | flat).scenario.belt
    # Over rims of 9 1/4 and 3 1/4 in, 20.89 in apart, in the middle of 1/4 in.
    assert belt.length / 0.0254 == pytest.approx(2 * 20.89 + 3.1416 * 6.5 + 36 / 4 / 20.89, abs=0.1)
    assert belt.section == "flat leather"
    old = of(said | flat | {"belt_outside": "63 in"}).scenario.belt
    assert old.length / 0.0254 == pytest.approx(63 - 3.1416 / 4, abs=1 / 32)


def test_an_unknown_belt_is_one_that_is_sold_and_becomes_snug_in_the_swing():
    said = {key: text for key, text in MOUNT.items() if key != "belt"} | {"swing_looser": "3 in"}
    found = of(said)
    assert found.scenario.belt.designation.text in {"A60", "A61", "A62"}
    assert tension_table(found.scenario, [0.0, 2.0]).rows
    assert {one.key for one in found.taken} >= {"belt"}
    by_old = of(said | {"belt_outside": "62 in"})
    assert by_old.scenario.belt.designation.text == "A60"


@pytest.mark.parametrize("adjuster", ["block", "plate", "eye-bolt"])
def test_a_mount_that_is_not_built_becomes_a_search(adjuster):
    for seed in range(size(8, 1)):
        rng = seeded(seed)
        ways = ("room_left", "room_right", "room_above", "room_below")
        room = {way: f"{rng.choice((8, 16, 30, 38))} in" for way in ways} if seed else {}
        deep = {rng.choice(ways): "36 in"} if seed else {}
        found = of(ROOM | room | deep | {"adjuster": adjuster})
        assert found.is_search
        search = parse_search(found.text)
        assert search.scenario == found.scenario
        # The sketch is a mount, too, and in the room.
        assert parse_scenario(found.text.partition("[search]")[0])
        x, y = search.scenario.motor.shaft
        radius = 3 * 0.0254  # the shaft height of a frame 48
        (left, right), (low, high) = search.space.hinge_x, search.space.hinge_y
        assert left + radius <= x <= right - radius
        assert low + radius <= y <= high - radius


def test_a_search_for_a_mount_finds_layouts():
    search = parse_search(of(ROOM | {"adjuster": "block"}).text)
    assert place(search, samples=size(32768, 256), count=size(10, 1)).layouts


def test_no_room_is_told():
    small = {"room_left": "9 in", "room_below": "9 in"}
    with pytest.raises(InputError, match="room_left: there is no room") as refused:
        of(ROOM | small)
    assert "36" not in str(refused.value)


def test_answers_in_json_have_their_units():
    plain = of(MOUNT).to_dict()
    assert plain["motor_mm"] == pytest.approx([-520.7, -101.6])
    assert plain["contradictions"] == []
    clash = of(HEIGHTS | BOLT | PULLEYS | {"motor_lies": "right"}).to_dict()["contradictions"]
    assert clash[0]["suspects"] == ["motor_lies", "wall_side"]

"""Belts chosen for random mounts: no other error than that of the mount, no NaN, no false "ok"."""

import json
import math
import re
from dataclasses import replace

import pytest
from hypothesis import assume, event, given, settings
from hypothesis import strategies as st
from random_mounts import mounts
from sizes import examples

from mountcalc.belts.choice import choose_belt
from mountcalc.belts.drive import NOT_JUDGED
from mountcalc.belts.page import belts_text
from mountcalc.belts.preferred_pulleys import preferred_pulleys
from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.travel import EndReason, usable_travel
from mountcalc.errors import MountError
from mountcalc.handbook.belts.designation import DesignationError, read_designation
from mountcalc.handbook.belts.sections import Joint, flat_materials, known_sections
from mountcalc.judgement import Verdict
from mountcalc.pages.as_json import as_json
from mountcalc.scenario.pulleys import PulleyFace

NO_MORE_THAN_ROUNDING = 1e-9
FARTHEST_OFF = 0.05 * (1 + 1e-9)
FASTEST_RIM = 33.0  # [m/s]


@st.composite
def belted(draw):
    """A random mount with a belt of any kind, its own length anywhere or that of a designation."""
    scenario = draw(mounts())
    section = draw(st.sampled_from((*known_sections(), *flat_materials(), None)))
    joint = draw(st.sampled_from((Joint.ENDLESS, *Joint)))
    belt = replace(scenario.belt, section=section, joint=joint)
    if section in flat_materials():
        belt = replace(belt, width=0.05, thickness=draw(st.floats(0.002, 0.008)))
    elif section is not None and draw(st.booleans()):
        belt = designated(belt, round(belt.length * 1e3), round(belt.length / 0.0254))
    faces = st.sampled_from(tuple(PulleyFace))
    power = scenario.driven.power or 1.0
    return replace(
        scenario,
        belt=belt,
        driven=replace(scenario.driven, pulley_face=draw(faces), power=power),
        motor=replace(scenario.motor, pulley_face=draw(faces), power=10 ** draw(st.floats(1, 5))),
    )


def designated(belt, millimetres, inches):
    """The belt by a name near to its length, if the section has such numbers."""
    for number in (millimetres, 10 * inches, inches):
        try:
            bought = read_designation(f"{belt.section} {number}")
        except DesignationError:
            continue
        if abs(bought.pitch_length - belt.length) < 0.2:
            return replace(belt, designation=bought, length=bought.pitch_length)
    return belt


def chosen(scenario, speed=None):
    """The choice, or None where the mount is refused with a reason."""
    try:
        return choose_belt(scenario, speed)
    except MountError as error:
        assert str(error)
        # Points that were typed the wrong way round are no mirror image of each other.
        assume("look swapped" not in str(error))
        return None


def is_snug(scenario):
    try:
        usable_travel(Mount.of(scenario))
    except MountError:
        return False
    return True


def numbers(plain):
    if isinstance(plain, dict):
        for value in plain.values():
            yield from numbers(value)
    elif isinstance(plain, list):
        for value in plain:
            yield from numbers(value)
    elif isinstance(plain, float):
        yield plain


@settings(max_examples=examples(60, 5))
@given(belted(), st.none() | st.floats(5.0, 500.0))
def test_any_mount_is_judged_or_refused(scenario, speed):
    choice = chosen(scenario, speed)
    event("refused" if choice is None else "chosen")
    if choice is None:
        return
    plain = json.loads(as_json(choice), parse_constant=pytest.fail)
    assert all(math.isfinite(number) for number in numbers(plain))
    page = belts_text(scenario, choice, more=True)
    assert not re.search(r"\bnan\b|\binf\b|\bNone\b", page)
    for one in choice.belts:
        event("ok" if one.ok else "out")
        assert one.ok == (not one.why_not)
        for room in (one.install, one.take_up):
            assert room.there >= 0
            assert room.ok == (room.there >= room.needed * (1 - NO_MORE_THAN_ROUNDING))
        assert (one.install_ok, one.take_up_ok) == (one.install.ok, one.take_up.ok)
        judged = {each.name: each for each in one.judgements}
        for room, name in ((one.install, "belt-install"), (one.take_up, "belt-take-up")):
            lacking = Verdict.CAUTION if room.sure == "from memory" else Verdict.FAIL
            assert judged[name].verdict is (Verdict.PASS if room.ok else lacking)
        if one.belts_needed is not None and one.belts_needed > scenario.belt.count:
            assert judged["belt-power"].verdict is Verdict.CAUTION
        # Whatever is from memory or an estimate is never a no.
        for each in one.judgements:
            unsure = re.search(r"from memory|estimate", each.source)
            assert not (unsure and each.verdict is Verdict.FAIL)
        assert (one.rating is None) == (one.table_rating is None)
        assert (one.arc_factor is None) == (one.rating is None)
        assert (one.belts_needed is None) == (not one.rating)
        assert (NOT_JUDGED in one.remarks) == (one.rating is None)
        for end, room in ((one.shortest, one.install), (one.longest, one.take_up)):
            assert_end(end, room, one)
        low, high = scenario.plate.travel
        assert low - 1e-9 <= one.snug_plate_angle <= high + 1e-9
        assert one.wrap_motor + one.wrap_driven == pytest.approx(2 * math.pi)
    for pair in choice.pulleys:
        assert_pair(scenario, pair, speed)


def assert_end(end, room, one):
    """As short or as long as may be: with the rooms of its own place, told where it lacks them."""
    if end is None:
        return
    assert (end.room is None) == (end.snug_plate_angle is None)
    enough = end.room is not None and end.room >= room.needed * (1 - NO_MORE_THAN_ROUNDING)
    assert end.ok == enough
    word = "short" if end is one.shortest else "long"
    told = any(f"as {word} as its tolerance" in each.sentence for each in one.judgements)
    assert told == (room.ok and not end.ok)


def assert_pair(scenario, pair, speed):
    event(f"pair: {pair.motor_named} and {pair.driven_named}, kept {pair.kept}")
    assert abs(pair.driven / speed - 1) <= FARTHEST_OFF
    assert pair.speed_error == pytest.approx(pair.driven / speed - 1, abs=1e-12)
    most = scenario.driven.max_speed
    assert most is None or pair.driven <= most * (1 + 1e-9)
    assert pair.driven * pair.driven_pulley / 2 <= FASTEST_RIM
    assert scenario.motor.speed * pair.motor_pulley / 2 <= FASTEST_RIM
    for side, named in (
        (scenario.motor, pair.motor_named),
        (scenario.driven, pair.driven_named),
    ):
        assert (named == "rim") == (side.pulley_face is PulleyFace.FLAT)


@settings(max_examples=examples(60, 5))
@given(belted(), st.floats(0.9, 1.1))
def test_pulleys_for_nearly_the_present_speed(scenario, times):
    speed = Mount.of(scenario).driven_speed * times
    pairs = preferred_pulleys(scenario, speed)
    event(f"pulleys {len(pairs)}")
    for pair in pairs:
        assert_pair(scenario, pair, speed)
    order = [pair.kept is None for pair in pairs]
    assert order == sorted(order)
    assert [pair.kept for pair in pairs].count("both") <= 1
    for kept in (None, "motor"):
        errors = [abs(pair.speed_error) for pair in pairs if pair.kept == kept]
        assert errors == pytest.approx(sorted(errors), abs=1e-11)


@settings(max_examples=examples(60, 5))
@given(belted())
def test_your_belt_is_there_exactly_where_it_becomes_snug(scenario):
    choice = chosen(scenario)
    if choice is None:
        return
    yours = [one for one in choice.belts if one.is_yours]
    event(f"yours {len(yours)}")
    assert len(yours) <= 1
    if yours:
        name = yours[0].pitch_length
        assert name == pytest.approx(scenario.belt.length, abs=0.3e-3 + 1e-9)
        assert is_snug(replace(scenario, belt=replace(scenario.belt, length=name)))
    else:
        assert not is_snug(scenario) or is_cut(scenario)


def is_cut(scenario):
    """The travel ends short of its stops; the paths are then known to a step of the search."""
    travel = usable_travel(Mount.of(scenario))
    return any(end.reason is not EndReason.STOP for end in (travel.low, travel.high))


@settings(max_examples=examples(40))
@given(belted())
def test_the_mirror_image_has_the_same_belts_in_the_same_order(scenario):
    one, image = chosen(scenario), chosen(mirrored(scenario))
    assert (one is None) == (image is None)
    if one is None:
        return
    assert one.drive == image.drive
    assert [belt.designation for belt in one.belts] == [belt.designation for belt in image.belts]
    for belt, twin in zip(one.belts, image.belts, strict=True):
        # The length near a dead centre hardly changes with the angle: hence the angle's tolerance.
        assert twin.snug_plate_angle == pytest.approx(-belt.snug_plate_angle, abs=1e-6)
        assert twin.center_distance == pytest.approx(belt.center_distance, rel=1e-9)
        assert (twin.ok, twin.belts_needed) == (belt.ok, belt.belts_needed)
        assert twin.install.there == pytest.approx(belt.install.there, rel=1e-6, abs=1e-9)
        assert twin.take_up.there == pytest.approx(belt.take_up.there, rel=1e-6, abs=1e-9)


def mirrored(scenario):
    """Left is right."""

    def point(at):
        return at and (-at[0], at[1])

    def direction(angle):
        return None if angle is None else math.pi - angle

    motor, plate, jack = scenario.motor, scenario.plate, scenario.adjuster
    return replace(
        scenario,
        driven=replace(scenario.driven, shaft=point(scenario.driven.shaft)),
        motor=replace(motor, shaft=point(motor.shaft), center_of_mass=point(motor.center_of_mass)),
        plate=replace(
            plate,
            hinge=point(plate.hinge),
            center_of_mass=point(plate.center_of_mass),
            travel=(-plate.travel[1], -plate.travel[0]),
        ),
        adjuster=replace(
            jack,
            tip=point(jack.tip),
            base_pin=point(jack.base_pin),
            plate_pin=point(jack.plate_pin),
            axis=direction(jack.axis),
            face=direction(jack.face),
        ),
    )


@settings(max_examples=examples(25))
@given(belted(), st.floats(1.05, 4.0))
def test_more_power_or_more_belts_only_move_the_count(scenario, times):
    one = chosen(scenario)
    driven = replace(scenario.driven, power=scenario.driven.power * times)
    more = chosen(replace(scenario, driven=driven))
    if one is None or more is None:
        return
    names = {belt.designation: belt for belt in more.belts}
    assert names.keys() == {belt.designation for belt in one.belts}
    for belt in one.belts:
        other = names[belt.designation]
        assert other.rating == belt.rating
        assert other.install == belt.install
        if belt.belts_needed is not None:
            assert other.belts_needed >= belt.belts_needed
            assert other.belts_needed == max(
                1, math.ceil(more.drive.design_power / belt.rating * (1 - 1e-9))
            )
        assert belt.ok or not other.ok

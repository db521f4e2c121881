"""The conversation: what is asked, told and asked again until it is so."""

import pytest
from tape_answers import BOTH, MILL, SPACE, Person

from mountcalc.errors import InputError
from mountcalc.new.answers import in_words, marks, measured
from mountcalc.new.dialogue import Dialogue
from mountcalc.new.measurements import questions
from mountcalc.new.understanding import understood


def talk(answers, **changed):
    person = Person(answers, changed)
    mount = Dialogue(person.ask, person.said.append, lambda _: "the.png").held()
    return mount, person


def asked(person):
    return [key for key, _ in person.typed]


@pytest.mark.parametrize("answers", [MILL, BOTH, SPACE], ids=["heights", "both", "search"])
def test_it_ends_in_the_same_mount_as_the_answers(answers):
    mount, person = talk(answers)
    assert mount == understood(measured(answers))
    order = [key for key in questions() if key in asked(person)]
    assert asked(person) == [*order, "Is"]
    assert set(answers) <= set(order)


def test_what_is_said_fits_a_terminal_and_shows_each_sketch_once():
    _, person = talk(MILL)
    text = "\n".join(person.said)
    assert max(map(len, text.split("\n"))) <= 80
    assert text.isascii()
    assert text.count("Block the plate in") == 1
    assert text.count("<- G3 thick") == 1
    assert "Picture: the.png" in text
    assert text.index("Unplug the machine") < text.index("A1  ")


def test_a_wrong_answer_gets_a_line_and_the_question_again():
    mount, person = talk(MILL, motor_power=["3 in", "fast", "1/2"])
    assert mount.scenario.motor.power == pytest.approx(0.5 * 745.7, rel=1e-4)
    assert asked(person).count("motor_power") == 3
    told = [one for one in person.said if "power wanted" in one]
    assert len(told) == 2
    assert 'got a length: "3 in"' in " ".join(told[0].split())


def test_a_question_mark_tells_more():
    _, person = talk(MILL, motor_speed=["?", "1725"], driven_height=["", "?", "32"])
    text = "\n".join(person.said)
    assert 'Speed of rotation wanted (such as "1725 rpm").' in text
    assert "Not known: 1725 rpm, a motor of four poles" in " ".join(text.split())
    assert "An answer is wanted here" in text
    assert "This is wanted, or answers to others that tell the same." in text


def test_back_asks_the_one_before_and_enter_keeps_it():
    mount, person = talk(MILL, motor_speed=["back", "1725"], motor_power=["3/4", ""])
    assert asked(person)[3:7] == ["motor_power", "motor_speed", "motor_power", "motor_speed"]
    assert "[Enter keeps 3/4 hp]" in "\n".join(person.said)
    assert mount.scenario.motor.power == pytest.approx(0.75 * 745.7, rel=1e-4)


def test_back_at_the_first_question_stays_there():
    _, person = talk(MILL, units=["back", "inch"])
    assert asked(person)[:2] == ["units", "units"]
    assert "This is the first one." in person.said


def test_what_a_later_answer_takes_back_is_forgotten():
    """Who goes back from distances to heights is not held to the distances."""
    mount, person = talk(
        MILL, way=["distances", "heights"], driven_height=["back", "32"], driven_to_motor=["9 in"]
    )
    assert mount == understood(measured(MILL | {"way": "heights"}))
    assert asked(person).count("way") == 2


def test_rest_asks_only_what_nobody_can_guess():
    mount, person = talk(MILL, motor_power=["rest"])
    assert asked(person)[:4] == ["units", "title", "built", "motor_power"]
    later = asked(person)[4:-1]
    assert not {key for key in later if questions()[key].unsaid}
    assert "hinge_height" in later
    assert mount.scenario.motor.power == pytest.approx(0.5 * 745.7, rel=1e-4)


def test_an_answer_is_changed_by_its_mark():
    mount, person = talk(
        MILL, Is=["no", "z", marks()["hinge_height"], "yes"], hinge_height=["19", "18 3/4"]
    )
    text = "\n".join(person.said)
    assert "A mark is wanted, such as D4" in text
    assert f"{marks()['belt']}" in text
    assert "[Enter keeps 19 in]" in text
    assert mount == understood(measured(MILL | {"hinge_height": "18 3/4"}))


def test_what_does_not_fit_is_told_and_asked_again():
    """A tape read 2 in off: the sentence names it, and what may be wrong is asked again."""
    wrong = understood(measured(BOTH | {"driven_to_motor": "22 7/8"}))
    (clash,) = wrong.contradictions
    assert "driven_to_motor" in clash.suspects
    mount, person = talk(BOTH, driven_to_motor=["22 7/8", "20 7/8"])
    assert mount == understood(measured(BOTH))
    text = " ".join(" ".join(person.said).split())
    assert in_words(clash.sentence) in text
    assert "D10 (shaft to shaft) does not fit" in text
    again = asked(person)[:-1][-len(clash.suspects) :]
    assert again == [key for key in questions() if key in clash.suspects]


def test_a_belt_that_does_not_fit_may_be_a_place_that_is_off():
    """The motor's height read 6 in off: it is asked for again, and what it made is told."""
    wrong = MILL | {"motor_height": "22"}
    (clash,) = understood(measured(wrong)).contradictions
    assert "motor_height" in clash.suspects
    assert "mountcalc belts" not in clash.sentence
    mount, person = talk(MILL, motor_height=["22", MILL["motor_height"]])
    assert mount == understood(measured(MILL))
    assert "as measured, the shafts are" in " ".join(" ".join(person.said).split())


def test_what_is_wanted_and_left_out_is_asked_again():
    mount, person = talk(MILL, hinge_height=["-", "19"])
    assert asked(person).count("hinge_height") == 2
    assert mount == understood(measured(MILL))


def test_what_hangs_on_something_not_asked_asks_for_a_mark():
    """A plate of 1/2 in cannot swing as is usual, and of the swing nobody is asked here."""
    mount, person = talk(SPACE, plate_length=["1/2", "16"], The=["?", marks()["plate_length"]])
    assert asked(person).count("The") == 2
    assert asked(person).count("plate_length") == 2
    assert mount == understood(measured(SPACE | {"plate_length": "16"}))


def test_who_goes_away_has_written_nothing():
    def gone(_):
        raise InputError("stopped")

    with pytest.raises(InputError, match="stopped"):
        Dialogue(gone, str, lambda _: "").held()

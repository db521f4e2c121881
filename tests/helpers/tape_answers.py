"""What people with a tape answer, of machines of our own invention, and how they spoil it."""

import random
import re

from mountcalc.new.answers import marks

KEYS = {mark: key for key, mark in marks().items()}
QUESTION = re.compile(r"^([A-Z][0-9]+) +\S", re.MULTILINE)

# The shipped cider mill, as a tape finds it from floor and wall: each reading to 1/8 in.
MILL = {
    "title": "Cider mill",
    "motor_power": "1/2 hp",
    "motor_speed": "1725",
    "motor_start": "split-phase",
    "motor_frame": "56",
    "motor_weight": "28",
    "motor_turns": "ccw",
    "motor_pulley_across": "3 1/4",
    "driven_pulley_rim": "flat",
    "driven_pulley_across": "8 5/8 in",
    "belt": "A60",
    "driven_height": "32",
    "driven_wall": "40",
    "motor_height": "28",
    "motor_wall": "19 1/2",
    "hinge_height": "19",
    "hinge_wall": "16",
    "plate_lies": "left",
    "plate_length": "16",
    "plate_width": "8",
    "plate_thickness": "1 1/2",
    "swing_tighter": "4 1/2",
    "swing_looser": "2",
    "thread": "3/8-16",
    "hinge_to_bolt": "14 1/2",
    "journal_diameter": "1 1/4",
    "journal_length": "3",
    "bearings_apart": "14",
    "machine_power": "0.4 hp",
}
# The same, measured in both ways.
BOTH = MILL | {
    "way": "both",
    "driven_to_motor": "20 7/8",
    "hinge_to_driven": "27 1/4",
    "hinge_to_motor": "9 5/8",
}
# Nothing is built yet.
SPACE = {
    "built": "no",
    "motor_pulley_across": "3 in",
    "driven_pulley_across": "10 in",
    "driven_height": "36 in",
    "room_left": "36 in",
    "room_right": "10 in",
    "room_above": "6 in",
}

SPOILT = (
    *(
        "",
        "-",
        "?",
        "don't know",
        "back",
        "rest",
        "yes",
        "no",
        "0",
        "-1",
        "1e9",
        "1e400",
        "nan",
        "inf in",
    ),
    *("14 1/2", "14 1/2 in", "3 ft 2", "9999 in", "0.001 in", "12 lb", "12 lbf", "3 hp", "40 rpm"),
    *(
        "left",
        "right",
        "above",
        "eye-bolt",
        "plate",
        "none",
        "metric",
        "distances",
        "both",
        "babbitt",
    ),
    *("A60", "A6O", "B38", "flat leather", "4L560", "56", "143T", "M10", "3/8-16", "M10x1.5-LH"),
    *(
        "1/0 in",
        "(1,)",
        "__import__('os')",
        "{0}",
        "%s%n",
        "\x00",
        "\x1b[31m",
        "\u202e",
        "½",
        "٣ in",
    ),
    *("x" * 3000, "9" * 400, "D4", "y", "n", " ", "\t", "#", ":", "a: b", '"', "'", "\\", "\ufffd"),
)


def spoilt(rng: random.Random, answers: dict[str, str]) -> dict[str, str]:
    """Answers of which some are others', of another size, in other units, or nonsense."""
    answers = dict(answers)
    for _ in range(rng.choice((1, 1, 1, 2, 4, 8))):
        key = rng.choice(list(answers))
        match rng.randrange(5):
            case 0:
                del answers[key]
                if not answers:
                    return {key: "?"}
            case 1:
                answers[key] = rng.choice(list(answers.values()))
            case 2:
                answers[key] = f"{rng.uniform(0, 100):.3f} {rng.choice(('in', 'mm', 'ft', 'm'))}"
            case 3:
                at = rng.randrange(len(answers[key]) + 1)
                answers[key] = (
                    answers[key][:at] + chr(rng.randrange(32, 127)) + answers[key][at + 1 :]
                )
            case _:
                answers[key] = rng.choice(SPOILT)
    return answers


class Person:
    """Who is asked: reads the mark of the question above the prompt, and answers it."""

    def __init__(
        self, answers: dict[str, str], changed: dict[str, list[str]] | None = None
    ) -> None:
        self.answers, self.changed = answers, changed or {}
        self.said: list[str] = []
        self.typed: list[tuple[str, str]] = []

    def ask(self, prompt: str) -> str:
        if prompt != "  > ":
            key = prompt.split(maxsplit=1)[0]
        else:
            questions = (QUESTION.findall(one) for one in reversed(self.said))
            key = KEYS[next(filter(None, questions))[-1]]
        self.typed.append((key, self.answer(key)))
        return self.typed[-1][1]

    def answer(self, key: str) -> str:
        """What is typed: first what is changed, in turn, then the answer."""
        if waiting := self.changed.get(key):
            return waiting.pop(0)
        if key == "Is":
            return "yes"
        return self.answers.get(key, "")

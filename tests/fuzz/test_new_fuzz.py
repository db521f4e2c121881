"""Spoilt answers and measuring sheets: a file that reads, plain lines, or the question again."""

import random
import re
from collections import Counter

import pytest
from mutations import MUTATIONS
from sizes import size
from tape_answers import BOTH, KEYS, MILL, SPACE, SPOILT, Person, spoilt

from mountcalc.errors import InputError
from mountcalc.new.answers import measured
from mountcalc.new.dialogue import Dialogue
from mountcalc.new.sheet import sheet_text
from mountcalc.scenario.reader import parse_scenario

SHEETS = size(2400, 16)
TALKS = size(600, 8)
PARTS = 4  # so that workers share them
MOUNTS = (MILL, BOTH, SPACE)
_RANDOM = random.Random  # to be repeatable


def sheet_of(rng, answers):
    """A sheet filled in with spoilt answers, and then perhaps a page that was spoilt."""
    given = {key: answers[key] for key in ("built", "way") if key in answers}
    text, filled = sheet_text(measured(given)), spoilt(rng, answers)
    lines = []
    for line in text.splitlines():
        key = KEYS.get(line.split(" ")[0])
        lines.append(line if key in given or key not in filled else f"{line} {filled[key]}")
    text = "\n".join(lines)
    for _ in range(rng.choice((0, 0, 0, 1, 2))):
        change = rng.choice((*MUTATIONS["byte"], *MUTATIONS["token"], *MUTATIONS["structure"][:3]))
        text = change(rng, text)
    return text


@pytest.mark.parametrize("part", range(PARTS))
def test_spoilt_sheets(mountcalc, tmp_path, monkeypatch, part):
    monkeypatch.chdir(tmp_path)
    seen = Counter()
    for number in range(part, SHEETS, PARTS):
        seed = f"sheet {number}"
        rng = _RANDOM(seed)
        text = sheet_of(rng, rng.choice(MOUNTS))
        sheet, file = tmp_path / "sheet.txt", tmp_path / "saw.toml"
        sheet.write_bytes(text.encode("utf-8", "surrogatepass"))
        file.unlink(missing_ok=True)
        is_there = rng.random() < 0.1
        if is_there:
            file.write_text("mine")
        done = mountcalc("new", file.name, "--from", sheet.name)
        try:
            seen[outcome(done, file, is_there=is_there)] += 1
            assert {path.name for path in tmp_path.iterdir()} <= {"sheet.txt", "saw.toml"}
            assert sheet.read_bytes() == text.encode("utf-8", "surrogatepass")
        except Exception as error:
            error.add_note(f"seed {seed!r}:\n{text}\n{done}")
            raise
    assert seen["written"] > size(5, -1)
    assert seen["refused"] > size(5, -1)


def outcome(done, file, *, is_there):
    """Assert what holds of every outcome, and name it."""
    assert done.code in {0, 2}
    for line in done.err.splitlines():
        assert line.isprintable()
        assert len(line) < 1000
        assert "fault in mountcalc" not in line
    if is_there:
        assert done.code == 2
        assert file.read_text() == "mine"
        return "there"
    assert file.exists() == (done.code == 0)
    if done.code == 2:
        assert done.out == ""
        assert done.err
        return "refused"
    assert not re.search(r"\b(nan|inf|None)\b", done.out)
    assert max(map(len, done.out.splitlines())) <= 80
    parse_scenario(file.read_text(encoding="utf-8"))
    return "written"


@pytest.mark.parametrize("part", range(PARTS))
def test_spoilt_conversations(part):
    """Whatever is typed, it ends in a mount, or where nothing more is typed; nothing is a fault."""
    seen = Counter()
    for number in range(part, TALKS, PARTS):
        seed = f"talk {number}"
        rng = _RANDOM(seed)
        person = Careless(rng, rng.choice(MOUNTS))
        try:
            mount = Dialogue(person.ask, person.said.append, lambda _: "picture").held()
        except InputError as error:
            assert str(error) == "no more"
            seen["stopped"] += 1
        except Exception as error:
            error.add_note(f"seed {seed!r}:\n{person.typed}\n{person.said[-3:]}")
            raise
        else:
            assert not mount.contradictions
            parse_scenario(mount.text)
            seen["written"] += 1
        assert max(len(line) for one in person.said for line in one.split("\n")) <= 80
    assert seen["written"] > size(5, -1)


class Careless(Person):
    """Who answers some questions with anything, and after a hundred goes away."""

    def __init__(self, rng, answers):
        super().__init__(answers)
        self.rng, self.share = rng, rng.choice((0.02, 0.1, 0.5))

    def answer(self, key):
        if len(self.typed) > 120:
            raise InputError("no more")
        if self.rng.random() < self.share:
            return self.rng.choice(SPOILT)
        return self.rng.choice(list(KEYS)) if key == "The" else super().answer(key)

"""The house stays as small as it has become: to raise a ceiling is a decision, made here."""

from collections import Counter
from pathlib import Path

import mountcalc

PACKAGE = Path(mountcalc.__file__).parent
MOST_LINES, MOST_MODULES = 59_500, 385
MOST_OF_A_MODULE, MOST_OF_A_FOLDER, MOST_OF_DEVELOPERS = 400, 15, 185
# Modules that may be longer, and how long they may be.
LONGER = {
    "library.py": 960,  # a function for each command, all of it told
}


def lines():
    return {
        path.relative_to(PACKAGE).as_posix(): len(path.read_text(encoding="utf-8").splitlines())
        for path in PACKAGE.rglob("*.py")
    }


def test_the_package_does_not_grow_unnoticed():
    assert sum(lines().values()) <= MOST_LINES
    assert len(lines()) <= MOST_MODULES


def test_modules_and_folders_can_be_taken_in():
    found = lines()
    assert {
        name: count for name, count in found.items() if count > LONGER.get(name, MOST_OF_A_MODULE)
    } == {}
    assert [name for name in LONGER if found.get(name, 0) <= MOST_OF_A_MODULE] == []
    folders = Counter(Path(name).parent for name in found if Path(name).stem != "__init__")
    assert {str(folder): n for folder, n in folders.items() if n > MOST_OF_A_FOLDER} == {}


def test_what_developers_read_stays_short():
    text = (PACKAGE.parent / "DEVELOPERS.md").read_text(encoding="utf-8")
    assert len(text.splitlines()) <= MOST_OF_DEVELOPERS

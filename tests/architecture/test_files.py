"""The project's files are whole: none has the marks of a merge that was not finished."""

import re
from pathlib import Path

import pytest
from written import TOP, files

# A heading's underline of seven signs would be taken for one: none is needed.
MARK = re.compile(rb"^(<{7}|={7}|>{7}|\|{7})( .*)?\r?$", re.MULTILINE)


def test_no_file_has_marks_of_a_merge():
    looked_at = [path for path in files() if path.suffix not in {".pyc", ".png"}]
    assert TOP / "README.md" in looked_at
    assert Path(__file__) in looked_at
    assert [str(path) for path in looked_at if MARK.search(path.read_bytes())] == []


@pytest.mark.parametrize("mark", ["<" * 7 + " HEAD", "=" * 7, ">" * 7 + " 0123abc (what was done)"])
def test_marks_are_seen(mark):
    assert MARK.search(f"before\n{mark}\nafter\n".encode())
    assert not MARK.search(f"{mark[0]}{mark}\n".encode())

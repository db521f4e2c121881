import sys
from pathlib import Path
from typing import NamedTuple

import pytest

from mountcalc.cli import main

SCENARIOS = Path(__file__).parents[1] / "scenarios"


class Done(NamedTuple):
    code: int
    out: str
    err: str


@pytest.fixture
def mountcalc(monkeypatch, capsys):
    """Run the command line in this process; warnings are errors here."""

    def run(*arguments):
        monkeypatch.setattr(sys, "argv", ["mountcalc", *map(str, arguments)])
        with pytest.raises(SystemExit) as stop:
            main()
        captured = capsys.readouterr()
        return Done(int(stop.value.code or 0), captured.out, captured.err)

    return run


@pytest.fixture(params=sorted(SCENARIOS.glob("*.toml")), ids=lambda path: path.stem)
def scenario_file(request):
    return request.param


@pytest.fixture
def cider():
    return SCENARIOS / "cider-mill.toml"

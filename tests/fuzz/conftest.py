"""Helpers of these tests are found beside them and beside the reader's tests."""

import sys
from importlib import resources
from pathlib import Path

import pytest

from mountcalc.scenario import bearing_services

# Test modules are imported one by one, not as a package: this makes their helpers findable.
_HERE = Path(__file__).parent
sys.path[:0] = [str(_HERE), str(_HERE.parent / "scenario")]


@pytest.fixture(autouse=True)
def some_services(monkeypatch):
    """Let there be services to name where the data file is not there."""
    if not resources.files("mountcalc").joinpath("data/bearing_services.toml").is_file():
        monkeypatch.setattr(bearing_services, "known_services", lambda: ("line shaft", "mill"))

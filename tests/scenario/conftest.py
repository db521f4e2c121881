"""Helpers of these tests are found beside them; services that they may name."""

import sys
from importlib import resources
from pathlib import Path

import pytest

from mountcalc.scenario import bearing_services

# Test modules are imported one by one, not as a package: this makes their helpers findable.
sys.path.insert(0, str(Path(__file__).parent))


@pytest.fixture(autouse=True)
def some_services(monkeypatch):
    """Let there be services to name where the data file is not there."""
    if not resources.files("mountcalc").joinpath("data/bearing_services.toml").is_file():
        monkeypatch.setattr(bearing_services, "known_services", lambda: ("line shaft", "mill"))

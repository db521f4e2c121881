"""How hypothesis runs here: no deadlines, and the same examples every time where CI is set."""

import os
import sys
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

# Test modules are imported one by one, not as a package: this makes their helpers findable.
sys.path.insert(0, str(Path(__file__).parent))

_MOUNTS_ARE_LARGE = (HealthCheck.too_slow, HealthCheck.data_too_large)
settings.register_profile(
    "ci", derandomize=True, database=None, deadline=None, suppress_health_check=_MOUNTS_ARE_LARGE
)
settings.register_profile("bench", deadline=None, suppress_health_check=_MOUNTS_ARE_LARGE)
settings.load_profile("ci" if os.environ.get("CI") else "bench")


@pytest.fixture(scope="session")
def population():
    """Mounts of fixed seeds with their tables, or with the refusal where there is none."""
    from population import solved_population

    return solved_population()

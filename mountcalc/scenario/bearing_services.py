"""The services of plain bearings that a scenario may name: the rows of their pressure ranges."""

from __future__ import annotations

import tomllib
from functools import lru_cache
from importlib import resources

from mountcalc.scenario.values import read_word

__all__ = ["known_services", "read_service"]


@lru_cache(maxsize=1)
def known_services() -> tuple[str, ...]:
    """The services that have a published range of projected pressure."""
    path = resources.files("mountcalc").joinpath("data/bearing_services.toml")
    return tuple(tomllib.loads(path.read_text(encoding="utf-8"))["service"])


def read_service(value: object) -> str:
    """Read the service of a bearing.

    Raises
    ------
    ValueTextError
        Anything but one of the known services.
    """
    return read_word(value, known_services())

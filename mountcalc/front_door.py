"""Front doors of packages: names that load their module when they are first used."""

from __future__ import annotations

import importlib
from collections.abc import Callable, Mapping


def front_door(
    package: str, homes: Mapping[str, str]
) -> tuple[Callable[[str], object], Callable[[], list[str]]]:
    """A package's ``__getattr__`` and ``__dir__`` for the names that others may take from it."""

    def get(name: str) -> object:
        if name not in homes:
            raise AttributeError(f"module {package!r} has no attribute {name!r}")
        module = importlib.import_module(f"{package}.{homes[name]}")
        return module if homes[name] == name else getattr(module, name)

    return get, lambda: sorted(homes)

"""Results as JSON, and cells of CSV: the keys, units and order of :mod:`mountcalc.quantities`."""

from __future__ import annotations

import dataclasses
import json
from enum import StrEnum

from mountcalc.pages.page import Note
from mountcalc.quantities import QUANTITIES
from mountcalc.scenario.text.wording import one_line
from mountcalc.version import __version__

_FORMULA = ("=", "+", "-", "@")


def as_plain(result: object) -> object:
    """A result as dicts, lists, strings and numbers in the units that the keys name."""
    if isinstance(result, Note):
        return result.text
    if dataclasses.is_dataclass(result) and not isinstance(result, type):
        plain: dict[str, object] = {}
        # Of a result whose fields have no unit of their own: the keys that name it.
        own_keys: dict[str, str] = getattr(result, "own_keys", {})
        for field in dataclasses.fields(result):
            value = getattr(result, field.name)
            quantity = QUANTITIES.get(field.name)
            if field.name in own_keys:
                plain[own_keys[field.name]] = value
            elif quantity is not None and (value is None or isinstance(value, float)):
                plain[quantity.key] = None if value is None else quantity.outside(value)
            else:
                plain[field.name] = as_plain(value)
        return plain
    if isinstance(result, (tuple, list)):
        return [as_plain(item) for item in result]
    if isinstance(result, StrEnum):
        return result.value
    return result


class Result:
    """What a command answers: SI units inside, ``None`` where there is nothing to say."""

    __slots__ = ()

    def to_dict(self) -> dict[str, object]:
        """The result as the command's JSON has it: every key ends in its unit."""
        return {"mountcalc_version": __version__, **self._plain()}

    def _plain(self) -> dict[str, object]:
        plain = as_plain(self)
        assert isinstance(plain, dict)
        return plain


def as_json(result: Result) -> str:
    """A result as one JSON object that any terminal and any file keeps: all of it in ASCII."""
    return json.dumps(result.to_dict(), indent=2, allow_nan=False).replace("\x7f", "\\u007f")


def csv_cell(value: object) -> object:
    """A value as a cell that no table program takes for a formula."""
    if not isinstance(value, str):
        return value
    text = one_line(value)
    return f"'{text}" if text.lstrip().startswith(_FORMULA) else text

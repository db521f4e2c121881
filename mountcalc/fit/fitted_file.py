"""The scenario's own file with fitted keys put in: all else in it stays as the person wrote it."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from typing import Any

from mountcalc.errors import OutputError
from mountcalc.scenario.text.wording import one_line

_MARK = "fitted"
_LONGEST = 60  # of a value that is told


def fitted_text(text: str, keys: Mapping[str, Mapping[str, str]], how: str) -> str:
    """The text of a scenario with other keys, by table; their values are as TOML has them.

    Behind each stands that it was fitted and ``how``, then what stood there before.
    """
    import tomlkit  # noqa: PLC0415  # nothing else needs it

    document: Any = tomlkit.parse(text)
    for name, several in keys.items():
        table = document[name]
        for key, value in several.items():
            item: Any = tomlkit.value(value)
            before = table.get(key)
            item.comment(f"{_MARK} {how}{_before(before)}")
            if before is not None or not hasattr(table.value, "body"):
                table[key] = item
                continue
            # Behind the last key and its remarks: what stands after a gap heads the next table.
            body = table.value.body
            last = max((place for place, (one, _) in enumerate(body, 1) if one), default=0)
            while last < len(body) and body[last][1].as_string().strip():
                last += 1
            rest = body[last:]
            del body[last:]
            table.append(key, item)
            body += rest
    written: str = document.as_string()
    if "\r\n" in text:
        written = re.sub(r"(?<!\r)\n", "\r\n", written)
    if tomllib.loads(written) != _with(tomllib.loads(text), keys):
        lines = (f"{key} = {value}" for several in keys.values() for key, value in several.items())
        raise OutputError(
            f"this scenario's layout cannot be kept; put in by hand: {', '.join(lines)}"
        )
    return written


def _before(item: Any) -> str:  # noqa: ANN401  # of the library that reads it
    """What stood there, unless that was fitted, too."""
    if item is None:
        return ""
    remark = item.trivia.comment.lstrip("# ")
    if remark.startswith(_MARK):
        return "".join(re.findall(r"; before .*", remark))
    return f"; before {one_line(item.as_string(), _LONGEST)}{f', {remark}' if remark else ''}"


def _with(tables: dict[str, Any], keys: Mapping[str, Mapping[str, str]]) -> dict[str, Any]:
    for name, several in keys.items():
        for key, value in several.items():
            tables[name][key] = tomllib.loads(f"x = {value}")["x"]
    return tables

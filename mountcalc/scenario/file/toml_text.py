"""The text of a TOML file: on which line a key stands, and what is amiss where it is none."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from typing import Any

from mountcalc.scenario.text.wording import one_line

KeyPath = tuple[str | int, ...]

# What matters outside of plain values: strings, comments, brackets, ends of lines.
_MARK = (
    r'(?s)"""(?:[^\\]|\\.)*?"{3,5}|\'\'\'.*?\'{3,5}|"(?:[^"\\\n]|\\.)*"|\'[^\'\n]*\''
    r"|\#[^\n]*|[\[{\]}\n]"
)
_DEEPEST = 8  # no key of a scenario lies deeper


class LineIndex:
    """Lines of the keys and tables of a valid TOML text: each statement is read by itself."""

    def __init__(self, text: str) -> None:
        self._lines: dict[KeyPath, int] = {}
        last: dict[KeyPath, tuple[int]] = {}  # the index of an array's last table
        table: KeyPath = ()
        for number, statement in _statements(text.replace("\r\n", "\n") + "\n"):
            keys: list[str] = []
            value: Any = tomllib.loads(statement)
            while isinstance(value, dict) and value and len(keys) < _DEEPEST:
                key, value = next(iter(value.items()))
                keys.append(key)
            if not statement.lstrip().startswith("["):
                for depth in range(1, len(keys) + 1):
                    self._lines.setdefault((*table, *keys[:depth]), number)
                continue
            table = ()
            for key in keys[:-1]:
                table = (*table, key, *last.get((*table, key), ()))
            table = (*table, *keys[-1:])
            self._lines.setdefault(table, number)
            if value == [{}]:
                last[table] = (last.get(table, (-1,))[0] + 1,)
                table = (*table, *last[table])
                self._lines[table] = number

    def line_of(self, path: KeyPath) -> int | None:
        """Return the line, from 1, of a key, or of the innermost table of its path that has one.

        ``path`` names keys by str and the tables of an array by their index from 0.
        """
        ends = range(len(path), 0, -1)
        return next((self._lines[path[:end]] for end in ends if path[:end] in self._lines), None)


def _statements(text: str) -> Iterator[tuple[int, str]]:
    """Yield headers and assignments, each with its line; they end where no bracket is open."""
    number, start, depth = 1, 0, 0
    for mark in re.finditer(_MARK, text):
        depth += (mark[0] in {"[", "{"}) - (mark[0] in {"]", "}"})
        if mark[0] == "\n" and depth == 0:
            yield number, text[start : mark.start()]
            number, start = number + text.count("\n", start, mark.end()), mark.end()


_LONGEST_MESSAGE = 200
_LONGEST_VALUE = 60
_AT = r"\s*\(at (?:line (\d+), column (\d+)|end of document)\)$"
_SEVERAL = "more than one value on the line"
_OPEN_TEXT = "a text is not closed on its line"
_POINT = 'a point is typed as ["-20 in", "-4 in"], in square brackets and each part between quotes'
_PLAIN_MESSAGES = {
    "Cannot overwrite a value": "a key is given twice",
    "Expected newline or end of document after a statement": _SEVERAL,
    "Illegal character '\\n'": _OPEN_TEXT,
    'Expected "\'"': _OPEN_TEXT,
    "Unterminated string": _OPEN_TEXT,
    "Invalid value": "invalid value",
    "Unclosed array": "a list is not closed",
}
_SUCH_AS = {  # after what is amiss with quotes, brackets and commas: what to type
    _OPEN_TEXT: "",
    _SEVERAL: '; a quantity with its unit stands between quotes, such as "9 in"',
    "invalid value": "; text and quantities stand between quotes",
    "a list is not closed": f"; {_POINT}",
}
_ARRAY_TABLE = r"\s*\[{1,2}\s*(driven\s*\.\s*(?:bearing|load)|keep_out|reading)\s*\]"
_PAIR = r"""\s*([A-Za-z0-9_-]{1,40})\s*=\s*(\S.*)"""
_REMARK = r"(?<=\s)#.*"
_NAMES = {
    "thread",
    "designation",
    "frame",
    "screw",
    "title",
    "name",
    "turns",
}  # of these keys, no quantity
_QUOTES = "\"'“”‘’„ "
_COMMA = r"[0-9]+,[0-9]+"
_NUMBER = r"[-+−]?[0-9][0-9 ./⁄½⅓⅔¼¾⅛⅜⅝⅞-]*"
_WORDS = r"[\w .%°#*⁄/²³½⅓⅔¼¾⅛⅜⅝⅞+−-]+"
_FEET = r"""(?<=[0-9½¼¾⅛⅜⅝⅞])\s*['′’](?!['′’])"""
_INCHES = r"""(?<=[0-9½¼¾⅛⅜⅝⅞])\s*(?:"|″|”|['′’]{2})"""


def toml_message(message: str, text: str) -> tuple[str, int | None]:
    """Say what is not TOML, and on which line."""
    at = re.search(_AT, message)
    what = message[: at.start()] if at else message
    if what.startswith("Exceeds the limit"):
        what = "a number with too many digits"
    what = one_line(_PLAIN_MESSAGES.get(what, what), _LONGEST_MESSAGE)
    if at is None:
        return f"not valid TOML: {what}", None
    lines = text.split("\n")
    number = text.count("\n") + 1 if at[1] is None else int(at[1])
    place = "at the end of the file" if at[1] is None else f"at column {at[2]}"
    line = lines[number - 1] if number <= len(lines) else ""
    if header := _single_brackets(lines[:number]):
        return f"not valid TOML: {header}", number
    if what in _SUCH_AS:
        what += _typed(line) or _SUCH_AS[what]
    return f"not valid TOML: {what}, {place}", number


def _single_brackets(lines: list[str]) -> str:
    """Say which table of a list has single brackets, where the last line heads one of that list."""
    if not lines or (last := re.match(_ARRAY_TABLE, lines[-1])) is None:
        return ""
    name = re.sub(r"\s", "", last[1])
    head = re.compile(rf"\s*\[\s*{re.escape(name)}\s*\]\s*(?:#.*)?")
    first = next((number for number, line in enumerate(lines, 1) if head.fullmatch(line)), None)
    if first is None:
        return ""
    where = "" if first == len(lines) else f" on line {first}"
    return f"[{name}]{where} has single brackets; write [[{name}]] over each of them"


def _typed(line: str) -> str:
    """Say what to type for the one value of a line, where that can be told."""
    pair = re.fullmatch(_PAIR, line.rstrip())
    if pair is None:
        return ""
    key, value = pair[1], re.sub(_REMARK, "", pair[2]).strip()
    if value[0] == "(":
        return f"; {_POINT}"
    if len(value) > _LONGEST_VALUE or value[0] in "[{":
        return ""
    if re.fullmatch(_COMMA, value):
        return f"; write {key} = {value.replace(',', '.')}, with a point"
    inner, bare = value.strip(_QUOTES), value.lstrip(_QUOTES)
    # Of quotes at the end the last one closes what was opened; any other is a mark of inches.
    if value[0] in _QUOTES and bare[-1:] in set(_QUOTES):
        bare = bare[:-1]
    typed = re.sub(_FEET, " ft ", re.sub(_INCHES, " in", bare))
    if re.fullmatch(_NUMBER, inner) and not typed.endswith(" in") and key not in _NAMES:
        typed = f"{inner.strip()} in"
        return f'; a quantity stands between quotes with its unit, such as {key} = "{typed}"'
    typed = " ".join(typed.strip(_QUOTES).split())
    return f'; write {key} = "{typed}"' if re.fullmatch(_WORDS, typed) else ""

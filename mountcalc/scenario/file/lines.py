"""The line on which a key of a TOML text stands: the TOML reader does not tell.

A small scanner over text that the TOML reader has already taken. It is tolerant: what it
cannot follow gets the line of the table that it is in, or none.
"""

from __future__ import annotations

import re
import tomllib

__all__ = ["KeyPath", "LineIndex"]

KeyPath = tuple[str | int, ...]

_HEADER = re.compile(r"\s*(\[\[?)(.*?)(\]\]?)\s*(?:#.*)?$")
_BARE_KEY = re.compile(r"\s*[A-Za-z0-9_-]+(?:\s*\.\s*[A-Za-z0-9_-]+)*\s*$")
_KEY_PART = re.compile(r"""\s*(?:[A-Za-z0-9_-]+|"(?:[^"\\]|\\.)*"|'[^']*')\s*(\.|=|$)""")
# What matters inside a value: strings, comments, brackets; a triple quote opens a string of lines.
_TOKEN = re.compile(r'"""|\'\'\'|"(?:[^"\\\n]|\\.)*"|\'[^\'\n]*\'|\#[^\n]*|[\[{\]}]')
_CLOSERS = {
    '"""': re.compile(r'(?:[^\\]|\\.)*?"{3,5}', re.DOTALL),
    "'''": re.compile(r".*?'{3,5}", re.DOTALL),
}
_DEEPEST = 8  # no key of a scenario lies deeper


class LineIndex:
    """Lines of the keys and tables of a TOML text.

    Parameters
    ----------
    text : str
        Valid TOML.
    """

    def __init__(self, text: str) -> None:
        self._lines: dict[KeyPath, int] = {}
        self._counts: dict[KeyPath, int] = {}
        self._scan(text.replace("\r\n", "\n"))

    def line_of(self, path: KeyPath) -> int | None:
        """Return the line, from 1, of a key, or of the innermost table of its path that has one.

        ``path`` names keys by str and the tables of an array by their index from 0.
        """
        for end in range(len(path), 0, -1):
            if path[:end] in self._lines:
                return self._lines[path[:end]]
        return None

    def _scan(self, text: str) -> None:
        table: KeyPath = ()
        start, number = 0, 1
        while start < len(text):
            end = _statement_end(text, start)
            statement = text[start:end]
            first = statement.split("\n", 1)[0]
            if header := _HEADER.match(first):
                table = self._header(header[2], number, array=header[1] == "[[")
            elif keys := _assigned(first):
                self._note((*table, *keys), number, len(table))
            number += statement.count("\n") + 1
            start = end + 1

    def _header(self, text: str, line: int, *, array: bool) -> KeyPath:
        """Return the path of a table header and note its line."""
        keys = _keys(text)
        path: KeyPath = ()
        for key in keys[:-1]:
            path = self._latest((*path, key))
        path = (*path, *keys[-1:])
        if array:
            self._lines.setdefault(path, line)
            self._counts[path] = self._counts.get(path, -1) + 1
            path = self._latest(path)
        self._lines.setdefault(path, line)
        return path

    def _latest(self, path: KeyPath) -> KeyPath:
        """Return the path with the index of the array's last table, if it is an array of tables."""
        return (*path, self._counts[path]) if path in self._counts else path

    def _note(self, path: KeyPath, line: int, outer: int) -> None:
        for end in range(outer + 1, min(len(path), _DEEPEST) + 1):
            self._lines.setdefault(path[:end], line)


def _statement_end(text: str, start: int) -> int:
    """Return where the statement that starts here ends: a line end outside strings and brackets."""
    line_end = _line_end(text, start)
    if "=" not in text[start:line_end]:
        return line_end
    depth, at = 0, start
    while True:
        line_end = _line_end(text, at)
        token = _TOKEN.search(text, at, len(text) if depth > 0 else line_end)
        if token is None:
            return len(text) if depth > 0 else line_end
        at = token.end()
        if token[0] in _CLOSERS:
            closed = _CLOSERS[token[0]].match(text, at)
            at = closed.end() if closed else len(text)
        else:
            depth += (token[0] in "[{") - (token[0] in "]}")


def _line_end(text: str, at: int) -> int:
    end = text.find("\n", at)
    return len(text) if end < 0 else end


def _assigned(line: str) -> tuple[str, ...]:
    """Return the parts of the key that a line gives a value to; nothing if it gives none."""
    at = 0
    while match := _KEY_PART.match(line, at):
        at = match.end()
        if match[1] == "=":
            return _keys(line[: at - 1])
        if match[1] != ".":
            break
    return ()


def _keys(text: str) -> tuple[str, ...]:
    """Return the parts of a dotted key."""
    if _BARE_KEY.match(text):
        return tuple(part.strip() for part in text.split("."))
    try:
        found = tomllib.loads(f"{text} = 0")
    except (ValueError, RecursionError):
        return ()
    keys: list[str] = []
    while isinstance(found, dict) and found:
        key, found = next(iter(found.items()))
        keys.append(key)
    return tuple(keys)

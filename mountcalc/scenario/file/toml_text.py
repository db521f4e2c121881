"""The text of a TOML file: on which line a key stands, and what is amiss where it is none."""

from __future__ import annotations

import re
import tomllib

from mountcalc.scenario.text.wording import one_line

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
    """Lines of the keys and tables of a valid TOML text."""

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
                path = (*table, *keys)
                for depth in range(len(table) + 1, min(len(path), _DEEPEST) + 1):
                    self._lines.setdefault(path[:depth], number)
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


_LONGEST_MESSAGE = 200
_LONGEST_VALUE = 60
_AT = re.compile(r"\s*\(at (?:line (\d+), column (\d+)|end of document)\)$")
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
_ARRAY_TABLE = re.compile(r"\s*\[{1,2}\s*(driven\s*\.\s*(?:bearing|load)|keep_out)\s*\]")
_PAIR = re.compile(r"""\s*([A-Za-z0-9_-]{1,40})\s*=\s*(\S.*)""")
_REMARK = re.compile(r"(?<=\s)#.*")
_NAMES = {"thread", "designation", "frame", "screw", "title", "name"}  # of these keys, no quantity
_QUOTES = "\"'“”‘’„ "
_COMMA = re.compile(r"[0-9]+,[0-9]+")
_NUMBER = re.compile(r"[-+−]?[0-9][0-9 ./⁄½⅓⅔¼¾⅛⅜⅝⅞-]*")
_WORDS = re.compile(r"[\w .%°#*⁄/²³½⅓⅔¼¾⅛⅜⅝⅞+−-]+")
_FEET = re.compile(r"""(?<=[0-9½¼¾⅛⅜⅝⅞])\s*['′’](?!['′’])""")
_INCHES = re.compile(r"""(?<=[0-9½¼¾⅛⅜⅝⅞])\s*(?:"|″|”|['′’]{2})""")


def toml_message(message: str, text: str) -> tuple[str, int | None]:
    """Say what is not TOML, and on which line."""
    at = _AT.search(message)
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
    last = _ARRAY_TABLE.match(lines[-1]) if lines else None
    if last is None:
        return ""
    name = re.sub(r"\s", "", last[1])
    heads = [
        number
        for number, line in enumerate(lines, 1)
        if re.fullmatch(rf"\s*\[\s*{re.escape(name)}\s*\]\s*(?:#.*)?", line)
    ]
    if not heads:
        return ""
    where = "" if heads[0] == len(lines) else f" on line {heads[0]}"
    return f"[{name}]{where} has single brackets; write [[{name}]] over each of them"


def _typed(line: str) -> str:
    """Say what to type for the one value of a line, where that can be told."""
    pair = _PAIR.fullmatch(line.rstrip())
    if pair is None:
        return ""
    key, value = pair[1], _REMARK.sub("", pair[2]).strip()
    if value[0] == "(":
        return f"; {_POINT}"
    if len(value) > _LONGEST_VALUE or value[0] in "[{":
        return ""
    if _COMMA.fullmatch(value):
        return f"; write {key} = {value.replace(',', '.')}, with a point"
    inner = value.strip(_QUOTES)
    marked = _FEET.sub(" ft ", _INCHES.sub(" in", _unquoted(value)))
    if _NUMBER.fullmatch(inner) and not marked.endswith(" in") and key not in _NAMES:
        marked = f"{inner.strip()} in"
        return f'; a quantity stands between quotes with its unit, such as {key} = "{marked}"'
    marked = " ".join(marked.strip(_QUOTES).split())
    return f'; write {key} = "{marked}"' if _WORDS.fullmatch(marked) else ""


def _unquoted(value: str) -> str:
    """The value without the quotes it is meant to stand between, inch marks kept."""
    opened = value[0] in _QUOTES
    value = value.lstrip(_QUOTES)
    # Of quotes at the end the last one closes what was opened; any other is a mark of inches.
    return value[:-1] if opened and value[-1:] in set(_QUOTES) else value

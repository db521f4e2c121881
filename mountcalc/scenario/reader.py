"""Reading a scenario file: `read_scenario` and `parse_scenario` are the way in."""

from __future__ import annotations

import math
import os
import re
import tomllib
from collections.abc import Mapping
from contextlib import nullcontext
from dataclasses import replace
from pathlib import PurePath
from typing import IO, Any, NoReturn

from mountcalc.errors import Problem, ScenarioError
from mountcalc.scenario.clashes import clashes
from mountcalc.scenario.file.build import build, build_search
from mountcalc.scenario.file.rules import check
from mountcalc.scenario.file.tables import Facts, Finding, path_of, read_tables
from mountcalc.scenario.file.toml_text import KeyPath, LineIndex, toml_message
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.search import Search
from mountcalc.scenario.text.wording import one_line, shown_key

_NO_SEARCH = (
    "missing table [search]: the ranges in which hinge and bolt may be (hinge_x, hinge_y, reach, "
    "motor_height, plate_length)"
)
_LARGEST = 1_000_000  # [bytes]
_TOO_LARGE = "larger than a {} can be (at most 1 MB)"
_NO_UTF_8 = "not a text in UTF-8"
_MOST_PROBLEMS = 50
_LONGEST_MESSAGE = 200
_LONGEST_SOURCE = 300
# Fifty names joined by dots: the TOML reader takes hours over a megabyte of them.
_TOO_DEEP = re.compile(
    r"""(?<![\w-])(?:(?:[\w-]{1,80}|"[^"\n]{0,80}"|'[^'\n]{0,80}')[ \t]*\.[ \t]*){50}"""
)
_BARE_KEY = r"[A-Za-z0-9_-]{1,40}"


def read_scenario(path: str | os.PathLike[str]) -> Scenario:
    """Read and check a scenario file.

    Parameters
    ----------
    path : str or path
        Of the file.

    Returns
    -------
    Scenario

    Raises
    ------
    ScenarioError
        A file that cannot be used; it tells all that is wrong, each with line and key.

    Examples
    --------
    >>> read_scenario("scenarios/cider-mill.toml").title
    'Cider mill in the barn (invented example)'
    """
    return parse_scenario(*read_text(path))


def read_text(
    path: str | os.PathLike[str], stream: IO[bytes] | None = None, *, what: str = "scenario"
) -> tuple[str, str]:
    """Read what a file holds, unchecked, and how errors call it; ``what`` it should be."""
    name = os.fspath(path)
    source = _shown_source(name)
    try:
        # A name with a zero byte ends below, too.
        with open(name, "rb") if stream is None else nullcontext(stream) as file:  # noqa: PTH123
            data = file.read(_LARGEST + 1)
    except IsADirectoryError:
        _refuse(source, f"a directory, not a {what} file")
    except FileNotFoundError:
        _refuse(source, "no such file")
    except PermissionError:
        _refuse(source, "the file cannot be read: permission denied")
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        _refuse(source, f"the file cannot be read: {one_line(reason, _LONGEST_MESSAGE)}")
    if len(data) > _LARGEST:
        _refuse(source, _TOO_LARGE.format(what))
    try:
        return data.decode("utf-8-sig"), source
    except UnicodeDecodeError as error:
        _refuse(source, _NO_UTF_8, data.count(b"\n", 0, error.start) + 1)


def parse_scenario(text: str | Mapping[str, Any], source: str = "<text>") -> Scenario:
    """Check a scenario given as text, or as the tables that a file would have.

    Parameters
    ----------
    text : str or dict
        TOML; or its tables, in which a number for a quantity is in SI.
    source : str, optional
        What errors call it.

    Returns
    -------
    Scenario

    Raises
    ------
    ScenarioError
        A scenario that cannot be used; it tells all that is wrong, each with its key.

    Examples
    --------
    >>> text = read_scenario("scenarios/job-press.toml").to_toml()
    >>> parse_scenario(text).title
    'Job press, closed as it stands (invented example)'
    >>> parse_scenario({"belt": {"section": "A"}}, "mine")  # doctest: +ELLIPSIS
    Traceback (most recent call last):
    mountcalc.errors.ScenarioError: mine: driven: missing table [driven]
    ...
    """
    return _parsed(text, source)[0]


def read_search(path: str | os.PathLike[str]) -> Search:
    """Read and check a scenario file that says what a search for a layout may try.

    Parameters
    ----------
    path : str or path
        Of the file.

    Returns
    -------
    Search

    Raises
    ------
    ScenarioError
        A file that cannot be used; it tells all that is wrong, each with line and key.

    Examples
    --------
    >>> read_search("scenarios/fretsaw-bench.toml").space.samples
    65536
    """
    return parse_search(*read_text(path))


def parse_search(text: str | Mapping[str, Any], source: str = "<text>") -> Search:
    """Check a scenario with its search, given as text or as the tables of a file.

    Parameters
    ----------
    text : str or dict
        TOML; or its tables, in which a number for a quantity is in SI.
    source : str, optional
        What errors call it.

    Returns
    -------
    Search

    Raises
    ------
    ScenarioError
        A scenario that cannot be used; it tells all that is wrong, each with its key.

    Examples
    --------
    >>> import pathlib
    >>> text = pathlib.Path("scenarios/fretsaw-bench.toml").read_text(encoding="utf-8")
    >>> parse_search(text).space.seed
    1
    """
    scenario, facts = _parsed(text, source, with_search=True)
    space, notes = build_search(facts, scenario.display)
    raw = scenario.given
    typed = {
        f"{name}.power": raw[name]["power"] for name in ("driven", "motor") if "power" in raw[name]
    }
    return Search(replace(scenario, notes=(*scenario.notes, *notes)), space, typed)


def _parsed(
    text: str | Mapping[str, Any], source: str, *, with_search: bool = False
) -> tuple[Scenario, Facts]:
    """Read a scenario that can be used, and refuse a mount whose points and sizes clash."""
    source = _shown_source(source)
    raw = read_toml(text, source) if isinstance(text, str) else _plain(text)
    facts = _checked(raw, text, source)
    if with_search and "search" not in facts.tables:
        _refuse(source, _NO_SEARCH)
    scenario = build(facts, _title(source), source)
    found = clashes(scenario)
    sure = [Finding(path_of(clash.key), clash.text) for clash in found if clash.sure]
    if sure:
        raise ScenarioError(source, _problems(sure, text))
    notes = (*scenario.notes, *(clash.sentence for clash in found))
    return replace(scenario, notes=notes, given=raw), facts


def _plain(value: Any) -> Any:  # noqa: ANN401  # whatever a program gives
    """Tables as a file would have them: dictionaries, lists, plain numbers."""
    if isinstance(value, Mapping):
        return {str(key): _plain(item) for key, item in value.items()}
    if hasattr(value, "tolist"):  # numpy's arrays and numbers
        value = value.tolist()
    return [_plain(item) for item in value] if isinstance(value, list | tuple) else value


def _checked(raw: dict[str, Any], text: str | Mapping[str, Any], source: str) -> Facts:
    """Return what the tables of a file say, if nothing is wrong with it."""
    if not raw:
        _refuse(source, "empty: tables [driven], [motor], [belt], [plate] and [adjuster] wanted")
    facts = read_tables(raw, si=not isinstance(text, str))
    rules = [Finding(facts.as_written(one.path), one.text) for one in check(facts)]
    if facts.findings or rules:
        raise ScenarioError(source, _problems(facts.findings + rules, text))
    return facts


def key_line(text: str, key: str) -> int | None:
    """Line of a dotted key in a scenario, where it has one."""
    return LineIndex(text).line_of(tuple(key.split(".")))


def doubts(text: str, source: str) -> list[Problem]:
    """What seems to clash in a scenario, for whom its mount has failed."""
    try:
        scenario = build(_checked(read_toml(text, source), text, source), _title(source), source)
    except ScenarioError:
        return []
    return _problems([Finding(path_of(one.key), one.text) for one in clashes(scenario)], text)


def _refuse(source: str, text: str, line: int | None = None) -> NoReturn:
    raise ScenarioError(source, [Problem("", text, line)]) from None


def _shown_source(name: str) -> str:
    """Return a file name that prints: one line, whatever bytes the name is made of."""
    return one_line(name, _LONGEST_SOURCE)


def _title(source: str) -> str:
    return PurePath(source).stem.strip() or "untitled"


def read_toml(text: str, source: str) -> dict[str, Any]:
    """Return the tables of a TOML text."""
    try:
        text.encode("utf-8")
    except UnicodeEncodeError:
        _refuse(source, _NO_UTF_8)
    if len(text) > _LARGEST:
        _refuse(source, _TOO_LARGE.format("scenario"))
    if deep := _TOO_DEEP.search(text):
        _refuse(source, "tables nested too deep", text.count("\n", 0, deep.start()) + 1)
    try:
        return tomllib.loads(text)
    except RecursionError:
        _refuse(source, "tables or lists nested too deep")
    except ValueError as error:
        _refuse(source, *toml_message(str(error), text))


def _problems(findings: list[Finding], text: str | Mapping[str, Any]) -> list[Problem]:
    """Return what was found as problems, in the order of the file."""
    index = LineIndex(text if isinstance(text, str) else "")
    problems = [
        Problem(_dotted(finding.path), finding.text, index.line_of(finding.path))
        for finding in findings
    ]
    return first_problems(problems)


def first_problems(problems: list[Problem]) -> list[Problem]:
    """Return problems in the order of the file, each once, and no more than anybody reads."""
    unique = list(dict.fromkeys(problems))
    unique.sort(key=lambda problem: problem.line or math.inf)
    if len(unique) > _MOST_PROBLEMS:
        more = len(unique) - _MOST_PROBLEMS
        return [*unique[:_MOST_PROBLEMS], Problem("", f"and {more} more problems")]
    return unique


def _dotted(path: KeyPath) -> str:
    """Return a path as people write it, the tables of an array counted from 1."""
    text = ""
    for part in path:
        if isinstance(part, int):
            text += f"[{part + 1}]"
        else:
            text += (
                f"{'.' if text else ''}{part if re.fullmatch(_BARE_KEY, part) else shown_key(part)}"
            )
    return text

"""Every term with its meanings, from where each is declared, and how one is found."""

from __future__ import annotations

import importlib
import inspect
import re
from collections.abc import Iterator
from functools import cache
from typing import Any

from mountcalc.errors import InputError
from mountcalc.explain.results import Explanation, Group, Meaning
from mountcalc.handbook.rows import load
from mountcalc.quantities import QUANTITIES
from mountcalc.scenario.file.tables import TABLES, keys_of
from mountcalc.scenario.text.wording import near_spelling, shown

_FILE = "terms"
# Groups of the data file by the name that they have there.
_GROUPS = {one.value.partition(" ")[0]: one for one in Group}
_MARKUP = re.compile(r":\w+:`([^`]*)`|``([^`]*)``|`([^`]*)`")
# What is said to programs alone.
_FOR_PROGRAMS = re.compile(
    r",? shape \([^)]*\)(?: each)?| (?:Input|Value)Error[^.]*\.?|; ValueError.*"
)
_IN_BRACKETS = re.compile(r" \(([^()]*(?:\([^()]*\)[^()]*)*)\)\.?$")


@cache
def meanings() -> tuple[Meaning, ...]:
    """All meanings that there are, without examples."""
    said = [
        one
        for name, terms in load(_FILE).items()
        if name in _GROUPS
        for term, told in terms.items()
        for one in _told(_GROUPS[name], term, told)
    ]
    return (*said, *_keys(), *_quantities())


def _told(group: Group, term: str, told: Any) -> Iterator[Meaning]:  # noqa: ANN401  # of TOML
    """The meanings of a term of the data file."""
    for one in told if isinstance(told, list) else [told]:
        said = {**one, "also": tuple(one.get("also", ()))}
        by, key = said.pop("by", None), one.get("at", "").rpartition(".")[2]
        if group is Group.EXIT:
            said["also"] = (f"exit {term}", f"exit code {term}")
        said |= {} if by is None else _formula(by)
        yield Meaning(term, group, symbol=_symbols().get(key), **said)


@cache
def _symbols() -> dict[str, str]:
    """Symbols by the key that their quantity has in JSON."""
    return {one.key: one.symbol for one in QUANTITIES.values() if one.symbol}


def _formula(by: str) -> dict[str, Any]:
    """Formula, symbols and source, as the head of a function of ``mountcalc.formulas`` has them."""
    module, _, name = by.partition(".")
    home = importlib.import_module(f"mountcalc.formulas.{module}")
    function = getattr(home, name)
    head = re.split(r"\n\n\w+\n---", inspect.getdoc(function) or "")[0]
    first, *rest = [_plain(one) for one in head.split("\n\n")]
    source = " ".join(rest)
    if not source and (named := _IN_BRACKETS.search(first)):
        first, source = first[: named.start()], named[1]
    taken = set(inspect.signature(function).parameters)
    symbols = inspect.getdoc(home) or ""
    where = re.findall(r"^([\w, ]+) : (.*(?:\n    .*)*)", symbols, re.MULTILINE)
    return {
        "formula": first.rstrip("."),
        "source": source.rstrip("."),
        "where": tuple(
            f"{names}: {_plain(said)}" for names, said in where if taken & set(names.split(", "))
        ),
    }


def _plain(text: str) -> str:
    """A docstring's text in one line, without its markup and what it says to programs."""
    line = " ".join(_MARKUP.sub(lambda found: found[found.lastindex or 0], text).split())
    return _FOR_PROGRAMS.sub("", line)


def _keys() -> Iterator[Meaning]:
    """The scenario's tables and keys."""
    for name, table in TABLES.items():
        if name:
            words = table.words or f"the {name.replace('_', ' ')}"
            has = f"; its keys: {', '.join(key.name for key in keys_of(name))}"
            header = f"[[{name}]]" if table.array else f"[{name}]"
            yield Meaning(name, Group.TABLE, words + has, also=(header, name.rpartition(".")[2]))
        for key in keys_of(name):
            dotted = f"{name}.{key.name}".lstrip(".")
            yield Meaning(
                *(dotted, Group.KEY, key.words),
                also=(key.name,),
                wanted=key.wanted,
                without=None if key.required else key.without or "nothing",
                at=f"scenario: {dotted}",
            )


def _quantities() -> Iterator[Meaning]:
    """The keys of JSON and CSV."""
    for name, one in QUANTITIES.items():
        yield Meaning(
            *(one.key, Group.JSON, one.sentence),
            also=(name,),
            symbol=one.symbol or None,
            at=f"json: {one.key}",
        )


def _folded(term: str) -> str:
    return " ".join(term.casefold().replace("_", " ").replace("-", " ").split())


@cache
def index() -> dict[str, tuple[Meaning, ...]]:
    """The meanings by every word for them, folded."""
    found: dict[str, tuple[Meaning, ...]] = {}
    for one in meanings():
        for word in {*map(_folded, (one.term, *one.also))}:
            found[word] = (*found.get(word, ()), one)
    return found


def explanation(term: str) -> Explanation:
    """What a term means; an InputError with what may be meant where it is none."""
    from mountcalc.explain.examples import with_example  # noqa: PLC0415

    known, words = index(), _folded(term)
    if words not in known:
        every = {word: word for one in meanings() for word in (one.term, *one.also)}
        near = near_spelling(term, every)
        hint = f"; did you mean {shown(near)}?" if near else "; mountcalc explain lists the words"
        raise InputError(f"term: nothing is known of {shown(term)}{hint}")
    return Explanation(term, tuple(with_example(one) for one in known[words]))


def glossary(*, keys: bool = False) -> Explanation:
    """All meanings, or those of a scenario's keys, without examples."""
    wanted = {Group.TABLE, Group.KEY} if keys else set(Group)
    return Explanation("", tuple(one for one in meanings() if one.group in wanted))

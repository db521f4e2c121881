"""Docstrings keep up with the code: parameters as in the signature, each with its unit."""

import importlib
import inspect
import re
from pathlib import Path

import pytest

import mountcalc

PACKAGE = Path(mountcalc.__file__).parent
MODULES = sorted(
    path.relative_to(PACKAGE.parent).with_suffix("").as_posix().replace("/", ".")
    for path in PACKAGE.rglob("*.py")
    if path.stem not in {"__init__", "__main__"}
)
FORMULAS = "mountcalc.formulas."
# Where every function of `__all__` tells its parameters, and where it may go without.
TOLD = (
    FORMULAS,
    "mountcalc.handbook.",
    "mountcalc.equilibrium.",
    "mountcalc.linkage.generate",
)
CHECKED = ("mountcalc.",)
HEADING = re.compile(r"\n\n(?=[A-Z]\w+\n-{3,}\n)")
UNIT = re.compile(r"\[.+\]")
# Kinds of number that carry a unit; flags and counts do not.
WITH_UNIT = re.compile(r"\b(float|array_like|ndarray|Array)\b(?!.*\b(of bool|of int)\b)")


def functions(prefixes, *, exported):
    """Public functions of modules: those of ``__all__``, or all with their classes' methods."""
    for name in MODULES:
        if not name.startswith(prefixes):
            continue
        module = importlib.import_module(name)
        for item, thing in sorted(vars(module).items()):
            if item.startswith("_") or getattr(thing, "__module__", None) != name:
                continue
            if exported and item not in module.__all__:
                continue
            members = {item: thing}
            if inspect.isclass(thing) and not exported:
                members = {f"{item}.{key}": value for key, value in vars(thing).items()}
            for title, member in members.items():
                function = getattr(member, "__func__", member)
                public = not title.rsplit(".", 1)[-1].startswith("_")
                if public and inspect.isfunction(function) and function.__module__ == name:
                    yield pytest.param(function, id=f"{name.removeprefix('mountcalc.')}.{title}")


def parameters(function):
    return [name for name in inspect.signature(function).parameters if name not in {"self", "cls"}]


def section(function, title):
    """Lines of a numpydoc section, or None."""
    for part in HEADING.split(inspect.getdoc(function) or ""):
        first, *lines = part.splitlines()
        if first == title and len(lines) > 1 and set(lines[0]) == {"-"}:
            return lines[1:]
    return None


def documented(function):
    """The line that documents each parameter."""
    return {
        name.lstrip("*"): line
        for line in section(function, "Parameters") or ()
        if not line.startswith(" ") and " : " in line
        for name in line.split(" : ")[0].split(", ")
    }


@pytest.mark.parametrize("function", list(functions(TOLD, exported=True)))
def test_exported_functions_tell_their_parameters(function):
    assert list(documented(function)) == parameters(function)


@pytest.mark.parametrize("function", list(functions(CHECKED, exported=False)))
def test_parameters_that_are_told_are_those_of_the_signature_with_units(function):
    told = documented(function)
    assert not told or list(told) == parameters(function)
    for line in told.values():
        assert UNIT.search(line) or not WITH_UNIT.search(line.split(" : ", 1)[1]), line


@pytest.mark.parametrize("function", list(functions((FORMULAS,), exported=True)))
def test_formulas_tell_the_unit_of_all_they_take_and_give_and_a_source(function):
    assert all(UNIT.search(line) for line in documented(function).values())
    assert UNIT.search(section(function, "Returns")[0])
    text = inspect.getdoc(function)
    assert re.search(r"Shigley|Khurmi|Stolarski|common practice|statics text", text)


def test_there_is_something_to_check():
    assert len(list(functions(TOLD, exported=True))) > 20
    assert sum(bool(documented(case.values[0])) for case in functions(CHECKED, exported=False)) > 40

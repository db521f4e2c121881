"""Docstrings keep up with the code: parameters as in the signature, each with its unit."""

import importlib
import inspect
import re
from pathlib import Path

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
SOURCE = re.compile(r"Shigley|Khurmi|Stolarski|common practice|statics text")
UNIT = re.compile(r"\[.+\]")
# Kinds of number that carry a unit; flags and counts do not.
WITH_UNIT = re.compile(r"\b(float|array_like|ndarray|Array)\b(?!.*\b(of bool|of int)\b)")


def functions(prefixes, *, exported):
    """Public functions of modules: those of ``__all__``, or all with their classes' methods."""
    found = {}
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
                    found[f"{name}.{title}"] = function
    return found


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


def test_exported_functions_tell_their_parameters():
    found = functions(TOLD, exported=True)
    assert len(found) > 20
    assert [name for name, one in found.items() if list(documented(one)) != parameters(one)] == []


def test_parameters_that_are_told_are_those_of_the_signature_with_units():
    told = {
        name: (documented(one), parameters(one))
        for name, one in functions(CHECKED, exported=False).items()
        if documented(one)
    }
    assert len(told) > 40
    assert [name for name, (lines, wanted) in told.items() if list(lines) != wanted] == []
    without = [
        f"{name}: {line}"
        for name, (lines, _) in told.items()
        for line in lines.values()
        if WITH_UNIT.search(line.split(" : ", 1)[1]) and not UNIT.search(line)
    ]
    assert without == []


def test_formulas_tell_the_unit_of_all_they_take_and_give_and_a_source():
    wanting = [
        name
        for name, one in functions((FORMULAS,), exported=True).items()
        if not all(UNIT.search(line) for line in documented(one).values())
        or not UNIT.search((section(one, "Returns") or [""])[0])
        or not SOURCE.search(inspect.getdoc(one))
    ]
    assert wanting == []

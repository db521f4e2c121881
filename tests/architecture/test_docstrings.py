"""Docstrings keep up with the code: parameters as in the signature, each with its unit.

What several functions of a module take is told once, under "Symbols" in the module's head.
"""

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
# Where every public function tells the numbers that it takes.
TOLD = (
    FORMULAS,
    "mountcalc.handbook.",
    "mountcalc.equilibrium.",
    "mountcalc.linkage.generate",
)
CHECKED = ("mountcalc.",)
HEADING = re.compile(r"\n\n(?=[A-Z]\w+\n-{3,}\n)")
SOURCE = re.compile(
    r"Shigley|Khurmi|Stolarski|Wood Handbook|EN 1995|NDS|Hicks|Timoshenko|Modern Shop Practice|"
    r"common practice|statics text"
)
UNIT = re.compile(r"\[.+\]")
NUMBER = re.compile(r"\b(float|ArrayLike|Array)\b")
# Kinds of number that carry a unit; flags and counts do not.
WITH_UNIT = re.compile(r"\b(float|array_like|ndarray|Array)\b(?!.*\b(of bool|of int)\b)")


def functions(prefixes, *, exported):
    """Public functions of modules, with their classes' methods where not only ``exported``."""
    found = {}
    for name in MODULES:
        if not name.startswith(prefixes):
            continue
        module = importlib.import_module(name)
        for item, thing in sorted(vars(module).items()):
            if item.startswith("_") or getattr(thing, "__module__", None) != name:
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


def documented(thing, title="Parameters"):
    """The line that documents each parameter of a function, each symbol of a module."""
    joined = re.sub(r"\n {4}", " ", "\n".join(section(thing, title) or ()))
    return {
        name.lstrip("*"): line
        for line in joined.splitlines()
        if not line.startswith(" ") and " : " in line
        for name in line.split(" : ")[0].split(", ")
    }


def told(function):
    """The lines for all that a function takes, in its own docstring or its module's."""
    module = documented(importlib.import_module(function.__module__), "Symbols")
    own = documented(function)
    return {name: own.get(name, module.get(name, "")) for name in parameters(function)}


def test_exported_functions_tell_the_numbers_that_they_take():
    """Of other parameters the annotation tells: their classes have docstrings of their own."""
    found = functions(TOLD, exported=True)
    assert len(found) > 20
    assert [
        f"{title}: {name}"
        for title, one in found.items()
        for name, taken in inspect.signature(one).parameters.items()
        if NUMBER.search(str(taken.annotation))
        if not told(one)[name] and f"``{name}``" not in inspect.getdoc(one)
    ] == []


def test_every_symbol_of_a_head_is_taken_by_a_function():
    heads = {name: documented(importlib.import_module(name), "Symbols") for name in MODULES}
    taken = {name: set() for name in MODULES}
    for one in functions(CHECKED, exported=False).values():
        taken[one.__module__].update(parameters(one))
    assert [(name, set(head) - taken[name]) for name, head in heads.items()] == [
        (name, set()) for name in heads
    ]


def test_parameters_that_are_told_are_those_of_the_signature_with_units():
    found = {
        name: (documented(one), parameters(one))
        for name, one in functions(CHECKED, exported=False).items()
        if documented(one)
    }
    assert len(found) > 10
    assert [name for name, (lines, wanted) in found.items() if list(lines) != wanted] == []
    without = [
        f"{name}: {line}"
        for name, (lines, _) in found.items()
        for line in lines.values()
        if WITH_UNIT.search(line.split(" : ", 1)[1]) and not UNIT.search(line)
    ]
    assert without == []


def test_formulas_tell_the_unit_of_all_they_take_and_give_and_a_source():
    wanting = [
        name
        for name, one in functions((FORMULAS,), exported=True).items()
        if not all(UNIT.search(line) for line in told(one).values())
        or not UNIT.search((section(one, "Returns") or [inspect.getdoc(one).split("\n\n")[0]])[0])
        or not SOURCE.search(inspect.getdoc(one))
    ]
    assert wanting == []

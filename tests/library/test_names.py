"""What the package names: it is all there, it stays what it is, and it tells what it does."""

import doctest
import importlib
import inspect
import pkgutil
import subprocess
import sys
from pathlib import Path

import pytest

import mountcalc

TOP = Path(__file__).parents[2]
COMMANDS = (
    *("table", "setting", "check", "belts", "measure", "card", "fit", "plot", "place", "draw"),
    *("tolerance", "parts", "report", "example", "new", "explain"),
)
NAMES = [name for name in mountcalc.__all__ if name != "__version__"]
FUNCTIONS = [name for name in NAMES if inspect.isfunction(getattr(mountcalc, name))]


def test_there_is_a_function_for_every_command():
    from mountcalc.cli.program import app

    commands = [command.callback.__name__ for command in app.registered_commands]
    assert sorted(commands) == sorted(COMMANDS)
    assert set(COMMANDS) <= set(FUNCTIONS)


def test_names_are_the_same_before_and_after_all_modules_were_imported():
    script = (
        "import mountcalc, importlib, pkgutil\n"
        "names = [name for name in mountcalc.__all__]\n"
        "before = [getattr(mountcalc, name) for name in names]\n"
        "for found in pkgutil.walk_packages(mountcalc.__path__, 'mountcalc.'):\n"
        "    if not found.name.endswith('__main__'):\n"
        "        importlib.import_module(found.name)\n"
        "assert all(map(lambda a, b: a is b, before, map(mountcalc.__getattribute__, names)))\n"
    )
    # The other way round, too: modules first, names then, from the room's package as well.
    late = (
        "import mountcalc.table.table, mountcalc.check.check, mountcalc.measure.measure\n"
        "from mountcalc.table import tension_table\n"
        "import mountcalc\n"
        "assert callable(mountcalc.table) and callable(mountcalc.check)\n"
        "assert callable(mountcalc.measure)\n"
    )
    for code in (script, late):
        subprocess.run([sys.executable, "-c", code], check=True, cwd=TOP)


def test_tab_completion_shows_what_is_public_and_no_more():
    for found in pkgutil.iter_modules(mountcalc.__path__, "mountcalc."):
        if not found.name.endswith("__main__"):
            importlib.import_module(found.name)
    assert dir(mountcalc) == sorted(mountcalc.__all__)
    assert not [name for name in NAMES if inspect.ismodule(getattr(mountcalc, name))]


def test_importing_it_loads_no_library():
    code = (
        "import sys, mountcalc\n"
        "assert not {'numpy', 'typer', 'matplotlib', 'mountcalc.library'} & set(sys.modules)\n"
    )
    subprocess.run([sys.executable, "-c", code], check=True, cwd=TOP)


@pytest.mark.parametrize("name", NAMES)
def test_every_name_tells_what_it_is(name):
    thing = getattr(mountcalc, name)
    told = inspect.getdoc(thing)
    assert len(told) > 20
    if name in FUNCTIONS:
        for heading in ("Parameters", "Returns", "Examples"):
            assert f"\n{heading}\n---" in told, heading
        for parameter in inspect.signature(thing).parameters:
            assert parameter in told.split("Returns\n---")[0]


@pytest.mark.parametrize("name", [*FUNCTIONS, "Scenario", "TensionTable", "__init__"])
def test_examples_run_and_give_what_they_say(name, monkeypatch):
    monkeypatch.chdir(TOP)
    thing = mountcalc if name == "__init__" else getattr(mountcalc, name)
    public = {one: getattr(mountcalc, one) for one in mountcalc.__all__}
    finder = doctest.DocTestFinder(recurse=inspect.isclass(thing))
    tests = finder.find(thing, name, globs=public | {"mountcalc": mountcalc})
    runner = doctest.DocTestRunner(optionflags=doctest.NORMALIZE_WHITESPACE)
    for test in tests:
        runner.run(test)
    assert runner.tries > 0
    assert runner.failures == 0

"""The shape of the code: imports point one way, start-up stays light, one module prints."""

import ast
import importlib
import os
import subprocess
import sys
from functools import cache
from pathlib import Path

import pytest

import mountcalc

PACKAGE = Path(mountcalc.__file__).parent
# Each layer may import from those to its left, and from itself.
LAYERS = (
    ("errors", "front_door", "quantities", "record", "thresholds", "units", "version"),
    ("formulas",),
    ("handbook",),
    ("scenario",),
    ("linkage",),
    ("structure",),
    ("equilibrium",),
    ("pages", "drafting"),
    ("console",),
    ("requirements",),
    ("judgement",),
    ("loads",),
    ("strength",),
    ("table",),
    ("belts",),
    ("check",),
    ("setting",),
    ("measure", "card", "layout", "fit", "tolerance"),
    ("place", "new"),
    ("draw",),
    ("parts", "example"),
    ("report", "explain"),
    ("cli", "library"),
    ("__main__",),
)
ROOMS = (
    *("table", "belts", "check", "setting", "measure", "card", "fit", "layout", "place", "draw"),
    *("tolerance", "parts", "report", "example", "new", "explain"),
)
# What opens all rooms to those outside: the commands, and the same as functions.
GATHERERS = ("mountcalc.__init__", "mountcalc.cli.program", "mountcalc.library")
RANK = {name: rank for rank, names in enumerate(LAYERS) for name in names}
MODULES = sorted(
    path.relative_to(PACKAGE.parent).with_suffix("").as_posix().replace("/", ".")
    for path in PACKAGE.rglob("*.py")
)

# The front door opens onto everything, late.
INSIDE = [module for module in MODULES if module != "mountcalc.__init__"]


def imported_by(parsed):
    """Modules that a module imports; what ``from a import b`` takes may be one itself."""
    for node in ast.walk(parsed):
        if isinstance(node, ast.ImportFrom):
            assert node.level == 0, "relative imports hide where they point"
            inner = [f"{node.module}.{alias.name}" for alias in node.names]
            modules = [name for name in map(as_module, inner) if name in MODULES]
            # Of a package that gives only its modules away, nothing else is needed.
            yield from modules if len(modules) == len(inner) else [as_module(node.module), *modules]
        elif isinstance(node, ast.Import):
            yield from (as_module(alias.name) for alias in node.names)


def as_module(name):
    """Name of the module that is run for a name: a package's is its ``__init__``."""
    return f"{name}.__init__" if f"{name}.__init__" in MODULES else name


@cache
def tree(module):
    path = PACKAGE.parent / (module.replace(".", "/") + ".py")
    return ast.parse(path.read_text(encoding="utf-8"))


@cache
def imports(module):
    return list(imported_by(tree(module)))


@pytest.mark.parametrize(
    ("source", "module"),
    [
        ("import mountcalc.scenario.text.outlines", "mountcalc.scenario.text.outlines"),
        (
            "from mountcalc.scenario.text.outlines import UnitError",
            "mountcalc.scenario.text.outlines",
        ),
        ("from mountcalc.scenario.text import outlines", "mountcalc.scenario.text.outlines"),
        ("def late():\n    from mountcalc import units", "mountcalc.units"),
        ("from mountcalc import read_scenario", "mountcalc.__init__"),
        ("import mountcalc", "mountcalc.__init__"),
    ],
)
def test_imports_are_seen_however_they_are_written(source, module):
    assert list(imported_by(ast.parse(source))) == [module]


def test_imports_point_one_way():
    against = [
        f"{module} imports {name}"
        for module in INSIDE
        for name in imports(module)
        if name in INSIDE and RANK[name.split(".")[1]] > RANK[module.split(".")[1]]
    ]
    assert against == []


def test_no_cycles():
    graph = {module: {name for name in imports(module) if name in MODULES} for module in MODULES}
    while graph:
        free = [module for module, needs in graph.items() if not needs & graph.keys()]
        assert free, f"cycle among {sorted(graph)}"
        for module in free:
            del graph[module]


def test_lowest_modules_import_nothing_of_ours():
    lowest = [name for name in MODULES if RANK.get(name.split(".")[1]) == 0]
    assert len(lowest) == len(LAYERS[0])
    for module in lowest:
        assert not [name for name in imports(module) if "mountcalc" in name]


def doors(room):
    """What a room's front door names; nothing where no other room takes anything."""
    return getattr(importlib.import_module(f"mountcalc.{room}"), "__all__", [])


@cache
def taken(module):
    """What a module takes from rooms that are not its own: room, module or package, names."""
    return [
        (node.module.split(".")[1], node.module, [alias.name for alias in node.names])
        for node in ast.walk(tree(module))
        if isinstance(node, ast.ImportFrom) and node.module.startswith("mountcalc.")
        if node.module.split(".")[1] in {*ROOMS} - {module.split(".")[1]}
    ]


def test_rooms_are_entered_by_their_front_doors():
    broken_in = [
        f"{module} takes {names} from {source}"
        for module in INSIDE
        if module not in GATHERERS
        for room, source, names in taken(module)
        if source != f"mountcalc.{room}" or not set(names) <= set(doors(room))
    ]
    assert broken_in == []
    gathered = {source for _, source, _ in taken("mountcalc.cli.program")}
    assert gathered == {f"mountcalc.{room}.command" for room in ROOMS}


@pytest.mark.parametrize("room", ROOMS)
def test_a_front_door_names_what_others_take_and_no_more(room):
    package = importlib.import_module(f"mountcalc.{room}")
    names = doors(room)
    assert not names or dir(package) == sorted(names)
    assert None not in [getattr(package, name) for name in names]
    wanted = {
        name
        for module in MODULES
        if module not in GATHERERS
        for one, _, several in taken(module)
        if one == room
        for name in several
    }
    assert set(names) - set(mountcalc.__all__) <= wanted


@pytest.mark.parametrize("room", ROOMS)
def test_every_room_has_its_command(room):
    assert f"mountcalc.{room}.command" in MODULES


def test_only_the_console_prints_and_nothing_evaluates_text():
    calls = [
        f"{module} calls {node.func.id}"
        for module in MODULES
        if not module.startswith("mountcalc.console.")
        for node in ast.walk(tree(module))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)
        if node.func.id in {"print", "eval", "exec"}
    ]
    assert calls == []


def loaded_by(*arguments):
    code = (
        "import sys\n"
        f"sys.argv = ['mountcalc', *{arguments!r}]\n"
        "from mountcalc.cli import main\n"
        "try:\n    main()\nexcept SystemExit:\n    pass\n"
        "sys.stderr.write('LOADED ' + ' '.join(sys.modules))\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        text=True,
        check=True,
        cwd=PACKAGE.parent,
        env=os.environ,
    )
    return set(done.stderr.split("LOADED ")[1].split())


DRAWERS = ("sympy", "matplotlib", "ezdxf", "fpdf", "fontTools", "shapely", "jinja2")
SCENARIO = str(Path(__file__).parents[2] / "scenarios" / "cider-mill.toml")


def test_import_budget_of_plot(tmp_path):
    kept_out = {"sympy", "scipy.optimize", "matplotlib.pyplot"}
    loaded = loaded_by("plot", SCENARIO, "--out", str(tmp_path))
    assert list(tmp_path.glob("*.png"))
    assert "matplotlib.figure" in loaded
    assert not kept_out & loaded


def test_import_budget_of_report(tmp_path):
    # ezdxf joins the lines of the views, as it does for `draw --format svg`.
    kept_out = {"sympy", "scipy.optimize", "matplotlib.pyplot", "fpdf"}
    loaded = loaded_by("report", SCENARIO, "--out", str(tmp_path / "mill.html"))
    assert (tmp_path / "mill.html").exists()
    assert {"jinja2", "matplotlib.figure"} <= loaded
    assert not kept_out & loaded


@pytest.mark.parametrize(
    ("ending", "needed", "kept_out"),
    [
        ("pdf", "fpdf", {"ezdxf", "matplotlib"}),
        ("png", "matplotlib.figure", {"ezdxf", "fpdf"}),
        ("dxf", "ezdxf", {"fpdf", "matplotlib"}),
        ("svg", "xml.etree.ElementTree", {"fpdf", "matplotlib"}),
    ],
)
def test_import_budget_of_draw(tmp_path, ending, needed, kept_out):
    kept_out |= {"sympy", "scipy.optimize", "matplotlib.pyplot"}
    loaded = loaded_by(
        *("draw", SCENARIO, "--out", str(tmp_path), "--only", "along-shafts", "--format", ending)
    )
    assert list(tmp_path.glob(f"*.{ending}"))
    assert needed in loaded
    assert not kept_out & loaded


@pytest.mark.parametrize(
    ("arguments", "kept_out"),
    [
        (("--help",), {"numpy", "pint", "scipy.linalg", *DRAWERS}),
        (("draw", "--help"), {"numpy", "pint", "scipy.linalg", *DRAWERS}),
        (("table", "--help"), {"numpy", "pint", "scipy.linalg", *DRAWERS}),
        (("table", SCENARIO), {"scipy.linalg", "rich", *DRAWERS}),
        (("table", SCENARIO, "--json"), {"scipy.linalg", "rich", *DRAWERS}),
    ],
)
def test_import_budget(arguments, kept_out):
    assert not kept_out & loaded_by(*arguments)

"""The shape of the code: imports point one way, start-up stays light, docstrings tell units."""

import ast
import importlib
import inspect
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

import mountcalc

PACKAGE = Path(mountcalc.__file__).parent
# Each layer may import from those to its left, and from itself.
LAYERS = (
    ("errors", "quantities", "results", "units"),
    ("formulas",),
    ("scenario",),
    ("linkage",),
    ("equilibrium",),
    ("tasks",),
    ("show",),
    ("cli",),
    ("__main__",),
)
RANK = {name: rank for rank, names in enumerate(LAYERS) for name in names}
MODULES = sorted(
    path.relative_to(PACKAGE.parent).with_suffix("").as_posix().replace("/", ".")
    for path in PACKAGE.rglob("*.py")
)
FORMULAS = [name for name in MODULES if name.startswith("mountcalc.formulas.")]


def imports(module):
    path = PACKAGE.parent / (module.replace(".", "/") + ".py")
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.module:
            yield node.module
        elif isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)


@pytest.mark.parametrize("module", MODULES)
def test_imports_point_one_way(module):
    if module == "mountcalc.__init__":  # the front door opens onto everything, late
        return
    layer = RANK[module.split(".")[1]]
    for name in imports(module):
        parts = name.split(".")
        if parts[0] == "mountcalc" and len(parts) > 1:
            assert RANK[parts[1]] <= layer, f"{module} imports {name}"


def test_no_cycles():
    graph = {module: {name for name in imports(module) if name in MODULES} for module in MODULES}
    while graph:
        free = [module for module, needs in graph.items() if not needs & graph.keys()]
        assert free, f"cycle among {sorted(graph)}"
        for module in free:
            del graph[module]


def test_lowest_modules_import_nothing_of_ours_but_results_types():
    for module in ("errors", "quantities", "results", "units"):
        assert not [name for name in imports(f"mountcalc.{module}") if "mountcalc" in name]


def test_only_the_command_line_prints():
    for module in MODULES:
        if module == "mountcalc.cli":
            continue
        path = PACKAGE.parent / (module.replace(".", "/") + ".py")
        tree = ast.parse(path.read_text(encoding="utf-8"))
        calls = [
            node.func.id
            for node in ast.walk(tree)
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)
        ]
        assert not {"print", "eval", "exec"} & set(calls), module


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


SCENARIO = str(Path(__file__).parents[2] / "scenarios" / "cider-mill.toml")


@pytest.mark.parametrize(
    ("arguments", "kept_out"),
    [
        (("--help",), {"numpy", "pydantic", "pint", "sympy", "matplotlib", "scipy.linalg"}),
        (("table", "--help"), {"numpy", "pint", "sympy", "matplotlib", "scipy.linalg"}),
        (("table", SCENARIO), {"sympy", "matplotlib", "scipy.linalg", "rich"}),
        (("table", SCENARIO, "--json"), {"sympy", "matplotlib", "scipy.linalg", "rich"}),
    ],
)
def test_import_budget(arguments, kept_out):
    assert not kept_out & loaded_by(*arguments)


def public_functions():
    for name in FORMULAS:
        module = importlib.import_module(name)
        for item in getattr(module, "__all__", ()):
            function = getattr(module, item)
            if inspect.isfunction(function):
                yield pytest.param(function, id=f"{name.rsplit('.', 1)[1]}.{item}")


@pytest.mark.parametrize("function", list(public_functions()))
def test_formula_docstrings_name_every_parameter_with_its_unit_and_a_source(function):
    text = inspect.getdoc(function)
    section = text.split("Parameters\n----------\n")[1].split("\n\nReturns")[0]
    documented = {}
    for line in section.splitlines():
        if not line.startswith(" ") and " : " in line:
            for name in line.split(" : ")[0].split(", "):
                documented[name] = line
    assert list(documented) == list(inspect.signature(function).parameters)
    assert all(re.search(r"\[.+\]", line) for line in documented.values())
    returns = text.split("Returns\n-------\n")[1]
    assert re.search(r"\[.+\]", returns.splitlines()[0])
    assert re.search(r"Shigley|Khurmi|Stolarski|common practice|statics text", text)

"""The notebooks run without a warning, use the public names alone, and show what they give now."""

import ast
import re

import make_notebooks
import pytest

import mountcalc

ALLOWED = {"mountcalc", "numpy", "matplotlib.pyplot", "sympy"}


@pytest.fixture(scope="module")
def executed():
    return make_notebooks.fresh()


def source(name):
    cells = make_notebooks.code_cells(make_notebooks.kept(name))
    return "\n".join(re.sub(r"^%.*", "", cell.source) for cell in cells)


def told(cell):
    """What a reader of a cell sees: (texts word for word, of a result and picture what it is)."""
    printed = "".join(one.text for one in cell.outputs if one.output_type == "stream")
    data = [one.data for one in cell.outputs if one.output_type != "stream"]
    shown = [one.get("text/latex", one["text/plain"]) for one in data]
    return printed, shown, ["image/png" in one for one in data]


@pytest.mark.parametrize("name", make_notebooks.NAMES)
def test_what_is_kept_is_what_it_gives(executed, name):
    kept = make_notebooks.code_cells(make_notebooks.kept(name))
    fresh = make_notebooks.code_cells(executed[name])
    assert list(map(told, kept)) == list(map(told, fresh))
    assert [cell.execution_count for cell in kept] == list(range(1, len(kept) + 1))
    assert any(any(told(cell)[2]) for cell in kept), "a picture"


@pytest.mark.parametrize("name", make_notebooks.NAMES)
def test_it_takes_the_public_names_alone(name):
    tree = ast.parse(source(name))
    imported = {
        one.name for node in ast.walk(tree) if isinstance(node, ast.Import) for one in node.names
    }
    assert "mountcalc" in imported
    assert imported <= ALLOWED
    assert not any(isinstance(node, ast.ImportFrom) for node in ast.walk(tree))
    public = set(mountcalc.__all__)
    used = {
        node.attr
        for node in ast.walk(tree)
        if isinstance(node, ast.Attribute)
        and isinstance(node.value, ast.Name)
        and node.value.id == "mountcalc"
    }
    assert used <= public


@pytest.mark.parametrize("name", make_notebooks.NAMES)
def test_it_says_that_it_is_invented_and_what_hurts(name):
    text = " ".join(cell.source for cell in make_notebooks.kept(name).cells)
    assert re.search(r"inventions? of ours", text)
    assert re.search(r"[Uu]nplug", text)

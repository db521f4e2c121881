"""Run notebooks, keep what they give: ``python tests/makers/make_notebooks.py [NAME ...]``."""

import sys
from pathlib import Path

import nbformat
from nbclient import NotebookClient
from nbformat.v4 import new_code_cell, new_notebook

FOLDER = Path(__file__).parents[2] / "notebooks"
NAMES = tuple(sorted(path.name for path in FOLDER.glob("*.ipynb")))
# Runs before each: nothing is left of the one before, and a warning is an error.
BEFORE = "%reset -f\nimport warnings\nwarnings.simplefilter('error')"
AFTER = "import warnings\nwarnings.resetwarnings()"  # the kernel's own, as it ends, are not ours


def kept(name):
    """A notebook as it lies there."""
    return nbformat.read(FOLDER / name, as_version=4)


def fresh(names=NAMES):
    """The notebooks by their names, run now, one after another in one kernel."""
    found = {name: kept(name) for name in names}
    cells = []
    for notebook in found.values():
        cells += [new_code_cell(BEFORE), *notebook.cells]
    cells.append(new_code_cell(AFTER))
    every = new_notebook(cells=cells, metadata=found[names[0]].metadata)
    NotebookClient(every, timeout=120, kernel_name="python3").execute()
    for notebook in found.values():
        for number, cell in enumerate(code_cells(notebook), start=1):
            cell.execution_count = number
            cell.metadata = {}
            for output in cell.outputs:
                if "execution_count" in output:
                    output.execution_count = number
    return found


def code_cells(notebook):
    """The cells that are run."""
    return [cell for cell in notebook.cells if cell.cell_type == "code"]


def main(names):
    """Write the notebooks with their outputs."""
    for name, notebook in fresh(names).items():
        notebook.metadata = {"kernelspec": notebook.metadata.kernelspec}
        nbformat.write(notebook, FOLDER / name)


if __name__ == "__main__":
    main(tuple(sys.argv[1:]) or NAMES)

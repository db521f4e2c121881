"""How long ``mountcalc plot`` takes, as a ratio to a figure of the plotting library that is saved.

Run on demand: ``python tests/benchmarks/plot.py``. Processor time of whole processes, the least of
several in turns. Both pictures of ``plot`` stand against one of a single line. Aim: 4 or less.
"""

import resource
import subprocess
import sys
import tempfile
from pathlib import Path

ROUNDS = 7
SCENARIO = Path(__file__).parents[2] / "scenarios" / "cider-mill.toml"
FIGURE = """
import sys
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
figure = Figure((8, 6), dpi=200)
FigureCanvasAgg(figure)
axes = figure.add_subplot()
axes.plot([0, 1], [0, 1])
figure.savefig(sys.argv[1])
"""


def seconds(command):
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def main():
    with tempfile.TemporaryDirectory() as folder:
        commands = {
            "a figure saved": [sys.executable, "-c", FIGURE, f"{folder}/figure.png"],
            "mountcalc plot": [
                *(sys.executable, "-m", "mountcalc", "plot", str(SCENARIO), "--out", folder)
            ],
        }
        best = dict.fromkeys(commands, float("inf"))
        for _ in range(ROUNDS):
            for name, command in commands.items():
                best[name] = min(best[name], seconds(command))
    base = best["a figure saved"]
    for name, value in best.items():
        print(f"{name:16} {value:6.3f} s   ratio {value / base:5.2f}")


if __name__ == "__main__":
    main()

"""What whole commands cost, in one run: ``python tests/benchmarks/ratios.py``.

Processor seconds of whole processes, children among them, the least of several rounds taken in
turns: a busy machine slows both sides of a ratio alike. Compiled modules are kept from round to
round, as those of an installed program are. For a first look name some of the commands:
``python tests/benchmarks/ratios.py --rounds 1 table check``.
"""

import argparse
import os
import subprocess
import sys
import tempfile
from pathlib import Path

SCENARIOS = Path(__file__).parents[2] / "scenarios"
MILL, BENCH = str(SCENARIOS / "cider-mill.toml"), str(SCENARIOS / "fretsaw-bench.toml")
FIGURE = """
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
figure = Figure((8, 6), dpi=200)
FigureCanvasAgg(figure)
figure.add_subplot().plot([0, 1], [0, 1])
figure.savefig("figure.png")
"""
BASES = {
    "import numpy, typer": ("-c", "import numpy, typer"),
    "a matplotlib figure saved": ("-c", FIGURE),
}
# What is run, what it is compared with (seconds where None), the aim.
COMMANDS = {
    "table": (("table", MILL), "import numpy, typer", 3.0),
    "check": (("check", MILL), "import numpy, typer", 4.0),
    "setting": (("setting", MILL), "import numpy, typer", 5.0),
    "plot": (("plot", MILL), "a matplotlib figure saved", 4.0),
    "draw --base": (("draw", MILL, "--base"), None, 4.0),
    "place": (("place", BENCH), None, 8.0),
    "place, a million samples": (("place", BENCH, "--samples", "1000000"), None, 12.0),
}
# Seconds, not ratios: the first round compiles the libraries, the second counts.
SLOW = {"draw --base", "place", "place, a million samples"}


def seconds(arguments, compiled):
    """Processor seconds of a process in an empty folder; what it writes goes with that."""
    env = os.environ | {"OMP_NUM_THREADS": "1", "OPENBLAS_NUM_THREADS": "1"}
    env |= {"PYTHONPYCACHEPREFIX": compiled, "PYTHONDONTWRITEBYTECODE": ""}
    with tempfile.TemporaryDirectory() as folder:
        before = os.times()
        subprocess.run(
            [sys.executable, *arguments],
            check=True,
            cwd=folder,
            env=env,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
    after = os.times()
    used = after.children_user + after.children_system
    return used - before.children_user - before.children_system


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rounds", type=int, default=7)
    parser.add_argument("commands", nargs="*", metavar="COMMAND", help=", ".join(COMMANDS))
    rounds, names = vars(parser.parse_args()).values()
    asked = {name: COMMANDS[name] for name in names or COMMANDS}
    runs = {base: BASES[base] for _, base, _ in asked.values() if base}
    runs |= {name: ("-m", "mountcalc", *call) for name, (call, _, _) in asked.items()}
    best = dict.fromkeys(runs, float("inf"))
    with tempfile.TemporaryDirectory() as compiled:
        seconds(("-c", "from mountcalc.cli.program import app"), compiled)
        for number in range(rounds):
            for name, arguments in runs.items():
                if number < 2 or name not in SLOW:
                    best[name] = min(best[name], seconds(arguments, compiled))
    for name in runs.keys() & BASES:
        print(f"{name:26} {best[name]:6.2f} s")
    for name, (_, base, aim) in asked.items():
        against = f"{best[name] / best[base]:5.2f} x {base}" if base else ""
        wanted = f"{aim:g} x" if base else f"{aim:g} s"
        print(f"{name:26} {best[name]:6.2f} s  aim {wanted:5} {against}")


if __name__ == "__main__":
    main()

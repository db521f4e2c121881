"""How long ``mountcalc table`` takes to start, as a ratio to importing numpy and typer alone.

Run on demand: ``python tests/benchmarks/start_up.py``. Each figure is the best of several whole
processes with a warm cache, taken in turns so that a busy machine slows both alike. Aim: 3 or less.
"""

import subprocess
import sys
import time
from pathlib import Path

ROUNDS = 15
SCENARIO = Path(__file__).parents[2] / "scenarios" / "cider-mill.toml"
COMMANDS = {
    "import numpy, typer": [sys.executable, "-c", "import numpy, typer"],
    "mountcalc table": [sys.executable, "-m", "mountcalc", "table", str(SCENARIO)],
    "mountcalc table --json": [sys.executable, "-m", "mountcalc", "table", str(SCENARIO), "--json"],
    "mountcalc --help": [sys.executable, "-m", "mountcalc", "--help"],
}


def seconds(command):
    start = time.perf_counter()
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    return time.perf_counter() - start


def main():
    best = dict.fromkeys(COMMANDS, float("inf"))
    for _ in range(ROUNDS):
        for name, command in COMMANDS.items():
            best[name] = min(best[name], seconds(command))
    base = best["import numpy, typer"]
    for name, value in best.items():
        print(f"{name:28} {value:6.3f} s   ratio {value / base:5.2f}")


if __name__ == "__main__":
    main()

"""Reading and checking a scenario file; what comes out is :mod:`mountcalc.scenario.model`."""

# The most that a search is asked for, whoever asks: file, command or program.
MOST_SAMPLES = 10_000_000
MOST_SEED = 2**32 - 1
MOST_LAYOUTS = 100
# The most builds of one drawing.
MOST_BUILDS = 1_000_000

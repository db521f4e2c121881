"""Reading and checking a scenario file; what comes out is :mod:`mountcalc.scenario.model`."""

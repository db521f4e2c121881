"""Result types of the package: immutable, SI units, ``None`` where there is nothing to say.

The keys, units and sentences of every field stand in :mod:`mountcalc.quantities`. Each module
holds the results of one command; the types are imported from there.
"""

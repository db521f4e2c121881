"""``python -m mountcalc``."""

from mountcalc.cli import main

main()

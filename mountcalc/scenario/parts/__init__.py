"""The parts that are drawn: keys, types, the line of the plate, what looks wrong."""

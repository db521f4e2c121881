"""The drawings of a mount as data: lines, arcs, texts and dimensions in metres."""

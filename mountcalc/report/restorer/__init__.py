"""The restorer's sheet: old boxes, oil, heat, belts, the first run, the first year's log."""

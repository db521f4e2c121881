"""What a tape reads of places: where points are, and which reading does not fit."""

"""The view along the shafts."""

"""A mount from points and answers, and how its scenario is written."""
